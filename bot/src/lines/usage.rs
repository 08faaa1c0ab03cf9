//! How lines go, as help shows it: generated from the table.

use wrackline_core::place::Role;

use super::table::{ArgSpec, Kind, LINES, Lead, LineSpec, Need, SubSpec, Who, spec};
use crate::msg;
use crate::words::Message;

/// How one line goes: `/did DUTY SPOT [at TIME] …`.
#[must_use]
pub fn usage(line: &LineSpec, sub: Option<&SubSpec>) -> String {
    let mut words = vec![format!("/{}", line.name)];
    words.extend(sub.map(|sub| sub.name.to_owned()));
    if sub.is_none() && !line.subs.is_empty() {
        words.push(line.subs.iter().map(|sub| sub.name).collect::<Vec<_>>().join("|"));
    }
    let args = sub.map_or(line.args, |sub| sub.args);
    let mut open = false;
    for arg in args {
        let text = one(arg);
        // Those of which one has to stand are shown as one choice.
        if arg.need == Need::OneOf {
            if open {
                words.push("|".to_owned());
            }
            open = true;
        }
        words.push(if matches!(arg.need, Need::May | Need::SomeOf) {
            format!("[{text}]")
        } else {
            text
        });
    }
    words.join(" ")
}

fn one(arg: &ArgSpec) -> String {
    let value = match arg.kind {
        Kind::Flag => return arg.words().first().unwrap_or(&arg.name).to_string(),
        Kind::Choice(choices) if choices.len() <= 6 => choices.join("|"),
        Kind::Switch => "yes|no".to_owned(),
        _ => placeholder(arg).to_owned(),
    };
    match arg.lead {
        // A volume or a time of day that must stand is said without its word.
        Lead::Bare => value,
        Lead::Either(_) if arg.need == Need::Must => value,
        Lead::Word(words) | Lead::Either(words) => format!("{} {value}", words[0]),
    }
}

/// What stands for a value.
fn placeholder(arg: &ArgSpec) -> &'static str {
    match arg.kind {
        Kind::Duty => "DUTY",
        Kind::Spot if arg.name == "enclosure" => "ENCLOSURE",
        Kind::Spot => "SPOT",
        Kind::Readings => "READING…",
        Kind::Sighting => "SIGHTING",
        Kind::Time => "TIME",
        Kind::Date => "DATE",
        Kind::Day if arg.name == "rounds" => "DAY ROUND",
        Kind::Day => "DAY",
        Kind::Turn(_) => "TURN",
        Kind::Clock => "08:00",
        Kind::ClockSpan => "22:00 to 07:00",
        Kind::Vessel => "VESSEL",
        Kind::Name if arg.name == "vessel" => "VESSEL",
        Kind::Carer | Kind::Name | Kind::Round | Kind::OwnDuty => "NAME",
        Kind::Volume => "VOLUME",
        Kind::Mass => "358 g",
        Kind::Salinity => "35",
        Kind::Temperature => "25C",
        Kind::Concentration if arg.name == "adds" => "2 mg/L a day",
        Kind::Concentration => "80 mg/L",
        Kind::Decimal => "1.03",
        Kind::Length => "LENGTH",
        Kind::Fraction => "50%",
        Kind::Figure(figure) => figure.example(),
        Kind::Number => "NUMBER",
        Kind::Steps => "1 2",
        Kind::Span if arg.name == "span" => "9 days",
        Kind::Span => "12 h",
        Kind::Every => "3 days",
        Kind::Weekdays => "Mon Thu",
        Kind::Cron => "\"30 21 * * *\"",
        Kind::Zone => "ZONE",
        Kind::Gravity => "25/25",
        Kind::Choice(_) if arg.name == "rule" => "RULE",
        Kind::Choice(_) => "WORD",
        Kind::Text | Kind::Rest => "TEXT",
        Kind::Line => "LINE",
        Kind::Channel => "CHANNEL",
        Kind::Member => "@MEMBER",
        Kind::Switch => "yes|no",
        Kind::Flag => "",
    }
}

/// Whether a role may say what is marked so.
#[must_use]
pub fn allows(who: Who, role: Role) -> bool {
    who == Who::All || role == Role::Keeper
}

/// What a role can say: every line, or one with its subcommands; each with a message that explains it.
#[must_use]
pub fn help(line: Option<&str>, role: Role) -> Vec<(String, Message)> {
    let Some(line) = line.and_then(spec) else {
        let all = LINES.iter().filter(|line| allows(line.who, role));
        return all
            .map(|line| (usage(line, None), msg!(line.help(None))))
            .collect();
    };
    let subs = line.subs.iter().filter(|sub| allows(sub.who, role));
    let subs = subs.map(|sub| (usage(line, Some(sub)), msg!(line.help(Some(sub.name)))));
    let alone = (line.subs.is_empty()).then(|| (usage(line, None), msg!(line.help(None))));
    alone.into_iter().chain(subs).collect()
}
