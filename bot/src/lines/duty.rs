//! Duties and sightings, by the words that people have for them.

use wrackline_core::care::Duty;
use wrackline_core::journal::Sighting;

use super::nearest::{list, nearest};
use super::token::{Token, keys, phrase};
use super::{Context, Refusal, refuse};
use crate::msg;

/// What people say for the duties of the catalogue; the first of each is its own name.
const DUTIES: [(Duty, &[&str]); 12] = [
    (
        Duty::Change,
        &[
            "change",
            "changed",
            "changes",
            "changing",
            "water change",
            "water changed",
            "changed water",
            "changed the water",
            "full change",
            "full water change",
        ],
    ),
    (
        Duty::PartChange,
        &[
            "part change",
            "part",
            "partial",
            "partial change",
            "part changed",
            "partly changed",
            "partial water change",
            "part water change",
        ],
    ),
    (
        Duty::Condition,
        &[
            "condition",
            "conditioner",
            "conditioned",
            "conditioning",
            "dechlorinate",
            "dechlorinated",
            "dechlorinator",
        ],
    ),
    (Duty::TopUp, &["top up", "topup", "topped up", "topping up", "topped off"]),
    (Duty::Test, &["test", "water test", "tested", "testing", "tests", "tested water", "tested the water"]),
    (
        Duty::Rinse,
        &[
            "rinse",
            "media rinse",
            "rinsed",
            "rinsing",
            "rinse media",
            "rinsed media",
            "rinsed the media",
            "filter rinse",
            "rinse filter",
            "rinsed the filter",
        ],
    ),
    (
        Duty::AirCheck,
        &[
            "air check",
            "stone check",
            "pump check",
            "stone and pump check",
            "air stone check",
            "check air",
            "checked air",
            "checked the air",
            "checked the stone",
            "checked the pump",
        ],
    ),
    (Duty::Look, &["look", "morning look", "looked"]),
    (Duty::Reading, &["reading", "readings"]),
    (Duty::LeakCheck, &["leak check", "leak checked", "checked for leaks", "check for leaks"]),
    (Duty::Scrub, &["scrub", "scrubbed", "scrubbing"]),
    (
        Duty::Hygrometer,
        &["hygrometer", "hygrometer check", "hygrometer checked", "check hygrometer", "checked the hygrometer"],
    ),
];

/// What people say for what they see; the first of each is its own name.
const SIGHTINGS: [(Sighting, &[&str]); 8] = [
    (Sighting::Leak, &["leak", "leaks", "leaking", "leaked", "leakage"]),
    (
        Sighting::WetSubstrate,
        &["wet substrate", "substrate wet", "substrate is wet", "wet sand", "sand is wet", "sand wet"],
    ),
    (Sighting::Mould, &["mould", "mold", "mouldy", "moldy"]),
    (Sighting::Condensation, &["condensation", "condensed water", "wet glass"]),
    (Sighting::Splashing, &["splashing", "splash", "splashes"]),
    (
        Sighting::TippedFilter,
        &["tipped filter", "filter tipped", "filter tipped over", "filter is tipped", "tipped over filter"],
    ),
    (Sighting::Escape, &["escape", "escaped", "escaped crab", "crab escaped", "crab out", "crab is out"]),
    (
        Sighting::Trouble,
        &["trouble", "crab in trouble", "crab trouble", "sick crab", "crab sick", "crab is sick", "crabs in trouble"],
    ),
];

/// A duty or a sighting among other words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Hit<T> {
    /// What it is.
    pub(super) what: T,
    /// Its first word.
    pub(super) from: usize,
    /// The word after its last.
    pub(super) to: usize,
}

impl<T> Hit<T> {
    /// The words around it.
    pub(super) fn rest(&self, tokens: &[Token]) -> Vec<Token> {
        [&tokens[..self.from], &tokens[self.to..]].concat()
    }
}

/// The most words that a name of a duty or sighting has.
const WORDS_MAX: usize = 6;

fn hits<T: Copy>(tokens: &[Token], named: &dyn Fn(&str) -> Option<T>) -> Vec<Hit<T>> {
    let mut found = Vec::new();
    for length in (1..=WORDS_MAX.min(tokens.len())).rev() {
        for from in 0..=tokens.len() - length {
            let to = from + length;
            found.extend(named(&phrase(&tokens[from..to])).map(|what| Hit { what, from, to }));
        }
    }
    found
}

/// All duties that the words may mean, the likeliest first: whole names before parts of names, long ones before
/// short ones, early ones before late ones.
pub(super) fn duties(tokens: &[Token], ctx: &Context<'_>) -> Vec<Hit<Duty>> {
    let own: Vec<(String, Duty)> = ctx
        .place
        .duties
        .iter()
        .map(|(id, (duty, _))| (keys(&duty.name).join(" ").replace('-', " "), Duty::Own(*id)))
        .collect();
    let whole = |text: &str| {
        let known = || DUTIES.iter().find(|(_, names)| names.contains(&text)).map(|(duty, _)| *duty);
        own.iter().find(|(name, _)| name == text).map(|(_, duty)| *duty).or_else(known)
    };
    let part = |text: &str| {
        let mut fitting = own.iter().filter(|(name, _)| is_part(text, name));
        let first = fitting.next().filter(|_| fitting.next().is_none());
        first.map(|(_, duty)| *duty)
    };
    let mut found = hits(tokens, &whole);
    found.extend(hits(tokens, &part));
    found
}

/// Whether a text starts a word of a name and goes on with it.
fn is_part(text: &str, name: &str) -> bool {
    name.match_indices(text).any(|(at, _)| at == 0 || name.as_bytes()[at - 1] == b' ')
}

/// All sightings that the words may mean, the likeliest first.
pub(super) fn sightings(tokens: &[Token]) -> Vec<Hit<Sighting>> {
    hits(tokens, &|text| SIGHTINGS.iter().find(|(_, names)| names.contains(&text)).map(|(one, _)| *one))
}

/// The names of all duties, as they are said.
pub(super) fn duty_names(ctx: &Context<'_>) -> Vec<String> {
    let known = DUTIES.iter().map(|(_, names)| names[0].to_owned());
    known.chain(ctx.place.duties.values().map(|(duty, _)| duty.name.clone())).collect()
}

/// The names of all sightings, as they are said.
pub(super) fn sighting_names() -> [&'static str; 8] {
    SIGHTINGS.map(|(_, names)| names[0])
}

/// Whether a name belongs to a duty of the catalogue.
pub(super) fn is_of_catalogue(name: &str) -> bool {
    let name = keys(name).join(" ").replace('-', " ");
    DUTIES.iter().any(|(_, names)| names.contains(&name.as_str()))
}

/// That words are no duty.
pub(super) fn no_duty(text: &str, ctx: &Context<'_>) -> Refusal {
    let names = duty_names(ctx);
    let known: Vec<&str> = DUTIES.iter().flat_map(|(_, all)| all.iter().copied()).collect();
    let near = nearest(text, names.iter().map(String::as_str));
    if near.is_empty() && nearest(text, known.iter().copied()).is_empty() {
        return refuse(msg!("no-duty-unknown", text = text, names = list(&names)));
    }
    let near = if near.is_empty() { nearest(text, known) } else { near };
    refuse(msg!("no-duty-nearest", text = text, names = list(&near)))
}

/// That words are no sighting.
pub(super) fn no_sighting(text: &str) -> Refusal {
    let names = sighting_names();
    let near = nearest(text, SIGHTINGS.iter().flat_map(|(_, all)| all.iter().copied()));
    if near.is_empty() {
        return refuse(msg!("no-sighting-unknown", text = text, names = list(&names)));
    }
    refuse(msg!("no-sighting-nearest", text = text, names = list(&near)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_duty_and_sighting_has_its_words() {
        for duty in Duty::ALL {
            assert!(DUTIES.iter().any(|(one, _)| *one == duty), "{duty:?}");
        }
        for sighting in Sighting::ALL {
            assert!(SIGHTINGS.iter().any(|(one, _)| *one == sighting), "{sighting:?}");
        }
    }

    #[test]
    fn no_word_means_two_duties() {
        let mut all: Vec<&str> = DUTIES.iter().flat_map(|(_, names)| names.iter().copied()).collect();
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count);
    }
}
