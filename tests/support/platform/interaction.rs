//! What a person did and how the bot answered it so far.

use std::time::Duration;

use serde_json::{Value, json};

use super::ids::{ChannelId, InteractionId, MessageId, UserId};
use super::world::World;

/// What a person did.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Did {
    Command = 2,
    Component = 3,
    Autocomplete = 4,
    Modal = 5,
}

/// The first answer to an interaction.
#[derive(Clone, Debug)]
pub struct First {
    /// The kind: 4 message, 5 message later, 6 edit later, 7 edit, 8 choices, 9 modal.
    pub kind: u64,
    /// From the delivery of the interaction to the arrival of this.
    pub took: Duration,
    /// Its data.
    pub data: Value,
}

/// An interaction as the platform keeps it.
#[derive(Clone, Debug)]
pub(super) struct Held {
    pub(super) id: InteractionId,
    pub(super) token: String,
    pub(super) did: Did,
    pub(super) by: UserId,
    pub(super) channel: ChannelId,
    pub(super) at: Duration,
    pub(super) payload: Value,
    pub(super) source: Option<MessageId>,
    pub(super) first: Option<First>,
    pub(super) original: Option<MessageId>,
    pub(super) follow_ups: Vec<MessageId>,
    /// Callbacks beyond the first, each refused.
    pub(super) again: u32,
}

impl World {
    /// Who did it, as a message of its answer names them.
    pub(super) fn metadata(&self, id: InteractionId) -> Value {
        let Some(held) = self.interactions.get(&id) else {
            return Value::Null;
        };
        let mut metadata = json!({
            "id": id.to_string(),
            "type": held.did as u8,
            "user": self.user_json(held.by),
            "authorizing_integration_owners": {},
        });
        if let Some(source) = held.source {
            metadata["interacted_message_id"] = json!(source.to_string());
        }
        metadata
    }

    /// The interaction with this token.
    pub(super) fn held(&self, token: &str) -> Option<&Held> {
        self.interactions.values().find(|held| held.token == token)
    }
}
