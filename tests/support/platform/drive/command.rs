//! Commands, and the completion of their options.

use serde_json::{Value, json};

use super::definition::Found;
use super::option::resolved;
use super::{Act, Deed, Opt, Place, Refused, may, refused};
use crate::platform::ids::{ChannelId, UserId};
use crate::platform::interaction::Did;
use crate::platform::server::Double;
use crate::platform::state::State;
use crate::platform::world::Permissions;

impl Double {
    /// Somebody gives a command: `line` is its name, with its subcommand (`pool add`).
    ///
    /// # Errors
    /// When the platform would not let them: no such command, options that do not fit, no permission.
    pub fn command(
        &self,
        channel: ChannelId,
        by: UserId,
        line: &str,
        options: &[Opt],
    ) -> Result<Act, Refused> {
        let place = Place { channel, by };
        let data = self.shared.look(|state| {
            let commands = state.world.commands.clone();
            let found = open(state, place, &commands, line)?;
            found.check(options)?;
            let resolved = resolved(state, channel, options.iter().map(|opt| &opt.input));
            let options = options.iter().map(|opt| given(&found, opt)).collect();
            let mut data = data(&found, options);
            if !resolved.is_empty() {
                data["resolved"] = resolved.into();
            }
            Ok(data)
        })?;
        Ok(self.deliver(Deed {
            did: Did::Command,
            place,
            data,
            source: None,
        }))
    }

    /// Somebody types into an option that completes; `options` are the others that are filled in.
    ///
    /// # Errors
    /// When the platform would not let them, or the option does not complete.
    pub fn complete(
        &self,
        channel: ChannelId,
        by: UserId,
        line: &str,
        options: &[Opt],
        focused: &Opt,
    ) -> Result<Act, Refused> {
        let place = Place { channel, by };
        let data = self.shared.look(|state| {
            let commands = state.world.commands.clone();
            let found = open(state, place, &commands, line)?;
            if found.option(&focused.name)?["autocomplete"] != true {
                return refused(format!("`{}` does not complete", focused.name));
            }
            let mut all: Vec<Value> = Vec::new();
            for opt in options {
                found.option(&opt.name)?;
                all.push(given(&found, opt));
            }
            let mut last = given(&found, focused);
            last["focused"] = json!(true);
            all.push(last);
            Ok(data(&found, all))
        })?;
        Ok(self.deliver(Deed {
            did: Did::Autocomplete,
            place,
            data,
            source: None,
        }))
    }
}

/// A command that somebody may give here.
fn open<'a>(state: &State, place: Place, commands: &'a [Value], line: &str) -> Result<Found<'a>, Refused> {
    let may = may(state, place)?;
    let found = Found::look_up(commands, line)?;
    let in_guild = state.world.channels[&place.channel].guild.is_some();
    let context = if in_guild { 0 } else { 1 };
    let contexts = found.command["contexts"].as_array();
    if contexts.is_some_and(|contexts| !contexts.iter().any(|one| one == context))
        || (!in_guild && found.command["dm_permission"] == false)
    {
        return refused(format!("`/{line}` is not to be had here"));
    }
    let everything = may.contains(Permissions::ADMINISTRATOR);
    if !everything && !may.contains(Permissions::USE_SLASH_COMMANDS) {
        return refused("the person may give no commands");
    }
    let needed = found.command["default_member_permissions"].as_str();
    let needed = needed
        .and_then(|bits| bits.parse().ok())
        .map(Permissions::from_bits_retain);
    if let Some(needed) = needed.filter(|_| in_guild)
        && !everything
        && (needed.is_empty() || !may.contains(needed))
    {
        return refused(format!("the person may not give `/{line}`"));
    }
    Ok(found)
}

fn given(found: &Found<'_>, opt: &Opt) -> Value {
    let kind = found
        .option(&opt.name)
        .map(|option| option["type"].clone())
        .unwrap_or_default();
    json!({"name": opt.name, "type": kind, "value": opt.input.value()})
}

/// The command's data, its options inside their subcommand.
fn data(found: &Found<'_>, options: Vec<Value>) -> Value {
    let mut inner = options;
    for step in found.path.iter().rev() {
        inner = vec![json!({"name": step["name"], "type": step["type"], "options": inner})];
    }
    json!({
        "id": found.command["id"],
        "name": found.command["name"],
        "type": 1,
        "options": inner,
    })
}
