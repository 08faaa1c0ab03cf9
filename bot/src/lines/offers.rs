//! Values that are offered for one argument of a line, where a chat platform asks for each by its name.

use jiff::tz::TimeZoneDatabase;
use wrackline_core::place::Role;

use super::complete::values;
use super::table::{ArgSpec, Kind, spec};
use super::token::key;
use super::usage::allows;
use super::{Context, people};

/// The most values that are offered at once.
const OFFERED_MAX: usize = 25;

/// The longest value that is offered, in characters.
const CHARS_MAX: usize = 100;

/// The values that an argument may take, of a line and its subcommand, as far as `typed` fits them: those that begin
/// so, then those in which a later word does. At most 25, each of at most 100 characters; none where the role may
/// not say the line.
#[must_use]
pub fn offers(
    line: &str,
    sub: Option<&str>,
    name: &str,
    typed: &str,
    ctx: &Context<'_>,
    role: Role,
) -> Vec<String> {
    let Some(line) = spec(line) else {
        return Vec::new();
    };
    let sub = sub.map(|sub| line.sub(sub));
    let (who, args) = match sub {
        Some(Some(sub)) => (sub.who, sub.args),
        Some(None) => return Vec::new(),
        None => (line.who, line.args),
    };
    let Some(arg) = args.iter().find(|arg| arg.name == name) else {
        return Vec::new();
    };
    // A helper says no line at all.
    if role == Role::Helper || !allows(who, role) {
        return Vec::new();
    }
    let (before, typed) = if arg.kind == Kind::Spot {
        joined(typed)
    } else {
        ("", typed)
    };
    let all = fitting(all(arg, typed, ctx), typed).into_iter();
    all.map(|text| format!("{before}{text}"))
        .filter(|text| text.chars().count() <= CHARS_MAX)
        .take(OFFERED_MAX)
        .collect()
}

/// What stands before the last of several names joined by "and", with the word, and the last one.
fn joined(typed: &str) -> (&str, &str) {
    let last = [" and ", ", "]
        .iter()
        .filter_map(|word| typed.rfind(word).map(|at| at + word.len()))
        .max();
    typed.split_at(last.unwrap_or(0))
}

fn all(arg: &ArgSpec, typed: &str, ctx: &Context<'_>) -> Vec<String> {
    match arg.kind {
        // There are hundreds: the first letter has to choose.
        Kind::Zone if typed.trim().is_empty() => Vec::new(),
        Kind::Zone => TimeZoneDatabase::bundled()
            .available()
            .map(|name| name.to_string())
            .collect(),
        // Only those who have a name are asked for by it.
        Kind::Carer if arg.name == "stand-in" => {
            let carers = people::carers(ctx).into_iter().map(|(_, name)| name.to_owned());
            carers.chain(["none".to_owned()]).collect()
        }
        _ => values(arg, ctx).into_iter().map(|one| one.text).collect(),
    }
}

/// Those that begin with what was typed, then those in which a later word does; each once.
fn fitting(all: Vec<String>, typed: &str) -> Vec<String> {
    let asked = key(typed.trim()).replace('_', " ");
    let keys = |text: &str| key(text).replace('_', " ");
    let inside = |text: &str| {
        let text = keys(text);
        let mut starts = text.match_indices([' ', '/', '-']);
        starts.any(|(at, sign)| text[at + sign.len()..].starts_with(&asked))
    };
    let (first, rest): (Vec<String>, Vec<String>) =
        all.into_iter().partition(|text| keys(text).starts_with(&asked));
    let mut found: Vec<String> = Vec::new();
    for text in first
        .into_iter()
        .chain(rest.into_iter().filter(|text| inside(text)))
    {
        if !found.contains(&text) {
            found.push(text);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_fitting() {
        let names = || ["Dune salt", "North salt", "Salt marsh", "Basalt", "North salt"].map(str::to_owned);
        let check = |typed: &str, expected: &[&str]| {
            assert_eq!(fitting(names().to_vec(), typed), expected, "{typed}");
        };
        check("sal", &["Salt marsh", "Dune salt", "North salt"]);
        check("NORTH S", &["North salt"]);
        check("", &["Dune salt", "North salt", "Salt marsh", "Basalt"]);
        check("west", &[]);
        assert_eq!(joined("north salt and du"), ("north salt and ", "du"));
        assert_eq!(joined("dune, north and "), ("dune, north and ", ""));
        assert_eq!(joined("sandy"), ("", "sandy"));
    }
}
