//! Whether what a person puts in fits the command as it is registered.

use serde_json::Value;

use super::option::{Input, Opt};
use super::{Refused, refused};

/// A registered command or subcommand with its path.
pub(super) struct Found<'a> {
    pub(super) command: &'a Value,
    /// Group and subcommand on the way to the leaf.
    pub(super) path: Vec<&'a Value>,
}

impl<'a> Found<'a> {
    /// Looks a line such as `pool add` up.
    pub(super) fn look_up(commands: &'a [Value], line: &str) -> Result<Self, Refused> {
        let mut words = line.split_whitespace();
        let name = words.next().unwrap_or_default();
        let named = |command: &&Value| command["name"] == name && command["type"].as_u64().unwrap_or(1) == 1;
        let Some(command) = commands.iter().find(named) else {
            return refused(format!("there is no command `/{name}`"));
        };
        let mut path = Vec::new();
        let mut at = command;
        for word in words {
            let inner = at["options"].as_array().into_iter().flatten();
            let next = inner
                .into_iter()
                .find(|one| one["name"] == word && matches!(one["type"].as_u64(), Some(1 | 2)));
            let Some(next) = next else {
                return refused(format!("`/{line}` has no `{word}`"));
            };
            path.push(next);
            at = next;
        }
        let found = Self { command, path };
        let nests = |one: &Value| matches!(one["type"].as_u64(), Some(1 | 2));
        if found.options().iter().any(nests) {
            return refused(format!("`/{line}` wants a subcommand"));
        }
        Ok(found)
    }

    /// The leaf's options.
    pub(super) fn options(&self) -> &'a [Value] {
        let leaf = self.path.last().copied().unwrap_or(self.command);
        leaf["options"].as_array().map(Vec::as_slice).unwrap_or_default()
    }

    pub(super) fn option(&self, name: &str) -> Result<&'a Value, Refused> {
        match self.options().iter().find(|one| one["name"] == name) {
            Some(option) => Ok(option),
            None => refused(format!("there is no option `{name}`")),
        }
    }

    /// Whether the inputs fit; those that are required have to be there.
    pub(super) fn check(&self, given: &[Opt]) -> Result<(), Refused> {
        for (at, opt) in given.iter().enumerate() {
            if given[..at].iter().any(|other| other.name == opt.name) {
                return refused(format!("`{}` twice", opt.name));
            }
            fits(self.option(&opt.name)?, opt)?;
        }
        for option in self.options() {
            let name = option["name"].as_str().unwrap_or_default();
            if option["required"] == true && !given.iter().any(|opt| opt.name == name) {
                return refused(format!("`{name}` is required"));
            }
        }
        Ok(())
    }
}

fn fits(option: &Value, opt: &Opt) -> Result<(), Refused> {
    let kind = option["type"].as_u64().unwrap_or(0);
    let name = &opt.name;
    if !opt.input.kinds().contains(&kind) {
        return refused(format!("`{name}` is of type {kind}, not for {:?}", opt.input));
    }
    let value = opt.input.value();
    if let Some(choices) = option["choices"].as_array().filter(|choices| !choices.is_empty())
        && !choices.iter().any(|choice| choice["value"] == value)
    {
        return refused(format!("`{name}` has no choice {value}"));
    }
    #[allow(clippy::cast_precision_loss, reason = "numbers a person types")]
    let (number, least, most) = match &opt.input {
        Input::Text(text) => (text.chars().count() as f64, "min_length", "max_length"),
        Input::Int(number) => (*number as f64, "min_value", "max_value"),
        Input::Number(number) => (*number, "min_value", "max_value"),
        _ => return Ok(()),
    };
    if option[least].as_f64().is_some_and(|least| number < least)
        || option[most].as_f64().is_some_and(|most| number > most)
        || (matches!(opt.input, Input::Text(_)) && number > 6000.0)
    {
        return refused(format!("`{name}` is too small or too large"));
    }
    Ok(())
}
