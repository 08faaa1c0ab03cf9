//! Native commands of the chat platform: within its limits, named in every language, and read as what is typed.

use std::collections::BTreeSet;

use serde_json::{Value, json};
use wrackline::chat::discord::commands::{NativeLine, Unknown, commands, fingerprint, line_of};
use wrackline::lines::table::{ArgSpec, Kind, LINES, LineSpec, Need, SubSpec};
use wrackline::lines::{offers, write};
use wrackline::words::Words;
use wrackline_core::place::Role;

use super::house::House;
use super::table::{is_told, sample};

/// The platform's numbers of kinds of options.
const SUB: u64 = 1;
const STRING: u64 = 3;
const INTEGER: u64 = 4;
const BOOLEAN: u64 = 5;
const USER: u64 = 6;
const CHANNEL: u64 = 7;
const ATTACHMENT: u64 = 11;

fn native() -> Vec<Value> {
    let all = commands(&Words::english());
    all.iter()
        .map(|one| serde_json::to_value(one).expect("JSON"))
        .collect()
}

fn list<'v>(value: &'v Value, key: &str) -> &'v [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

fn text<'v>(value: &'v Value, key: &str) -> &'v str {
    value[key].as_str().unwrap_or_else(|| panic!("{key} of {value}"))
}

/// All options of a command, those of its subcommands included, each with its siblings' name.
fn all_options(command: &Value) -> Vec<&Value> {
    let own = list(command, "options");
    own.iter()
        .chain(own.iter().flat_map(|one| list(one, "options")))
        .collect()
}

/// Whether the platform takes a name.
fn is_name(name: &str) -> bool {
    let fits = |letter: char| {
        (letter.is_alphabetic() || letter.is_numeric() || "-_'".contains(letter))
            && letter.to_lowercase().eq([letter])
    };
    (1..=32).contains(&name.chars().count()) && name.chars().all(fits)
}

/// The names of something in one language, its own where there is none.
fn name_in<'v>(one: &'v Value, locale: &str) -> &'v str {
    one["name_localizations"][locale]
        .as_str()
        .unwrap_or_else(|| text(one, "name"))
}

/// The characters that the platform counts: of each name the longest.
fn weight(one: &Value) -> usize {
    let chars = |value: &Value| value.as_str().map_or(0, |text| text.chars().count());
    let locales = one["name_localizations"].as_object();
    let longest = locales.map_or(0, |all| all.values().map(chars).max().unwrap_or(0));
    let choices = list(one, "choices");
    longest.max(chars(&one["name"]))
        + chars(&one["description"])
        + choices
            .iter()
            .map(|one| chars(&one["name"]) + chars(&one["value"]))
            .sum::<usize>()
        + list(one, "options").iter().map(weight).sum::<usize>()
}

#[test]
fn every_command_is_within_the_limits_of_the_platform() {
    let all = native();
    assert_eq!(all.len(), LINES.len());
    assert!(all.len() <= 100);
    for command in &all {
        assert_eq!(
            (
                &command["type"],
                &command["contexts"],
                &command["integration_types"]
            ),
            (&json!(1), &json!([0]), &json!([0])),
            "{command}"
        );
        assert!(
            command
                .get("default_member_permissions")
                .is_none_or(Value::is_null)
        );
        assert!(
            weight(command) <= 8_000,
            "{}: {}",
            command["name"],
            weight(command)
        );
        for one in all_options(command).into_iter().chain([command]) {
            let (name, options) = (text(one, "name"), list(one, "options"));
            assert!(is_name(name) && name.is_ascii(), "{name}");
            assert!(
                (1..=100).contains(&text(one, "description").chars().count()),
                "{one}"
            );
            assert!(options.len() <= 25, "{name}");
            let required = options.iter().map(|one| one["required"] == json!(true));
            assert!(
                required.is_sorted_by(|one, next| one >= next),
                "{name}: required first"
            );
            let choices = list(one, "choices");
            assert!(choices.len() <= 25, "{name}");
            assert!(choices.is_empty() || one["autocomplete"] != json!(true), "{name}");
            for choice in choices {
                assert!(
                    (1..=100).contains(&text(choice, "name").chars().count()),
                    "{choice}"
                );
            }
        }
    }
}

#[test]
fn every_name_is_valid_in_every_language_and_unique_among_its_siblings() {
    let all = native();
    for locale in ["de", "fr", "es-ES", "es-419"] {
        let mut groups: Vec<Vec<&Value>> = vec![all.iter().collect()];
        for command in &all {
            groups.push(list(command, "options").iter().collect());
            groups.extend(
                list(command, "options")
                    .iter()
                    .map(|one| list(one, "options").iter().collect()),
            );
        }
        for group in groups {
            let names: BTreeSet<&str> = group.iter().map(|one| name_in(one, locale)).collect();
            assert_eq!(names.len(), group.len(), "{locale}: {names:?}");
            for one in group.iter().copied() {
                assert!(one["name_localizations"][locale].is_string(), "{locale}: {one}");
                let name = name_in(one, locale);
                assert!(is_name(name), "{locale}: {name}");
                // Nor is it what another one is called in English.
                let others = group.iter().filter(|other| ***other != *one);
                assert!(
                    others.into_iter().all(|other| text(other, "name") != name),
                    "{locale}: {name}"
                );
            }
        }
    }
}

fn option<'v>(command: &'v Value, sub: Option<&str>, name: &str) -> &'v Value {
    let own = list(command, "options");
    let inner = sub.map_or(own, |sub| {
        let found = own.iter().find(|one| text(one, "name") == sub);
        list(found.expect("a subcommand"), "options")
    });
    let found = inner.iter().find(|one| text(one, "name") == name);
    found.unwrap_or_else(|| panic!("{} {sub:?} {name}", command["name"]))
}

#[test]
fn options_are_of_the_kind_of_their_arguments() {
    let all = native();
    let of = |line: &str, sub: Option<&str>, name: &str| {
        let command = all
            .iter()
            .find(|one| text(one, "name") == line)
            .expect("a command");
        option(command, sub, name)
    };
    for (line, sub, name, kind, required) in [
        ("did", None, "duty", STRING, false),
        ("did", None, "again", BOOLEAN, false),
        ("did", None, "photo", ATTACHMENT, false),
        ("saw", None, "photo", ATTACHMENT, false),
        ("saw", None, "sighting", STRING, true),
        ("undo", None, "entry", INTEGER, false),
        ("carer", Some("add"), "name", STRING, false),
        ("carer", Some("add"), "member", USER, false),
        ("carer", Some("set"), "carer", STRING, true),
        ("place", Some("link"), "channel", CHANNEL, false),
        ("enclosure", Some("set"), "quarantine", BOOLEAN, false),
        ("enclosure", Some("add"), "crabs", INTEGER, false),
        ("pool", Some("add"), "water", STRING, true),
    ] {
        let found = of(line, sub, name);
        assert_eq!(found["type"], json!(kind), "{line} {name}");
        assert_eq!(found["required"] == json!(true), required, "{line} {name}");
    }
    assert_eq!(of("did", None, "spot")["autocomplete"], json!(true));
    assert_eq!(of("place", Some("set"), "zone")["autocomplete"], json!(true));
    assert_eq!(of("place", Some("link"), "channel")["channel_types"], json!([0]));
    assert_eq!(of("undo", None, "entry")["min_value"], json!(0));
    assert_eq!(of("rounds", Some("add"), "name")["max_length"], json!(40));
    assert_eq!(list(of("duty", Some("set"), "rule"), "choices").len(), 14);
    let photos = all
        .iter()
        .flat_map(all_options)
        .filter(|one| one["type"] == json!(ATTACHMENT));
    assert_eq!(photos.count(), 2);
}

#[test]
fn what_is_offered_while_typing_can_be_listed() {
    let (all, house) = (native(), House::usual());
    let mut asked = 0;
    for command in &all {
        let line = text(command, "name");
        let groups = std::iter::once((None, list(command, "options"))).chain(
            list(command, "options")
                .iter()
                .map(|sub| (Some(text(sub, "name")), list(sub, "options"))),
        );
        for (sub, options) in groups {
            for one in options.iter().filter(|one| one["autocomplete"] == json!(true)) {
                let name = text(one, "name");
                let typed = if name == "zone" { "e" } else { "" };
                let found = offers(line, sub, name, typed, &house.context(), Role::Keeper);
                assert!((1..=25).contains(&found.len()), "{line} {sub:?} {name}");
                asked += 1;
            }
        }
    }
    assert!(asked >= 20, "{asked}");
}

#[test]
fn the_fingerprint_is_that_of_the_commands() {
    let words = Words::english();
    let first = fingerprint(&commands(&words));
    assert_eq!(first.len(), 64);
    for _ in 0..8 {
        assert_eq!(fingerprint(&commands(&Words::english())), first);
    }
    let mut fewer = commands(&words);
    fewer.pop();
    assert_ne!(fingerprint(&fewer), first);
}

/// A command as the platform sends it.
fn sent(line: &str, sub: Option<&str>, options: &Value) -> Result<NativeLine, Unknown> {
    let options = sub.map_or_else(
        || options.clone(),
        |sub| json!([{"name": sub, "type": SUB, "options": options}]),
    );
    let data = json!({"id": "1", "name": line, "type": 1, "options": options});
    line_of(&serde_json::from_value(data).expect("a command of the platform"))
}

fn given(name: &str, kind: u64, value: &str) -> Value {
    let number = |text: &str| text.trim_matches(|c: char| !c.is_ascii_digit()).to_owned();
    let value = match kind {
        BOOLEAN => json!(value == "yes"),
        INTEGER => json!(value.parse::<u64>().expect("a number")),
        USER | CHANNEL => json!(number(value)),
        _ => json!(value),
    };
    json!({"name": name, "type": kind, "value": value})
}

#[test]
fn a_command_is_read_as_the_line_of_its_options() {
    let (all, house, words) = (native(), House::usual(), Words::english());
    let mut read = 0;
    for (line, command) in LINES.iter().zip(&all) {
        let subs: Vec<Option<&SubSpec>> = if line.subs.is_empty() {
            vec![None]
        } else {
            line.subs.iter().map(Some).collect()
        };
        for sub in subs {
            check_line(line, sub, command, &house, &words);
            read += 1;
        }
    }
    assert!(read >= 35, "{read}");
}

fn check_line(line: &LineSpec, sub: Option<&SubSpec>, command: &Value, house: &House, words: &Words) {
    let args = sub.map_or(line.args, |sub| sub.args);
    let told = |arg: &&ArgSpec| is_told(line, arg);
    let needed = |arg: &&ArgSpec| told(arg) && arg.need != Need::May;
    let all: Vec<&ArgSpec> = args.iter().filter(told).collect();
    for args in [all, args.iter().filter(needed).collect()] {
        let pairs: Vec<(&str, &str)> = args
            .iter()
            .map(|arg| (arg.name, sample(line.name, sub, arg)))
            .collect();
        let sub_name = sub.map(|sub| sub.name);
        let options: Vec<Value> = pairs
            .iter()
            .map(|(name, value)| {
                let kind = option(command, sub_name, name)["type"].as_u64().expect("a kind");
                given(name, kind, value)
            })
            .collect();
        let native = sent(line.name, sub_name, &json!(options)).expect("a line");
        assert_eq!((native.line.name, native.sub), (line.name, sub));
        let typed = native.typed();
        let expected = house.say(words, &write(line, sub, &pairs));
        assert_eq!(house.say(words, &typed), expected, "{typed}");
        assert!(expected.starts_with("= "), "{typed}: {expected}");
        let has = |kind: Kind| args.iter().any(|arg| arg.kind == kind);
        assert_eq!(native.member.is_some(), has(Kind::Member), "{typed}");
        assert_eq!(native.channel.is_some(), has(Kind::Channel), "{typed}");
    }
}

#[test]
fn check_commands_against_lines_typed_by_hand() {
    let (house, words) = (House::usual(), Words::english());
    let check = |line: &str, sub: Option<&str>, options: Value, typed: &str| {
        let native = sent(line, sub, &options).expect("a line");
        let (found, expected) = (house.say(&words, &native.typed()), house.say(&words, typed));
        assert_eq!(found, expected, "{}", native.typed());
        assert!(expected.starts_with("= "), "{expected}");
    };
    check("did", None, json!([]), "/did");
    check(
        "did",
        None,
        json!([
            // In whatever order the platform sends them.
            {"name": "note", "type": STRING, "value": "she said “by the lid” at 8:00"},
            {"name": "spot", "type": STRING, "value": "north salt and Dune salt"},
            {"name": "again", "type": BOOLEAN, "value": true},
            {"name": "duty", "type": STRING, "value": "change"},
            {"name": "by", "type": STRING, "value": "Ada Noor"},
            {"name": "at", "type": STRING, "value": "yesterday 21:00"},
            {"name": "part", "type": STRING, "value": "50%"},
        ]),
        "did change north salt and dune salt yesterday 21:00 by ada noor part 50% again note she said 'by the lid' at 8:00",
    );
    check(
        "did",
        None,
        json!([
            {"name": "duty", "type": STRING, "value": "change"},
            {"name": "spot", "type": STRING, "value": "north salt"},
            {"name": "again", "type": BOOLEAN, "value": false},
            {"name": "note", "type": STRING, "value": "  "},
        ]),
        "did change north salt",
    );
    check(
        "enclosure",
        Some("set"),
        json!([
            {"name": "spot", "type": STRING, "value": "North"},
            {"name": "quarantine", "type": BOOLEAN, "value": false},
            {"name": "crabs", "type": INTEGER, "value": 6},
        ]),
        "enclosure set north quarantine no crabs 6",
    );
    check(
        "carer",
        Some("add"),
        json!([
            {"name": "member", "type": USER, "value": "777"},
            {"name": "name", "type": STRING, "value": "Role Model 7"},
        ]),
        "carer add \"Role Model 7\" <@777>",
    );
    check(
        "place",
        Some("link"),
        json!([
            {"name": "channel", "type": CHANNEL, "value": "55"},
            {"name": "zone", "type": STRING, "value": "Europe/Berlin"},
            {"name": "code", "type": STRING, "value": "7K0QM-1WD98"},
        ]),
        "place link <#55> zone europe/berlin code 7K0QM-1WD98",
    );
}

#[test]
fn a_photo_comes_with_its_line() {
    let photo = json!([
        {"name": "sighting", "type": STRING, "value": "leak"},
        {"name": "spot", "type": STRING, "value": "north"},
        {"name": "photo", "type": ATTACHMENT, "value": "99"},
    ]);
    let native = sent("saw", None, &photo).expect("a line");
    assert_eq!(native.photo.map(serenity_id), Some(99));
    assert_eq!(native.get("spot"), Some("north"));
    assert_eq!(native.typed(), "/saw leak north");
}

fn serenity_id(id: impl Into<u64>) -> u64 {
    id.into()
}

#[test]
fn a_command_of_another_version_is_no_line() {
    let none = json!([]);
    assert_eq!(sent("dud", None, &none), Err(Unknown::Line("dud".to_owned())));
    let sub = |sub: Option<&str>| Unknown::Sub {
        line: "pool",
        sub: sub.map(str::to_owned),
    };
    assert_eq!(sent("pool", None, &none), Err(sub(None)));
    assert_eq!(sent("pool", Some("burn"), &none), Err(sub(Some("burn"))));
    let flat = json!([{"name": "list", "type": STRING, "value": "x"}]);
    assert_eq!(sent("pool", None, &flat), Err(sub(Some("list"))));
    let unknown = |option: &str| Unknown::Option {
        line: "why",
        option: option.to_owned(),
    };
    for option in [
        json!({"name": "colour", "type": STRING, "value": "red"}),
        json!({"name": "spot", "type": BOOLEAN, "value": true}),
        json!({"name": "photo", "type": ATTACHMENT, "value": "1"}),
    ] {
        let name = text(&option, "name").to_owned();
        assert_eq!(sent("why", None, &json!([option])), Err(unknown(&name)));
    }
}
