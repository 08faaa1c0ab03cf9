//! Guilds, channels and people, as the platform keeps them.

use std::collections::BTreeMap;

pub use twilight_model::guild::Permissions;

use super::ids::{AttachmentId, ChannelId, GuildId, InteractionId, MessageId, RoleId, Snowflakes, UserId};
use super::interaction::Held;
use super::message::Message;
use serde_json::Value;

/// What kind of channel.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
#[allow(missing_docs, reason = "the names are the platform's")]
pub enum ChannelKind {
    Text = 0,
    Dm = 1,
    Voice = 2,
    Category = 4,
    Announcement = 5,
    PublicThread = 11,
    PrivateThread = 12,
    Stage = 13,
    Forum = 15,
}

impl ChannelKind {
    /// Whether it is a thread.
    #[must_use]
    pub fn is_thread(self) -> bool {
        matches!(self, Self::PublicThread | Self::PrivateThread)
    }

    /// Whether messages can stand in it.
    pub(super) fn holds_messages(self) -> bool {
        !matches!(self, Self::Category | Self::Forum)
    }
}

/// A person, or the bot.
#[derive(Clone, Debug)]
pub(super) struct User {
    pub(super) id: UserId,
    pub(super) name: String,
    pub(super) bot: bool,
    pub(super) takes_dms: bool,
    pub(super) locale: String,
}

/// A role, here only a name to mention.
#[derive(Clone, Debug)]
pub(super) struct Role {
    pub(super) id: RoleId,
    pub(super) name: String,
}

/// A guild.
#[derive(Clone, Debug)]
pub(super) struct Guild {
    pub(super) id: GuildId,
    pub(super) name: String,
    pub(super) locale: String,
    pub(super) members: BTreeMap<UserId, Permissions>,
    pub(super) roles: Vec<Role>,
    pub(super) bot_in: bool,
}

/// A channel.
#[derive(Clone, Debug)]
pub(super) struct Channel {
    pub(super) id: ChannelId,
    pub(super) kind: ChannelKind,
    pub(super) name: String,
    pub(super) guild: Option<GuildId>,
    pub(super) parent: Option<ChannelId>,
    pub(super) recipient: Option<UserId>,
    pub(super) bot_may: Permissions,
    pub(super) deleted: bool,
    pub(super) messages: Vec<MessageId>,
}

/// A file in the small store of attachments.
#[derive(Clone, Debug)]
pub(super) struct Stored {
    pub(super) name: String,
    pub(super) kind: String,
    pub(super) bytes: Vec<u8>,
}

/// All of it.
#[derive(Debug)]
pub(super) struct World {
    pub(super) ids: Snowflakes,
    pub(super) bot: UserId,
    /// Where attachments are fetched: `http://127.0.0.1:PORT`.
    pub(super) cdn: String,
    pub(super) users: BTreeMap<UserId, User>,
    pub(super) guilds: BTreeMap<GuildId, Guild>,
    pub(super) channels: BTreeMap<ChannelId, Channel>,
    pub(super) messages: BTreeMap<MessageId, Message>,
    pub(super) files: BTreeMap<AttachmentId, Stored>,
    pub(super) commands: Vec<Value>,
    pub(super) interactions: BTreeMap<InteractionId, Held>,
}

/// What everybody may do if nothing else is said.
#[must_use]
pub fn usual_permissions() -> Permissions {
    Permissions::VIEW_CHANNEL
        | Permissions::SEND_MESSAGES
        | Permissions::SEND_MESSAGES_IN_THREADS
        | Permissions::EMBED_LINKS
        | Permissions::ATTACH_FILES
        | Permissions::READ_MESSAGE_HISTORY
        | Permissions::USE_SLASH_COMMANDS
}

impl World {
    pub(super) fn new(base_ms: u64, name: &str, cdn: String) -> Self {
        let mut ids = Snowflakes::from(base_ms);
        let bot = UserId(ids.next());
        let user = User {
            id: bot,
            name: name.to_owned(),
            bot: true,
            takes_dms: false,
            locale: "en-GB".to_owned(),
        };
        Self {
            ids,
            bot,
            cdn,
            users: BTreeMap::from([(bot, user)]),
            guilds: BTreeMap::new(),
            channels: BTreeMap::new(),
            messages: BTreeMap::new(),
            files: BTreeMap::new(),
            commands: Vec::new(),
            interactions: BTreeMap::new(),
        }
    }

    /// A channel that is there.
    pub(super) fn channel(&self, id: ChannelId) -> Option<&Channel> {
        self.channels.get(&id).filter(|channel| !channel.deleted)
    }

    /// What the bot may do in a channel; none when it cannot see it.
    pub(super) fn bot_may(&self, channel: &Channel) -> Option<Permissions> {
        match channel.guild {
            Some(guild) if !self.guilds.get(&guild).is_some_and(|guild| guild.bot_in) => None,
            Some(_) if !channel.bot_may.contains(Permissions::VIEW_CHANNEL) => None,
            _ => Some(channel.bot_may),
        }
    }
}
