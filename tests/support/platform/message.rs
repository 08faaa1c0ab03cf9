//! A message with all that ever stood in it.

use std::time::Duration;

use serde_json::{Map, Value, json};

use super::ids::{self, AttachmentId, ChannelId, InteractionId, MessageId, UserId};
use super::mentions::{Fallback, Notified, notified};
use super::world::World;

/// Only the person who asked sees it.
pub(super) const EPHEMERAL: u64 = 1 << 6;
/// "… is thinking".
pub(super) const LOADING: u64 = 1 << 7;

/// What happened to a message.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Change {
    Created,
    Edited,
    Deleted,
}

/// One version of a message.
#[derive(Clone, Debug)]
pub struct Version {
    /// Since the double's start.
    pub at: Duration,
    /// What happened.
    pub change: Change,
    /// The message as the platform shows it from then on.
    pub body: Value,
    /// Whom this version calls.
    pub notified: Notified,
}

/// A message.
#[derive(Clone, Debug)]
pub struct Message {
    /// Its id.
    pub id: MessageId,
    /// Where it stands.
    pub channel: ChannelId,
    /// Who wrote it.
    pub author: UserId,
    /// The interaction whose answer it is.
    pub interaction: Option<InteractionId>,
    /// Whether only the person who asked sees it.
    pub ephemeral: bool,
    /// The nonce it was sent with.
    pub nonce: Option<String>,
    /// Whether it is gone.
    pub deleted: bool,
    /// All its versions, the first one first.
    pub history: Vec<Version>,
}

/// A button as a person sees it.
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Shown {
    /// What a press sends; empty for a link.
    pub custom_id: String,
    /// What it says: a button's label, a select's placeholder.
    pub label: String,
    /// Whether it can be used.
    pub disabled: bool,
}

impl Message {
    /// As the platform shows it now.
    ///
    /// # Panics
    /// Never: every message has a first version.
    #[must_use]
    pub fn body(&self) -> &Value {
        &self.history.last().expect("a first version").body
    }

    /// Its content.
    #[must_use]
    pub fn content(&self) -> &str {
        self.body()["content"].as_str().unwrap_or_default()
    }

    /// Everything there is to read: content, then each embed's title, description, fields and footer, a line each.
    #[must_use]
    pub fn text(&self) -> String {
        let mut lines = vec![self.content().to_owned()];
        for embed in self.body()["embeds"].as_array().into_iter().flatten() {
            let fields = embed["fields"].as_array().cloned().unwrap_or_default();
            let said = [&embed["author"]["name"], &embed["title"], &embed["description"]];
            lines.extend(said.into_iter().filter_map(Value::as_str).map(str::to_owned));
            for field in &fields {
                lines.extend(
                    ["name", "value"]
                        .into_iter()
                        .filter_map(|key| field[key].as_str())
                        .map(str::to_owned),
                );
            }
            lines.extend(embed["footer"]["text"].as_str().map(str::to_owned));
        }
        lines.retain(|line| !line.is_empty());
        lines.join("\n")
    }

    /// Its buttons and selects, in order.
    #[must_use]
    pub fn shown(&self) -> Vec<Shown> {
        components(self.body())
            .into_iter()
            .map(|one| Shown {
                custom_id: one["custom_id"].as_str().unwrap_or_default().to_owned(),
                label: (one["label"].as_str())
                    .or_else(|| one["placeholder"].as_str())
                    .unwrap_or_default()
                    .to_owned(),
                disabled: one["disabled"] == true,
            })
            .collect()
    }

    /// The custom id of the button with this label.
    #[must_use]
    pub fn button(&self, label: &str) -> Option<String> {
        let found = self.shown().into_iter().find(|one| one.label == label)?;
        Some(found.custom_id)
    }

    /// Whether it only says that the bot is thinking.
    #[must_use]
    pub fn is_loading(&self) -> bool {
        self.flags() & LOADING != 0
    }

    /// How often it was edited.
    #[must_use]
    pub fn edits(&self) -> usize {
        let edited = |version: &&Version| version.change == Change::Edited;
        self.history.iter().filter(edited).count()
    }

    /// Whether no version of it calls anybody.
    #[must_use]
    pub fn calls_nobody(&self) -> bool {
        self.history.iter().all(|version| version.notified.is_nobody())
    }

    pub(super) fn flags(&self) -> u64 {
        self.body()["flags"].as_u64().unwrap_or(0)
    }
}

/// Buttons and selects of a message's JSON, in order, whatever they stand in.
pub(super) fn components(body: &Value) -> Vec<&Value> {
    fn walk<'a>(one: &'a Value, found: &mut Vec<&'a Value>) {
        if one["type"].as_u64().is_some_and(|kind| (2..=8).contains(&kind)) {
            found.push(one);
        }
        for inner in one["components"].as_array().into_iter().flatten() {
            walk(inner, found);
        }
        for key in ["accessory", "component"] {
            if one[key].is_object() {
                walk(&one[key], found);
            }
        }
    }
    let mut found = Vec::new();
    for one in body["components"].as_array().into_iter().flatten() {
        walk(one, &mut found);
    }
    found
}

/// What a new message is made of.
pub(super) struct Draft<'a> {
    pub(super) channel: ChannelId,
    pub(super) interaction: Option<InteractionId>,
    pub(super) body: &'a Map<String, Value>,
    pub(super) files: Vec<AttachmentId>,
    pub(super) at: Duration,
}

impl World {
    /// Writes a message of the bot's.
    pub(super) fn write(&mut self, draft: &Draft<'_>) -> MessageId {
        let id = MessageId(self.ids.next());
        let author = self.bot;
        let mut body = json!({
            "id": id.to_string(),
            "channel_id": draft.channel.to_string(),
            "author": self.user_json(author),
            "content": "",
            "timestamp": ids::written(id.0),
            "edited_timestamp": null,
            "tts": false,
            "mention_everyone": false,
            "mentions": [],
            "mention_roles": [],
            "attachments": [],
            "embeds": [],
            "components": [],
            "pinned": false,
            "type": if draft.interaction.is_some() { 20 } else { 0 },
            "flags": 0,
        });
        if let Some(nonce) = draft.body.get("nonce") {
            body["nonce"] = nonce.clone();
        }
        let fallback = if let Some(interaction) = draft.interaction {
            body["application_id"] = json!(self.bot.to_string());
            body["webhook_id"] = json!(self.bot.to_string());
            body["interaction_metadata"] = self.metadata(interaction);
            Fallback::Users
        } else {
            Fallback::All
        };
        self.put(&mut body, draft.body, &draft.files);
        let notified = self.called(&mut body, draft.body, fallback);
        let flags = body["flags"].as_u64().unwrap_or(0);
        let message = Message {
            id,
            channel: draft.channel,
            author,
            interaction: draft.interaction,
            ephemeral: flags & EPHEMERAL != 0,
            nonce: draft.body.get("nonce").map(nonce_text),
            deleted: false,
            history: vec![Version {
                at: draft.at,
                change: Change::Created,
                body,
                notified,
            }],
        };
        if let Some(channel) = self.channels.get_mut(&draft.channel) {
            channel.messages.push(id);
        }
        self.messages.insert(id, message);
        id
    }

    /// Changes a message; what the edit does not name stays.
    pub(super) fn edit(
        &mut self,
        id: MessageId,
        edit: &Map<String, Value>,
        files: &[AttachmentId],
        at: Duration,
    ) {
        let Some(message) = self.messages.get(&id) else {
            return;
        };
        let fallback = if message.interaction.is_some() {
            Fallback::Users
        } else {
            Fallback::All
        };
        let mut body = message.body().clone();
        let kept = message.flags() & EPHEMERAL;
        self.put(&mut body, edit, files);
        let flags = body["flags"].as_u64().unwrap_or(0) & !LOADING & !EPHEMERAL;
        body["flags"] = json!(flags | kept);
        body["edited_timestamp"] = json!(ids::written(self.ids.next()));
        let notified = self.called(&mut body, edit, fallback);
        if let Some(message) = self.messages.get_mut(&id) {
            message.history.push(Version {
                at,
                change: Change::Edited,
                body,
                notified,
            });
        }
    }

    /// Takes a message away.
    pub(super) fn take_away(&mut self, id: MessageId, at: Duration) {
        if let Some(message) = self.messages.get_mut(&id).filter(|message| !message.deleted) {
            let body = message.body().clone();
            message.deleted = true;
            message.history.push(Version {
                at,
                change: Change::Deleted,
                body,
                notified: Notified::default(),
            });
        }
    }

    fn called(&self, body: &mut Value, request: &Map<String, Value>, fallback: Fallback) -> Notified {
        let content = body["content"].as_str().unwrap_or_default();
        let called = notified(content, request, fallback);
        let mentions: Vec<Value> = called.users.iter().map(|user| self.user_json(*user)).collect();
        body["mentions"] = mentions.into_iter().filter(Value::is_object).collect();
        body["mention_roles"] = called.roles.iter().map(ToString::to_string).collect();
        body["mention_everyone"] = json!(called.everyone);
        called
    }

    /// Puts a request's parts over a message's.
    fn put(&self, body: &mut Value, request: &Map<String, Value>, files: &[AttachmentId]) {
        for key in ["content", "tts", "embeds", "components", "flags"] {
            let Some(value) = request.get(key) else {
                continue;
            };
            body[key] = match (key, value) {
                ("content", Value::Null) => json!(""),
                ("flags", Value::Null) => json!(0),
                ("tts", Value::Null) => json!(false),
                (_, Value::Null) => json!([]),
                (_, value) => value.clone(),
            };
        }
        for embed in body["embeds"].as_array_mut().into_iter().flatten() {
            embed["type"] = json!("rich");
            let fields = embed.get_mut("fields").and_then(Value::as_array_mut);
            for field in fields.into_iter().flatten() {
                if field.get("inline").is_none() {
                    field["inline"] = json!(false);
                }
            }
        }
        let mut next = 1;
        for one in body["components"].as_array_mut().into_iter().flatten() {
            number(one, &mut next);
        }
        self.attach(body, request, files);
    }

    /// Attachments: those an edit still names stay, those it brings are added.
    fn attach(&self, body: &mut Value, request: &Map<String, Value>, files: &[AttachmentId]) {
        let mut attachments = body["attachments"].as_array().cloned().unwrap_or_default();
        if let Some(kept) = request.get("attachments").and_then(Value::as_array) {
            let named = |one: &Value| kept.iter().any(|kept| kept["id"] == one["id"]);
            attachments.retain(named);
        }
        attachments.extend(files.iter().filter_map(|id| self.attachment_json(*id)));
        body["attachments"] = attachments.into();
    }
}

/// Components get numbers of their own where none was given.
fn number(one: &mut Value, next: &mut u32) {
    if one.get("id").is_none() && one.is_object() {
        one["id"] = json!(*next);
    }
    *next += 1;
    for inner in one["components"].as_array_mut().into_iter().flatten() {
        number(inner, next);
    }
}

/// A nonce is text or a number.
pub(super) fn nonce_text(nonce: &Value) -> String {
    nonce.as_str().map_or_else(|| nonce.to_string(), str::to_owned)
}
