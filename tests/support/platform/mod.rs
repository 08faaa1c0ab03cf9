//! The group-chat platform's double: its REST API and its gateway on loopback, and judges over all that is sent there.
//!
//! A test starts it, makes guilds, channels and people, lets the bot connect, does what people do ([`Double::command`],
//! [`Double::press`], …) and sees what they would see. It ends with `assert!(double.faults().is_empty())`, or, to be
//! told what was wrong, with [`Double::assert_faultless`].

mod body;
mod drive;
mod gateway;
mod ids;
mod interaction;
mod judge;
mod limits;
mod mentions;
mod message;
mod record;
mod reply;
mod rest;
mod route;
mod server;
mod shapes;
mod state;
mod trouble;
mod world;

use std::net::SocketAddr;
use std::time::Duration;

pub use drive::{Act, GatewayCounts, GatewayDial, Input, Opt, Place, Refused};
pub use gateway::{GatewayConfig, Identify};
pub use ids::{AttachmentId, ChannelId, GuildId, InteractionId, MessageId, RoleId, UserId};
pub use interaction::{Did, First};
pub use judge::{judge, skipped as openapi_skipped};
pub use limits::{Bucket, Limits};
pub use mentions::Notified;
pub use message::{Change, Message, Shown, Version};
pub use record::{Fault, Judge, Request, Verdict};
pub use route::Route;
pub use server::Double;
pub use trouble::{Scope, Trouble};
pub use world::{ChannelKind, Permissions, usual_permissions};

/// How a double is to be.
#[derive(Clone, Debug)]
pub struct DoubleConfig {
    /// Where it listens: loopback alone.
    pub address: SocketAddr,
    /// The bot's token.
    pub token: String,
    /// The bot's name.
    pub name: String,
    /// The first id's moment, in milliseconds since 1970.
    pub base_ms: u64,
    /// The rate limits.
    pub limits: Limits,
    /// The gateway.
    pub gateway: GatewayConfig,
    /// How long a nonce is remembered.
    pub nonce_window: Duration,
    /// How long an interaction's token lives.
    pub token_life: Duration,
    /// How long a test waits for what it awaits.
    pub patience: Duration,
}

impl Default for DoubleConfig {
    fn default() -> Self {
        Self {
            address: SocketAddr::from(([127, 0, 0, 1], 0)),
            token: "a-token.for.tests".to_owned(),
            name: "Wrackline".to_owned(),
            // 2026-11-25T12:00:00Z
            base_ms: 1_795_608_000_000,
            limits: Limits::default(),
            gateway: GatewayConfig::default(),
            nonce_window: Duration::from_secs(180),
            token_life: Duration::from_secs(15 * 60),
            patience: Duration::from_secs(10),
        }
    }
}
