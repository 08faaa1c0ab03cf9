//! Messages of channels.

use std::collections::HashMap;

use serde_json::Value;

use super::Call;
use super::perform::{keep, object};
use crate::platform::ids::{ChannelId, MessageId};
use crate::platform::message::{Draft, Message, nonce_text};
use crate::platform::record::{Judge, Verdict};
use crate::platform::reply::Reply;
use crate::platform::route::Route;
use crate::platform::state::{Shared, State};
use crate::platform::world::{Channel, Permissions, Stored, World};

/// The channel a request names, if the bot can see it.
pub(super) fn seen<'a>(world: &'a World, call: &Call) -> Result<&'a Channel, Reply> {
    let channel = world
        .channel(ChannelId(call.target.major))
        .ok_or_else(Reply::unknown_channel)?;
    match world.bot_may(channel) {
        Some(_) => Ok(channel),
        None => Err(Reply::missing_access()),
    }
}

/// The same nonce in two channels would lose one of two messages.
pub(super) fn against(state: &State, call: &Call) -> Vec<Verdict> {
    let body = object(call);
    let Some(nonce) = body.get("nonce").map(nonce_text) else {
        return Vec::new();
    };
    let elsewhere = |message: &&Message| {
        message.channel.0 != call.target.major && message.nonce.as_deref() == Some(nonce.as_str())
    };
    state
        .world
        .messages
        .values()
        .find(elsewhere)
        .map(|other| format!("already the nonce of a message in channel {}", other.channel))
        .map(|said| Verdict::new(Judge::Rules, "nonce", said))
        .into_iter()
        .collect()
}

/// An edit that leaves nothing behind.
pub(super) fn empties(state: &State, call: &Call) -> Vec<Verdict> {
    let world = &state.world;
    let id = call
        .target
        .message
        .map(MessageId)
        .or_else(|| world.held(&call.target.token)?.original);
    let Some(message) = id.and_then(|id| world.messages.get(&id)) else {
        return Vec::new();
    };
    let body = object(call);
    let is_left = |key: &str| match body.get(key) {
        Some(Value::Null) => false,
        Some(Value::String(text)) => !text.is_empty(),
        Some(Value::Array(list)) => !list.is_empty(),
        _ => match &message.body()[key] {
            Value::String(text) => !text.is_empty(),
            Value::Array(list) => !list.is_empty(),
            _ => false,
        },
    };
    if ["content", "embeds", "components", "attachments"]
        .into_iter()
        .any(is_left)
        || !call.carried.files.is_empty()
    {
        return Vec::new();
    }
    vec![Verdict::new(
        Judge::Rules,
        "",
        "an edit that leaves an empty message",
    )]
}

fn may_write(world: &World, channel: &Channel, files: bool) -> Result<(), Reply> {
    if !channel.kind.holds_messages() {
        return Err(Reply::error(
            400,
            50_008,
            "Cannot send messages in a non-text channel",
        ));
    }
    if let Some(user) = channel.recipient {
        let takes = world.users.get(&user).is_some_and(|user| user.takes_dms);
        return if takes {
            Ok(())
        } else {
            Err(Reply::error(403, 50_007, "Cannot send messages to this user"))
        };
    }
    let mut needed = if channel.kind.is_thread() {
        Permissions::SEND_MESSAGES_IN_THREADS
    } else {
        Permissions::SEND_MESSAGES
    };
    if files {
        needed |= Permissions::ATTACH_FILES;
    }
    if channel.bot_may.contains(needed) {
        Ok(())
    } else {
        Err(Reply::missing_permission())
    }
}

/// A new message, or the one its nonce already made.
pub(super) fn create(shared: &Shared, state: &mut State, call: &Call, files: Vec<(u64, Stored)>) -> Reply {
    let world = &mut state.world;
    let allowed = seen(world, call).and_then(|channel| may_write(world, channel, !files.is_empty()));
    if let Err(refused) = allowed {
        return refused;
    }
    let body = object(call);
    let nonce = body.get("nonce").map(nonce_text);
    if nonce.is_some() && body.get("enforce_nonce") == Some(&Value::Bool(true)) {
        let window = shared.config.nonce_window;
        let known = world.messages.values().find(|known| {
            !known.deleted && known.nonce == nonce && call.at.saturating_sub(known.history[0].at) < window
        });
        if let Some(known) = known {
            return Reply::ok(known.body().clone());
        }
    }
    let files = keep(world, files);
    let id = world.write(&Draft {
        channel: ChannelId(call.target.major),
        interaction: None,
        body: &body,
        files,
        at: call.at,
    });
    Reply::ok(world.messages[&id].body().clone())
}

/// Messages of a channel, the newest first.
pub(super) fn list(state: &State, call: &Call) -> Reply {
    let world = &state.world;
    let channel = match seen(world, call) {
        Ok(channel) => channel,
        Err(refused) => return refused,
    };
    if !channel.bot_may.contains(Permissions::READ_MESSAGE_HISTORY) {
        return Reply::ok(Value::Array(Vec::new()));
    }
    let asked: HashMap<&str, &str> = call
        .query
        .split('&')
        .filter_map(|pair| pair.split_once('='))
        .collect();
    let number = |key: &str| asked.get(key).map(|value| value.parse::<u64>().ok());
    let limit = match number("limit") {
        None => 50,
        Some(Some(limit @ 1..=100)) => limit as usize,
        Some(_) => return Reply::invalid(&[Verdict::new(Judge::Rules, "limit", "between 1 and 100")]),
    };
    let visible = |id: &&MessageId| {
        world
            .messages
            .get(id)
            .is_some_and(|message| !message.deleted && !message.ephemeral)
    };
    let mut ids: Vec<u64> = channel.messages.iter().filter(visible).map(|id| id.0).collect();
    ids.sort_unstable();
    let found: Vec<u64> = if let Some(Some(after)) = number("after") {
        // The oldest ones behind it, still told with the newest first.
        let mut found: Vec<u64> = ids.into_iter().filter(|id| *id > after).take(limit).collect();
        found.reverse();
        found
    } else if let Some(Some(around)) = number("around") {
        let half = (limit / 2).max(1);
        let older = ids.iter().rev().filter(|id| **id < around).take(half);
        let newer = ids
            .iter()
            .filter(|id| **id >= around)
            .take(limit - half.min(limit - 1));
        let mut found: Vec<u64> = older.chain(newer).copied().collect();
        found.sort_unstable_by(|a, b| b.cmp(a));
        found
    } else {
        let before = number("before").flatten().unwrap_or(u64::MAX);
        ids.into_iter()
            .rev()
            .filter(|id| *id < before)
            .take(limit)
            .collect()
    };
    let bodies: Vec<Value> = found
        .into_iter()
        .map(|id| world.messages[&MessageId(id)].body().clone())
        .collect();
    Reply::ok(bodies.into())
}

/// One message: shown, changed, taken away.
pub(super) fn message(state: &mut State, call: &Call, files: Vec<(u64, Stored)>) -> Reply {
    let world = &mut state.world;
    let may = match seen(world, call) {
        Ok(channel) => channel.bot_may,
        Err(refused) => return refused,
    };
    let id = MessageId(call.target.message.unwrap_or_default());
    let found = world.messages.get(&id);
    let found = found
        .filter(|message| message.channel.0 == call.target.major && !message.deleted && !message.ephemeral);
    let Some(message) = found else {
        return Reply::unknown_message();
    };
    let own = message.author == world.bot;
    match call.target.route {
        Route::GetMessage if !may.contains(Permissions::READ_MESSAGE_HISTORY) => Reply::missing_permission(),
        Route::GetMessage => Reply::ok(message.body().clone()),
        Route::EditMessage if !own => {
            Reply::error(403, 50_005, "Cannot edit a message authored by another user")
        }
        Route::EditMessage => {
            let files = keep(world, files);
            world.edit(id, &object(call), &files, call.at);
            Reply::ok(world.messages[&id].body().clone())
        }
        _ if !own && !may.contains(Permissions::MANAGE_MESSAGES) => Reply::missing_permission(),
        _ => {
            world.take_away(id, call.at);
            Reply::nothing()
        }
    }
}
