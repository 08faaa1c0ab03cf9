//! What a person sees of what they did.

use std::sync::Arc;

use serde_json::Value;

use super::hand_out;
use crate::platform::ids::InteractionId;
use crate::platform::interaction::{First, Held};
use crate::platform::message::Message;
use crate::platform::state::{Shared, State};

/// Something a person did, with what comes back.
#[derive(Clone, Debug)]
pub struct Act {
    shared: Arc<Shared>,
    id: InteractionId,
    delivered: usize,
}

impl Act {
    pub(super) fn new(shared: Arc<Shared>, id: InteractionId, delivered: usize) -> Self {
        Self {
            shared,
            id,
            delivered,
        }
    }

    /// The interaction's id.
    #[must_use]
    pub fn id(&self) -> InteractionId {
        self.id
    }

    /// The interaction's token.
    #[must_use]
    pub fn token(&self) -> String {
        self.held(|held| held.token.clone())
    }

    /// To how many sessions it went, those that are to be resumed among them.
    #[must_use]
    pub fn delivered(&self) -> usize {
        self.delivered
    }

    /// Delivers the same interaction once more, as the platform does when in doubt.
    pub fn again(&self) {
        self.shared.with(|state| hand_out(state, self.id));
    }

    /// First answers that came too often; each was refused.
    #[must_use]
    pub fn answers_refused(&self) -> u32 {
        self.held(|held| held.again)
    }

    /// The first answer, if it is there.
    #[must_use]
    pub fn answer(&self) -> Option<First> {
        self.held(|held| held.first.clone())
    }

    fn held<T>(&self, look: impl Fn(&Held) -> T) -> T {
        self.shared
            .look(|state| look(&state.world.interactions[&self.id]))
    }

    async fn until<T>(&self, what: &str, find: impl Fn(&State, &Held) -> Option<T>) -> T {
        let id = self.id;
        let found = self
            .shared
            .until(|state| find(state, &state.world.interactions[&id]));
        match found.await {
            Some(found) => found,
            None => panic!(
                "{what} was awaited; the first answer: {:?}; faults: {:?}",
                self.answer(),
                self.shared.look(|state| state.record.faults.clone())
            ),
        }
    }

    /// Waits for the first answer.
    ///
    /// # Panics
    /// When it takes too long.
    pub async fn first(&self) -> First {
        self.until("a first answer", |_, held| held.first.clone()).await
    }

    /// Waits for the message that answers it: its own, once it no longer says that the bot is thinking; behind a press
    /// that promised an edit, the message that was pressed, once it was edited.
    ///
    /// # Panics
    /// When it takes too long.
    pub async fn shown(&self) -> Message {
        self.until("a message", |state, held| {
            let message = &state.world.messages[&held.original?];
            let first = held.first.as_ref()?;
            let edited = message.history.last().is_some_and(|last| last.at > held.at);
            (!message.is_loading() && (first.kind != 6 || edited)).then(|| message.clone())
        })
        .await
    }

    /// Waits for so many follow-ups; they.
    ///
    /// # Panics
    /// When it takes too long.
    pub async fn follow_ups(&self, count: usize) -> Vec<Message> {
        self.until("a follow-up", |state, held| {
            let messages = held.follow_ups.iter().map(|id| state.world.messages[id].clone());
            (held.follow_ups.len() >= count).then(|| messages.collect())
        })
        .await
    }

    /// Waits for the choices that complete an option: what is shown and what it stands for.
    ///
    /// # Panics
    /// When it takes too long, or the answer was another.
    pub async fn choices(&self) -> Vec<(String, Value)> {
        let first = self.first().await;
        assert_eq!(first.kind, 8, "choices were awaited: {first:?}");
        let choices = first.data["choices"].as_array().cloned().unwrap_or_default();
        choices
            .into_iter()
            .map(|choice| {
                let name = choice["name"].as_str().unwrap_or_default().to_owned();
                (name, choice["value"].clone())
            })
            .collect()
    }

    /// Waits for a modal; its data.
    ///
    /// # Panics
    /// When it takes too long, or the answer was another.
    pub async fn modal(&self) -> Value {
        let first = self.first().await;
        assert_eq!(first.kind, 9, "a modal was awaited: {first:?}");
        first.data
    }

    /// Waits out the time for an answer; whether none came and the person is told that the bot did not respond.
    pub async fn stays_unanswered(&self) -> bool {
        let within = self.shared.look(|state| state.gateway.config.answer_within);
        let left = (self.held(|held| held.at) + within).saturating_sub(self.shared.now());
        wrackline::clock::wait(left).await;
        self.answer().is_none()
    }
}
