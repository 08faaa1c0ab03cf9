//! What people do, and what they see of it.

mod act;
mod build;
mod command;
mod component;
mod definition;
mod dial;
mod modal;
mod option;

use std::fmt;

use serde_json::{Value, json};

pub use act::Act;
pub use dial::{GatewayCounts, GatewayDial};
pub use option::{Input, Opt};

use super::gateway::Event;
use super::ids::{ChannelId, InteractionId, MessageId, UserId};
use super::interaction::{Did, Held};
use super::server::Double;
use super::state::State;
use super::world::Permissions;
use std::sync::Arc;
use twilight_model::gateway::Intents;

/// The platform's app would not let a person do this.
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Refused(pub String);

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for Refused {}

pub(super) fn refused<T>(why: impl Into<String>) -> Result<T, Refused> {
    Err(Refused(why.into()))
}

/// Where and by whom something is done.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    /// The channel.
    pub channel: ChannelId,
    /// The person.
    pub by: UserId,
}

/// What is done.
struct Deed {
    did: Did,
    place: Place,
    data: Value,
    source: Option<MessageId>,
}

/// Whether somebody can do anything in a channel; what they may do there.
fn may(state: &State, place: Place) -> Result<Permissions, Refused> {
    let world = &state.world;
    let Some(channel) = world.channel(place.channel) else {
        return refused("there is no such channel");
    };
    if !channel.kind.holds_messages() {
        return refused("nothing can be written in such a channel");
    }
    let Some(guild) = channel.guild else {
        return if channel.recipient == Some(place.by) {
            Ok(Permissions::all())
        } else {
            refused("this is somebody else's channel")
        };
    };
    let guild = &world.guilds[&guild];
    if !guild.bot_in {
        return refused("the bot is not in this guild");
    }
    match guild.members.get(&place.by) {
        Some(may) => Ok(*may),
        None => refused("the person is not in this guild"),
    }
}

impl Double {
    /// Makes an interaction and delivers it.
    fn deliver(&self, deed: Deed) -> Act {
        let at = self.shared.now();
        let (id, delivered) = self.shared.with(|state| {
            let id = InteractionId(state.world.ids.next());
            let token = format!("token-{:x}-{id}", id.0.rotate_left(21));
            let payload = payload(state, id, &token, &deed);
            let held = Held {
                id,
                token,
                did: deed.did,
                by: deed.place.by,
                channel: deed.place.channel,
                at,
                payload,
                source: deed.source,
                first: None,
                original: None,
                follow_ups: Vec::new(),
                again: 0,
            };
            state.world.interactions.insert(id, held);
            (id, hand_out(state, id))
        });
        Act::new(Arc::clone(&self.shared), id, delivered)
    }
}

/// Sends an interaction to whom it concerns; to how many.
fn hand_out(state: &mut State, id: InteractionId) -> usize {
    let held = &state.world.interactions[&id];
    let guild = state
        .world
        .channels
        .get(&held.channel)
        .and_then(|channel| channel.guild);
    let mut data = held.payload.clone();
    if let Some(fields) = data.as_object_mut() {
        fields.retain(|name, _| !state.gateway.left_out.contains(name));
    }
    let event = Event {
        name: "INTERACTION_CREATE",
        guild,
        needs: Intents::empty(),
        data,
    };
    state.gateway.dispatch(&event)
}

fn payload(state: &State, id: InteractionId, token: &str, deed: &Deed) -> Value {
    let world = &state.world;
    let channel = &world.channels[&deed.place.channel];
    let locale = &world.users[&deed.place.by].locale;
    let mut payload = json!({
        "id": id.to_string(),
        "application_id": world.bot.to_string(),
        "type": deed.did as u8,
        "data": deed.data,
        "channel_id": channel.id.to_string(),
        "channel": world.partial_channel_json(channel),
        "token": token,
        "version": 1,
        "app_permissions": channel.bot_may.bits().to_string(),
        "locale": locale,
        "entitlements": [],
        "attachment_size_limit": 10_485_760,
    });
    if let Some(guild) = channel.guild {
        let locale = &world.guilds[&guild].locale;
        payload["guild_id"] = json!(guild.to_string());
        payload["guild"] = json!({"id": guild.to_string(), "locale": locale, "features": []});
        payload["guild_locale"] = json!(locale);
        payload["member"] = world.member_json(guild, deed.place.by);
        payload["context"] = json!(0);
        payload["authorizing_integration_owners"] = json!({"0": guild.to_string()});
    } else {
        payload["user"] = world.user_json(deed.place.by);
        payload["context"] = json!(1);
        payload["authorizing_integration_owners"] = json!({"0": "0"});
    }
    if let Some(source) = deed.source {
        payload["message"] = world.messages[&source].body().clone();
    }
    payload
}
