//! What a person puts into a command's options.

use serde_json::{Map, Value, json};

use crate::platform::ids::{AttachmentId, ChannelId, RoleId, UserId};
use crate::platform::shapes::role_json;
use crate::platform::state::State;
use crate::platform::world::usual_permissions;

/// A value.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Input {
    Text(String),
    Int(i64),
    Number(f64),
    Bool(bool),
    User(UserId),
    Channel(ChannelId),
    Role(RoleId),
    Attachment(AttachmentId),
}

/// An option with its value.
#[derive(Clone, Debug, PartialEq)]
pub struct Opt {
    /// Its name.
    pub name: String,
    /// What is put in.
    pub input: Input,
}

impl Opt {
    fn new(name: &str, input: Input) -> Self {
        let name = name.to_owned();
        Self { name, input }
    }

    /// Text.
    #[must_use]
    pub fn text(name: &str, value: &str) -> Self {
        Self::new(name, Input::Text(value.to_owned()))
    }

    /// A whole number.
    #[must_use]
    pub fn int(name: &str, value: i64) -> Self {
        Self::new(name, Input::Int(value))
    }

    /// A number.
    #[must_use]
    pub fn number(name: &str, value: f64) -> Self {
        Self::new(name, Input::Number(value))
    }

    /// Yes or no.
    #[must_use]
    pub fn bool(name: &str, value: bool) -> Self {
        Self::new(name, Input::Bool(value))
    }

    /// A person.
    #[must_use]
    pub fn user(name: &str, value: UserId) -> Self {
        Self::new(name, Input::User(value))
    }

    /// A channel.
    #[must_use]
    pub fn channel(name: &str, value: ChannelId) -> Self {
        Self::new(name, Input::Channel(value))
    }

    /// A role.
    #[must_use]
    pub fn role(name: &str, value: RoleId) -> Self {
        Self::new(name, Input::Role(value))
    }

    /// A file.
    #[must_use]
    pub fn attachment(name: &str, value: AttachmentId) -> Self {
        Self::new(name, Input::Attachment(value))
    }
}

impl Input {
    /// The option type that takes it: user and role are taken by 9 too, whole numbers by 10.
    pub(super) fn kinds(&self) -> &'static [u64] {
        match self {
            Self::Text(_) => &[3],
            Self::Int(_) => &[4, 10],
            Self::Number(_) => &[10],
            Self::Bool(_) => &[5],
            Self::User(_) => &[6, 9],
            Self::Channel(_) => &[7],
            Self::Role(_) => &[8, 9],
            Self::Attachment(_) => &[11],
        }
    }

    /// As the interaction carries it.
    pub(super) fn value(&self) -> Value {
        match self {
            Self::Text(text) => json!(text),
            Self::Int(number) => json!(number),
            Self::Number(number) => json!(number),
            Self::Bool(yes) => json!(yes),
            Self::User(id) => json!(id.to_string()),
            Self::Channel(id) => json!(id.to_string()),
            Self::Role(id) => json!(id.to_string()),
            Self::Attachment(id) => json!(id.to_string()),
        }
    }
}

/// What the ids among the inputs stand for.
pub(super) fn resolved<'a>(
    state: &State,
    channel: ChannelId,
    inputs: impl IntoIterator<Item = &'a Input>,
) -> Map<String, Value> {
    let world = &state.world;
    let guild = world.channels.get(&channel).and_then(|channel| channel.guild);
    let mut found = Value::Object(Map::new());
    for input in inputs {
        match input {
            Input::User(id) => {
                found["users"][id.to_string()] = world.user_json(*id);
                let may = guild.and_then(|guild| world.guilds[&guild].members.get(id).copied());
                if let Some(may) = may {
                    found["members"][id.to_string()] = world.partial_member_json(may);
                }
            }
            Input::Channel(id) => {
                if let Some(channel) = world.channel(*id) {
                    found["channels"][id.to_string()] = world.partial_channel_json(channel);
                }
            }
            Input::Role(id) => {
                let guild = guild.and_then(|guild| world.guilds.get(&guild));
                let role = guild.and_then(|guild| guild.roles.iter().find(|role| role.id == *id));
                if let Some(role) = role {
                    let may = usual_permissions().bits().to_string();
                    found["roles"][id.to_string()] = role_json(id.0, &role.name, &may);
                }
            }
            Input::Attachment(id) => {
                if let Some(file) = world.attachment_json(*id) {
                    found["attachments"][id.to_string()] = file;
                }
            }
            Input::Text(_) | Input::Int(_) | Input::Number(_) | Input::Bool(_) => {}
        }
    }
    found.as_object().cloned().unwrap_or_default()
}
