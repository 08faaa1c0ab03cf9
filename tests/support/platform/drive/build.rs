//! Guilds, channels and people, as a test makes and unmakes them.

use std::collections::BTreeMap;

use serde_json::{Value, json};
use twilight_model::gateway::Intents;

use crate::platform::gateway::Event;
use crate::platform::ids::{AttachmentId, ChannelId, GuildId, MessageId, RoleId, UserId};
use crate::platform::rest::dm;
use crate::platform::server::Double;
use crate::platform::state::State;
use crate::platform::world::{
    Channel, ChannelKind, Guild, Permissions, Role, Stored, User, usual_permissions,
};

fn tell(state: &mut State, name: &str, guild: Option<GuildId>, needs: Intents, data: Value) {
    let event = Event {
        name,
        guild,
        needs,
        data,
    };
    state.gateway.dispatch(&event);
}

fn tell_guild(state: &mut State, id: GuildId) {
    let data = state.world.guild_create_json(&state.world.guilds[&id]);
    tell(state, "GUILD_CREATE", Some(id), Intents::GUILDS, data);
}

impl Double {
    /// The bot's id, which is its application's too.
    #[must_use]
    pub fn bot(&self) -> UserId {
        self.shared.look(|state| state.world.bot)
    }

    /// A new guild with the bot in it.
    #[must_use]
    pub fn guild(&self, name: &str) -> GuildId {
        self.shared.with(|state| {
            let id = GuildId(state.world.ids.next());
            let guild = Guild {
                id,
                name: name.to_owned(),
                locale: "en-GB".to_owned(),
                members: BTreeMap::new(),
                roles: Vec::new(),
                bot_in: true,
            };
            state.world.guilds.insert(id, guild);
            tell_guild(state, id);
            id
        })
    }

    /// A new channel of a guild, in which the bot may do the usual.
    #[must_use]
    pub fn channel(&self, guild: GuildId, kind: ChannelKind, name: &str) -> ChannelId {
        self.new_channel(guild, None, kind, name)
    }

    /// A new thread under a channel.
    ///
    /// # Panics
    /// When the channel is of no guild.
    #[must_use]
    pub fn thread(&self, parent: ChannelId, name: &str) -> ChannelId {
        let guild = self.shared.look(|state| state.world.channels[&parent].guild);
        let guild = guild.expect("a thread stands in a guild");
        self.new_channel(guild, Some(parent), ChannelKind::PublicThread, name)
    }

    fn new_channel(
        &self,
        guild: GuildId,
        parent: Option<ChannelId>,
        kind: ChannelKind,
        name: &str,
    ) -> ChannelId {
        self.shared.with(|state| {
            let id = ChannelId(state.world.ids.next());
            let channel = Channel {
                id,
                kind,
                name: name.to_owned(),
                guild: Some(guild),
                parent,
                recipient: None,
                bot_may: usual_permissions(),
                deleted: false,
                messages: Vec::new(),
            };
            let data = state.world.channel_json(&channel);
            state.world.channels.insert(id, channel);
            let name = if kind.is_thread() {
                "THREAD_CREATE"
            } else {
                "CHANNEL_CREATE"
            };
            tell(state, name, Some(guild), Intents::GUILDS, data);
            id
        })
    }

    /// A new person, in no guild yet.
    #[must_use]
    pub fn person(&self, name: &str) -> UserId {
        self.shared.with(|state| {
            let id = UserId(state.world.ids.next());
            let user = User {
                id,
                name: name.to_owned(),
                bot: false,
                takes_dms: true,
                locale: "en-GB".to_owned(),
            };
            state.world.users.insert(id, user);
            id
        })
    }

    /// A new person in a guild, who may do the usual.
    #[must_use]
    pub fn member(&self, guild: GuildId, name: &str) -> UserId {
        let id = self.person(name);
        self.join(guild, id, usual_permissions());
        id
    }

    /// A person joins a guild, or may do other things there from now on.
    pub fn join(&self, guild: GuildId, person: UserId, may: Permissions) {
        self.shared.with(|state| {
            if let Some(guild) = state.world.guilds.get_mut(&guild) {
                guild.members.insert(person, may);
            }
        });
    }

    /// A person leaves a guild.
    pub fn leave(&self, guild: GuildId, person: UserId) {
        self.shared.with(|state| {
            if let Some(guild) = state.world.guilds.get_mut(&guild) {
                guild.members.remove(&person);
            }
        });
    }

    /// A new role, to be mentioned.
    #[must_use]
    pub fn role(&self, guild: GuildId, name: &str) -> RoleId {
        self.shared.with(|state| {
            let id = RoleId(state.world.ids.next());
            let role = Role {
                id,
                name: name.to_owned(),
            };
            if let Some(guild) = state.world.guilds.get_mut(&guild) {
                guild.roles.push(role);
            }
            id
        })
    }

    /// What the bot may do in a channel from now on; without `VIEW_CHANNEL` it does not see it.
    pub fn bot_may(&self, channel: ChannelId, may: Permissions) {
        self.shared.with(|state| {
            if let Some(channel) = state.world.channels.get_mut(&channel) {
                channel.bot_may = may;
            }
        });
    }

    /// Whether a person takes direct messages from now on.
    pub fn takes_dms(&self, person: UserId, takes: bool) {
        self.shared.with(|state| {
            if let Some(user) = state.world.users.get_mut(&person) {
                user.takes_dms = takes;
            }
        });
    }

    /// The language a person has set.
    pub fn speaks(&self, person: UserId, locale: &str) {
        self.shared.with(|state| {
            if let Some(user) = state.world.users.get_mut(&person) {
                locale.clone_into(&mut user.locale);
            }
        });
    }

    /// The channel in which the bot and a person talk.
    #[must_use]
    pub fn dm(&self, person: UserId) -> ChannelId {
        self.shared.with(|state| dm(&mut state.world, person))
    }

    /// A file to be attached or fetched; `kind` is its media type.
    #[must_use]
    pub fn attach(&self, name: &str, kind: &str, bytes: impl Into<Vec<u8>>) -> AttachmentId {
        self.shared.with(|state| {
            let id = AttachmentId(state.world.ids.next());
            let file = Stored {
                name: name.to_owned(),
                kind: kind.to_owned(),
                bytes: bytes.into(),
            };
            state.world.files.insert(id, file);
            id
        })
    }

    /// Where a file is fetched.
    #[must_use]
    pub fn attachment_url(&self, id: AttachmentId) -> Option<String> {
        let shape = self.shared.look(|state| state.world.attachment_json(id))?;
        shape["url"].as_str().map(str::to_owned)
    }

    /// Somebody deletes a channel.
    pub fn delete_channel(&self, id: ChannelId) {
        self.shared.with(|state| {
            let Some(channel) = state.world.channels.get_mut(&id) else {
                return;
            };
            channel.deleted = true;
            let channel = channel.clone();
            let data = state.world.channel_json(&channel);
            let name = if channel.kind.is_thread() {
                "THREAD_DELETE"
            } else {
                "CHANNEL_DELETE"
            };
            tell(state, name, channel.guild, Intents::GUILDS, data);
        });
    }

    /// Somebody deletes a message.
    pub fn delete_message(&self, id: MessageId) {
        let at = self.shared.now();
        self.shared.with(|state| {
            state.world.take_away(id, at);
            let Some(message) = state.world.messages.get(&id) else {
                return;
            };
            let guild = state.world.channels[&message.channel].guild;
            let mut data = json!({"id": id.to_string(), "channel_id": message.channel.to_string()});
            if let Some(guild) = guild {
                data["guild_id"] = json!(guild.to_string());
            }
            tell(state, "MESSAGE_DELETE", guild, Intents::GUILD_MESSAGES, data);
        });
    }

    /// The bot is removed from a guild.
    pub fn remove_bot(&self, id: GuildId) {
        self.shared.with(|state| {
            if let Some(guild) = state.world.guilds.get_mut(&id) {
                guild.bot_in = false;
            }
            let data = json!({"id": id.to_string(), "unavailable": false});
            tell(state, "GUILD_DELETE", Some(id), Intents::GUILDS, data);
        });
    }

    /// The bot is taken into a guild again.
    pub fn bring_bot_back(&self, id: GuildId) {
        self.shared.with(|state| {
            if let Some(guild) = state.world.guilds.get_mut(&id) {
                guild.bot_in = true;
                tell_guild(state, id);
            }
        });
    }

    /// The commands that are registered.
    #[must_use]
    pub fn commands(&self) -> Vec<Value> {
        self.shared.look(|state| state.world.commands.clone())
    }

    /// Waits until commands are registered; they.
    ///
    /// # Panics
    /// When it takes too long.
    pub async fn await_commands(&self) -> Vec<Value> {
        let registered = self.shared.until(|state| {
            let commands = &state.world.commands;
            (!commands.is_empty()).then(|| commands.clone())
        });
        registered.await.expect("commands are registered")
    }
}
