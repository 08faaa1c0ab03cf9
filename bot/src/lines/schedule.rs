//! How often: intervals, weekdays, cron expressions, and spans in whole hours.

use jiff::{Timestamp, ToSpan};
use wrackline_core::care::calendar::read_cron;
use wrackline_core::care::{Every, Schedule};
use wrackline_core::civil::plus_minutes;
use wrackline_core::quantity::duration_min;

use super::problem::problem;
use super::token::{Token, join};
use super::{Context, Refusal, refuse, when};
use crate::msg;

const HOUR_MIN: f64 = 60.0;
const DAY_MIN: f64 = 1440.0;

/// Hours of a civil day.
const DAY_H: u32 = 24;

/// How often, as it was said behind "every".
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Often {
    /// After an interval.
    Every(Every),
    /// On days of the week.
    Weekdays(Vec<i8>),
}

/// Reads "3 days", "48 h", "day", "other day", "Mon Thu".
pub(super) fn often(tokens: &[Token], ctx: &Context<'_>) -> Result<Often, Refusal> {
    if let Some(days) = weekdays(tokens) {
        return Ok(Often::Weekdays(days));
    }
    let phrase = super::token::phrase(tokens);
    let text = match phrase.as_str() {
        "other day" | "second day" => "2 days".to_owned(),
        "day" | "week" | "hour" => format!("1 {phrase}"),
        _ => join(tokens),
    };
    let minutes = minutes(&text, ctx)?;
    // Days keep the round and hours do not, so it matters which of them was said.
    let unit = text.to_lowercase();
    let unit = unit.trim_start_matches(|c: char| !c.is_alphabetic());
    let by_hours = unit
        .split_whitespace()
        .last()
        .is_some_and(|word| word.starts_with('h'));
    if minutes % DAY_MIN == 0.0 && !by_hours {
        return Ok(Often::Every(Every::Days(count(minutes / DAY_MIN))));
    }
    whole_hours(minutes, &text).map(|hours| Often::Every(Every::Hours(hours)))
}

/// Reads a span of time in whole hours.
pub(super) fn hours(tokens: &[Token], ctx: &Context<'_>) -> Result<u32, Refusal> {
    let text = join(tokens);
    whole_hours(minutes(&text, ctx)?, &text)
}

/// So many hours later; whole days by the calendar, so that a clock change moves no return.
pub(super) fn later(from: Timestamp, hours: u32, ctx: &Context<'_>) -> Timestamp {
    let zone = &ctx.place.zone;
    if hours.is_multiple_of(DAY_H) {
        let days = i64::from(hours / DAY_H);
        zone.instant(zone.civil(from).saturating_add(days.days()))
    } else {
        plus_minutes(from, i64::from(hours) * 60)
    }
}

fn minutes(text: &str, ctx: &Context<'_>) -> Result<f64, Refusal> {
    duration_min(text).map_err(|found| Refusal(problem(&found, ctx.place.units)))
}

fn whole_hours(minutes: f64, text: &str) -> Result<u32, Refusal> {
    if minutes % HOUR_MIN == 0.0 {
        Ok(u32::from(count(minutes / HOUR_MIN)))
    } else {
        Err(refuse(msg!("no-span-no-whole-hours", text = text)))
    }
}

/// A whole number of hours or days; spans end at 366 days, which is 8784 h.
fn count(whole: f64) -> u16 {
    whole as u16
}

/// Reads days of the week, each once, in order; `None` unless all the words are such.
pub(super) fn weekdays(tokens: &[Token]) -> Option<Vec<i8>> {
    let mut days = Vec::new();
    for token in tokens.iter().filter(|token| !token.joins()) {
        let key = token
            .key
            .strip_suffix('s')
            .filter(|key| key.ends_with("day"))
            .unwrap_or(&token.key);
        let day = when::weekday(key).filter(|_| !token.quoted)?;
        if !days.contains(&day) {
            days.push(day);
        }
    }
    days.sort_unstable();
    (!days.is_empty()).then_some(days)
}

/// Reads a cron expression of five fields, quoted or as five words.
pub(super) fn cron(tokens: &[Token]) -> Result<Schedule, Refusal> {
    let text = join(tokens);
    read_cron(&capitalised(&text))
        .map(Schedule::Cron)
        .map_err(|_| refuse(msg!("no-cron-unreadable", text = text)))
}

/// Names of months and weekdays as a cron expression wants them, whatever their case was.
fn capitalised(text: &str) -> String {
    let mut inside = false;
    let letter = |c: char| {
        let out = if inside {
            c.to_ascii_lowercase()
        } else {
            c.to_ascii_uppercase()
        };
        inside = c.is_ascii_alphabetic();
        out
    };
    text.chars().map(letter).collect()
}
