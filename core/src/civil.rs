//! Local time: the one place where a wall-clock time becomes an instant.
//!
//! Civil times are stored with their zone and instants are derived. A civil time that a clock change skipped is
//! read with the offset before the gap (02:30 is held at 03:30); one that comes twice is its first pass. Both as
//! RFC 5545, section 3.3.5, says. Midnight is never assumed to exist.

use std::ops::Range;

use jiff::tz::{AmbiguousOffset, TimeZone, TimeZoneDatabase};
use jiff::{SignedDuration, Timestamp, ToSpan, civil};

use crate::place::{QuietHours, Round};

/// An IANA time zone, resolved with the bundled zone data.
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    tz: TimeZone,
    name: String,
}

impl Zone {
    /// The zone of an IANA name, in any case; `None` when the data has none of that name.
    ///
    /// ```
    /// use wrackline_core::civil::Zone;
    /// assert_eq!(Zone::get("america/new_york").unwrap().name(), "America/New_York");
    /// assert!(Zone::get("Sea/Nowhere").is_none());
    /// ```
    #[must_use]
    pub fn get(name: &str) -> Option<Self> {
        let tz = TimeZoneDatabase::bundled().get(name).ok()?;
        let name = tz.iana_name()?.to_owned();
        Some(Self { tz, name })
    }

    /// Coordinated universal time.
    #[must_use]
    pub fn utc() -> Self {
        Self {
            tz: TimeZone::UTC,
            name: "UTC".to_owned(),
        }
    }

    /// Its IANA name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The instant of a civil time: a gap takes the offset before it, an overlap its first pass.
    #[must_use]
    pub fn instant(&self, civil: civil::DateTime) -> Timestamp {
        let limit = if civil.year() < 0 {
            Timestamp::MIN
        } else {
            Timestamp::MAX
        };
        let passes = self.tz.to_ambiguous_timestamp(civil);
        // Where a zone's table gives way to its rule, an overlap may be told that never was (Nuuk, October 2023):
        // a pass is one only if the clock shows the civil time then.
        if let AmbiguousOffset::Fold { .. } = passes.offset() {
            let shown = self.passes(civil).find(|pass| self.civil(*pass) == civil);
            return shown.unwrap_or(limit);
        }
        passes.compatible().unwrap_or(limit)
    }

    /// Both passes of a civil time: one and the same, but in an overlap.
    fn passes(&self, civil: civil::DateTime) -> impl Iterator<Item = Timestamp> {
        let passes = self.tz.to_ambiguous_timestamp(civil);
        [passes.earlier(), passes.later()].into_iter().flatten()
    }

    /// The civil time of an instant.
    #[must_use]
    pub fn civil(&self, instant: Timestamp) -> civil::DateTime {
        self.tz.to_datetime(instant)
    }

    /// The civil date of an instant.
    #[must_use]
    pub fn date(&self, instant: Timestamp) -> civil::Date {
        self.civil(instant).date()
    }

    /// An instant as RFC 3339 with this zone's offset, seconds written.
    ///
    /// ```
    /// use wrackline_core::civil::Zone;
    /// let zone = Zone::get("America/New_York").unwrap();
    /// let instant = zone.instant(jiff::civil::date(2026, 3, 8).at(2, 30, 0, 0));
    /// assert_eq!(zone.rfc3339(instant), "2026-03-08T03:30:00-04:00");
    /// ```
    #[must_use]
    pub fn rfc3339(&self, instant: Timestamp) -> String {
        format!(
            "{}{}",
            self.civil(instant).strftime("%Y-%m-%dT%H:%M:%S"),
            self.offset(instant)
        )
    }

    /// The offset from UTC at an instant, as `-04:00`.
    #[must_use]
    pub fn offset(&self, instant: Timestamp) -> String {
        let seconds = self.tz.to_offset(instant).seconds();
        let (sign, minutes) = (if seconds < 0 { '-' } else { '+' }, seconds.abs() / 60);
        format!("{sign}{:02}:{:02}", minutes / 60, minutes % 60)
    }

    /// The first instant of a civil day, whether or not it has a midnight.
    #[must_use]
    pub fn day_start(&self, date: civil::Date) -> Timestamp {
        self.instant(date.at(0, 0, 0, 0))
    }
}

/// One step of a zone's clock: from this instant on it shows another offset, or goes by another name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// When the clock changes.
    pub at: Timestamp,
    /// The offset before, in seconds east of UTC.
    pub before_s: i32,
    /// The offset from then on, in seconds east of UTC.
    pub after_s: i32,
    /// What the zone calls its time from then on, such as `CET`.
    pub name: String,
    /// Whether that is summer time by the zone's own word.
    pub is_summer: bool,
}

impl Zone {
    /// The steps of the clock that tell every local time of a span: the one in force at its start, then those within
    /// it, in order. A clock that never changed before the span counts as set at the epoch.
    #[must_use]
    pub fn steps(&self, from: Timestamp, until: Timestamp) -> Vec<Step> {
        let next_second = from.saturating_add(SignedDuration::from_secs(1)).unwrap_or(from);
        let first = self.tz.preceding(next_second).next();
        let within = self
            .tz
            .following(from)
            .take_while(|step| step.timestamp() <= until);
        let mut steps: Vec<Step> = first
            .into_iter()
            .chain(within)
            .map(|step| Step {
                at: step.timestamp(),
                before_s: self.tz.to_offset(plus_minutes(step.timestamp(), -1)).seconds(),
                after_s: step.offset().seconds(),
                name: step.abbreviation().to_owned(),
                is_summer: step.dst().is_dst(),
            })
            .collect();
        if steps.first().is_none_or(|first| first.at > from) {
            let set = self.tz.to_offset_info(from);
            steps.insert(
                0,
                Step {
                    at: Timestamp::UNIX_EPOCH,
                    before_s: set.offset().seconds(),
                    after_s: set.offset().seconds(),
                    name: set.abbreviation().to_owned(),
                    is_summer: set.dst().is_dst(),
                },
            );
        }
        steps
    }
}

/// Numbers of civil days of many instants: the offset is looked up once for each stretch between two clock changes.
#[derive(Clone, Debug)]
pub struct DayNumbers<'a> {
    zone: &'a Zone,
    /// The stretch whose offset is known, its end not included.
    stretch: Range<Timestamp>,
    /// That offset in seconds.
    offset: i64,
}

impl<'a> DayNumbers<'a> {
    /// Of a zone.
    #[must_use]
    pub fn of(zone: &'a Zone) -> Self {
        Self {
            zone,
            stretch: Timestamp::MAX..Timestamp::MIN,
            offset: 0,
        }
    }

    /// The number of an instant's civil day: days since 1970-01-01.
    ///
    /// ```
    /// use wrackline_core::civil::{DayNumbers, Zone};
    /// let zone = Zone::get("America/New_York").unwrap();
    /// let mut days = DayNumbers::of(&zone);
    /// assert_eq!(days.number("1970-01-02T04:59:59Z".parse().unwrap()), 0);
    /// assert_eq!(days.number("1970-01-02T05:00:00Z".parse().unwrap()), 1);
    /// ```
    pub fn number(&mut self, instant: Timestamp) -> i64 {
        if !self.stretch.contains(&instant) {
            let next = self.zone.tz.following(instant).next();
            self.stretch = instant..next.map_or(Timestamp::MAX, |leap| leap.timestamp());
            self.offset = i64::from(self.zone.tz.to_offset(instant).seconds());
        }
        (instant.as_second() + self.offset).div_euclid(86_400)
    }
}

/// The date some days later (or earlier), held at the ends of the calendar.
#[must_use]
pub fn plus_days(date: civil::Date, days: i64) -> civil::Date {
    date.saturating_add(days.days())
}

/// The instant some minutes later.
#[must_use]
pub fn plus_minutes(instant: Timestamp, minutes: i64) -> Timestamp {
    instant
        .saturating_add(SignedDuration::from_mins(minutes))
        .unwrap_or(Timestamp::MAX)
}

/// The instant one second earlier: the last one of the journal's resolution that knows nothing of what happens then.
#[must_use]
pub fn second_before(instant: Timestamp) -> Timestamp {
    instant
        .saturating_sub(SignedDuration::from_secs(1))
        .unwrap_or(instant)
}

/// The elapsed time from one instant to a later one, in seconds; negative when it is earlier.
#[must_use]
pub fn seconds_between(from: Timestamp, to: Timestamp) -> i64 {
    to.as_second() - from.as_second()
}

/// One holding of a round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Held<'a> {
    /// The round.
    pub round: &'a Round,
    /// The civil date.
    pub date: civil::Date,
    /// The instant.
    pub at: Timestamp,
}

/// The holding of a round on a civil date.
#[must_use]
pub fn hold<'a>(zone: &Zone, round: &'a Round, date: civil::Date) -> Held<'a> {
    Held {
        round,
        date,
        at: zone.instant(date.to_datetime(round.time)),
    }
}

/// The round that an instant belongs to: the nearest one of its own civil day by elapsed time, the later one on a
/// tie. `rounds` must not be empty.
///
/// # Panics
/// When `rounds` is empty; a place always has at least the assumed round.
#[must_use]
pub fn belongs<'a>(zone: &Zone, rounds: &'a [Round], instant: Timestamp) -> Held<'a> {
    let date = zone.date(instant);
    rounds
        .iter()
        .map(|round| hold(zone, round, date))
        .min_by_key(|held| (seconds_between(held.at, instant).abs(), -held.at.as_second()))
        .expect("a place has at least one round")
}

/// The first round held strictly after an instant.
#[must_use]
pub fn next_round<'a>(zone: &Zone, rounds: &'a [Round], after: Timestamp) -> Held<'a> {
    let today = zone.date(after);
    // A day may hold no later round, and a skipped civil day resolves onto the next: three days always suffice.
    (-1..=3)
        .flat_map(|day| {
            rounds
                .iter()
                .map(move |round| hold(zone, round, plus_days(today, day)))
        })
        .filter(|held| held.at > after)
        .min_by_key(|held| (held.at, held.date))
        .unwrap_or_else(|| hold(zone, &rounds[0], plus_days(today, 1)))
}

/// The last round held at or before an instant.
#[must_use]
pub fn last_round<'a>(zone: &Zone, rounds: &'a [Round], until: Timestamp) -> Held<'a> {
    let today = zone.date(until);
    (-3..=1)
        .flat_map(|day| {
            rounds
                .iter()
                .map(move |round| hold(zone, round, plus_days(today, day)))
        })
        .filter(|held| held.at <= until)
        .max_by_key(|held| (held.at, held.date))
        .unwrap_or_else(|| hold(zone, &rounds[0], plus_days(today, -1)))
}

/// Whether an instant lies in the quiet hours.
#[must_use]
pub fn is_quiet(zone: &Zone, quiet: Option<QuietHours>, instant: Timestamp) -> bool {
    let Some(QuietHours { from, to }) = quiet else {
        return false;
    };
    let time = zone.civil(instant).time();
    if from <= to {
        from <= time && time < to
    } else {
        from <= time || time < to
    }
}

/// The first instant at or after this one that does not lie in the quiet hours.
#[must_use]
pub fn waking(zone: &Zone, quiet: Option<QuietHours>, instant: Timestamp) -> Timestamp {
    let Some(hours) = quiet.filter(|_| is_quiet(zone, quiet, instant)) else {
        return instant;
    };
    let today = zone.date(instant);
    // They end at a pass of their end's civil time, or where a clock change leaps over it, out of them.
    let ends = (-1..=2).flat_map(|day| zone.passes(plus_days(today, day).to_datetime(hours.to)));
    let leaps = zone.tz.following(instant).take(2).map(|leap| leap.timestamp());
    let awake = |at: &Timestamp| *at > instant && !is_quiet(zone, quiet, *at);
    ends.chain(leaps).filter(awake).min().unwrap_or(instant)
}

/// An ISO 8601 week, Monday to Sunday.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Week {
    /// Its Monday.
    pub monday: civil::Date,
}

impl Week {
    /// The week of a date.
    #[must_use]
    pub fn of(date: civil::Date) -> Self {
        let back = i64::from(date.weekday().to_monday_zero_offset());
        Self {
            monday: plus_days(date, -back),
        }
    }

    /// The week before.
    #[must_use]
    pub fn previous(self) -> Self {
        Self {
            monday: plus_days(self.monday, -7),
        }
    }

    /// Its name, as `2026-W11`.
    #[must_use]
    pub fn name(self) -> String {
        let iso = self.monday.iso_week_date();
        format!("{}-W{:02}", iso.year(), iso.week())
    }

    /// Its first instant and the first instant after it.
    #[must_use]
    pub fn span(self, zone: &Zone) -> (Timestamp, Timestamp) {
        (
            zone.day_start(self.monday),
            zone.day_start(plus_days(self.monday, 7)),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_of_days_are_those_of_the_dates() {
        for name in [
            "Europe/Berlin",
            "America/St_Johns",
            "Pacific/Apia",
            "Africa/Cairo",
        ] {
            let zone = Zone::get(name).expect("a zone");
            let mut days = DayNumbers::of(&zone);
            let first: Timestamp = "2010-01-01T00:30:00Z".parse().expect("an instant");
            for hour in 0..24 * 366 * 3 {
                let at = plus_minutes(first, hour * 60);
                let since = zone.date(at).duration_since(civil::date(1970, 1, 1));
                assert_eq!(days.number(at), since.as_hours() / 24, "{name}, {at}");
            }
            // Backwards too.
            let since = zone.date(first).duration_since(civil::date(1970, 1, 1));
            assert_eq!(days.number(first), since.as_hours() / 24);
        }
    }
}
