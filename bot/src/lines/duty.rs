//! Duties and sightings, by the words that people have for them.

mod words;

use wrackline_core::care::Duty;
use wrackline_core::journal::Sighting;

use self::words::{DUTIES, SIGHTINGS};
use super::nearest::{list, nearest};
use super::token::{Token, keys, phrase};
use super::{Context, Refusal, refuse};
use crate::msg;

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
        let known = || {
            DUTIES
                .iter()
                .find(|(_, names)| names.contains(&text))
                .map(|(duty, _)| *duty)
        };
        own.iter()
            .find(|(name, _)| name == text)
            .map(|(_, duty)| *duty)
            .or_else(known)
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
    name.match_indices(text)
        .any(|(at, _)| at == 0 || name.as_bytes()[at - 1] == b' ')
}

/// All sightings that the words may mean, the likeliest first.
pub(super) fn sightings(tokens: &[Token]) -> Vec<Hit<Sighting>> {
    hits(tokens, &|text| {
        SIGHTINGS
            .iter()
            .find(|(_, names)| names.contains(&text))
            .map(|(one, _)| *one)
    })
}

/// The names of all duties, as they are said.
pub(super) fn duty_names(ctx: &Context<'_>) -> Vec<String> {
    let known = DUTIES.iter().map(|(_, names)| names[0].to_owned());
    known
        .chain(ctx.place.duties.values().map(|(duty, _)| duty.name.clone()))
        .collect()
}

/// The name of a duty of the catalogue, as it is said.
pub(super) fn name(duty: Duty) -> Option<&'static str> {
    let found = DUTIES.iter().find(|(one, _)| *one == duty);
    found.map(|(_, names)| names[0])
}

/// The name of a sighting, as it is said.
pub(super) fn sighting_name(sighting: Sighting) -> &'static str {
    let found = SIGHTINGS.iter().find(|(one, _)| *one == sighting);
    found.map_or("", |(_, names)| names[0])
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
    let near = if near.is_empty() {
        nearest(text, known)
    } else {
        near
    };
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
