//! Late calls wait for the quiet hours of those whom they call.

use jiff::Timestamp;

use super::{Step, steps};
use crate::care::Standing;
use crate::civil::{plus_days, waking};
use crate::journal::Book;
use crate::place::{CarerId, Place, Role};
use crate::rota::{self, Hand};

/// Whom a step of a turn calls: its carer, their stand-in, the keepers; of a helper's the stand-in at once. For one that somebody gave up: their stand-in, all
/// who can, the keepers. What has become a hazard calls the keepers, its carer and all who can.
#[must_use]
pub fn called_at(
    book: &Book,
    place: &Place,
    standing: &Standing,
    hand: &Hand,
    step: Step,
    now: Timestamp,
) -> Vec<CarerId> {
    let freed = hand.freed.map(|freed| freed.by);
    let stand_in = |of| rota::stand_in(book, place, standing, of, now);
    match (step, hand.carer) {
        (Step::Carer, Some(carer)) if has_account(place, carer) => vec![carer],
        // Nobody can write to a helper: whoever stands in hears of it, else the keepers.
        (Step::Carer, Some(helper)) => {
            let others: Vec<CarerId> = stand_in(Some(helper)).into_iter().collect();
            if others.is_empty() {
                rota::keepers_asked(book, place, standing, now)
            } else {
                others
            }
        }
        (Step::Carer, None) => stand_in(freed).into_iter().collect(),
        (Step::StandIn, Some(carer)) => stand_in(Some(carer)).into_iter().collect(),
        (Step::StandIn, None) => rota::all_who_can(book, place, standing, freed, now),
        (Step::Keeper, _) => rota::keepers_asked(book, place, standing, now),
        (Step::Hazard, carer) => {
            let others = rota::all_who_can(book, place, standing, freed, now);
            let mut all: Vec<CarerId> = place.keepers().chain(carer).chain(others).collect();
            all.sort();
            all.dedup();
            all
        }
    }
}

/// Whether anybody can write to a carer.
pub(super) fn has_account(place: &Place, carer: CarerId) -> bool {
    let carer = place.carers.get(&carer);
    carer.is_none_or(|carer| carer.role != Role::Helper)
}

/// When a turn is passed on, step by step, as [`steps`] says; a step that would call people in their own quiet hours
/// waits until the first of them is awake.
#[must_use]
pub fn call_times(
    book: &Book,
    place: &Place,
    standing: &Standing,
    hand: &Hand,
    now: Timestamp,
) -> Vec<(Step, Timestamp)> {
    let mut times = steps(place, standing, hand);
    if place.carers.values().all(|carer| carer.quiet.is_none()) {
        return times;
    }
    for (step, at) in &mut times {
        let called = called_at(book, place, standing, hand, *step, now);
        *at = called
            .iter()
            .map(|id| awake(place, *id, *at))
            .min()
            .unwrap_or(*at);
    }
    times
}

/// How often the quiet hours of a person and those of the place may follow on each other.
const FOLLOW_MAX: u32 = 4;

/// The first moment at or after this one at which neither the place nor a person has quiet hours.
#[must_use]
pub fn awake(place: &Place, carer: CarerId, at: Timestamp) -> Timestamp {
    let Some(carer) = place.carers.get(&carer) else {
        return at;
    };
    // Between them they may leave no time of day at all: then it is the end of the last that was looked at.
    (0..FOLLOW_MAX).fold(at, |at, _| {
        waking(&place.zone, place.quiet, carer.wakes(&place.zone, at))
    })
}

/// When someone wakes up next: from the quiet hours that they have now, else from the next ones of their own. `None`:
/// they have none.
#[must_use]
pub(super) fn wakes_next(place: &Place, carer: CarerId, now: Timestamp) -> Option<Timestamp> {
    let one = place.carers.get(&carer)?;
    let from = one.quiet?.from;
    let zone = one.zone.as_ref().unwrap_or(&place.zone);
    let begins = (0..=1).map(|day| zone.instant(plus_days(zone.date(now), day).to_datetime(from)));
    let asleep = std::iter::once(now).chain(begins);
    let asleep = asleep.filter(|at| *at >= now && rests(place, carer, *at)).min()?;
    Some(awake(place, carer, asleep))
}

/// Whether someone has quiet hours of their own now, so that only danger is told to them.
#[must_use]
pub fn rests(place: &Place, carer: CarerId, now: Timestamp) -> bool {
    place
        .carers
        .get(&carer)
        .is_some_and(|carer| carer.rests(&place.zone, now))
}
