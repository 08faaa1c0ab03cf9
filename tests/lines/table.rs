//! The table of lines: it is explained, fit for native commands, and what is written from it is read.

use std::collections::BTreeSet;
use std::path::PathBuf;

use wrackline::lines::table::{ArgSpec, Kind, LINES, LineSpec, Need, SubSpec};
use wrackline::lines::{Figure, line_name, parse, problem, spec, who, write};
use wrackline::words::{Message, Words};
use wrackline_core::quantity::{self, Problem, Units, What};

use super::house::House;

#[test]
fn every_line_is_explained_in_the_words_file() {
    let words = Words::english();
    let has = |id: &str| assert!(words.has(id), "no message {id}");
    for line in LINES {
        has(&line.help(None));
        line.subs.iter().for_each(|sub| has(&line.help(Some(sub.name))));
        for arg in all_args(line) {
            has(&arg.help());
        }
        let subs = line.subs.iter().flat_map(|sub| sub.args);
        for arg in line
            .args
            .iter()
            .chain(subs)
            .filter(|arg| arg.need == Need::Must && arg.kind != Kind::Flag)
        {
            has(&format!("need-{}", arg.name));
        }
    }
}

fn all_args(line: &LineSpec) -> impl Iterator<Item = &'static ArgSpec> {
    line.args.iter().chain(line.subs.iter().flat_map(|sub| sub.args))
}

#[test]
fn every_id_in_the_code_of_lines_has_its_words() {
    let words = Words::english();
    let mut folders = vec![PathBuf::from(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../bot/src/lines"
    ))];
    let mut ids = BTreeSet::new();
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).expect("the folder of lines") {
            let path = entry.expect("a file").path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let text = std::fs::read_to_string(path).expect("a source file");
            let quoted = text.lines().flat_map(|line| line.split('"').skip(1).step_by(2));
            let is_id = |text: &&str| {
                ["no-", "quantity-", "hint-"]
                    .iter()
                    .any(|start| text.starts_with(start))
            };
            ids.extend(quoted.filter(is_id).map(str::to_owned));
        }
    }
    let missing: Vec<_> = ids.iter().filter(|id| !words.has(id)).collect();
    assert!(missing.is_empty(), "{missing:?}");
    assert!(ids.len() >= 70, "only {} ids found", ids.len());
}

#[test]
fn everything_that_can_be_wrong_with_a_quantity_is_said() {
    let words = Words::english();
    let amounts = [
        What::Volume,
        What::Length,
        What::Mass,
        What::Fraction,
        What::AnyReading,
        What::Duration,
    ];
    for what in amounts.into_iter().chain(quantity::Kind::ALL.map(What::Reading)) {
        for units in [Units::Metric, Units::Us, Units::Imperial] {
            for found in [
                Problem::NoUnit {
                    text: "7".to_owned(),
                    what,
                },
                Problem::WrongUnit {
                    text: "7 kg".to_owned(),
                    what,
                },
                Problem::Negative {
                    text: "-7".to_owned(),
                    what,
                },
                Problem::OutOfRange {
                    kind: what,
                    value: 700.0,
                    unit: "x",
                    low: 0.0,
                    high: 14.0,
                },
            ] {
                let said = words.say(&problem(&found, units));
                assert!(
                    said.contains('7') && !said.contains(['[', '{']),
                    "{found:?}: {said}"
                );
            }
        }
    }
}

#[test]
fn the_table_is_fit_for_native_commands() {
    for line in LINES {
        assert!(
            line.args.is_empty() || line.subs.is_empty(),
            "{}: options beside subcommands",
            line.name
        );
        assert_eq!(spec(&line.name.to_uppercase()), Some(line));
        let groups = line.subs.iter().map(|sub| sub.args).chain([line.args]);
        for args in groups {
            assert!(args.len() <= 25, "{}", line.name);
            for (at, arg) in args.iter().enumerate() {
                let fit = |c: char| c.is_ascii_lowercase() || c == '-';
                assert!(arg.name.len() <= 32 && arg.name.chars().all(fit), "{}", arg.name);
                assert!(
                    args[at + 1..].iter().all(|other| other.name != arg.name),
                    "{} twice",
                    arg.name
                );
                if let Kind::Choice(choices) = arg.kind {
                    assert!((1..=25).contains(&choices.len()), "{}", arg.name);
                }
            }
        }
    }
}

#[test]
fn explanations_fit_an_option_of_a_chat() {
    let words = Words::english();
    for line in LINES {
        let ids = line
            .subs
            .iter()
            .map(|sub| line.help(Some(sub.name)))
            .chain([line.help(None)]);
        for id in ids.chain(all_args(line).map(ArgSpec::help)) {
            let text = words.say(&Message::new(id.clone()));
            assert!((1..=100).contains(&text.chars().count()), "{id}: {text}");
        }
    }
}

/// A value for every argument of the table, so that a whole line can be written from it.
pub(super) fn sample(line: &str, sub: Option<&SubSpec>, arg: &ArgSpec) -> &'static str {
    let adds = sub.is_some_and(|sub| sub.name == "add");
    match (arg.kind, arg.name) {
        (Kind::Duty, _) => "change",
        (Kind::Spot, "enclosure") => "Tall shelf",
        (Kind::Spot, _) if line == "enclosure" => "North",
        (Kind::Spot, _) => "north salt",
        (Kind::Readings, _) => "sg 1.0245 25/25 26.1C",
        (Kind::Sighting, _) => "wet substrate",
        (Kind::Time, "leave") => "tomorrow 08:00",
        (Kind::Time, _) => "yesterday 21:00",
        (Kind::Date, _) => "2026-04-02",
        (Kind::Day, "rounds") => "friday evening",
        (Kind::Day, _) => "2026-04-02",
        (Kind::Turn(_), _) => "change north salt sunday",
        (Kind::Clock, _) => "21:00",
        (Kind::ClockSpan, _) => "22:00 to 07:00",
        (Kind::Carer, "stand-in") => "Maren",
        (Kind::Carer, _) => "Ilja",
        (Kind::Round, _) => "Morning",
        (Kind::OwnDuty, _) => "Rake sand",
        (Kind::Vessel, _) => "Blue can",
        (Kind::Name, _) if adds => "Brand new",
        (Kind::Name, _) => "By another name",
        (Kind::Volume, _) => "6 L",
        (Kind::Mass, _) => "212 g",
        (Kind::Salinity, "with") => "40",
        (Kind::Salinity, "source") => "0.3",
        (Kind::Salinity, _) => "sg 1.025 25/25",
        (Kind::Temperature, _) => "25C",
        (Kind::Concentration, "source") => "5 mg/L",
        (Kind::Concentration, "start") => "80",
        (Kind::Concentration, "adds") => "2 mg/L a day",
        (Kind::Concentration, _) => "20 mg/L",
        (Kind::Decimal, _) => "0.97",
        (Kind::Length, _) => "3 cm",
        (Kind::Fraction, _) => "50%",
        (Kind::Figure(Figure::Lid), _) => "gaps",
        (Kind::Figure(Figure::Skill), _) => "siphon and salt",
        (Kind::Figure(Figure::Lifts), _) => "10 kg",
        (Kind::Figure(Figure::Share), _) => "0.5",
        (Kind::Figure(Figure::Minutes), _) => "30",
        (Kind::Figure(figure), _) => figure.example(),
        (Kind::Number, _) => "2",
        (Kind::Steps, _) => "1 2",
        (Kind::Span, _) => "12 h",
        (Kind::Every, _) => "3 days",
        (Kind::Weekdays, _) => "Mon Thu",
        (Kind::Cron, _) => "30 21 * * 1-5",
        (Kind::Zone, _) => "Europe/London",
        (Kind::Gravity, _) => "25/25",
        (Kind::Choice(_), "role") => "sitter",
        (Kind::Choice(_), "gear" | "with-gear") => "filter",
        (Kind::Choice(choices), _) => choices[0],
        (Kind::Switch | Kind::Flag, _) => "yes",
        (Kind::Text, "alarm") => "30 min",
        (Kind::Text, "conditioner" | "salt") => "Home brand",
        (Kind::Text | Kind::Rest, _) => "left back corner, by the lid",
        (Kind::Line, _) => "did",
        (Kind::Channel, _) => "<#1234567890123456789>",
        (Kind::Member, _) => "<@1234567890123456789>",
    }
}

/// Arguments that exclude each other; only the first of such is written.
const EXCLUDED: [&str; 14] = [
    "steps",
    "removable",
    "on",
    "cron",
    "unconditioned",
    "tap",
    "back",
    "without-gear",
    "off",
    "always",
    "rounds",
    "list",
    "no",
    "cannot",
];

/// Whether an argument may stand beside all the others of its line that are told.
pub(super) fn is_told(line: &LineSpec, arg: &ArgSpec) -> bool {
    let needs_days = line.name == "duty" && arg.name == "time";
    let text = matches!((line.name, arg.name), ("enclosure", "room" | "quiet" | "until"));
    // What is poured into a vessel is an amount, and no pool that stands.
    let poured = matches!((line.name, arg.name), ("mix", "vessel" | "conditioned"));
    !EXCLUDED.contains(&arg.name) && !needs_days && !text && !poured
}

#[test]
fn lines_written_from_the_table_are_read() {
    let (house, words) = (House::usual(), Words::english());
    for line in LINES {
        let subs: Vec<Option<&SubSpec>> = if line.subs.is_empty() {
            vec![None]
        } else {
            line.subs.iter().map(Some).collect()
        };
        for sub in subs {
            let args = sub.map_or(line.args, |sub| sub.args);
            let told = |arg: &&ArgSpec| is_told(line, arg);
            let all: Vec<_> = args
                .iter()
                .filter(told)
                .map(|arg| (arg.name, sample(line.name, sub, arg)))
                .collect();
            let without = |arg: &&ArgSpec| told(arg) && arg.need != Need::May;
            let few: Vec<_> = args
                .iter()
                .filter(without)
                .map(|arg| (arg.name, sample(line.name, sub, arg)))
                .collect();
            for given in [all, few] {
                let typed = write(line, sub, &given);
                let found = parse(&typed, &house.context());
                assert!(found.is_ok(), "{typed}: {}", house.say(&words, &typed));
                assert_eq!(line_name(&typed), Some(line.name), "{typed}");
                assert_eq!(who(&typed), Some(sub.map_or(line.who, |sub| sub.who)), "{typed}");
            }
        }
    }
}
