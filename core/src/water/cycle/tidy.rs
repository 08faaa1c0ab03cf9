//! Lists brought into order: tests of one moment, stops that touch.

use jiff::Timestamp;

use super::answer::Note;
use super::run::Seen;
use super::{Shown, Stop, Test};
use crate::quantity::Kind;

/// The tests in order, those of one moment taken together: the higher ammonia and nitrite, the
/// lower nitrate.
pub(super) fn together(tests: &[Test], notes: &mut Vec<Note>) -> Vec<Test> {
    let mut sorted = tests.to_vec();
    sorted.sort_by_key(|test| test.at);
    let mut all: Vec<Test> = Vec::new();
    for test in sorted {
        let Some(last) = all.last_mut().filter(|last| last.at == test.at) else {
            all.push(test);
            continue;
        };
        let pairs = [
            (Kind::Ammonia, &mut last.ammonia, test.ammonia),
            (Kind::Nitrite, &mut last.nitrite, test.nitrite),
            (Kind::Nitrate, &mut last.nitrate, test.nitrate),
        ];
        let mut differ = false;
        for (kind, kept, other) in pairs {
            let value = |shown: Shown| Seen::new(test.at, kind, shown).value;
            match (*kept, other) {
                (Some(one), Some(two)) => {
                    differ |= value(one) != value(two);
                    // Nitrate that is above proves something, so there the lower one is the careful one.
                    let worse = (!two.is_zero(), value(two)) > (!one.is_zero(), value(one));
                    *kept = Some(if worse == (kind == Kind::Nitrate) {
                        one
                    } else {
                        two
                    });
                }
                (one, two) => *kept = one.or(two),
            }
        }
        let note = Note::Differ { at: test.at };
        if differ && notes.last() != Some(&note) {
            notes.push(note);
        }
    }
    all
}

/// Stops within a span, in order, those that touch put together.
pub(super) fn merged(stops: &[Stop], started: Timestamp, now: Timestamp) -> Vec<(Timestamp, Timestamp)> {
    let mut all: Vec<(Timestamp, Timestamp)> = stops
        .iter()
        .map(|stop| (stop.from.max(started), stop.to.unwrap_or(now).min(now)))
        .filter(|(from, to)| from < to)
        .collect();
    all.sort();
    let mut merged: Vec<(Timestamp, Timestamp)> = Vec::new();
    for (from, to) in all {
        match merged.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => merged.push((from, to)),
        }
    }
    merged
}

/// Since when a filter stands that stands now.
pub(super) fn still_standing(
    merged: &[(Timestamp, Timestamp)],
    stops: &[Stop],
    now: Timestamp,
) -> Option<Timestamp> {
    stops
        .iter()
        .any(|stop| stop.from <= now && stop.to.is_none_or(|to| to > now))
        .then(|| {
            merged
                .last()
                .filter(|(_, to)| *to == now)
                .map_or(now, |(from, _)| *from)
        })
}
