//! Answers behind the first one: follow-ups, edits, what was shown.

use super::Call;
use super::perform::{keep, object};
use crate::platform::ids::{InteractionId, MessageId};
use crate::platform::message::Draft;
use crate::platform::reply::Reply;
use crate::platform::route::Route;
use crate::platform::state::{Shared, State};
use crate::platform::world::{Stored, World};

/// The interaction a webhook's token stands for, while it lives and once it was answered.
fn living(shared: &Shared, world: &World, call: &Call) -> Result<InteractionId, Reply> {
    let held = world.held(&call.target.token);
    let unknown = || Reply::error(404, 10_015, "Unknown Webhook");
    let held = held
        .filter(|held| held.first.is_some() && call.target.major == world.bot.0)
        .ok_or_else(unknown)?;
    if call.at.saturating_sub(held.at) > shared.config.token_life {
        return Err(Reply::error(401, 50_027, "Invalid Webhook Token"));
    }
    Ok(held.id)
}

/// One more message. Behind a promise to answer it is that answer.
pub(super) fn follow_up(shared: &Shared, state: &mut State, call: &Call, files: Vec<(u64, Stored)>) -> Reply {
    let world = &mut state.world;
    let id = match living(shared, world, call) {
        Ok(id) => id,
        Err(refused) => return refused,
    };
    let files = keep(world, files);
    let body = object(call);
    let held = &world.interactions[&id];
    let promised = held
        .original
        .filter(|original| !world.messages[original].deleted && world.messages[original].is_loading());
    if let Some(original) = promised {
        world.edit(original, &body, &files, call.at);
        return Reply::ok(world.messages[&original].body().clone());
    }
    let channel = held.channel;
    let message = world.write(&Draft {
        channel,
        interaction: Some(id),
        body: &body,
        files,
        at: call.at,
    });
    if let Some(held) = world.interactions.get_mut(&id) {
        held.follow_ups.push(message);
    }
    Reply::ok(world.messages[&message].body().clone())
}

/// One message of the answer: shown, changed, taken away.
pub(super) fn message(shared: &Shared, state: &mut State, call: &Call, files: Vec<(u64, Stored)>) -> Reply {
    let world = &mut state.world;
    let id = match living(shared, world, call) {
        Ok(id) => id,
        Err(refused) => return refused,
    };
    let held = &world.interactions[&id];
    let wanted = call.target.message.map(MessageId);
    let own = |message: &MessageId| held.follow_ups.contains(message) || held.original == Some(*message);
    let found = match wanted {
        None => held.original,
        Some(wanted) => Some(wanted).filter(own),
    };
    let found = found.filter(|found| world.messages.get(found).is_some_and(|message| !message.deleted));
    let Some(found) = found else {
        return Reply::unknown_message();
    };
    match call.target.route {
        Route::GetResponse => Reply::ok(world.messages[&found].body().clone()),
        Route::EditResponse => {
            let files = keep(world, files);
            world.edit(found, &object(call), &files, call.at);
            Reply::ok(world.messages[&found].body().clone())
        }
        _ => {
            world.take_away(found, call.at);
            Reply::nothing()
        }
    }
}
