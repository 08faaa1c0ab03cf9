//! Commands by the documented rules.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use regex::Regex;
use serde_json::Value;

use super::messages::choices;
use super::{Bench, each, length, within};

/// The documented expression for names.
static NAME: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"^[-_'\p{L}\p{N}\p{sc=Deva}\p{sc=Thai}]{1,32}$").expect("the documented expression")
});

/// The documented locales.
const LOCALES: &str = "id da de en-GB en-US es-ES es-419 fr hr it lt hu nl no pl pt-BR ro fi sv-SE vi tr cs el bg ru \
                       uk hi th zh-CN ja zh-TW ko";

/// Characters of a command with all that is in it.
const ALL: usize = 8000;

pub(super) fn judge(bench: &mut Bench, body: &Value) {
    let commands = each("", body);
    let mut names = BTreeSet::new();
    for kind in 1..=3 {
        let of_kind = |command: &&(String, &Value)| command.1["type"].as_u64().unwrap_or(1) == kind;
        let most = if kind == 1 { 100 } else { 15 };
        let count = commands.iter().filter(of_kind).count();
        bench.hold(
            count <= most,
            "",
            &format!("more than {most} commands of type {kind}"),
        );
    }
    for (place, command) in &commands {
        let kind = command["type"].as_u64().unwrap_or(1);
        let new = names.insert((kind, command["name"].to_string()));
        bench.hold(new, &within(place, "name"), "the same name twice");
        if kind == 1 {
            named(bench, place, command);
            options(bench, place, command, 0);
        } else {
            let fits = (1..=32).contains(&length(&command["name"]));
            bench.hold(fits, &within(place, "name"), "1 to 32 characters");
            bench.hold(length(&command["description"]) == 0, place, "no description here");
            bench.hold(each("", &command["options"]).is_empty(), place, "no options here");
        }
        let bits = &command["default_member_permissions"];
        let fits = bits.is_null() || bits.as_str().is_some_and(|bits| bits.parse::<u64>().is_ok());
        bench.hold(
            fits,
            &within(place, "default_member_permissions"),
            "a number in text",
        );
        bench.hold(
            characters(command) <= ALL,
            place,
            "more than 8000 characters in all",
        );
    }
}

fn named(bench: &mut Bench, place: &str, one: &Value) {
    let name = one["name"].as_str().unwrap_or_default();
    let fits = NAME.is_match(name) && name == name.to_lowercase();
    bench.hold(
        fits,
        &within(place, "name"),
        "a name in small letters, 1 to 32 of them, without spaces",
    );
    let fits = (1..=100).contains(&length(&one["description"]));
    bench.hold(fits, &within(place, "description"), "1 to 100 characters");
    for (key, of_name) in [("name_localizations", true), ("description_localizations", false)] {
        for (locale, text) in one[key].as_object().into_iter().flatten() {
            let place = within(place, format!("{key}.{locale}"));
            let known = LOCALES.split_whitespace().any(|known| known == locale);
            bench.hold(known, &place, "an unknown locale");
            let text_of = text.as_str().unwrap_or_default();
            let fits = if of_name {
                NAME.is_match(text_of) && text_of == text_of.to_lowercase()
            } else {
                (1..=100).contains(&length(text))
            };
            bench.hold(fits, &place, "not as a name or a description has to be");
        }
    }
}

fn options(bench: &mut Bench, place: &str, holder: &Value, depth: u32) {
    let place = within(place, "options");
    let all = each(&place, &holder["options"]);
    bench.hold(all.len() <= 25, &place, "more than 25 options");
    let nests = |option: &Value| matches!(option["type"].as_u64(), Some(1 | 2));
    let nested = all.iter().filter(|(_, option)| nests(option)).count();
    let pure = nested == 0 || nested == all.len();
    bench.hold(pure, &place, "subcommands and options side by side");
    let mut optional = false;
    let mut names = BTreeSet::new();
    for (place, option) in all {
        named(bench, &place, option);
        let new = names.insert(option["name"].to_string());
        bench.hold(new, &within(&place, "name"), "the same name twice");
        let required = option["required"] == true;
        bench.hold(
            !(required && optional),
            &place,
            "a required option after an optional one",
        );
        optional |= !required;
        let kind = option["type"].as_u64().unwrap_or(0);
        bench.hold(
            (1..=11).contains(&kind),
            &within(&place, "type"),
            "an unknown type",
        );
        if nests(option) {
            let fits = if kind == 2 { depth == 0 } else { depth <= 1 };
            bench.hold(fits, &place, "nested too deep");
            let empty = kind == 2 && each("", &option["options"]).is_empty();
            bench.hold(!empty, &place, "a group without subcommands");
            options(bench, &place, option, if kind == 2 { 1 } else { 2 });
        } else {
            bench.hold(is_none(&option["options"]), &place, "options inside an option");
            value(bench, &place, option, kind);
        }
    }
}

/// What an option of a value may say of the value.
fn value(bench: &mut Bench, place: &str, option: &Value, kind: u64) {
    let any = each("", &option["choices"]);
    choices(bench, &within(place, "choices"), &option["choices"]);
    bench.hold(
        any.is_empty() || matches!(kind, 3 | 4 | 10),
        place,
        "no choices with this type",
    );
    for (at, choice) in &any {
        let fits = match kind {
            3 => choice["value"].is_string(),
            4 => choice["value"].is_i64() || choice["value"].is_u64(),
            _ => choice["value"].is_number(),
        };
        bench.hold(
            fits,
            &within(place, format!("choices.{at}")),
            "a value of another type",
        );
    }
    if option["autocomplete"] == true {
        bench.hold(matches!(kind, 3 | 4 | 10), place, "no completion with this type");
        bench.hold(any.is_empty(), place, "choices and completion together");
    }
    let says = |key: &str| !is_none(&option[key]);
    let numbers = says("min_value") || says("max_value");
    bench.hold(
        !numbers || matches!(kind, 4 | 10),
        place,
        "no smallest and largest value with this type",
    );
    let lengths = says("min_length") || says("max_length");
    bench.hold(!lengths || kind == 3, place, "no length with this type");
    bench.hold(
        !says("channel_types") || kind == 7,
        place,
        "no kinds of channels with this type",
    );
}

/// Characters of name, description and values; of translations the longest counts.
fn characters(one: &Value) -> usize {
    let longest = |key: &str| {
        let own = length(&one[key]);
        let others = one[format!("{key}_localizations")].as_object();
        others
            .into_iter()
            .flatten()
            .map(|(_, text)| length(text))
            .fold(own, usize::max)
    };
    let own = longest("name") + longest("description") + length(&one["value"]);
    let inner = ["options", "choices"]
        .into_iter()
        .flat_map(|key| each("", &one[key]));
    own + inner.map(|(_, inner)| characters(inner)).sum::<usize>()
}

/// Whether nothing is said: an empty list says nothing either, and the bot's library writes one for each list.
fn is_none(value: &Value) -> bool {
    value.is_null() || value.as_array().is_some_and(Vec::is_empty)
}
