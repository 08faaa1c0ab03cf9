//! Those whom a step left out because they slept: they are called by name once they are awake, as long as the turn is open
//! and was not passed on any further.

use jiff::Timestamp;

use super::calls::{calls_several, person_key};
use super::steps::step_key;
use super::{Item, Step, What, awake, called_at, rests};
use crate::care::Standing;
use crate::journal::Book;
use crate::place::{CarerId, Place};
use crate::rota::Hand;

/// Of those whom the step that a turn has reached calls, all who have quiet hours of their own and are awake. Who of them
/// slept when it went out, and who was called since, is known by the keys.
pub(super) fn items(
    book: &Book,
    place: &Place,
    (standing, hand): (&Standing, &Hand),
    (step, at): (Step, Timestamp),
    now: Timestamp,
) -> Vec<Item> {
    if !calls_several(hand, step) || nobody_has_quiet(place) {
        return Vec::new();
    }
    let key = step_key(standing, hand, step);
    let has_quiet = |carer: &CarerId| place.carers.get(carer).is_some_and(|one| one.quiet.is_some());
    called_at(book, place, standing, hand, step, now)
        .into_iter()
        .filter(|carer| has_quiet(carer) && !rests(place, *carer, now))
        .map(|carer| Item {
            key: person_key(&key, carer),
            at: awake(place, carer, at).min(now),
            what: What::Woken(standing.turn, step, carer),
        })
        .collect()
}

/// Whether a call for a step waits, since all whom it calls sleep now: it is caught up in their quiet hours. What has
/// become a hazard is told to everyone, and waits for nobody; nor does what calls those who are never awake.
pub(super) fn waits(
    book: &Book,
    place: &Place,
    (standing, hand): (&Standing, &Hand),
    step: Step,
    now: Timestamp,
) -> bool {
    if step == Step::Hazard || nobody_has_quiet(place) {
        return false;
    }
    let called = called_at(book, place, standing, hand, step, now);
    let sleeps = |carer: &CarerId| rests(place, *carer, now);
    let wakes = |carer: &CarerId| !rests(place, *carer, awake(place, *carer, now));
    called.iter().all(sleeps) && called.iter().any(wakes)
}

/// When those wake up who sleep now and whom the steps that a turn has reached call.
pub(super) fn moments(
    book: &Book,
    place: &Place,
    (standing, hand): (&Standing, &Hand),
    reached: impl Iterator<Item = Step>,
    now: Timestamp,
) -> Vec<Timestamp> {
    if nobody_has_quiet(place) {
        return Vec::new();
    }
    reached
        .flat_map(|step| called_at(book, place, standing, hand, step, now))
        .filter(|carer| rests(place, *carer, now))
        .map(|carer| awake(place, carer, now))
        .collect()
}

fn nobody_has_quiet(place: &Place) -> bool {
    place.carers.values().all(|carer| carer.quiet.is_none())
}
