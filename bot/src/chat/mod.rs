//! The chat port. A transport only translates: lines in, blocks out.

pub mod blocks;
pub mod discord;
pub mod pages;
pub mod paper;
pub mod plain;
pub mod porch;
pub mod routes;

use async_trait::async_trait;
use wrackline_core::moment::Destination;

use crate::store::PlaceId;
use blocks::Block;

/// How a transport failed to send.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ChatError {
    /// It may work later; the transport may say when at the earliest, in milliseconds from now.
    #[error("for now: {why}")]
    Passing {
        /// What was said.
        why: String,
        /// The least wait in milliseconds.
        wait_ms: Option<i64>,
    },
    /// The message to edit is gone; it is to be posted anew, once.
    #[error("the message is gone")]
    Gone,
    /// The carer whom it is for alone takes no private messages, or has no account.
    #[error("not in private: {why}")]
    Unreachable {
        /// What was said.
        why: String,
    },
    /// It will never work.
    #[error("for good: {why}")]
    Lasting {
        /// What was said.
        why: String,
    },
}

/// A message on its way out.
#[derive(Clone, Debug)]
pub struct Outgoing<'a> {
    /// The place.
    pub place: PlaceId,
    /// Where it goes.
    pub destination: Destination,
    /// What makes this message unique: a transport that saw it returns the message that is already there.
    pub nonce: &'a str,
    /// What it shows.
    pub blocks: &'a [Block],
    /// When it is sent, in milliseconds since the epoch.
    pub at_ms: i64,
    /// From when it was wanted, in milliseconds since the epoch: it is nowhere to be found before.
    pub wanted_ms: i64,
    /// Whether an earlier attempt may have got through without its reply: a transport whose memory of nonces is short
    /// looks the message up before it sends again.
    pub resend: bool,
}

/// A way out to people.
#[async_trait]
pub trait Chat: Send + Sync {
    /// Sends a message and returns its id; a repeat of the same nonce returns the same id and shows nothing twice.
    async fn send(&self, message: Outgoing<'_>) -> Result<String, ChatError>;

    /// Replaces what a message shows.
    async fn edit(&self, id: &str, message: Outgoing<'_>) -> Result<(), ChatError>;
}
