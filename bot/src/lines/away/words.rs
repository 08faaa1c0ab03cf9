//! Absences as people say them: "for 3 days", "tonight", "this weekend", "next week".

use jiff::{Timestamp, civil};
use wrackline_core::civil::{hold, plus_days};

use crate::lines::token::Token;
use crate::lines::{Context, Refusal, schedule};

/// When the evening begins where no round says it.
const EVENING: civil::Time = civil::time(18, 0, 0, 0);

/// Words that say nothing beside a span.
const FILLERS: [&str; 8] = ["for", "the", "at", "on", "over", "this", "all", "whole"];

/// The span that all of the words are; `None` when they are none.
pub(super) fn span(words: &[Token], ctx: &Context<'_>) -> Option<(Timestamp, Timestamp)> {
    if let Some(Ok(hours)) = lasting(words, ctx) {
        return Some((ctx.now, schedule::later(ctx.now, hours, ctx)));
    }
    if words.iter().any(|word| word.quoted) {
        return None;
    }
    let zone = &ctx.place.zone;
    let today = zone.date(ctx.now);
    let monday = plus_days(today, -i64::from(today.weekday().to_monday_zero_offset()));
    let days = |from: i64, to: i64| {
        let start = zone.day_start(plus_days(monday, from));
        (start.max(ctx.now), zone.day_start(plus_days(monday, to + 1)))
    };
    let said: Vec<&str> = words
        .iter()
        .map(|word| word.key.as_str())
        .filter(|key| !FILLERS.contains(key))
        .collect();
    Some(match said.as_slice() {
        ["tonight" | "evening"] => (
            evening(today, ctx).max(ctx.now),
            zone.day_start(plus_days(today, 1)),
        ),
        ["week"] | ["rest", "of", "week"] => days(0, 6),
        ["next", "week"] => days(7, 13),
        ["weekend"] => days(5, 6),
        ["next", "weekend"] => days(12, 13),
        _ => return None,
    })
}

/// How many hours an absence lasts: "for 3 days", "a week". `None` where no length is said, an error where "for"
/// leads one that cannot be read.
pub(super) fn lasting(words: &[Token], ctx: &Context<'_>) -> Option<Result<u32, Refusal>> {
    let is_led = words.first()?.is("for");
    let length = schedule::hours(&words[usize::from(is_led)..], ctx);
    let is_figure = |word: &Token| word.key.starts_with(|c: char| c.is_ascii_digit());
    let is_meant = is_led && words.get(1).is_some_and(is_figure);
    (length.is_ok() || is_meant).then_some(length)
}

/// The moment at which an evening begins: with the day's last round, where that is held in the afternoon.
fn evening(today: civil::Date, ctx: &Context<'_>) -> Timestamp {
    let zone = &ctx.place.zone;
    let at = |time: civil::Time| zone.instant(today.to_datetime(time));
    let held = ctx.place.rounds.iter().map(|round| hold(zone, round, today).at);
    let last = held.max().filter(|last| *last >= at(civil::time(12, 0, 0, 0)));
    last.map_or(at(EVENING), |last| last.min(at(EVENING)))
}
