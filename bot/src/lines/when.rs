//! Moments, dates and times of day, as people say them.

use jiff::{Timestamp, civil};
use wrackline_core::civil::plus_days;
use wrackline_core::quantity::duration_min;

use super::problem::problem;
use super::token::{Token, join};
use super::{Context, Refusal, refuse};
use crate::msg;

/// What a time came to: a moment, or a day without a time of day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Said {
    /// A moment, in whole seconds.
    Moment(Timestamp),
    /// A day.
    Day(civil::Date),
}

/// The most words that a span before "ago" has.
const SPAN_WORDS_MAX: usize = 5;

/// Reads the time that starts at the first word; also gives how many words it has. `None` when none starts there.
pub(super) fn read(tokens: &[Token], ctx: &Context<'_>) -> Option<Result<(Said, usize), Refusal>> {
    let first = tokens.first().filter(|token| !token.quoted)?;
    if first.key == "now" {
        return Some(Ok((Said::Moment(whole(ctx.now)), 1)));
    }
    if let Ok(moment) = first.text.parse::<Timestamp>() {
        return Some(Ok((Said::Moment(whole(moment)), 1)));
    }
    if let Some((date, time)) = first.key.split_once('t').filter(|(date, _)| date.len() == 10) {
        let (date, time) = (date.parse::<civil::Date>().ok()?, clock_of(time)?);
        return Some(time.map(|time| (moment(date, time, ctx), 1)));
    }
    if let Some(found) = ago(tokens, ctx) {
        return Some(found);
    }
    if let Some((time, used)) = clock(tokens) {
        return Some(time.map(|time| behind_clock(tokens, time, used, ctx)));
    }
    let (day, used) = day(tokens, ctx)?;
    let at = used + usize::from(tokens.get(used).is_some_and(|token| token.is("at")));
    match clock(&tokens[at..]) {
        Some((Ok(time), more)) => Some(Ok((day.at(time, ctx), at + more))),
        Some((Err(refusal), _)) => Some(Err(refusal)),
        None => Some(Ok((Said::Day(day.date(ctx)), used))),
    }
}

/// A time of day at the start, and perhaps the day behind it: "21:00 yesterday", "9pm on monday".
fn behind_clock(tokens: &[Token], time: civil::Time, used: usize, ctx: &Context<'_>) -> (Said, usize) {
    let on = used + usize::from(tokens.get(used).is_some_and(|token| token.is("on")));
    match day(&tokens[on..], ctx) {
        Some((day, more)) => (day.at(time, ctx), on + more),
        None => (moment(ctx.place.zone.date(ctx.now), time, ctx), used),
    }
}

fn moment(date: civil::Date, time: civil::Time, ctx: &Context<'_>) -> Said {
    Said::Moment(ctx.place.zone.instant(date.to_datetime(time)))
}

fn whole(moment: Timestamp) -> Timestamp {
    Timestamp::from_second(moment.as_second()).unwrap_or(moment)
}

/// "2h ago", "half an hour ago".
fn ago(tokens: &[Token], ctx: &Context<'_>) -> Option<Result<(Said, usize), Refusal>> {
    let until = tokens
        .iter()
        .take(SPAN_WORDS_MAX + 1)
        .position(|token| token.is("ago"))?;
    let span = join(tokens.get(..until).filter(|span| !span.is_empty())?);
    Some(match duration_min(&span) {
        Ok(minutes) => {
            // At most 366 days: far inside what a whole number of seconds holds.
            let back = jiff::SignedDuration::from_secs((minutes * 60.0).round() as i64);
            let moment = ctx.now.checked_sub(back).unwrap_or(Timestamp::MIN);
            Ok((Said::Moment(whole(moment)), until + 1))
        }
        Err(found) => Err(Refusal(problem(&found, ctx.place.units))),
    })
}

/// A day as it was said.
enum Day {
    Date(civil::Date),
    /// The last day of this name.
    Weekday(i8),
}

impl Day {
    fn back(weekday: i8, from: civil::Date) -> civil::Date {
        let days = i64::from(from.weekday().to_monday_one_offset() - weekday).rem_euclid(7);
        plus_days(from, -days)
    }

    fn date(&self, ctx: &Context<'_>) -> civil::Date {
        match *self {
            Self::Date(date) => date,
            Self::Weekday(weekday) => Self::back(weekday, ctx.place.zone.date(ctx.now)),
        }
    }

    fn at(&self, time: civil::Time, ctx: &Context<'_>) -> Said {
        let date = self.date(ctx);
        match (self, moment(date, time, ctx)) {
            (Self::Weekday(_), Said::Moment(found)) if found > ctx.now => {
                moment(plus_days(date, -7), time, ctx)
            }
            (_, found) => found,
        }
    }
}

fn day(tokens: &[Token], ctx: &Context<'_>) -> Option<(Day, usize)> {
    let skipped = usize::from(tokens.first()?.is("last") || tokens.first()?.is("on"));
    let token = tokens.get(skipped).filter(|token| !token.quoted)?;
    if let Some(weekday) = weekday(&token.key) {
        return Some((Day::Weekday(weekday), skipped + 1));
    }
    let today = ctx.place.zone.date(ctx.now);
    let date = match token.key.as_str() {
        _ if skipped > 0 && token.key.len() != 10 => return None,
        "today" => today,
        "yesterday" => plus_days(today, -1),
        "tomorrow" => plus_days(today, 1),
        key => date(key)?,
    };
    Some((Day::Date(date), skipped + 1))
}

/// A date as `2026-03-08`.
pub(super) fn date(key: &str) -> Option<civil::Date> {
    let digits = key.len() == 10 && key.bytes().all(|b| b.is_ascii_digit() || b == b'-');
    digits.then(|| key.parse().ok()).flatten()
}

/// The weekday of a name or its short form: 1 Monday to 7 Sunday.
pub(super) fn weekday(key: &str) -> Option<i8> {
    const NAMES: [(&str, &str); 7] = [
        ("monday", "mon"),
        ("tuesday", "tue tues"),
        ("wednesday", "wed"),
        ("thursday", "thu thur thurs"),
        ("friday", "fri"),
        ("saturday", "sat"),
        ("sunday", "sun"),
    ];
    let found = NAMES
        .iter()
        .position(|(name, short)| *name == key || short.split(' ').any(|one| one == key));
    found.and_then(|at| i8::try_from(at + 1).ok())
}

/// Reads a time of day: `18:40`, `8:05`, `7pm`, `7 pm`, `noon`. `None` when none starts here.
pub(super) fn clock(tokens: &[Token]) -> Option<(Result<civil::Time, Refusal>, usize)> {
    let first = tokens.first().filter(|token| !token.quoted)?;
    if first.key == "noon" {
        return Some((Ok(civil::time(12, 0, 0, 0)), 1));
    }
    let second = tokens
        .get(1)
        .filter(|token| !token.quoted)
        .map_or("", |token| &token.key);
    if matches!(second, "am" | "pm" | "a.m" | "p.m")
        && first.key.bytes().all(|b| b.is_ascii_digit() || b == b':')
    {
        return clock_of(&format!("{}{second}", first.key)).map(|time| (time, 2));
    }
    clock_of(&first.key).map(|time| (time, 1))
}

fn clock_of(key: &str) -> Option<Result<civil::Time, Refusal>> {
    let half = ["am", "a.m", "pm", "p.m"]
        .iter()
        .find(|half| key.ends_with(**half));
    let digits = half.map_or(key, |half| &key[..key.len() - half.len()]);
    let mut parts = digits.split(':');
    let parts = [parts.next(), parts.next(), parts.next(), parts.next()];
    let short = |part: &str| (1..=2).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
    let shaped = parts.iter().flatten().all(|part| short(part)) && parts[3].is_none();
    if !shaped || (half.is_none() && parts[1].is_none()) {
        return None;
    }
    let [hour, minute, second, _] = parts.map(|part| part.map_or(Some(0), |part| part.parse::<i8>().ok()));
    let hour = match (hour?, half.map(|half| half.starts_with('p'))) {
        (hour, None) => Some(hour),
        (12, Some(afternoon)) => Some(if afternoon { 12 } else { 0 }),
        (hour @ 1..12, Some(afternoon)) => Some(if afternoon { hour + 12 } else { hour }),
        _ => None,
    };
    let time = hour.and_then(|hour| civil::Time::new(hour, minute?, second?, 0).ok());
    Some(time.ok_or_else(|| refuse(msg!("no-time-none-such", text = key))))
}

/// A moment that a line needs with its time of day.
pub(super) fn timed(said: Said, text: &str) -> Result<Timestamp, Refusal> {
    match said {
        Said::Moment(moment) => Ok(moment),
        Said::Day(_) => Err(refuse(msg!("no-time-needs-clock", text = text))),
    }
}

/// A moment from which something counts; a day alone is its start.
pub(super) fn starting(said: Said, ctx: &Context<'_>) -> Timestamp {
    match said {
        Said::Moment(moment) => moment,
        Said::Day(date) => ctx.place.zone.day_start(date),
    }
}

/// Holds a moment to the past.
pub(super) fn past(moment: Timestamp, ctx: &Context<'_>) -> Result<Timestamp, Refusal> {
    if moment <= ctx.now {
        return Ok(moment);
    }
    let local = ctx.place.zone.civil(moment);
    let today = local.date() == ctx.place.zone.date(ctx.now);
    let text = local
        .strftime(if today { "%H:%M" } else { "%Y-%m-%d %H:%M" })
        .to_string();
    let id = if today {
        "no-time-to-come-today"
    } else {
        "no-time-to-come"
    };
    Err(refuse(msg!(id, text = text)))
}
