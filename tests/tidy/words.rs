//! The words: every message that code asks for is there once, with all that it needs, and none lies there for
//! nothing. Those of the porch's page are held by the web's own tests.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use fluent_syntax::parser;

use super::rust::{closing, parts};
use super::{extension, files, rust::Source, shipped, shown};
use wrackline::lines::table::LINES;
use wrackline::words::Words;
use wrackline_core::care::{Duty, Mark};
use wrackline_core::place::Role;

/// Each message with the arguments that it uses.
fn messages() -> BTreeMap<String, BTreeSet<String>> {
    let mut all = BTreeMap::new();
    for path in files("bot/locales/en")
        .iter()
        .filter(|path| extension(path) == "ftl")
    {
        let text = fs::read_to_string(path).expect("words");
        let resource =
            parser::parse(text).unwrap_or_else(|(_, errors)| panic!("{}: {errors:?}", shown(path)));
        for entry in resource.body {
            match entry {
                Entry::Message(message) => {
                    let mut used = BTreeSet::new();
                    let value = message.value.expect("a message says something");
                    pattern(&value, &mut used);
                    assert!(
                        message.attributes.is_empty(),
                        "{} has attributes",
                        message.id.name
                    );
                    let twice = all.insert(message.id.name.clone(), used);
                    assert!(twice.is_none(), "{} stands twice", message.id.name);
                }
                Entry::Junk { content } => panic!("{}: {content}", shown(path)),
                _ => {}
            }
        }
    }
    all
}

fn pattern(pattern: &Pattern<String>, used: &mut BTreeSet<String>) {
    for element in &pattern.elements {
        if let PatternElement::Placeable { expression } = element {
            match expression {
                Expression::Inline(one) => inline(one, used),
                Expression::Select { selector, variants } => {
                    inline(selector, used);
                    variants
                        .iter()
                        .for_each(|variant| self::pattern(&variant.value, used));
                }
            }
        }
    }
}

fn inline(expression: &InlineExpression<String>, used: &mut BTreeSet<String>) {
    match expression {
        InlineExpression::VariableReference { id } => drop(used.insert(id.name.clone())),
        InlineExpression::StringLiteral { .. } | InlineExpression::NumberLiteral { .. } => {}
        other => panic!("words that refer to other words are not checked here: {other:?}"),
    }
}

/// Whether a string can be the id of a message, or the way to one: `duty-{}`.
fn id_like(text: &str) -> bool {
    let shaped =
        |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || "-{}_".contains(letter);
    text.starts_with(|letter: char| letter.is_ascii_lowercase()) && text.chars().all(shaped)
}

/// Whether an id is one that a string with braces can become.
fn fits(id: &str, form: &str) -> bool {
    let mut rest = id;
    let mut pieces = form.split('{').enumerate();
    pieces.all(|(index, piece)| {
        let fixed = if index == 0 {
            piece
        } else {
            piece.split_once('}').map_or(piece, |(_, after)| after)
        };
        if index == 0 {
            return rest.strip_prefix(fixed).inspect(|after| rest = after).is_some();
        }
        let found = if fixed.is_empty() {
            Some(rest.len())
        } else {
            rest.find(fixed)
        };
        found
            .filter(|at| *at > 0)
            .inspect(|at| rest = &rest[at + fixed.len()..])
            .is_some()
    }) && rest.is_empty()
}

fn sources() -> Vec<(String, Source)> {
    shipped("bot/src")
        .into_iter()
        .filter(|(path, _)| !path.starts_with("bot/src/web/"))
        .collect()
}

/// The texts that a pattern may be told as, with `…` for what is put in: each variant of a choice for itself.
fn texts(pattern: &Pattern<String>) -> Vec<String> {
    let mut all = vec![String::new()];
    for element in &pattern.elements {
        let next: Vec<String> = match element {
            PatternElement::TextElement { value } => vec![value.clone()],
            PatternElement::Placeable { expression } => match expression {
                Expression::Inline(InlineExpression::StringLiteral { value }) => vec![value.clone()],
                Expression::Inline(_) => vec!["…".to_owned()],
                Expression::Select { variants, .. } => variants
                    .iter()
                    .flat_map(|variant| texts(&variant.value))
                    .collect(),
            },
        };
        all = all
            .iter()
            .flat_map(|before| next.iter().map(move |text| format!("{before}{text}")))
            .collect();
    }
    all
}

/// The sentences of a text that begin with a small letter. A text that ends without a stop is no sentence but a piece of
/// one, or a heading.
fn begun_small(text: &str) -> Vec<&str> {
    let text = text.trim();
    if !text.ends_with(['.', '?']) || text.ends_with("…") {
        return Vec::new();
    }
    let begins_small = |sentence: &&str| {
        sentence
            .trim_start()
            .starts_with(|letter: char| letter.is_lowercase())
    };
    text.split_inclusive(". ").filter(begins_small).collect()
}

/// Of words that are put in at a sentence's start this knows nothing; code makes those capital.
#[test]
fn sentences_begin_with_a_capital() {
    assert_eq!(begun_small("nothing was saved."), ["nothing was saved."]);
    assert_eq!(begun_small("Saved. it stays."), ["it stays."]);
    assert!(begun_small("left with nobody").is_empty() && begun_small("… is, at 3.5 L, full.").is_empty());
    let mut sentences = 0;
    let mut wrong: Vec<String> = Vec::new();
    for path in files("bot/locales/en") {
        let text = fs::read_to_string(&path).expect("words");
        let resource =
            parser::parse(text).unwrap_or_else(|(_, errors)| panic!("{}: {errors:?}", shown(&path)));
        for entry in &resource.body {
            let Entry::Message(message) = entry else { continue };
            let Some(value) = &message.value else { continue };
            for text in texts(value) {
                sentences += usize::from(text.ends_with('.'));
                let all = begun_small(&text);
                wrong.extend(
                    all.iter()
                        .map(|sentence| format!("{}: {sentence}", message.id.name)),
                );
            }
        }
    }
    wrong.dedup();
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(sentences > 500, "{sentences} sentences");
}

#[test]
fn no_message_stands_unused() {
    let messages = messages();
    let strings: BTreeSet<String> = sources()
        .into_iter()
        .flat_map(|(_, source)| source.strings)
        .map(|(_, text)| text)
        .collect();
    let forms: Vec<&String> = strings
        .iter()
        .filter(|text| text.contains('{') && id_like(text))
        .collect();
    let own = messages.keys().filter(|id| !id.starts_with("porch-"));
    let unused: Vec<&String> = own
        .filter(|id| !strings.contains(*id) && !forms.iter().any(|form| fits(id, form)))
        .collect();
    // The texts of steps for kinds of pools are found by their endings.
    let unused: Vec<&&String> = unused
        .iter()
        .filter(|id| !id.ends_with("-siphon") && !id.ends_with("-salt"))
        .collect();
    assert!(unused.is_empty(), "{unused:?}");
    assert!(messages.len() > 300, "{} messages", messages.len());
}

/// Calls of a name in code: the parts between their brackets.
fn calls<'a>(source: &'a Source, name: &'a str) -> impl Iterator<Item = Vec<(usize, usize)>> + 'a {
    source.code.match_indices(name).filter_map(move |(at, _)| {
        let before = source.code[..at].chars().next_back();
        if before.is_some_and(|letter| letter.is_alphanumeric() || letter == '_') {
            return None;
        }
        let from = at + name.len();
        Some(parts(&source.code, from, closing(&source.code, from) - 1))
    })
}

/// The ids that an expression names outright, those it may choose between included.
fn ids(source: &Source, (from, to): (usize, usize)) -> Vec<&str> {
    source.strings_in(from, to).filter(|text| id_like(text)).collect()
}

#[test]
fn every_message_that_is_asked_for_is_there_with_its_arguments() {
    let messages = messages();
    // What is named outright is not meant by a form that it happens to fit.
    let named: BTreeSet<String> = sources()
        .into_iter()
        .flat_map(|(_, source)| source.strings)
        .map(|(_, text)| text)
        .collect();
    let meant =
        |key: &str, id: &str| key == id || (id.contains('{') && fits(key, id) && !named.contains(key));
    let (mut checked, mut wrong) = (0, Vec::new());
    let mut check = |path: &str, id: &str, given: &BTreeSet<String>| {
        let found: Vec<_> = messages.iter().filter(|(key, _)| meant(key, id)).collect();
        if found.is_empty() && !messages.keys().any(|key| fits(key, id)) {
            wrong.push(format!("{path}: there is no {id}"));
        }
        for (key, used) in found {
            let missing: Vec<_> = used.difference(given).collect();
            if !missing.is_empty() {
                wrong.push(format!("{path}: {key} is not given {missing:?}"));
            }
            checked += 1;
        }
    };
    for (path, source) in &sources() {
        for call in calls(source, "msg!(") {
            let name = |(from, to): &(usize, usize)| {
                source.code[*from..*to]
                    .split('=')
                    .next()
                    .unwrap_or("")
                    .trim()
                    .to_owned()
            };
            let given: BTreeSet<String> = call.iter().skip(1).map(name).collect();
            let Some(first) = call.first() else { continue };
            ids(source, *first)
                .into_iter()
                .for_each(|id| check(path, id, &given));
        }
        for name in [".word(", "Message::new("] {
            for call in calls(source, name).filter(|call| call.len() == 1) {
                // Further arguments may follow behind it.
                let behind = source.code[call[0].1..].trim_start_matches(')').trim_start();
                if !behind.starts_with(".with(") {
                    ids(source, call[0])
                        .into_iter()
                        .for_each(|id| check(path, id, &BTreeSet::new()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(checked > 300, "{checked} uses");
}

/// Strings that begin like messages and are none.
const NO_MESSAGES: [&str; 2] = ["a-press-1", "no-store"];

#[test]
fn whatever_looks_like_a_message_is_one() {
    let messages = messages();
    let first = |id: &str| id.split_once('-').map(|(first, _)| first.to_owned());
    let families: BTreeSet<String> = messages.keys().filter_map(|id| first(id)).collect();
    let mut wrong = Vec::new();
    let rooms = ["bot/src/desk/", "bot/src/lines/", "bot/src/house.rs"];
    for (path, source) in sources()
        .into_iter()
        .filter(|(path, _)| rooms.iter().any(|room| path.starts_with(room)))
    {
        for (_, text) in source.strings {
            let alike = id_like(&text) && first(&text).is_some_and(|first| families.contains(&first));
            let there = messages
                .keys()
                .any(|id| *id == text || (text.contains('{') && fits(id, &text)));
            if alike && !there && !NO_MESSAGES.contains(&text.as_str()) {
                wrong.push(format!("{path}: {text}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_code_has_its_words() {
    let words = Words::english();
    let mut ids: Vec<String> = Vec::new();
    for duty in Duty::ALL {
        ids.push(format!("duty-{}", duty.code()));
        ids.push(format!("did-{}", duty.code()));
        ids.extend((1..=duty.steps()).map(|step| format!("how-{}-{step}", duty.code())));
    }
    ids.extend(
        wrackline_core::care::CATALOGUE
            .iter()
            .map(|row| format!("rule-{}", row.rule.code())),
    );
    for sighting in wrackline_core::journal::Sighting::ALL {
        let code = wrackline::desk::sightings::sighting_code(sighting);
        ids.extend([format!("sighting-{code}"), format!("first-{code}")]);
    }
    for mark in [Mark::Calm, Mark::Due, Mark::Overdue, Mark::Hazard] {
        ids.push(format!("mark-{}", mark.word()));
    }
    for role in [Role::Keeper, Role::Regular, Role::Sitter, Role::Helper] {
        ids.push(wrackline::house::role_word(role).to_owned());
    }
    ids.extend((1..=7).map(|day| format!("weekday-{day}")));
    ids.extend((1..=12).map(|month| format!("month-{month}")));
    for line in LINES {
        ids.push(line.help(None));
        ids.extend(line.subs.iter().map(|sub| line.help(Some(sub.name))));
        ids.extend(
            line.args
                .iter()
                .chain(line.subs.iter().flat_map(|sub| sub.args))
                .map(|arg| arg.help()),
        );
    }
    let missing: Vec<&String> = ids.iter().filter(|id| !words.has(id)).collect();
    assert!(missing.is_empty(), "{missing:?}");
    assert!(ids.len() > 150, "{} ids", ids.len());
}

/// The ids that the names of native commands have to have.
fn native_ids() -> BTreeSet<String> {
    let mut ids = BTreeSet::from([format!(
        "native-option-{}",
        wrackline::chat::discord::commands::PHOTO
    )]);
    for line in LINES {
        ids.insert(format!("native-{}", line.name));
        ids.extend(line.subs.iter().map(|sub| format!("native-sub-{}", sub.name)));
        let args = line.args.iter().chain(line.subs.iter().flat_map(|sub| sub.args));
        ids.extend(args.map(|arg| format!("native-option-{}", arg.name)));
    }
    ids
}

#[test]
fn every_language_names_every_command_and_nothing_else() {
    let wanted = native_ids();
    for language in ["de", "fr", "es"] {
        let path = format!("bot/locales/{language}/native.ftl");
        let text = fs::read_to_string(super::root().join(&path)).expect("words");
        let resource = parser::parse(text).unwrap_or_else(|(_, errors)| panic!("{path}: {errors:?}"));
        let mut found = BTreeSet::new();
        for entry in resource.body {
            match entry {
                Entry::Message(message) => {
                    assert!(
                        found.insert(message.id.name.clone()),
                        "{path}: {} twice",
                        message.id.name
                    );
                }
                Entry::Junk { content } => panic!("{path}: {content}"),
                _ => {}
            }
        }
        assert_eq!(found, wanted, "{path}");
        assert_eq!(files(&format!("bot/locales/{language}")).len(), 1, "{language}");
    }
    let words = Words::english();
    for id in wanted {
        let codes: Vec<&str> = words.native(&id).into_iter().map(|(code, _)| code).collect();
        assert_eq!(codes, ["de", "fr", "es-ES", "es-419"], "{id}");
    }
}

#[test]
fn forms_of_ids_are_told_from_each_other() {
    for (id, form, expected) in [
        ("duty-change", "duty-{}", true),
        ("duty-", "duty-{}", false),
        ("help-pool-add", "help-{}-{sub}", true),
        ("help-pool", "help-{}-{sub}", false),
        ("how-change-1", "how-{}-{number}", true),
        ("duty", "duty", true),
        ("duty-x", "duty", false),
    ] {
        assert_eq!(fits(id, form), expected, "{id} {form}");
    }
}
