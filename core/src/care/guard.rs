//! What keeps a second log of the same work apart from new work.

use jiff::Timestamp;

use super::{CATALOGUE, Duty, anchor, cadence};
use crate::civil::seconds_between;
use crate::journal::{Book, Done, DoneKind, Part};
use crate::place::{Place, Target};

/// An earlier log within the guard time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guarded {
    /// The earlier log.
    pub done: Done,
    /// The guard time in minutes.
    pub guard_min: u32,
}

/// The log within whose guard time a further log would fall, if there is one. Parts that together are no more
/// than the whole are no second log.
#[must_use]
pub fn guard(
    book: &Book,
    place: &Place,
    duty: Duty,
    target: Target,
    part: Part,
    at: Timestamp,
) -> Option<Guarded> {
    let row = CATALOGUE.iter().find(|row| row.duty == duty.family());
    let guard_min = cadence(book, place, duty, target, at)
        .map_or(row.map_or(0, |row| row.guard_min), |cadence| cadence.guard_min);
    let near: Vec<&Done> = book
        .done_until(duty, target, Timestamp::MAX)
        .filter(|done| seconds_between(done.at, at).abs() < i64::from(guard_min) * 60)
        .filter(|done| !matches!(done.kind, DoneKind::NotNeeded { .. }))
        // New water needs no test for a while, but whoever changes it has tested nothing.
        .filter(|done| duty != Duty::Test || done.duty == Duty::Test)
        .collect();
    let last = *near
        .iter()
        .max_by_key(|done| (-seconds_between(done.at, at).abs(), done.seq))?;
    (!completes(book, duty, target, &near, part)).then_some(Guarded {
        done: *last,
        guard_min,
    })
}

/// Whether a further part only completes what parts so far have left open.
fn completes(book: &Book, duty: Duty, target: Target, near: &[&Done], part: Part) -> bool {
    let (mut sum, mut steps) = (0.0, 0);
    for done in near {
        match done.kind {
            DoneKind::Did(Part::Fraction(_)) => sum += anchor::share(book, duty, target, done),
            DoneKind::Did(Part::Steps(mask)) => steps |= mask,
            _ => return false,
        }
    }
    match part {
        Part::Fraction(fraction) => sum + fraction <= 1.0 + 1e-9,
        Part::Steps(mask) => steps & mask == 0,
        Part::Whole => false,
    }
}
