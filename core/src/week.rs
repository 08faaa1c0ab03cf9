//! The week summed up, from the journal alone.

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};

use crate::air::{BAND_CELSIUS, BAND_PERCENT};
use crate::care::board::{board, targets};
use crate::care::standing::first_uncovered;
use crate::care::{Duty, Mark, Pace, Standing, anchor, standing};
use crate::civil::{Week, Zone, plus_days, plus_minutes, seconds_between};
use crate::journal::{Book, Done, DoneKind, Event, Matter};
use crate::place::{CarerId, EnclosureId, Place, Target};
use crate::quantity::{Kind, Measured};

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
    /// Whether the journal has never heard of this duty being done.
    pub never: bool,
}

/// An enclosure's readings of one kind in a week.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ReadingWeek {
    /// The enclosure.
    pub enclosure: EnclosureId,
    /// Of what: humidity or temperature.
    pub kind: Kind,
    /// Readings inside the band.
    pub inside: u32,
    /// Readings under it.
    pub under: u32,
    /// Readings over it.
    pub over: u32,
}

/// A week of a place.
#[derive(Clone, Debug, PartialEq)]
pub struct WeekSummary {
    /// Which week.
    pub week: Week,
    /// Up to when it is summed up: its end, or now.
    pub until: Timestamp,
    /// Every duty that the place has, in walking order.
    pub duties: Vec<DutyWeek>,
    /// Readings of every enclosure; all zeros where there are none.
    pub readings: Vec<ReadingWeek>,
    /// Matters that were open in the week.
    pub matters: Vec<Matter>,
    /// Who did how many turns.
    pub people: BTreeMap<CarerId, u32>,
    /// What falls due in the seven days after, in order of time.
    pub coming: Vec<Standing>,
}

/// The summary of a week as far as it is over.
#[must_use]
pub fn week(book: &Book, week: Week, now: Timestamp) -> WeekSummary {
    // The zone of the week's own Sunday, so that a later move leaves it as it was.
    let sunday = Zone::utc().instant(plus_days(week.monday, 6).at(12, 0, 0, 0));
    let (from, end) = week.span(&book.place_at(sunday.min(now)).zone);
    let until = end.min(now);
    let last = until.saturating_sub(SignedDuration::from_secs(i64::from(end <= now))).unwrap_or(until);
    let place = book.place_at(last);
    let duties = targets(&place)
        .into_iter()
        .filter_map(|(duty, target)| of_duty(book, &place, duty, target, from, last))
        .collect();
    let readings = place
        .walk()
        .into_iter()
        .flat_map(|enclosure| {
            [Kind::Humidity, Kind::Temperature].map(|kind| of_readings(book, enclosure.id, kind, from, last))
        })
        .collect();
    let matters =
        book.matters(last).filter(|matter| matter.closed.is_none_or(|closed| closed >= from)).collect();
    let people = people(book, from, last);
    let after = place.zone.day_start(plus_days(place.zone.date(until), 7));
    let mut coming: Vec<Standing> = board(book, &place, last);
    coming.retain(|standing| standing.due < after);
    coming.sort_by_key(|standing| standing.due);
    WeekSummary { week, until, duties, readings, matters, people, coming }
}

/// Who did how many turns; readings that one line logged are one.
fn people(book: &Book, from: Timestamp, last: Timestamp) -> BTreeMap<CarerId, u32> {
    let mut all = BTreeMap::new();
    let mut last_read = None;
    for entry in book.entries().filter(|entry| from <= entry.at && entry.at <= last) {
        let counts = match entry.event {
            Event::Did(..) => true,
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

fn of_duty(
    book: &Book,
    place: &Place,
    duty: Duty,
    target: Target,
    from: Timestamp,
    last: Timestamp,
) -> Option<DutyWeek> {
    let end = standing(book, place, duty, target, last)?;
    let mut sum = DutyWeek {
        duty: end.duty(),
        target,
        done: 0,
        late: 0,
        missed: 0,
        not_needed: 0,
        parts: 0,
        minutes_to_done: None,
        mark: end.mark,
        never: end.anchor.last.is_none(),
    };
    let mut minutes = Vec::new();
    let in_week: Vec<Done> =
        book.done_until(duty, target, last).rev().take_while(|done| done.at >= from).copied().collect();
    let mut last_read = None;
    for done in in_week.into_iter().rev() {
        let before = done.at.saturating_sub(SignedDuration::from_secs(1)).unwrap_or(done.at);
        let then = book.place_at(before);
        let Some(turn) = standing(book, &then, duty, target, before) else { continue };
        sum.missed += missed(book, &turn, from, done.at);
        match done.kind {
            DoneKind::NotNeeded { .. } => sum.not_needed += 1,
            // What another duty renewed is counted there, and readings of one moment are one.
            _ if done.duty.family() != duty.family() => {}
            DoneKind::Read if last_read.replace(done.at) == Some(done.at) => {}
            _ if anchor::share(book, duty, target, &done) < anchor::WHOLE_FROM => sum.parts += 1,
            _ => {
                minutes.push((seconds_between(turn.due, done.at) / 60).max(0));
                *(if done.at >= turn.overdue { &mut sum.late } else { &mut sum.done }) += 1;
            }
        }
    }
    sum.missed += missed(book, &end, from, last);
    if let Ok(count) = i64::try_from(minutes.len()) {
        sum.minutes_to_done = (count > 0).then(|| minutes.iter().sum::<i64>() / count.max(1));
    }
    Some(sum)
}

/// How often in the week a turn that stayed open until a moment was missed.
fn missed(book: &Book, turn: &Standing, from: Timestamp, until: Timestamp) -> u32 {
    let mut count = 0;
    match &turn.cadence.pace {
        Pace::Interval { every, .. } => {
            let minutes = every.minutes().max(1);
            let mut at = plus_minutes(turn.due, minutes);
            while at <= until {
                count += u32::from(at >= from);
                at = plus_minutes(at, minutes);
            }
        }
        Pace::Calendar(schedule) => {
            // An occurrence that no entry covers is missed when the next one comes.
            let place = book.place_at(until);
            let mut one = first_uncovered(&place, schedule, &turn.cadence, &turn.anchor);
            while let Some(on) = one {
                one = schedule.next(&place, on);
                match one.map(|next| place.zone.instant(next)) {
                    Some(next) if next <= until => count += u32::from(next >= from),
                    _ => break,
                }
            }
        }
    }
    count
}

fn of_readings(book: &Book, id: EnclosureId, kind: Kind, from: Timestamp, to: Timestamp) -> ReadingWeek {
    let mut sum = ReadingWeek { enclosure: id, kind, inside: 0, under: 0, over: 0 };
    for (_, measured) in book.readings(Target::Enclosure(id), kind, from, to) {
        let (value, (low, high)) = match measured {
            Measured::Humidity(percent) => (percent, BAND_PERCENT),
            Measured::Temperature(celsius) => (celsius, BAND_CELSIUS),
            _ => continue,
        };
        let slot = if value < low {
            &mut sum.under
        } else if value > high {
            &mut sum.over
        } else {
            &mut sum.inside
        };
        *slot += 1;
    }
    sum
}
