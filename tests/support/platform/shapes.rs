//! How people, channels and guilds look in JSON.

use serde_json::{Value, json};

use super::ids::{self, GuildId, UserId};
use super::world::{Channel, Guild, Permissions, User, World};

pub(super) fn user(user: &User) -> Value {
    json!({
        "id": user.id.to_string(),
        "username": user.name,
        "discriminator": if user.bot { "0001" } else { "0" },
        "global_name": user.name,
        "avatar": null,
        "bot": user.bot,
        "public_flags": 0,
    })
}

impl World {
    pub(super) fn user_json(&self, id: UserId) -> Value {
        self.users.get(&id).map(user).unwrap_or_default()
    }

    /// A member as interactions name it, with its permissions.
    pub(super) fn member_json(&self, guild: GuildId, id: UserId) -> Value {
        let may = self.guilds.get(&guild).and_then(|guild| guild.members.get(&id));
        let mut member = self.partial_member_json(may.copied().unwrap_or(Permissions::empty()));
        member["user"] = self.user_json(id);
        member
    }

    pub(super) fn partial_member_json(&self, may: Permissions) -> Value {
        json!({
            "nick": null,
            "avatar": null,
            "roles": [],
            "joined_at": ids::written(self.bot.0),
            "premium_since": null,
            "communication_disabled_until": null,
            "deaf": false,
            "mute": false,
            "pending": false,
            "flags": 0,
            "permissions": may.bits().to_string(),
        })
    }

    pub(super) fn channel_json(&self, channel: &Channel) -> Value {
        let mut shape = json!({
            "id": channel.id.to_string(),
            "type": channel.kind as u8,
            "last_message_id": channel.messages.last().map(ToString::to_string),
            "flags": 0,
        });
        if let Some(recipient) = channel.recipient {
            shape["recipients"] = json!([self.user_json(recipient)]);
            return shape;
        }
        shape["name"] = json!(channel.name);
        shape["guild_id"] = json!(channel.guild.map(|guild| guild.to_string()));
        shape["parent_id"] = json!(channel.parent.map(|parent| parent.to_string()));
        shape["nsfw"] = json!(false);
        shape["rate_limit_per_user"] = json!(0);
        if channel.kind.is_thread() {
            shape["owner_id"] = json!(self.bot.to_string());
            shape["message_count"] = json!(channel.messages.len());
            shape["member_count"] = json!(1);
            shape["thread_metadata"] = json!({
                "archived": false,
                "auto_archive_duration": 1440,
                "archive_timestamp": ids::written(channel.id.0),
                "locked": false,
            });
        } else {
            shape["position"] = json!(0);
            shape["permission_overwrites"] = json!([]);
            shape["topic"] = Value::Null;
        }
        shape
    }

    /// A channel as interactions name it.
    pub(super) fn partial_channel_json(&self, channel: &Channel) -> Value {
        let mut shape = self.channel_json(channel);
        shape["permissions"] = json!(channel.bot_may.bits().to_string());
        shape
    }

    fn roles_json(guild: &Guild) -> Value {
        let everyone = super::world::usual_permissions().bits().to_string();
        let own = guild.roles.iter().map(|role| (role.id.0, role.name.as_str()));
        let roles = [(guild.id.0, "@everyone")].into_iter().chain(own);
        roles
            .map(|(id, name)| role_json(id, name, &everyone))
            .collect::<Vec<_>>()
            .into()
    }

    /// A guild as `GET /guilds/{id}` gives it.
    pub(super) fn guild_json(&self, guild: &Guild) -> Value {
        let owner = guild.members.keys().next().copied().unwrap_or(self.bot);
        json!({
            "id": guild.id.to_string(),
            "name": guild.name,
            "icon": null,
            "splash": null,
            "discovery_splash": null,
            "owner_id": owner.to_string(),
            "afk_channel_id": null,
            "afk_timeout": 300,
            "verification_level": 0,
            "default_message_notifications": 1,
            "explicit_content_filter": 0,
            "roles": Self::roles_json(guild),
            "emojis": [],
            "stickers": [],
            "features": [],
            "mfa_level": 0,
            "application_id": null,
            "system_channel_id": null,
            "system_channel_flags": 0,
            "rules_channel_id": null,
            "max_members": 500_000,
            "vanity_url_code": null,
            "description": null,
            "banner": null,
            "premium_tier": 0,
            "premium_subscription_count": 0,
            "preferred_locale": guild.locale,
            "public_updates_channel_id": null,
            "safety_alerts_channel_id": null,
            "nsfw": false,
            "nsfw_level": 0,
            "premium_progress_bar_enabled": false,
            "widget_enabled": false,
        })
    }

    /// A guild as `GUILD_CREATE` gives it.
    pub(super) fn guild_create_json(&self, guild: &Guild) -> Value {
        let mut shape = self.guild_json(guild);
        let here = || {
            self.channels
                .values()
                .filter(|channel| channel.guild == Some(guild.id) && !channel.deleted)
        };
        let channels: Vec<Value> = here()
            .filter(|channel| !channel.kind.is_thread())
            .map(|channel| self.channel_json(channel))
            .collect();
        let threads: Vec<Value> = here()
            .filter(|channel| channel.kind.is_thread())
            .map(|channel| self.channel_json(channel))
            .collect();
        let mut me = self.partial_member_json(super::world::usual_permissions());
        me["user"] = self.user_json(self.bot);
        shape["joined_at"] = json!(ids::written(guild.id.0));
        shape["large"] = json!(false);
        shape["unavailable"] = json!(false);
        shape["member_count"] = json!(guild.members.len() + 1);
        shape["voice_states"] = json!([]);
        shape["members"] = json!([me]);
        shape["channels"] = json!(channels);
        shape["threads"] = json!(threads);
        shape["presences"] = json!([]);
        shape["stage_instances"] = json!([]);
        shape["guild_scheduled_events"] = json!([]);
        shape["soundboard_sounds"] = json!([]);
        shape
    }
}

pub(super) fn role_json(id: u64, name: &str, permissions: &str) -> Value {
    json!({
        "id": id.to_string(),
        "name": name,
        "color": 0,
        "colors": {"primary_color": 0, "secondary_color": null, "tertiary_color": null},
        "hoist": false,
        "icon": null,
        "unicode_emoji": null,
        "position": 0,
        "permissions": permissions,
        "managed": false,
        "mentionable": true,
        "flags": 0,
    })
}
