//! Events that the library cannot read. What a person did is not lost silently: an interaction is mended where only
//! something is missing that says nothing here, and else answered with a word that it could not be read.

use std::sync::Arc;

use serde_json::{Value, json};
use serenity::all::{Context, CreateInteractionResponse, Event, Interaction, RawEventHandler};
use serenity::async_trait;

use super::heard::Ears;
use super::sender::Call;
use super::shape::{answer, json as body_of};
use crate::logs::note_unread;
use crate::msg;

/// Hears what the library hands over unread.
pub(super) struct RawHandler {
    pub(super) ears: Arc<Ears>,
}

#[async_trait]
impl RawEventHandler for RawHandler {
    async fn raw_event(&self, _: Context, event: Event) {
        let Event::Unknown(unknown) = event else {
            return;
        };
        if unknown.kind != "INTERACTION_CREATE" {
            note_unread();
            tracing::warn!(kind = %unknown.kind, "an event from the platform could not be read");
            return;
        }
        match serde_json::from_value::<Interaction>(mended(unknown.value.clone())) {
            Ok(interaction) => self.ears.hear(interaction).await,
            Err(error) => {
                note_unread();
                // The error names a field, never what stands in it; the event itself holds a token.
                let line = error.line();
                tracing::warn!(line, "what a person did could not be read");
                self.say_so(&unknown.value).await;
            }
        }
    }
}

impl RawHandler {
    async fn say_so(&self, interaction: &Value) {
        let (Some(id), Some(token)) = (interaction["id"].as_str(), interaction["token"].as_str()) else {
            return;
        };
        let words = &self.ears.house.words;
        let refusal = self.ears.house.refusal(&msg!("refuse-native"));
        let Some(first) = answer(&refusal.blocks, words).into_iter().next() else {
            return;
        };
        let body = body_of(&CreateInteractionResponse::Message(first.response(true)));
        let call = Call::post(format!("/interactions/{id}/{token}/callback"), body).unsigned();
        if let Err(error) = self.ears.chat.sender.call(call).await {
            tracing::warn!(%error, "a reply did not get through");
        }
    }
}

/// An interaction with what the library insists on and this program has no use for.
fn mended(mut interaction: Value) -> Value {
    let usual = [
        ("attachment_size_limit", json!(10 * 1024 * 1024)),
        ("authorizing_integration_owners", json!({})),
        ("app_permissions", json!("0")),
        ("entitlements", json!([])),
        ("locale", json!("en-GB")),
        ("version", json!(1)),
    ];
    if let Some(fields) = interaction.as_object_mut() {
        for (name, value) in usual {
            if fields.get(name).is_none_or(Value::is_null) {
                fields.insert(name.to_owned(), value);
            }
        }
        // What a message shows, and what became of it before it was pressed, is of no interest here.
        if let Some(message) = fields.get_mut("message").and_then(Value::as_object_mut) {
            for shown in ["attachments", "components", "embeds"] {
                message.insert(shown.to_owned(), json!([]));
            }
            message.remove("interaction_metadata");
            message.remove("interaction");
        }
        // A member comes with its user inside, and the library wants the user beside it too.
        let user = fields.get("member").map(|member| member["user"].clone());
        if let Some(user) = user.filter(|user| user.is_object() && !fields.contains_key("user")) {
            fields.insert("user".to_owned(), user);
        }
    }
    interaction
}
