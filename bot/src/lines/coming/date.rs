//! Dates as people say them: "sunday", "tomorrow", "the 20th", "3 July", "the end of the month", "2026-07-03".

use jiff::{ToSpan, civil};
use wrackline_core::civil::plus_days;

use super::fillers;
use crate::lines::token::Token;
use crate::lines::when;

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

/// How many months or years are looked through for the next day of its number: a leap day comes within eight years.
const TRIES: i32 = 9;

/// The date that starts at the first word, and how many words it has. What comes again and again, as weekdays and days
/// of a month do, is the first from `earliest` on; "tomorrow" is that of today.
pub(super) fn date(
    tokens: &[Token],
    today: civil::Date,
    earliest: civil::Date,
) -> Option<(civil::Date, usize)> {
    let skipped = fillers(tokens);
    let is_next = tokens.get(skipped)?.is("next");
    let at = skipped + usize::from(is_next);
    let token = tokens.get(at).filter(|token| !token.quoted)?;
    if let Some(weekday) = when::weekday(&token.key) {
        let days = i64::from(weekday - earliest.weekday().to_monday_one_offset()).rem_euclid(7);
        let days = if is_next && days == 0 { 7 } else { days };
        return Some((plus_days(earliest, days), at + 1));
    }
    if is_next {
        return None;
    }
    let named = match token.key.as_str() {
        // What is over is told to be so by whatever hears it.
        "yesterday" => Some(plus_days(today, -1)),
        "today" => Some(today),
        "tomorrow" => Some(plus_days(today, 1)),
        key => when::date(key),
    };
    if let Some(date) = named {
        return Some((date, at + 1));
    }
    let rest = &tokens[at..];
    day_after(rest, today)
        .or_else(|| end_of(rest, earliest))
        .or_else(|| of_month(rest, earliest))
        .or_else(|| numbered(rest, earliest, at > 0 && tokens[at - 1].is("the")))
        .map(|(date, used)| (date, at + used))
}

/// Whether words begin with these, each of them not quoted.
fn begins(tokens: &[Token], words: &[&str]) -> bool {
    tokens.len() >= words.len() && words.iter().zip(tokens).all(|(word, token)| token.is(word))
}

fn day_after(tokens: &[Token], today: civil::Date) -> Option<(civil::Date, usize)> {
    begins(tokens, &["day", "after", "tomorrow"]).then(|| (plus_days(today, 2), 3))
}

/// "End of the week", "end of month".
fn end_of(tokens: &[Token], earliest: civil::Date) -> Option<(civil::Date, usize)> {
    let behind = tokens.get(2..).filter(|_| begins(tokens, &["end", "of"]))?;
    let skipped = fillers(behind);
    let unit = behind.get(skipped)?;
    let date = if unit.is("week") {
        let days = 6 - i64::from(earliest.weekday().to_monday_zero_offset());
        plus_days(earliest, days)
    } else if unit.is("month") {
        earliest.last_of_month()
    } else {
        return None;
    };
    Some((date, 3 + skipped))
}

/// "3 July", "July the 3rd", "3rd of July 2027": without its year the first such day.
fn of_month(tokens: &[Token], earliest: civil::Date) -> Option<(civil::Date, usize)> {
    let (first, second) = (tokens.first()?, tokens.get(1)?);
    let small = ["of", "the"].iter().any(|word| second.is(word));
    let second = tokens.get(1 + usize::from(small)).filter(|token| !token.quoted)?;
    let (day, month) = match (day_number(&first.key), month(&second.key)) {
        (Some(day), Some(month)) => (day, month),
        _ => (day_number(&second.key)?, month(&first.key)?),
    };
    let used = 2 + usize::from(small);
    let year = tokens
        .get(used)
        .filter(|token| !token.quoted && token.key.len() == 4);
    if let Some(year) = year.and_then(|token| token.key.parse().ok()) {
        return Some((civil::Date::new(year, month, day).ok()?, used + 1));
    }
    let of_year = |more: i32| {
        let year = earliest.year().checked_add(i16::try_from(more).ok()?)?;
        civil::Date::new(year, month, day).ok()
    };
    let found = (0..TRIES).filter_map(of_year).find(|date| *date >= earliest)?;
    Some((found, used))
}

/// "The 20th": the first such day.
fn numbered(tokens: &[Token], earliest: civil::Date, is_the: bool) -> Option<(civil::Date, usize)> {
    let token = tokens.first()?;
    let is_plain = token.key.bytes().all(|byte| byte.is_ascii_digit());
    if is_plain && !is_the {
        return None;
    }
    numbered_from(day_number(&token.key)?, earliest).map(|date| (date, 1))
}

/// The first day of a month with this number.
pub(in crate::lines) fn numbered_from(day: i8, earliest: civil::Date) -> Option<civil::Date> {
    let first = earliest.first_of_month();
    let of_month = |more: i32| {
        let month = first.saturating_add(more.months());
        civil::Date::new(month.year(), month.month(), day).ok()
    };
    (0..TRIES).filter_map(of_month).find(|date| *date >= earliest)
}

/// The number of a day within its month, with or without its ending.
pub(in crate::lines) fn day_number(key: &str) -> Option<i8> {
    let digits = ["st", "nd", "rd", "th"]
        .iter()
        .find_map(|end| key.strip_suffix(end))
        .unwrap_or(key);
    digits.parse().ok().filter(|day| (1..=31).contains(day))
}

/// The number of a month by its name or the beginning of that.
pub(in crate::lines) fn month(key: &str) -> Option<i8> {
    let at = MONTHS
        .iter()
        .position(|name| key.len() >= 3 && name.starts_with(key))?;
    i8::try_from(at + 1).ok()
}
