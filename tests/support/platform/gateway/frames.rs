//! What a client's frames mean.

use serde_json::{Value, json};
use twilight_model::gateway::Intents;

use super::socket::{Link, blame};
use super::{Identify, Out, Session};
use crate::platform::state::{Shared, State};

/// Intents that the platform grants on application alone.
fn privileged() -> Intents {
    Intents::GUILD_MEMBERS | Intents::GUILD_PRESENCES | Intents::MESSAGE_CONTENT
}

/// Hears a frame; the code to close with, if it must not be.
pub(super) fn hear(shared: &Shared, link: &mut Link, frame: &Value) -> Result<(), u16> {
    let Some(op) = frame["op"].as_u64() else {
        blame(shared, Some(frame), "a frame without opcode");
        return Err(4002);
    };
    match op {
        1 => {
            let number = frame.get("d").is_some_and(|seq| seq.is_null() || seq.is_u64());
            if !number {
                blame(shared, Some(frame), "a heartbeat without its number");
                return Err(4002);
            }
            let acks = shared.with(|state| {
                state.gateway.heartbeats += 1;
                state.gateway.acks
            });
            if acks {
                drop(link.out.send(Out::Text(json!({"op": 11}).to_string())));
            }
            Ok(())
        }
        2 if is_identified(shared, link) => {
            blame(shared, Some(frame), "identified twice");
            Err(4005)
        }
        2 => identify(shared, link, frame),
        6 => resume(shared, link, frame),
        3 | 4 | 8 | 31 if is_identified(shared, link) => Ok(()),
        3 | 4 | 8 | 31 => {
            blame(shared, Some(frame), "sent before it identified");
            Err(4003)
        }
        _ => {
            blame(shared, Some(frame), "an unknown opcode");
            Err(4001)
        }
    }
}

/// Whether the connection has a session that still lives.
fn is_identified(shared: &Shared, link: &Link) -> bool {
    let id = link.session.as_ref();
    id.is_some_and(|id| shared.look(|state| state.gateway.sessions.contains_key(id)))
}

fn right_token(shared: &Shared, token: &Value) -> bool {
    let token = token.as_str().unwrap_or_default();
    token.strip_prefix("Bot ").unwrap_or(token) == shared.config.token
}

fn identify(shared: &Shared, link: &mut Link, frame: &Value) -> Result<(), u16> {
    let asked = &frame["d"];
    let properties = asked["properties"].is_object();
    let (Some(bits), true) = (asked["intents"].as_u64(), properties) else {
        blame(shared, Some(frame), "an identify without intents or properties");
        return Err(4002);
    };
    if !right_token(shared, &asked["token"]) {
        return Err(4004);
    }
    let intents = Intents::from_bits_retain(bits);
    let shard = &asked["shard"];
    let part = |at: usize, usual: u64| u32::try_from(shard[at].as_u64().unwrap_or(usual)).unwrap_or(u32::MAX);
    let shard = (part(0, 0), part(1, 1));
    if shard.0 >= shard.1 {
        blame(shared, Some(frame), "a shard beyond the last");
        return Err(4010);
    }
    if intents.intersects(privileged()) {
        blame(
            shared,
            Some(frame),
            "an intent that is granted on application alone",
        );
        return Err(4014);
    }
    let needed = shared.look(|state| state.gateway.config.intents);
    if !needed.contains(intents) {
        blame(shared, Some(frame), "more intents than needed");
    }
    let at = shared.now();
    let url = shared.gateway_url();
    let began = shared.with(|state| {
        let who = Identify { at, shard, intents };
        begin(state, link, who, &url)
    });
    match began {
        Ok(id) => {
            link.session = Some(id);
            Ok(())
        }
        Err(None) => {
            drop(link.out.send(Out::Text(json!({"op": 9, "d": false}).to_string())));
            Ok(())
        }
        Err(Some(code)) => {
            blame(shared, None, "more identifies than a day has");
            Err(code)
        }
    }
}

/// A new session; refused with a code, or for the moment.
fn begin(state: &mut State, link: &Link, who: Identify, url: &str) -> Result<String, Option<u16>> {
    let config = &state.gateway.config;
    let window = config.identify_window;
    let lane = |shard: u32| shard % config.max_concurrency.max(1);
    let busy = state
        .gateway
        .identifies
        .iter()
        .any(|other| lane(other.shard.0) == lane(who.shard.0) && who.at < other.at + window);
    if busy {
        return Err(None);
    }
    if state.gateway.starts_left == 0 {
        return Err(Some(4004));
    }
    state.gateway.starts_left -= 1;
    let id = format!("{:032x}", state.world.ids.next());
    let mut session = Session {
        shard: who.shard,
        intents: who.intents,
        log: Vec::new(),
        seq: 0,
        link: Some((link.number, link.out.clone())),
    };
    state.gateway.identifies.push(who);
    let world = &state.world;
    let guilds: Vec<_> = (world.guilds.values())
        .filter(|guild| guild.bot_in && session.covers(Some(guild.id)))
        .collect();
    let listed: Vec<Value> = guilds
        .iter()
        .map(|guild| json!({"id": guild.id.to_string(), "unavailable": true}))
        .collect();
    let mut me = world.user_json(world.bot);
    me["verified"] = json!(true);
    me["mfa_enabled"] = json!(true);
    me["email"] = Value::Null;
    let ready = json!({
        "v": 10,
        "user": me,
        "guilds": listed,
        "session_id": id,
        "resume_gateway_url": url,
        "shard": [session.shard.0, session.shard.1],
        "application": {"id": world.bot.to_string(), "flags": 0},
    });
    session.tell("READY", &ready);
    if session.intents.contains(Intents::GUILDS) {
        for guild in guilds {
            session.tell("GUILD_CREATE", &world.guild_create_json(guild));
        }
    }
    state.gateway.sessions.insert(id.clone(), session);
    Ok(id)
}

fn resume(shared: &Shared, link: &mut Link, frame: &Value) -> Result<(), u16> {
    let asked = &frame["d"];
    let (Some(id), Some(seq)) = (asked["session_id"].as_str(), asked["seq"].as_u64()) else {
        blame(shared, Some(frame), "a resume without session or number");
        return Err(4002);
    };
    if !right_token(shared, &asked["token"]) {
        return Err(4004);
    }
    let resumed = shared.with(|state| -> Result<bool, u16> {
        let gateway = &mut state.gateway;
        let refuse = std::mem::take(&mut gateway.refuse_resume);
        if refuse {
            gateway.sessions.remove(id);
        }
        let Some(session) = gateway.sessions.get_mut(id) else {
            gateway.refused_resumes += 1;
            drop(link.out.send(Out::Text(json!({"op": 9, "d": false}).to_string())));
            return Ok(false);
        };
        if seq > session.seq {
            return Err(4007);
        }
        session.link = Some((link.number, link.out.clone()));
        for (_, missed) in session.log.iter().filter(|(number, _)| *number > seq) {
            drop(link.out.send(Out::Text(missed.clone())));
        }
        session.tell("RESUMED", &json!({}));
        gateway.resumes += 1;
        Ok(true)
    })?;
    if resumed {
        link.session = Some(id.to_owned());
    }
    Ok(())
}
