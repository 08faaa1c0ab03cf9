//! Spans that have a name: "tonight", "this weekend", "next month"; and lengths: "for 3 days".

use jiff::{ToSpan, civil};
use wrackline_core::civil::plus_days;

use super::{Edge, Span};
use crate::lines::schedule::{self, Length};
use crate::lines::token::Token;
use crate::lines::{Context, Refusal};

/// Words that say nothing beside a span.
const FILLERS: [&str; 10] = [
    "for", "the", "at", "on", "over", "this", "all", "whole", "of", "coming",
];

/// The span that all of the words name; `None` when they name none.
pub(super) fn span(words: &[Token], ctx: &Context<'_>) -> Option<Span> {
    if words.iter().any(|word| word.quoted) {
        return None;
    }
    let today = ctx.place.zone.date(ctx.now);
    let monday = plus_days(today, -i64::from(today.weekday().to_monday_zero_offset()));
    let from = |first: civil::Date, last: civil::Date| Span {
        from: Edge::Day(first.max(today)),
        to: Edge::Day(last),
        lasting: None,
    };
    let days = |first: i64, last: i64| from(plus_days(monday, first), plus_days(monday, last));
    let said: Vec<&str> = words
        .iter()
        .map(|word| word.key.as_str())
        .filter(|key| !FILLERS.contains(key))
        .collect();
    Some(match said.as_slice() {
        ["week"] | ["rest", "week"] => days(0, 6),
        ["next", "week"] => days(7, 13),
        ["weekend"] => days(5, 6),
        ["next", "weekend"] => days(12, 13),
        ["month"] | ["rest", "month"] => from(today, today.last_of_month()),
        ["next", "month"] => {
            let first = today.first_of_month().saturating_add(1.months());
            from(first, first.last_of_month())
        }
        ["day"] => from(today, today),
        _ => return None,
    })
}

/// How long a span lasts: "for 3 days", "a week", "the next 2 weeks". `None` where no length is said, an error where
/// "for" leads one that cannot be read.
pub(in crate::lines) fn length(words: &[Token], ctx: &Context<'_>) -> Option<Result<Length, Refusal>> {
    let is_led = words.first()?.is("for");
    let is_small = |word: &&Token| {
        ["for", "the", "next", "another"]
            .iter()
            .any(|small| word.is(small))
    };
    let skipped = words.iter().take_while(is_small).count();
    let length = schedule::length(&words[skipped..], ctx);
    let is_figure = |word: &Token| word.key.starts_with(|c: char| c.is_ascii_digit());
    let is_meant = is_led && words.get(1).is_some_and(is_figure);
    (length.is_ok() || is_meant).then_some(length)
}
