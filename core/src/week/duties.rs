//! What became of each duty's turns in a week.

use jiff::{SignedDuration, Timestamp};

use super::DutyWeek;
use crate::care::board::{is_folded, targets};
use crate::care::standing::first_uncovered;
use crate::care::{Duty, Mark, Pace, Standing, anchor, standing};
use crate::civil::{plus_minutes, seconds_between};
use crate::journal::{Book, Done, DoneKind, Event};
use crate::place::Target;

/// Every duty that the place had in a span: those that it has at the end, then those that ended before.
pub(super) fn all(book: &Book, from: Timestamp, last: Timestamp) -> Vec<DutyWeek> {
    let mut known: Vec<(Duty, Target)> = Vec::new();
    let mut all = Vec::new();
    for moment in moments(book, from, last) {
        let place = book.place_at(moment);
        let ends = targets(&place).into_iter().filter_map(|(duty, target)| {
            let end = standing(book, &place, duty, target, moment)?;
            Some(((duty, target), end))
        });
        let (keys, ends): (Vec<_>, Vec<Standing>) = ends.unzip();
        for (key, end) in keys.into_iter().zip(&ends) {
            if known.contains(&key) {
                continue;
            }
            known.push(key);
            let mut sum = of_duty(book, end, from, moment);
            // What another open turn renews is not called beside it.
            if is_folded(&ends, end) {
                sum.mark = Mark::Calm;
            }
            all.push(sum);
        }
    }
    all
}

/// The end of a span, and back from it the moments right before something was set up otherwise: what was retired or
/// set aside then still had its duties.
fn moments(book: &Book, from: Timestamp, last: Timestamp) -> Vec<Timestamp> {
    let changes = book.entries().filter(|entry| from < entry.at && entry.at <= last);
    let ends = changes.filter(|entry| {
        matches!(
            entry.event,
            Event::Pool(..) | Event::Enclosure(..) | Event::Gear(..) | Event::OwnDuty(..)
        )
    });
    let mut all: Vec<Timestamp> = ends.map(|entry| second_before(entry.at)).chain([last]).collect();
    all.sort();
    all.dedup();
    all.reverse();
    all
}

fn second_before(at: Timestamp) -> Timestamp {
    at.saturating_sub(SignedDuration::from_secs(1)).unwrap_or(at)
}

/// One duty up to a moment, where it stands as given.
fn of_duty(book: &Book, end: &Standing, from: Timestamp, last: Timestamp) -> DutyWeek {
    let (duty, target) = (end.turn.duty, end.turn.target);
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
    let in_week: Vec<Done> = book
        .done_until(duty, target, last)
        .rev()
        .take_while(|done| done.at >= from)
        .copied()
        .collect();
    let (mut counted, mut last_own) = (second_before(from), None);
    for done in in_week.into_iter().rev() {
        let before = second_before(done.at);
        let Some(turn) = standing(book, &book.place_at(before), duty, target, before) else {
            continue;
        };
        sum.missed += missed(book, &turn, counted, done.at);
        counted = done.at;
        // What another duty renewed is counted there, and what was logged twice at one moment is one.
        let is_own = matches!(done.kind, DoneKind::NotNeeded { .. }) || done.duty.family() == duty;
        if !is_own || last_own.replace(done.at) == Some(done.at) {
            continue;
        }
        match done.kind {
            DoneKind::NotNeeded { .. } => sum.not_needed += 1,
            _ if anchor::share(book, duty, target, &done) < anchor::WHOLE_FROM => sum.parts += 1,
            _ => {
                minutes.push((seconds_between(turn.due, done.at) / 60).max(0));
                *(if done.at >= turn.overdue {
                    &mut sum.late
                } else {
                    &mut sum.done
                }) += 1;
            }
        }
    }
    sum.missed += missed(book, end, counted, last);
    if let Ok(count) = i64::try_from(minutes.len()) {
        sum.minutes_to_done = (count > 0).then(|| minutes.iter().sum::<i64>() / count.max(1));
    }
    sum
}

/// How often a turn that stayed open until a moment was missed after another moment: each further whole interval,
/// and each occurrence of a calendar that the next one superseded.
fn missed(book: &Book, turn: &Standing, after: Timestamp, until: Timestamp) -> u32 {
    let mut count = 0;
    match &turn.cadence.pace {
        Pace::Interval { every, .. } => {
            let minutes = every.minutes().max(1);
            let mut at = plus_minutes(turn.due, minutes);
            while at <= until && at < Timestamp::MAX {
                count += u32::from(at > after);
                at = plus_minutes(at, minutes);
            }
        }
        Pace::Calendar(schedule) => {
            let place = book.place_at(until);
            let mut one = first_uncovered(&place, schedule, &turn.cadence, &turn.anchor);
            while let Some(on) = one {
                one = schedule.next(&place, on);
                match one.map(|next| place.zone.instant(next)) {
                    Some(next) if next <= until => count += u32::from(next > after),
                    _ => break,
                }
            }
        }
    }
    count
}
