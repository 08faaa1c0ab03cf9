//! How often turns were missed, by what was in force at each moment: what is set later misses nothing before it.

use std::borrow::Cow;

use jiff::Timestamp;

use crate::care::standing::first_uncovered;
use crate::care::{Duty, Pace, Standing, standing};
use crate::civil::{plus_minutes, second_before, seconds_between};
use crate::journal::{Book, EnclosureChange, Entry, Event, PlaceChange};
use crate::place::{Place, Target};
use crate::quantity::Kind;

/// What was set in a span by which turns may be due otherwise, in order of time, each with the place right before it.
pub(super) struct Changes<'a>(Vec<(&'a Entry, Place)>);

impl<'a> Changes<'a> {
    /// Those after a moment, up to and with another.
    pub(super) fn of(book: &'a Book, from: Timestamp, last: Timestamp) -> Self {
        let in_span = book.entries().filter(|entry| from < entry.at && entry.at <= last);
        let mut all: Vec<&Entry> = in_span
            .filter(|entry| may_date(&entry.event) && !book.is_void(entry.seq))
            .collect();
        all.sort_by_key(|entry| entry.at);
        let with_place = |entry: &'a Entry| (entry, book.place_at(second_before(entry.at)));
        Self(all.into_iter().map(with_place).collect())
    }

    /// How often a turn that stayed open until a moment was missed after another: at each further whole interval, and at
    /// each occurrence of a calendar that superseded the one before, as the duty stood right before it.
    pub(super) fn missed(&self, book: &Book, turn: &Standing, (after, until): (Timestamp, Timestamp)) -> u32 {
        let (duty, target) = (turn.turn.duty, turn.turn.target);
        let (mut stood, mut end, mut known) = (Some(Cow::Borrowed(turn)), until, until);
        let mut all = Vec::new();
        // Back through the stretches in each of which one rule was in force.
        while end > after {
            let change = self.last_before(end, duty, target);
            let since = stood.as_ref().and_then(|turn| turn.cadence.since);
            let starts = since.into_iter().chain(change.map(|(entry, _)| entry.at));
            let start = starts.filter(|at| *at < end).fold(after, Timestamp::max);
            if let Some(turn) = &stood {
                all.extend(misses(book, turn, known, (start, end)));
            }
            (end, known) = (start, second_before(start));
            if end > after {
                let place = change
                    .filter(|(entry, _)| entry.at == start)
                    .map(|(_, place)| place);
                let place = place.map_or_else(|| Cow::Owned(book.place_at(known)), Cow::Borrowed);
                stood = standing(book, &place, duty, target, known).map(Cow::Owned);
            }
        }
        all.sort();
        once(&all)
    }

    /// The last change before a moment that may have dated a duty otherwise.
    fn last_before(&self, end: Timestamp, duty: Duty, target: Target) -> Option<&(&'a Entry, Place)> {
        let until = self.0.partition_point(|(entry, _)| entry.at < end);
        let concerns = |event: &Event| match event {
            Event::Pool(id, _) | Event::Gear(id, ..) | Event::Input(id, _) => target == Target::Pool(*id),
            Event::Read(of, _) => target == *of,
            Event::OwnDuty(id, _) => duty == Duty::Own(*id),
            _ => true,
        };
        self.0[..until].iter().rfind(|(entry, _)| concerns(&entry.event))
    }
}

/// Whether an entry may change by itself when a turn is due.
fn may_date(event: &Event) -> bool {
    match event {
        Event::Place(change) => matches!(change, PlaceChange::Zone(_)),
        Event::Enclosure(_, change) => matches!(
            change,
            EnclosureChange::Added { .. }
                | EnclosureChange::Retired
                | EnclosureChange::Quiet(_)
                | EnclosureChange::Sensor(_)
        ),
        // Whether a filter's cycle is proven decides how often its pool is changed and conditioned.
        Event::Read(_, measured) => matches!(measured.kind(), Kind::Ammonia | Kind::Nitrite | Kind::Nitrate),
        Event::Round(..)
        | Event::Pool(..)
        | Event::Gear(..)
        | Event::Input(..)
        | Event::OwnDuty(..)
        | Event::Numbers(..) => true,
        _ => false,
    }
}

const DAY_MIN: i64 = 24 * 60;

/// A moment at which a turn was missed, and the minutes within which another one before it is the same.
type Miss = (Timestamp, i64);

/// When a turn that stood so at a moment was missed in a stretch without its first moment, as long as one rule held.
fn misses(book: &Book, turn: &Standing, known: Timestamp, (start, end): (Timestamp, Timestamp)) -> Vec<Miss> {
    let mut all = Vec::new();
    match &turn.cadence.pace {
        Pace::Interval { every, .. } => {
            let minutes = every.minutes().max(1);
            let gone = seconds_between(turn.due, start).max(0) / (minutes * 60);
            let mut at = plus_minutes(turn.due, (gone + 1) * minutes);
            while at <= end && at < Timestamp::MAX {
                all.push((at, minutes.min(DAY_MIN) / 2));
                at = plus_minutes(at, minutes);
            }
        }
        Pace::Calendar(schedule) => {
            let place = book.place_at(known);
            let mut one = first_uncovered(&place, schedule, &turn.cadence, &turn.anchor);
            while let Some(on) = one {
                one = schedule.next(&place, on);
                match one.map(|next| place.zone.instant(next)) {
                    Some(next) if next <= end => all.extend((next > start).then_some((next, 0))),
                    _ => break,
                }
            }
        }
    }
    all
}

/// How many there are in order of time: where a round was moved, what comes less than half a day or half an interval
/// after another is the same.
fn once(all: &[Miss]) -> u32 {
    let mut last: Option<Timestamp> = None;
    let mut count = 0;
    for (at, same_min) in all {
        if last.is_none_or(|last| plus_minutes(last, *same_min) <= *at) {
            count += 1;
            last = Some(*at);
        }
    }
    count
}
