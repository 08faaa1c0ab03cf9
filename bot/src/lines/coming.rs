//! Days, rounds and parts of days to come, as people say them: "sunday", "tomorrow evening", "6pm on friday".

pub(super) mod date;
mod part;

use jiff::civil;
use wrackline_core::civil::{hold, plus_days};
use wrackline_core::place::RoundId;

pub(super) use self::part::Part;
use super::nearest::nearest;
use super::token::{Token, join, keys};
use super::{Context, Refusal, refuse, when};
use crate::msg;

/// A day to come, perhaps with a time of day, a round or a part of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Coming {
    /// The day.
    pub(super) date: civil::Date,
    /// What of it.
    pub(super) of: Of,
}

/// What is meant of a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Of {
    /// All of it.
    Day,
    /// A time of day.
    Time(civil::Time),
    /// A round.
    Round(RoundId),
    /// A part of it.
    Part(Part),
}

impl Coming {
    /// The round that is meant; of a part of a day the one that is held in it, where no other is.
    pub(super) fn round(&self, ctx: &Context<'_>) -> Option<RoundId> {
        match self.of {
            Of::Round(round) => Some(round),
            Of::Part(part) => match part.rounds(self.date, ctx).as_slice() {
                [one] => Some(*one),
                _ => None,
            },
            Of::Day | Of::Time(_) => None,
        }
    }
}

/// Reads the day that starts at the first word; also gives how many words it has. `None` when none starts there.
pub(super) fn read(tokens: &[Token], ctx: &Context<'_>) -> Option<Result<(Coming, usize), Refusal>> {
    read_from(tokens, ctx.place.zone.date(ctx.now), ctx)
}

/// The same, with weekdays and days of a month from a day on.
pub(super) fn read_from(
    tokens: &[Token],
    earliest: civil::Date,
    ctx: &Context<'_>,
) -> Option<Result<(Coming, usize), Refusal>> {
    let today = ctx.place.zone.date(ctx.now);
    let date = |tokens: &[Token]| date::date(tokens, today, earliest);
    if let Some((date, used)) = date(tokens) {
        return Some(behind_day(tokens, date, used, ctx));
    }
    // "This evening", "evening tomorrow".
    let skipped = fillers(tokens);
    if let Some((round, used)) = round(&tokens[skipped..], ctx) {
        let used = skipped + used;
        let next = || next_held(round, ctx);
        let (date, more) = date(&tokens[used..]).unwrap_or_else(|| (next(), 0));
        let of = Of::Round(round);
        return Some(Ok((Coming { date, of }, used + more)));
    }
    let part = Part::of(tokens.get(skipped)?)?;
    let used = skipped + 1;
    let next = || {
        if part.span(today, ctx).1 > ctx.now {
            today
        } else {
            plus_days(today, 1)
        }
    };
    let (date, more) = date(&tokens[used..]).unwrap_or_else(|| (next(), 0));
    let of = Of::Part(part);
    Some(Ok((Coming { date, of }, used + more)))
}

/// All of the words as one day.
pub(super) fn whole(tokens: &[Token], ctx: &Context<'_>) -> Result<Coming, Refusal> {
    whole_from(tokens, ctx.place.zone.date(ctx.now), ctx)
}

/// The same, with weekdays and days of a month from a day on.
pub(super) fn whole_from(
    tokens: &[Token],
    earliest: civil::Date,
    ctx: &Context<'_>,
) -> Result<Coming, Refusal> {
    match read_from(tokens, earliest, ctx) {
        Some(Ok((coming, used))) if used == tokens.len() => Ok(coming),
        Some(Err(refusal)) => Err(refusal),
        _ => Err(unknown(tokens)),
    }
}

/// Words of days that are told where one is misspelt.
const WORDS: [&str; 15] = [
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
    "today",
    "tomorrow",
    "tonight",
    "morning",
    "afternoon",
    "evening",
    "weekend",
    "fortnight",
];

/// That words are no day to come, with what they were perhaps meant to be.
pub(super) fn unknown(tokens: &[Token]) -> Refusal {
    misspelt(tokens).unwrap_or_else(|| refuse(msg!("no-day-unknown", text = join(tokens))))
}

/// That one of the words is nearly that of a day.
pub(super) fn misspelt(tokens: &[Token]) -> Option<Refusal> {
    let is_odd = |word: &&Token| !WORDS.contains(&word.key.as_str());
    let near = |word: &Token| nearest(&word.key, WORDS).first().copied();
    let near = tokens.iter().filter(is_odd).find_map(near)?;
    Some(refuse(msg!("no-day-nearest", text = join(tokens), near = near)))
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
    let of = Of::Round(last.id);
    Some(Coming { date: today, of })
}

fn behind_day(
    tokens: &[Token],
    date: civil::Date,
    used: usize,
    ctx: &Context<'_>,
) -> Result<(Coming, usize), Refusal> {
    let at = used + usize::from(tokens.get(used).is_some_and(|token| token.is("at")));
    if let Some((time, more)) = when::clock(&tokens[at..]) {
        let of = Of::Time(time?);
        return Ok((Coming { date, of }, at + more));
    }
    let skipped = used + fillers(&tokens[used..]);
    if let Some((round, more)) = round(&tokens[skipped..], ctx) {
        let of = Of::Round(round);
        return Ok((Coming { date, of }, skipped + more));
    }
    if let Some(part) = tokens.get(skipped).and_then(Part::of) {
        let of = Of::Part(part);
        return Ok((Coming { date, of }, skipped + 1));
    }
    let of = Of::Day;
    Ok((Coming { date, of }, used))
}

/// Words before a day or a round that say nothing.
pub(super) fn fillers(tokens: &[Token]) -> usize {
    let is_filler = |token: &&Token| {
        ["on", "in", "the", "this", "at", "of"]
            .iter()
            .any(|word| token.is(word))
    };
    tokens.iter().take_while(is_filler).count()
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
