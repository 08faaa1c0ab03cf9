//! Duties of a place's own, and schedules bound to a calendar.

use chrono::{Datelike, NaiveDate, Timelike};
use jiff::{Timestamp, civil};
use serde::{Deserialize, Serialize};

use super::Every;
use crate::civil::{plus_days, plus_minutes};
use crate::place::{Place, Target};

/// When a duty of a place's own falls due.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Schedule {
    /// After an interval, counted from when it was last done.
    Every(Every),
    /// On weekdays (1 Monday to 7 Sunday, ISO 8601), at the day's first round or at a time of its own.
    Weekdays {
        /// The weekdays, each once, in order.
        days: Vec<i8>,
        /// The time of day; `None`: the first round's.
        at: Option<civil::Time>,
    },
    /// By a cron expression in the place's civil time.
    Cron(String),
}

/// A duty of a place's own.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OwnDuty {
    /// What it is called.
    pub name: String,
    /// What it is about.
    pub target: Target,
    /// When it falls due.
    pub schedule: Schedule,
    /// Hours after due at which it is late.
    pub grace_h: u32,
    /// Whether it digs, lifts or scrubs, so that a quiet zone holds it back.
    pub disturbs: bool,
}

/// How far ahead an occurrence is looked for: a rule that has none by then has ended.
const HORIZON_DAYS: i64 = 366 * 5;

impl Schedule {
    /// Whether it keeps a calendar rather than an interval.
    #[must_use]
    pub fn is_calendar(&self) -> bool {
        !matches!(self, Self::Every(_))
    }

    /// The first occurrence strictly after a civil time; `None` when there is none within five years, or the
    /// schedule is an interval.
    #[must_use]
    pub fn next(&self, place: &Place, after: civil::DateTime) -> Option<civil::DateTime> {
        match self {
            Self::Every(_) => None,
            Self::Weekdays { days, at } => {
                let time = at.unwrap_or(place.rounds[0].time);
                (0..=7)
                    .map(|day| plus_days(after.date(), day).to_datetime(time))
                    .find(|one| *one > after && days.contains(&one.weekday().to_monday_one_offset()))
            }
            Self::Cron(text) => next_by_cron(text, after),
        }
    }

    /// The last occurrence at or before a civil time, looked for within a year.
    #[must_use]
    pub fn last(&self, place: &Place, until: civil::DateTime) -> Option<civil::DateTime> {
        self.last_of(place, until, |_| true)
    }

    /// The last occurrence whose instant has come, looked for within a year. In a clock change its civil time may
    /// be later than the clock's.
    #[must_use]
    pub fn last_come(&self, place: &Place, now: Timestamp) -> Option<civil::DateTime> {
        let until = place.zone.civil(plus_minutes(now, 24 * 60));
        self.last_of(place, until, |one| place.zone.instant(one) <= now)
    }

    fn last_of(
        &self,
        place: &Place,
        until: civil::DateTime,
        counts: impl Fn(civil::DateTime) -> bool,
    ) -> Option<civil::DateTime> {
        // Schedules only enumerate forwards, so look in windows that grow backwards.
        [2_i64, 9, 40, 400].into_iter().find_map(|back| {
            let mut from = plus_days(until.date(), -back).to_datetime(civil::Time::midnight());
            let mut found = None;
            while let Some(one) = self.next(place, from).filter(|one| *one <= until) {
                found = Some(one).filter(|one| counts(*one)).or(found);
                from = one;
            }
            found
        })
    }
}

/// Reads a cron expression of five fields (minute, hour, day, month, weekday), where weekday 0 and 7 are Sunday
/// and 1 is Monday, and returns it as the `cron` crate wants it: with seconds, and weekdays by name, since that
/// crate counts them from Sunday as 1.
///
/// # Errors
/// The crate's own words when the expression cannot be read.
pub fn read_cron(text: &str) -> Result<String, String> {
    let fields: Vec<&str> = text.split_whitespace().collect();
    let &[minute, hour, day, month, weekday] = fields.as_slice() else {
        return Err(format!("{} fields instead of 5", fields.len()));
    };
    let weekday = name_weekdays(weekday)?;
    let full = format!("0 {minute} {hour} {day} {month} {weekday}");
    parse(&full).map(|_| full)
}

fn parse(full: &str) -> Result<cron::Schedule, String> {
    full.parse::<cron::Schedule>().map_err(|error| error.to_string())
}

fn name_weekdays(field: &str) -> Result<String, String> {
    const NAMES: [&str; 8] = ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
    let name = |part: &str| match part.parse::<usize>() {
        Ok(number) => NAMES
            .get(number)
            .map(|name| (*name).to_owned())
            .ok_or(format!("weekday {number} is not 0 to 7")),
        Err(_) => Ok(part.to_owned()),
    };
    let mut parts = Vec::new();
    for part in field.split(',') {
        let (range, step) = part
            .split_once('/')
            .map_or((part, None), |(range, step)| (range, Some(step)));
        let named = match range.split_once('-') {
            // The crate reads Sun as the first day, so a range that ends on Sunday is written as two.
            Some((from, to))
                if matches!(name(to)?.as_str(), "Sun") && name(from)? != "Sun" && step.is_none() =>
            {
                format!("{}-Sat,Sun", name(from)?)
            }
            Some((from, to)) => format!("{}-{}", name(from)?, name(to)?),
            None => name(range)?,
        };
        parts.push(step.map_or(named.clone(), |step| format!("{named}/{step}")));
    }
    Ok(parts.join(","))
}

fn next_by_cron(full: &str, after: civil::DateTime) -> Option<civil::DateTime> {
    let schedule = parse(full).ok()?;
    // The crate's own zone iterator skips a gap day and fires twice in an overlap: it is asked in civil time
    // only, dressed as UTC, and the zone is resolved by `crate::civil`.
    let from = NaiveDate::from_ymd_opt(
        i32::from(after.year()),
        u32::from(after.month().unsigned_abs()),
        u32::from(after.day().unsigned_abs()),
    )?
    .and_hms_opt(
        u32::from(after.hour().unsigned_abs()),
        u32::from(after.minute().unsigned_abs()),
        u32::from(after.second().unsigned_abs()),
    )?
    .and_utc();
    let one = schedule.after(&from).next()?.naive_utc();
    let small = |value: u32| i8::try_from(value).ok();
    let found = civil::DateTime::new(
        i16::try_from(one.year()).ok()?,
        small(one.month())?,
        small(one.day())?,
        small(one.hour())?,
        small(one.minute())?,
        small(one.second())?,
        0,
    )
    .ok()?;
    (found.date() <= plus_days(after.date(), HORIZON_DAYS)).then_some(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn five_fields_become_the_crates_own() {
        let check =
            |text: &str, expected: &str| assert_eq!(read_cron(text).as_deref(), Ok(expected), "{text}");
        check("30 21 * * 1-5", "0 30 21 * * Mon-Fri");
        check("0 8 * * 0", "0 0 8 * * Sun");
        check("0 8 * * 6,7", "0 0 8 * * Sat,Sun");
        check("0 8 * * 5-7", "0 0 8 * * Fri-Sat,Sun");
        assert!(read_cron("0 8 * *").is_err());
        assert!(read_cron("0 8 * * 9").is_err());
        assert!(read_cron("61 8 * * *").is_err());
    }

    #[test]
    fn monday_is_monday() {
        let full = read_cron("0 8 * * 1").unwrap();
        let next = next_by_cron(&full, civil::date(2026, 3, 4).at(12, 0, 0, 0)).unwrap();
        assert_eq!(next, civil::date(2026, 3, 9).at(8, 0, 0, 0));
        assert_eq!(next.weekday(), civil::Weekday::Monday);
    }
}
