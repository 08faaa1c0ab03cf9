//! What keeps a second log of the same work apart from new work.

use jiff::Timestamp;

use super::{CATALOGUE, Duty, anchor, cadence};
use crate::civil::seconds_between;
use crate::journal::{BatchChange, Book, Done, DoneKind, Event, Fault, Part};
use crate::place::{Place, Target};
use crate::quantity::{Hours, Litres, Millilitres};
use crate::water::conditioner::{Given, doses_within};

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
        // A change with water that was not conditioned leaves the conditioning to be done, at once.
        .filter(|done| duty != Duty::Condition || done.duty == Duty::Condition || !was_untreated(book, done))
        .collect();
    let last = *near
        .iter()
        .max_by_key(|done| (-seconds_between(done.at, at).abs(), done.seq))?;
    (!completes(book, duty, target, &near, part)).then_some(Guarded {
        done: *last,
        guard_min,
    })
}

/// Whether the water of a change came from a batch that had not been conditioned, as far as is known now.
fn was_untreated(book: &Book, done: &Done) -> bool {
    let Some((batch, _)) = book.drawn(done.seq) else {
        return false;
    };
    let mut treated = false;
    for entry in book.entries().filter(|entry| !book.is_void(entry.seq)) {
        match &entry.event {
            Event::Batch(id, _) if *id != batch => {}
            Event::Batch(_, BatchChange::Made { conditioned, .. }) => treated = *conditioned,
            Event::Batch(_, BatchChange::Conditioned { .. }) if entry.at <= done.at => treated = true,
            // It proved so later on, whatever had been said of it.
            Event::Batch(_, BatchChange::Wrong(Fault::Unconditioned)) => return true,
            _ => {}
        }
    }
    !treated
}

/// Conditioner that a pool was given within the guard time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dosed {
    /// How many doses.
    pub doses: usize,
    /// Of how many of them the millilitres were said.
    pub said: usize,
    /// Those millilitres together.
    pub ml: f64,
    /// The guard time in minutes.
    pub guard_min: u32,
}

/// The doses of conditioner that a pool was given within one guard time at most around a moment; `None` where that is
/// no pool. A change of water is no dose of the pool.
#[must_use]
pub fn dosed(book: &Book, place: &Place, target: Target, at: Timestamp) -> Option<Dosed> {
    let Target::Pool(pool) = target else { return None };
    let water = Litres(
        book.pool_at(pool, at)
            .or_else(|| place.pools.get(&pool).cloned())?
            .litres,
    );
    let row = CATALOGUE.iter().find(|row| row.duty == Duty::Condition);
    let guard_min = cadence(book, place, Duty::Condition, target, at)
        .map_or(row.map_or(0, |row| row.guard_min), |cadence| cadence.guard_min);
    let guard = Hours(f64::from(guard_min) / 60.0);
    let hours = |done: &Done| Hours(seconds_between(at, done.at) as f64 / 3600.0);
    let doses: Vec<(Given, bool)> = book
        .done_until(Duty::Condition, target, Timestamp::MAX)
        .filter(|done| done.duty == Duty::Condition && matches!(done.kind, DoneKind::Did(_)))
        .filter(|done| hours(done).0.abs() < guard.0)
        .map(|done| {
            // Before doses had an entry of their own they were told as litres.
            let ml = book
                .dosed_ml(done.seq)
                .or_else(|| book.amount(done.seq).map(|litres| litres * 1000.0));
            let amount = Millilitres(ml.unwrap_or(0.0));
            let at = hours(done);
            (Given { at, amount, water }, ml.is_some())
        })
        .collect();
    let last = doses.iter().map(|(dose, _)| dose.at.0).fold(0.0, f64::max);
    let count = |which: &dyn Fn(&(Given, bool)) -> bool| {
        let given: Vec<Given> = doses
            .iter()
            .filter(|dose| which(dose))
            .map(|(dose, _)| *dose)
            .collect();
        doses_within(&given, Hours(last), guard).ok()
    };
    let (all, said) = (count(&|_| true)?, count(&|(_, said)| *said)?);
    Some(Dosed {
        doses: all.doses,
        said: said.doses,
        ml: said.amount.0,
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
