//! Operations by their route; what each needs to know of the world.

use serde_json::{Map, Value, json};

use super::{Call, channels, interactions, responses};
use crate::platform::ids::{AttachmentId, ChannelId, GuildId, UserId};
use crate::platform::record::{Judge, Verdict};
use crate::platform::reply::Reply;
use crate::platform::route::Route;
use crate::platform::state::{Shared, State};
use crate::platform::world::{Channel, ChannelKind, Permissions, Stored, World};

/// What speaks against a well-formed body as things stand.
pub(super) fn against(state: &State, call: &Call) -> Vec<Verdict> {
    match call.target.route {
        Route::Callback => interactions::against(state, call),
        Route::CreateMessage => channels::against(state, call),
        Route::EditMessage | Route::EditResponse => channels::empties(state, call),
        _ => Vec::new(),
    }
}

/// Does it.
pub(super) fn perform(shared: &Shared, state: &mut State, call: &Call, files: Vec<(u64, Stored)>) -> Reply {
    match call.target.route {
        Route::Gateway => Reply::ok(json!({"url": shared.gateway_url()})),
        Route::GatewayBot => {
            let usual = shared.gateway_url();
            let named = state.gateway.elsewhere.clone();
            state.gateway.describe(&named.unwrap_or(usual))
        }
        Route::Me => Reply::ok(me(&state.world)),
        Route::Application => Reply::ok(application(&state.world)),
        Route::ListCommands | Route::SetCommands if call.target.major != state.world.bot.0 => Reply::error(
            403,
            20_012,
            "You are not authorized to perform this action on this application",
        ),
        Route::ListCommands => Reply::ok(state.world.commands.clone().into()),
        Route::SetCommands => set_commands(&mut state.world, call),
        Route::Callback => interactions::callback(state, call, files),
        Route::FollowUp => responses::follow_up(shared, state, call, files),
        Route::GetResponse | Route::EditResponse | Route::DeleteResponse => {
            responses::message(shared, state, call, files)
        }
        Route::CreateMessage => channels::create(shared, state, call, files),
        Route::ListMessages => channels::list(state, call),
        Route::GetMessage | Route::EditMessage | Route::DeleteMessage => {
            channels::message(state, call, files)
        }
        Route::GetChannel => match channels::seen(&state.world, call) {
            Ok(channel) => Reply::ok(state.world.channel_json(channel)),
            Err(refused) => refused,
        },
        Route::OpenDm => open_dm(&mut state.world, call),
        Route::GetGuild => match state.world.guilds.get(&GuildId(call.target.major)) {
            Some(guild) if guild.bot_in => Reply::ok(state.world.guild_json(guild)),
            _ => Reply::error(404, 10_004, "Unknown Guild"),
        },
        Route::Unknown => Reply::not_found(),
    }
}

/// A request's object.
pub(super) fn object(call: &Call) -> Map<String, Value> {
    let body = call.carried.json.as_ref().and_then(Value::as_object);
    body.cloned().unwrap_or_default()
}

/// Keeps the files of a request; their ids.
pub(super) fn keep(world: &mut World, files: Vec<(u64, Stored)>) -> Vec<AttachmentId> {
    let mut kept = Vec::new();
    for (_, file) in files {
        let id = AttachmentId(world.ids.next());
        world.files.insert(id, file);
        kept.push(id);
    }
    kept
}

fn me(world: &World) -> Value {
    let mut me = world.user_json(world.bot);
    me["verified"] = json!(true);
    me["mfa_enabled"] = json!(true);
    me["email"] = Value::Null;
    me["flags"] = json!(0);
    me
}

fn application(world: &World) -> Value {
    json!({
        "id": world.bot.to_string(),
        "name": world.users[&world.bot].name,
        "icon": null,
        "description": "",
        "summary": "",
        "bot_public": true,
        "bot_require_code_grant": false,
        "bot": world.user_json(world.bot),
        "verify_key": "00",
        "flags": 0,
        "approximate_guild_count": world.guilds.values().filter(|guild| guild.bot_in).count(),
    })
}

fn set_commands(world: &mut World, call: &Call) -> Reply {
    let wanted = call
        .carried
        .json
        .as_ref()
        .and_then(Value::as_array)
        .cloned()
        .unwrap_or_default();
    let mut commands = Vec::new();
    for mut command in wanted {
        let kind = command.get("type").cloned().unwrap_or(json!(1));
        // A command that was there under its name keeps its id.
        let known = world
            .commands
            .iter()
            .find(|known| known["name"] == command["name"] && known["type"] == kind);
        let id = known.map_or_else(
            || json!(world.ids.next().to_string()),
            |known| known["id"].clone(),
        );
        command["id"] = id;
        command["type"] = kind;
        command["application_id"] = json!(world.bot.to_string());
        command["version"] = json!(world.ids.next().to_string());
        for key in ["default_member_permissions", "contexts"] {
            if command.get(key).is_none() {
                command[key] = Value::Null;
            }
        }
        commands.push(command);
    }
    world.commands.clone_from(&commands);
    Reply::ok(commands.into())
}

fn open_dm(world: &mut World, call: &Call) -> Reply {
    let wanted = object(call);
    let recipient = wanted.get("recipient_id").and_then(Value::as_str);
    let Some(user) = recipient.and_then(|id| id.parse().ok()).map(UserId) else {
        return Reply::invalid(&[Verdict::new(Judge::Rules, "recipient_id", "whom?")]);
    };
    if user == world.bot || !world.users.contains_key(&user) {
        return Reply::error(404, 10_013, "Unknown User");
    }
    let id = dm(world, user);
    Reply::ok(world.channel_json(&world.channels[&id]))
}

/// The channel in which the bot and a person talk.
pub(in crate::platform) fn dm(world: &mut World, user: UserId) -> ChannelId {
    if let Some(known) = world
        .channels
        .values()
        .find(|known| known.recipient == Some(user))
    {
        return known.id;
    }
    let id = ChannelId(world.ids.next());
    let channel = Channel {
        id,
        kind: ChannelKind::Dm,
        name: String::new(),
        guild: None,
        parent: None,
        recipient: Some(user),
        bot_may: Permissions::all(),
        deleted: false,
        messages: Vec::new(),
    };
    world.channels.insert(id, channel);
    id
}

impl World {
    /// A file as messages and options name it.
    pub(in crate::platform) fn attachment_json(&self, id: AttachmentId) -> Option<Value> {
        let file = self.files.get(&id)?;
        let url = format!("{}/attachments/{id}/{}", self.cdn, file.name);
        Some(json!({
            "id": id.to_string(),
            "filename": file.name,
            "size": file.bytes.len(),
            "url": url,
            "proxy_url": url,
            "content_type": file.kind,
        }))
    }
}
