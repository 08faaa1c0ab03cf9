//! What became of each duty's turns in a week.

use jiff::Timestamp;

use super::DutyWeek;
use super::missed::Changes;
use crate::care::board::{is_folded, targets};
use crate::care::{Duty, Standing, anchor, standing};
use crate::civil::{second_before, seconds_between};
use crate::journal::{Book, Done, DoneKind, Event};
use crate::place::{PoolId, Target};

/// Every duty that the place had in a span: those that it has at the end, then those that ended before.
pub(super) fn all(book: &Book, from: Timestamp, last: Timestamp) -> Vec<DutyWeek> {
    let mut known: Vec<(Duty, Target)> = Vec::new();
    let mut all = Vec::new();
    let changes = Changes::of(book, from, last);
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
            let mut sum = of_duty(book, &changes, end, from, moment);
            sum.folded = is_folded(&ends, end);
            all.push(sum);
        }
    }
    all
}

/// The end of a span, and back from it the moments right before something was set up otherwise: what was retired or
/// set aside then still had its duties.
fn moments(book: &Book, from: Timestamp, last: Timestamp) -> Vec<Timestamp> {
    let changes = book.entries().filter(|entry| from < entry.at && entry.at <= last);
    let ends = changes.filter(|entry| match &entry.event {
        Event::Pool(..) | Event::Enclosure(..) | Event::Gear(..) | Event::OwnDuty(..) => true,
        Event::Did(duty, Target::Pool(id), _) if duty.family() == Duty::Change => {
            is_first_under_filter(book, *id, entry.at)
        }
        _ => false,
    });
    let mut all: Vec<Timestamp> = ends.map(|entry| second_before(entry.at)).chain([last]).collect();
    all.sort();
    all.dedup();
    all.reverse();
    all
}

/// Whether a change at a moment is the first since the filter was proven: its pool is conditioned no more from then on.
fn is_first_under_filter(book: &Book, pool: PoolId, at: Timestamp) -> bool {
    let filter = book.pool_at(pool, at).and_then(|pool| pool.filter);
    let before = book.done_until(Duty::Change, Target::Pool(pool), second_before(at));
    let last = before.rev().find(|done| matches!(done.kind, DoneKind::Did(_)));
    filter
        .and_then(|filter| filter.proven)
        .is_some_and(|proven| last.is_none_or(|last| last.at < proven))
}

/// One duty up to a moment, where it stands as given.
fn of_duty(book: &Book, changes: &Changes, end: &Standing, from: Timestamp, last: Timestamp) -> DutyWeek {
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
        folded: false,
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
        sum.missed += changes.missed(book, &turn, (counted, done.at));
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
    sum.missed += changes.missed(book, end, (counted, last));
    if let Ok(count) = i64::try_from(minutes.len()) {
        sum.minutes_to_done = (count > 0).then(|| minutes.iter().sum::<i64>() / count.max(1));
    }
    sum
}
