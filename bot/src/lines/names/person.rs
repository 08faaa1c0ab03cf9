//! Names of people, none of which may be a word that lines read: a carer called Sunday would hide the day.

use super::{is_reserved, new};
use crate::lines::token::{Token, keys, tokens};
use crate::lines::{Context, Refusal, choice, duty, refuse, schedule};
use crate::msg;

/// Words of days, spans, gear and of all people at once, which no name may consist of.
const READ: [&str; 34] = [
    "today",
    "tomorrow",
    "yesterday",
    "tonight",
    "now",
    "noon",
    "midnight",
    "morning",
    "afternoon",
    "evening",
    "night",
    "day",
    "days",
    "week",
    "weekend",
    "fortnight",
    "month",
    "next",
    "round",
    "rounds",
    "turn",
    "turns",
    "everyone",
    "everyone's",
    "everybody",
    "anyone",
    "anybody",
    "mine",
    "my",
    "air",
    "filter",
    "stone",
    "pump",
    "place",
];

/// Checks a name for a person and gives it with single spaces.
pub(in crate::lines) fn person<'a>(
    words: &[Token],
    taken: impl IntoIterator<Item = &'a str>,
    ctx: &Context<'_>,
) -> Result<String, Refusal> {
    let name = new(words, taken)?;
    let asked = keys(&name);
    let is_called = |other: &str| keys(other) == asked;
    let place = ctx.place;
    let of_enclosure = |one: &wrackline_core::place::Enclosure| is_called(&one.name) || is_called(&one.room);
    let what = if place.enclosures.values().any(of_enclosure) {
        "name-of-enclosure"
    } else if place.rounds.iter().any(|round| is_called(&round.name)) {
        "name-of-round"
    } else if is_duty(&name, ctx) {
        "name-of-duty"
    } else if place.batches.values().any(|batch| is_called(&batch.vessel)) {
        "name-of-vessel"
    } else if is_read(&tokens(&name)) {
        "name-of-lines"
    } else {
        return Ok(name);
    };
    Err(refuse(msg!("no-name-read", name = name, what = msg!(what))))
}

/// Whether words are read by lines wherever they stand.
pub(super) fn is_read(words: &[Token]) -> bool {
    let one = |word: &Token| {
        let is_day = schedule::weekdays(std::slice::from_ref(word)).is_some();
        is_day || READ.contains(&word.key.as_str()) || is_reserved(word)
    };
    let is_role = words.len() == 1 && choice::role(words).is_ok();
    is_role || words.iter().all(one)
}

/// Whether a name is that of a duty or a sighting.
fn is_duty(name: &str, ctx: &Context<'_>) -> bool {
    let asked = keys(name);
    let own = ctx.place.duties.values();
    let words = tokens(name);
    duty::is_of_catalogue(name)
        || duty::sightings(&words)
            .iter()
            .any(|hit| hit.rest(&words).is_empty())
        || own.into_iter().any(|(own, _)| keys(&own.name) == asked)
}
