//! The first answer to an interaction.

use std::time::Duration;

use serde_json::{Map, Value, json};

use super::Call;
use super::perform::{keep, object};
use crate::platform::ids::InteractionId;
use crate::platform::interaction::{Did, First, Held};
use crate::platform::message::{Draft, EPHEMERAL, LOADING};
use crate::platform::record::{Judge, Verdict};
use crate::platform::reply::Reply;
use crate::platform::state::State;
use crate::platform::world::Stored;

fn kind(call: &Call) -> u64 {
    call.carried
        .json
        .as_ref()
        .and_then(|body| body["type"].as_u64())
        .unwrap_or(0)
}

/// What kinds of answer go with what was done.
pub(super) fn against(state: &State, call: &Call) -> Vec<Verdict> {
    let Some(held) = state.world.held(&call.target.token) else {
        return Vec::new();
    };
    let kind = kind(call);
    let goes = match held.did {
        Did::Command => matches!(kind, 4 | 5 | 9),
        Did::Component => matches!(kind, 4..=7 | 9),
        Did::Autocomplete => kind == 8,
        Did::Modal => matches!(kind, 4 | 5) || (matches!(kind, 6 | 7) && held.source.is_some()),
    };
    if goes {
        return Vec::new();
    }
    let said = format!("an answer of type {kind} does not go with {:?}", held.did);
    vec![Verdict::new(Judge::Rules, "type", said)]
}

fn open(held: &Held, at: Duration, deadline: Duration) -> Result<(), Reply> {
    if held.first.is_some() {
        return Err(Reply::error(
            400,
            40_060,
            "Interaction has already been acknowledged.",
        ));
    }
    if at.saturating_sub(held.at) > deadline {
        return Err(unknown());
    }
    Ok(())
}

fn unknown() -> Reply {
    Reply::error(404, 10_062, "Unknown interaction")
}

/// Takes the answer.
pub(super) fn callback(state: &mut State, call: &Call, files: Vec<(u64, Stored)>) -> Reply {
    let deadline = state.gateway.config.answer_within;
    let world = &mut state.world;
    let id = InteractionId(call.target.major);
    let Some(held) = world
        .interactions
        .get_mut(&id)
        .filter(|held| held.token == call.target.token)
    else {
        return unknown();
    };
    if let Err(refused) = open(held, call.at, deadline) {
        held.again += u32::from(held.first.is_some());
        return refused;
    }
    let body = object(call);
    let kind = kind(call);
    let data = body.get("data").cloned().unwrap_or(Value::Null);
    held.first = Some(First {
        kind,
        took: call.at.saturating_sub(held.at),
        data: data.clone(),
    });
    let (channel, source) = (held.channel, held.source);
    let mut data = data.as_object().cloned().unwrap_or_default();
    let files = keep(world, files);
    let original = match kind {
        4 | 5 => {
            if kind == 5 {
                data = loading(&data);
            }
            Some(world.write(&Draft {
                channel,
                interaction: Some(id),
                body: &data,
                files,
                at: call.at,
            }))
        }
        7 => {
            if let Some(source) = source {
                world.edit(source, &data, &files, call.at);
            }
            source
        }
        6 => source,
        _ => None,
    };
    if let Some(held) = world.interactions.get_mut(&id) {
        held.original = original;
    }
    if !call.query.contains("with_response=true") {
        return Reply::nothing();
    }
    let message = original.map(|id| world.messages[&id].body().clone());
    Reply::ok(json!({
        "interaction": {"id": id.to_string(), "type": world.interactions[&id].did as u8},
        "resource": {"type": kind, "message": message},
    }))
}

/// What stands there while the bot is thinking.
fn loading(data: &Map<String, Value>) -> Map<String, Value> {
    let ephemeral = data.get("flags").and_then(Value::as_u64).unwrap_or(0) & EPHEMERAL;
    let mut shown = Map::new();
    shown.insert("flags".to_owned(), json!(ephemeral | LOADING));
    shown.insert("allowed_mentions".to_owned(), json!({"parse": []}));
    shown
}
