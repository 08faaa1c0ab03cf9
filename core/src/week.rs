//! The week summed up, from the journal alone.

mod coming;
mod duties;
mod missed;
mod readings;
mod span;

pub use self::span::{Own, SpanSummary, span};

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};

use crate::care::{Duty, Mark};
use crate::civil::{Week, Zone, plus_days};
use crate::journal::{Book, Event, Matter};
use crate::place::{CarerId, Target};
use crate::quantity::Kind;

/// One duty of one target in a week.
#[derive(Clone, Debug, PartialEq)]
pub struct DutyWeek {
    /// The duty.
    pub duty: Duty,
    /// What it is about.
    pub target: Target,
    /// Turns done in time. What another duty renewed is counted there.
    pub done: u32,
    /// Turns done after their grace.
    pub late: u32,
    /// Turns that never came: superseded occurrences, and further whole intervals.
    pub missed: u32,
    /// Turns that needed no doing.
    pub not_needed: u32,
    /// Parts that were less than the whole.
    pub parts: u32,
    /// The mean of the minutes from due to done; early ones count as zero. `None` when none was done.
    pub minutes_to_done: Option<i64>,
    /// The mark at the week's end, or now when the week still runs.
    pub mark: Mark,
    /// Whether another turn that was open then renews it, so that it is not called beside that one.
    pub folded: bool,
    /// Whether the journal has never heard of this duty being done.
    pub never: bool,
}

impl DutyWeek {
    /// Whether it waits at the end by itself, and is late.
    #[must_use]
    pub fn is_late(&self) -> bool {
        self.mark >= Mark::Overdue && !self.folded
    }
}

/// An enclosure's or a pool's readings of one kind in a week.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ReadingWeek {
    /// The enclosure or pool.
    pub target: Target,
    /// Of what.
    pub kind: Kind,
    /// Whether there is a band to keep; without one all readings count as inside.
    pub banded: bool,
    /// Readings inside the band.
    pub inside: u32,
    /// Readings under it.
    pub under: u32,
    /// Readings over it.
    pub over: u32,
}

impl ReadingWeek {
    /// How many readings there were.
    #[must_use]
    pub fn all(&self) -> u32 {
        self.inside + self.under + self.over
    }
}

/// A turn that comes, as long as every one before it is done when it is due.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Coming {
    /// When it is due; the moment of the summary where it is due already.
    pub due: Timestamp,
    /// The duty.
    pub duty: Duty,
    /// What it is about.
    pub target: Target,
}

/// A week of a place.
#[derive(Clone, Debug, PartialEq)]
pub struct WeekSummary {
    /// Which week.
    pub week: Week,
    /// Up to when it is summed up: its end, or now.
    pub until: Timestamp,
    /// Every duty that the place has or had in the week, in walking order; those that it has no longer come last.
    pub duties: Vec<DutyWeek>,
    /// Readings: humidity and temperature of every enclosure, all zeros where there are none; of pools what was read.
    pub readings: Vec<ReadingWeek>,
    /// Matters that were open in the week.
    pub matters: Vec<Matter>,
    /// Who did how many turns.
    pub people: BTreeMap<CarerId, u32>,
    /// What falls due in the seven days after, in order of time.
    pub coming: Vec<Coming>,
}

/// The summary of a week as far as it is over.
#[must_use]
pub fn week(book: &Book, week: Week, now: Timestamp) -> WeekSummary {
    // The zone of the week's own Sunday, so that a later move leaves it as it was.
    let sunday = Zone::utc().instant(plus_days(week.monday, 6).at(12, 0, 0, 0));
    let (from, end) = week.span(&book.place_at(sunday.min(now)).zone);
    let until = end.min(now);
    let last = until
        .saturating_sub(SignedDuration::from_secs(i64::from(end <= now)))
        .unwrap_or(until);
    let place = book.place_at(last);
    let duties = duties::all(book, from, last);
    let readings = readings::all(book, &place, from, last);
    let matters = book
        .matters(last)
        .filter(|matter| matter.closed.is_none_or(|closed| closed >= from))
        .collect();
    let people = people(book, from, last);
    let after = place.zone.day_start(plus_days(place.zone.date(until), 7));
    let coming = coming::all(book, &place, last, (until, after));
    WeekSummary {
        week,
        until,
        duties,
        readings,
        matters,
        people,
        coming,
    }
}

/// Who did how many turns; readings that one line logged are one.
fn people(book: &Book, from: Timestamp, last: Timestamp) -> BTreeMap<CarerId, u32> {
    let mut all = BTreeMap::new();
    let mut last_read = None;
    for entry in book
        .entries()
        .filter(|entry| from <= entry.at && entry.at <= last)
    {
        let counts = match entry.event {
            Event::Did(..) | Event::Looked(_) => true,
            Event::Waits(..) => book.is_nodded(entry.seq),
            Event::Read(target, _) => {
                let line = (entry.logged_at, target);
                last_read.replace(line) != Some(line)
            }
            _ => false,
        };
        if counts && !book.is_void(entry.seq) {
            *all.entry(entry.by).or_insert(0) += 1;
        }
    }
    all
}
