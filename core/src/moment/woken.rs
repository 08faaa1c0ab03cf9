//! Those whom a step did not name because they slept when it went out, or when the call was sent: they are called by name
//! once they are awake, as long as the turn is open and was not passed on any further.

use std::collections::BTreeSet;

use jiff::Timestamp;

use super::calls::{again_key, calls_several, person_key, unnamed_key};
use super::rest::wakes_next;
use super::{Called, Item, Step, What, awake, called_at, rests};
use crate::care::{Standing, TurnKey, standing};
use crate::journal::Book;
use crate::place::{CarerId, Place};
use crate::rota::{self, Hand};

/// Of those whom the step that a turn has reached calls, all who have quiet hours of their own and are awake; `key` is
/// that of the step, or of the turn's coming back. Who of them slept when it was called or sent, and who was called since,
/// is known by the keys.
pub(super) fn items(
    book: &Book,
    place: &Place,
    (standing, hand): (&Standing, &Hand),
    key: &str,
    (step, at): (Step, Timestamp),
    now: Timestamp,
) -> Vec<Item> {
    if nobody_has_quiet(place) {
        return Vec::new();
    }
    let several = calls_several(place, hand, step);
    let has_quiet = |carer: &CarerId| place.carers.get(carer).is_some_and(|one| one.quiet.is_some());
    called_at(book, place, standing, hand, step, now)
        .into_iter()
        .filter(|carer| has_quiet(carer) && !rests(place, *carer, now))
        .flat_map(|carer| {
            let left_out = several.then(|| person_key(key, carer));
            let keys = left_out.into_iter().chain([again_key(key, carer)]);
            keys.map(move |key| (key, carer))
        })
        .map(|(key, carer)| Item {
            key,
            at: awake(place, carer, at).min(now),
            what: What::Woken(standing.turn, step, carer),
        })
        .collect()
}

/// The keys by which it is known whom a call that is sent now does not name, since they sleep by now: its turns, and the
/// keys of the post.
#[must_use]
pub fn unnamed(book: &Book, place: &Place, turns: &[Called], keys: &[String], now: Timestamp) -> Vec<String> {
    if nobody_has_quiet(place) {
        return Vec::new();
    }
    let of_turn = |called: &Called| {
        let TurnKey { duty, target, .. } = called.turn;
        let standing = standing(book, place, duty, target, now).filter(|one| one.turn == called.turn)?;
        let hand = rota::hand(book, place, &standing, now);
        let step = called.names?;
        let asleep = called_at(book, place, &standing, &hand, step, now)
            .into_iter()
            .filter(|carer| called.only.is_empty() || called.only.contains(carer))
            .filter(|carer| rests(place, *carer, now));
        let bases: BTreeSet<&str> = keys.iter().filter_map(|key| base(key, called, step)).collect();
        let keys = asleep.flat_map(|carer| bases.iter().map(move |base| unnamed_key(base, carer)));
        Some(keys.collect::<Vec<_>>())
    };
    turns.iter().filter_map(of_turn).flatten().collect()
}

/// What stands before the person in a key of a called turn's step or of its coming back; `None`: it is another's.
fn base<'a>(key: &'a str, called: &Called, step: Step) -> Option<&'a str> {
    let (turn, number) = (called.turn, step as u8);
    let late = format!("late.{turn}.{number}");
    let more = [format!("freed.{turn}.{number}."), format!("back.{turn}.")];
    let more = &more[..if step == Step::Carer { 2 } else { 1 }];
    let end = match more.iter().find(|start| key.starts_with(start.as_str())) {
        Some(start) => {
            let behind = key[start.len()..].find('.');
            behind.map_or(key.len(), |at| start.len() + at)
        }
        None => late.len(),
    };
    let (base, person) = key.split_at_checked(end)?;
    let is_late = base == late || more.iter().any(|start| base.starts_with(start.as_str()));
    (is_late && (person.is_empty() || person.starts_with('.'))).then_some(base)
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

/// When those wake up next whom the steps that a turn has reached call: those who are awake now may sleep when a call is
/// sent.
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
        .filter_map(|carer| wakes_next(place, carer, now))
        .collect()
}

fn nobody_has_quiet(place: &Place) -> bool {
    place.carers.values().all(|carer| carer.quiet.is_none())
}
