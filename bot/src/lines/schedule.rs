//! How often: intervals, weekdays, cron expressions, and spans in whole hours.

use jiff::{Timestamp, ToSpan};
use wrackline_core::care::calendar::read_cron;
use wrackline_core::care::{Every, Schedule};
use wrackline_core::civil::plus_minutes;
use wrackline_core::quantity::{Problem, duration_min};

use super::problem::problem;
use super::token::{Token, join};
use super::{Context, Refusal, refuse, when};
use crate::msg;

const HOUR_MIN: f64 = 60.0;
const DAY_MIN: f64 = 1440.0;

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
        "day" | "week" | "fortnight" | "hour" => format!("1 {phrase}"),
        _ => join(tokens),
    };
    let minutes = minutes(&text, ctx)?;
    // Days keep the round and hours do not, so it matters which of them was said.
    if minutes % DAY_MIN == 0.0 && !is_clock_unit(&text) {
        return Ok(Often::Every(Every::Days(count(minutes / DAY_MIN))));
    }
    whole_hours(minutes, &text).map(|hours| Often::Every(Every::Hours(hours)))
}

/// Reads a span of time in whole hours.
pub(super) fn hours(tokens: &[Token], ctx: &Context<'_>) -> Result<u32, Refusal> {
    let text = join(tokens);
    whole_hours(minutes(&text, ctx)?, &text)
}

/// How long something lasts that is to come. What is said in days, weeks or months is counted on the calendar, so that
/// a clock change moves no return; what is said in hours or minutes elapses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Length {
    /// Months.
    Months(u16),
    /// Days.
    Days(u16),
    /// Minutes.
    Minutes(u32),
}

impl Length {
    /// Longer than any line bears, which the desk refuses with the bound that holds there.
    const BEYOND: Self = Self::Days(u16::MAX);

    /// The moment so much later.
    pub(super) fn behind(self, from: Timestamp, ctx: &Context<'_>) -> Timestamp {
        let zone = &ctx.place.zone;
        let civil = zone.civil(from);
        match self {
            Self::Months(months) => zone.instant(civil.saturating_add(i64::from(months).months())),
            Self::Days(days) => zone.instant(civil.saturating_add(i64::from(days).days())),
            Self::Minutes(minutes) => plus_minutes(from, i64::from(minutes)),
        }
    }
}

/// Reads a length of time to come: "3 days", "24 hours", "a fortnight", "2 months", "90 min".
pub(super) fn length(tokens: &[Token], ctx: &Context<'_>) -> Result<Length, Refusal> {
    if let Some(months) = months(tokens) {
        return Ok(Length::Months(months));
    }
    let text = match tokens {
        [one] if one.is("fortnight") => "1 fortnight".to_owned(),
        tokens => join(tokens),
    };
    let minutes = match duration_min(&text) {
        Err(Problem::OutOfRange { value, high, .. }) if value > high => return Ok(Length::BEYOND),
        Err(Problem::OutOfRange { .. }) => return Err(refuse(msg!("no-span-nought", text = text))),
        found => found.map_err(|found| Refusal(problem(&found, ctx.place.units)))?,
    };
    if minutes % DAY_MIN == 0.0 && !is_clock_unit(&text) {
        return Ok(Length::Days(count(minutes / DAY_MIN)));
    }
    Ok(Length::Minutes(minutes.round() as u32))
}

/// Whether the last unit of a length is that of a clock: hours or minutes.
fn is_clock_unit(text: &str) -> bool {
    let unit = text.to_lowercase();
    let last = unit.split_whitespace().last().unwrap_or_default();
    let last = last.trim_start_matches(|c: char| !c.is_alphabetic());
    last.starts_with('h') || last.starts_with('m')
}

/// Whole months, twelve of which are a year: read as so many days, since their number goes the same way.
fn months(tokens: &[Token]) -> Option<u16> {
    let (last, number) = tokens.split_last()?;
    let each = match last.key.as_str() {
        "month" | "months" => 1.0,
        "year" | "years" => 12.0,
        _ => return None,
    };
    let days = duration_min(&format!("{} days", join(number))).ok()? / DAY_MIN;
    (days.fract() == 0.0).then(|| count(days * each))
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
