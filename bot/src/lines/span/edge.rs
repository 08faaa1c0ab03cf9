//! Where a span begins, and where it ends.

use jiff::civil;
use wrackline_core::civil::plus_days;

use super::{Edge, Span};
use crate::lines::coming::{self, Coming, Of, date};
use crate::lines::token::{Token, tokens};
use crate::lines::{Context, Refusal, when};

/// Days from one weekday to the next of its name.
const DAYS_OF_WEEK: i64 = 7;

/// The beginning and the end that one day is.
pub(super) fn both(coming: &Coming, ctx: &Context<'_>) -> Span {
    Span {
        from: beginning(coming, ctx),
        to: ending(coming, ctx),
        lasting: None,
    }
}

fn beginning(coming: &Coming, ctx: &Context<'_>) -> Edge {
    match coming.of {
        Of::Part(part) => Edge::Moment(part.span(coming.date, ctx).0.max(ctx.now)),
        _ => ending(coming, ctx),
    }
}

fn ending(coming: &Coming, ctx: &Context<'_>) -> Edge {
    match coming.of {
        Of::Day => Edge::Day(coming.date),
        Of::Time(time) => Edge::Moment(ctx.place.zone.instant(coming.date.to_datetime(time))),
        Of::Round(round) => Edge::Round(coming.date, round),
        Of::Part(part) => {
            let end = part.span(coming.date, ctx).1;
            let is_midnight = end == ctx.place.zone.day_start(plus_days(coming.date, 1));
            if is_midnight {
                Edge::Day(coming.date)
            } else {
                Edge::Moment(end)
            }
        }
    }
}

/// Where a span begins: a day to come, "now", "6pm"; "3" where the month stands behind "to". `None` when it is none.
pub(in crate::lines) fn from(
    words: &[Token],
    to: &[Token],
    ctx: &Context<'_>,
) -> Option<Result<Edge, Refusal>> {
    if matches!(words, [word] if word.is("now")) {
        return Some(Ok(Edge::Now));
    }
    if let Some(found) = clock(words, Edge::Now, ctx) {
        return Some(found);
    }
    if let [word] = words
        && !word.quoted
        && let Some(day) = date::day_number(&word.key)
    {
        return numbered(day, to, ctx).map(Ok);
    }
    match coming::whole(words, ctx) {
        Ok(coming) => Some(Ok(beginning(&coming, ctx))),
        Err(refusal) => moment(words, ctx).map(Ok).or_else(|| {
            // What is wrong with a day that begins well is told of that.
            coming::read(words, ctx).map(|_| Err(refusal))
        }),
    }
}

/// A day by its number alone: of the month that stands behind "to", else the next such day.
fn numbered(day: i8, to: &[Token], ctx: &Context<'_>) -> Option<Edge> {
    let today = ctx.place.zone.date(ctx.now);
    let month = to.iter().find(|word| date::month(&word.key).is_some());
    let words = month.map(|month| [tokens(&day.to_string()), vec![month.clone()]].concat());
    match words.and_then(|words| coming::whole(&words, ctx).ok()) {
        Some(coming) => Some(Edge::Day(coming.date)),
        None => date::numbered_from(day, today).map(Edge::Day),
    }
}

/// Where a span that begins at `from` ends. A weekday is the first of its name after the day on which it begins, so that
/// "until Sunday" said on a Sunday is a week; "today", and "this", say the day itself.
pub(in crate::lines) fn until(words: &[Token], from: Edge, ctx: &Context<'_>) -> Result<Edge, Refusal> {
    let begins = from.start(ctx);
    let first = ctx.place.zone.date(begins);
    if let Some(found) = clock(words, from, ctx) {
        return found;
    }
    if let [word] = words
        && !word.quoted
    {
        if word.key == "midnight" {
            return Ok(Edge::Day(first));
        }
        if let Some(found) = date::day_number(&word.key).and_then(|day| date::numbered_from(day, first)) {
            return Ok(Edge::Day(found));
        }
    }
    if let Some(date) = before_next(words, first) {
        return Ok(Edge::Day(date));
    }
    match coming::whole_from(words, first, ctx) {
        Ok(coming) => Ok(ending(&after(coming, words, first, from, ctx), ctx)),
        Err(refusal) => moment(words, ctx).ok_or(refusal),
    }
}

/// A weekday that is over by the beginning, or is the day of that itself, is the one a week later.
fn after(coming: Coming, words: &[Token], first: civil::Date, from: Edge, ctx: &Context<'_>) -> Coming {
    let is_weekday = |word: &Token| !word.quoted && when::weekday(&word.key).is_some();
    if !words.iter().any(is_weekday) || words.iter().any(|word| word.is("this")) {
        return coming;
    }
    let is_over = match coming.of {
        Of::Day => coming.date <= first,
        _ => {
            ending(&coming, ctx)
                .moment(ctx)
                .unwrap_or_else(|| ending(&coming, ctx).end(ctx))
                <= from.start(ctx)
        }
    };
    Coming {
        date: plus_days(coming.date, i64::from(is_over) * DAYS_OF_WEEK),
        ..coming
    }
}

/// "Until next week" is up to its Monday, "until next month" up to its first day.
fn before_next(words: &[Token], first: civil::Date) -> Option<civil::Date> {
    let [next, unit] = words else { return None };
    if !next.is("next") {
        return None;
    }
    if unit.is("week") {
        let days = DAYS_OF_WEEK - 1 - i64::from(first.weekday().to_monday_zero_offset());
        return Some(plus_days(first, days));
    }
    unit.is("month").then(|| first.last_of_month())
}

/// A time of day, perhaps with its day behind it: "6pm", "6pm on friday". Alone it is the next such moment.
fn clock(words: &[Token], from: Edge, ctx: &Context<'_>) -> Option<Result<Edge, Refusal>> {
    let skipped = coming::fillers(words);
    let (time, used) = when::clock(&words[skipped..])?;
    let time = match time {
        Ok(time) => time,
        Err(refusal) => return Some(Err(refusal)),
    };
    let zone = &ctx.place.zone;
    let begins = from.start(ctx);
    let first = zone.date(begins);
    let at = |date: civil::Date| zone.instant(date.to_datetime(time));
    let rest = &words[skipped + used..];
    if rest.is_empty() {
        let days = i64::from(at(first) <= begins);
        return Some(Ok(Edge::Moment(at(plus_days(first, days)))));
    }
    let coming = coming::whole_from(rest, first, ctx).ok()?;
    let coming = after(
        Coming {
            of: Of::Time(time),
            ..coming
        },
        rest,
        first,
        from,
        ctx,
    );
    Some(Ok(Edge::Moment(at(coming.date))))
}

/// A moment as it is written on a machine: "2026-03-08T18:40".
fn moment(words: &[Token], ctx: &Context<'_>) -> Option<Edge> {
    let said = match when::read(words, ctx)? {
        Ok((said, used)) if used == words.len() => said,
        _ => return None,
    };
    match said {
        when::Said::Moment(moment) => Some(Edge::Moment(moment)),
        when::Said::Day(_) => None,
    }
}
