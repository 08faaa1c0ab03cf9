//! Days and rounds to come, as people say them: "sunday", "tomorrow evening", "2026-07-03", "3 July".

use jiff::civil;
use wrackline_core::civil::{hold, plus_days};
use wrackline_core::place::RoundId;

use super::token::{Token, join, keys};
use super::{Context, Refusal, refuse, when};
use crate::msg;

/// A day to come, perhaps with a time of day or a round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Coming {
    /// The day.
    pub(super) date: civil::Date,
    /// The time of day.
    pub(super) time: Option<civil::Time>,
    /// The round.
    pub(super) round: Option<RoundId>,
}

/// The months; three letters and more are enough.
const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// Reads the day that starts at the first word; also gives how many words it has. `None` when none starts there.
pub(super) fn read(tokens: &[Token], ctx: &Context<'_>) -> Option<Result<(Coming, usize), Refusal>> {
    if let Some((date, used)) = day(tokens, ctx) {
        return Some(behind_day(tokens, date, used, ctx));
    }
    // "This evening", "evening tomorrow".
    let skipped = fillers(tokens);
    let (round, used) = round(&tokens[skipped..], ctx)?;
    let used = skipped + used;
    let at = |date, used| (whole_round(date, round), used);
    match day(&tokens[used..], ctx) {
        Some((date, more)) => Some(Ok(at(date, used + more))),
        None => Some(Ok(at(next_held(round, ctx), used))),
    }
}

/// All of the words as one day.
pub(super) fn whole(tokens: &[Token], ctx: &Context<'_>) -> Result<Coming, Refusal> {
    match read(tokens, ctx) {
        Some(Ok((coming, used))) if used == tokens.len() => Ok(coming),
        Some(Err(refusal)) => Err(refusal),
        _ => Err(refuse(msg!("no-day-unknown", text = join(tokens)))),
    }
}

/// The round that all of the words name, where they name no day with it: "evening", not "this evening".
pub(super) fn round_alone(tokens: &[Token], ctx: &Context<'_>) -> Option<RoundId> {
    let skipped = fillers(tokens);
    if tokens.iter().take(skipped).any(|word| word.is("this")) {
        return None;
    }
    let (round, used) = round(&tokens[skipped..], ctx)?;
    (skipped + used == tokens.len()).then_some(round)
}

/// Today's last round, where the words are "tonight".
pub(super) fn tonight(tokens: &[Token], ctx: &Context<'_>) -> Option<Coming> {
    let is_said = matches!(tokens, [word] if word.is("tonight"));
    let today = ctx.place.zone.date(ctx.now);
    let rounds = ctx.place.rounds.iter().filter(|_| is_said);
    let last = rounds.max_by_key(|round| hold(&ctx.place.zone, round, today).at)?;
    Some(whole_round(today, last.id))
}

fn whole_round(date: civil::Date, round: RoundId) -> Coming {
    Coming {
        date,
        time: None,
        round: Some(round),
    }
}

fn behind_day(
    tokens: &[Token],
    date: civil::Date,
    used: usize,
    ctx: &Context<'_>,
) -> Result<(Coming, usize), Refusal> {
    let at = used + usize::from(tokens.get(used).is_some_and(|token| token.is("at")));
    if let Some((time, more)) = when::clock(&tokens[at..]) {
        let coming = Coming {
            date,
            time: Some(time?),
            round: None,
        };
        return Ok((coming, at + more));
    }
    let skipped = used + fillers(&tokens[used..]);
    if let Some((round, more)) = round(&tokens[skipped..], ctx) {
        return Ok((whole_round(date, round), skipped + more));
    }
    let coming = Coming {
        date,
        time: None,
        round: None,
    };
    Ok((coming, used))
}

/// Words before a day or a round that say nothing.
fn fillers(tokens: &[Token]) -> usize {
    let is_filler = |token: &&Token| {
        ["on", "in", "the", "this", "at"]
            .iter()
            .any(|word| token.is(word))
    };
    tokens.iter().take_while(is_filler).count()
}

fn day(tokens: &[Token], ctx: &Context<'_>) -> Option<(civil::Date, usize)> {
    let today = ctx.place.zone.date(ctx.now);
    let skipped = fillers(tokens);
    let is_next = tokens.get(skipped)?.is("next");
    let at = skipped + usize::from(is_next);
    let token = tokens.get(at).filter(|token| !token.quoted)?;
    if let Some(weekday) = when::weekday(&token.key) {
        let days = i64::from(weekday - today.weekday().to_monday_one_offset()).rem_euclid(7);
        let days = if is_next && days == 0 { 7 } else { days };
        return Some((plus_days(today, days), at + 1));
    }
    if is_next {
        return None;
    }
    let date = match token.key.as_str() {
        "today" => Some(today),
        "tomorrow" => Some(plus_days(today, 1)),
        key => when::date(key),
    };
    if let Some(date) = date {
        return Some((date, at + 1));
    }
    // "3 July", "July 3rd": the next such day.
    let other = tokens.get(at + 1).filter(|token| !token.quoted)?;
    let (day, month) = match (day_number(&token.key), month(&other.key)) {
        (Some(day), Some(month)) => (day, month),
        _ => (day_number(&other.key)?, month(&token.key)?),
    };
    let mut dates = (0..5).filter_map(|years| civil::Date::new(today.year() + years, month, day).ok());
    dates.find(|date| *date >= today).map(|date| (date, at + 2))
}

fn day_number(key: &str) -> Option<i8> {
    let digits = ["st", "nd", "rd", "th"]
        .iter()
        .find_map(|end| key.strip_suffix(end))
        .unwrap_or(key);
    digits.parse().ok().filter(|day| (1..=31).contains(day))
}

fn month(key: &str) -> Option<i8> {
    let at = MONTHS
        .iter()
        .position(|name| key.len() >= 3 && name.starts_with(key))?;
    i8::try_from(at + 1).ok()
}

/// The round whose whole name starts here, and how many words it has; "round" may stand behind it.
fn round(tokens: &[Token], ctx: &Context<'_>) -> Option<(RoundId, usize)> {
    let fits = |name: &str| {
        let name = keys(name);
        let said = tokens.get(..name.len()).filter(|said| !said.is_empty())?;
        let is_same = said.iter().zip(&name).all(|(token, key)| token.is(key));
        is_same.then_some(name.len())
    };
    let named = ctx.place.rounds.iter().filter(|round| !round.name.is_empty());
    let mut found: Vec<(usize, RoundId)> = named
        .filter_map(|round| Some((fits(&round.name)?, round.id)))
        .collect();
    found.sort_by_key(|(length, _)| *length);
    let (length, id) = *found.last()?;
    let more = usize::from(tokens.get(length).is_some_and(|token| token.is("round")));
    Some((id, length + more))
}

/// The next day on which a round is held from now on.
fn next_held(id: RoundId, ctx: &Context<'_>) -> civil::Date {
    let today = ctx.place.zone.date(ctx.now);
    let of = ctx.place.rounds.iter().find(|round| round.id == id);
    let is_over = of.is_some_and(|round| hold(&ctx.place.zone, round, today).at < ctx.now);
    plus_days(today, i64::from(is_over))
}
