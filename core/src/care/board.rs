//! All marks of a place at once, in walking order.

use jiff::Timestamp;

use super::{Duty, Mark, Standing, standing};
use crate::journal::Book;
use crate::place::{EnclosureId, Place, Target};

/// The targets of a place with the duties that they may have, in walking order: an enclosure's look first, its
/// pools, then the rest of the enclosure; the place's own last.
#[must_use]
pub fn targets(place: &Place) -> Vec<(Duty, Target)> {
    let mut all = Vec::new();
    for enclosure in place.walk() {
        of_enclosure(place, enclosure.id, &mut all);
    }
    all.extend(own_of(place, Target::Place));
    all
}

fn of_enclosure(place: &Place, id: EnclosureId, all: &mut Vec<(Duty, Target)>) {
    let target = Target::Enclosure(id);
    let (first, rest): (Vec<_>, Vec<_>) = Duty::ALL
        .into_iter()
        .filter(|duty| !duty.is_of_pool())
        .partition(|duty| *duty == Duty::Look);
    all.extend(first.into_iter().map(|duty| (duty, target)));
    for pool in place.pools_of(id) {
        let target = Target::Pool(pool.id);
        let duties = Duty::ALL
            .into_iter()
            .filter(|duty| duty.is_of_pool() && *duty != Duty::PartChange);
        all.extend(duties.map(|duty| (duty, target)));
        all.extend(own_of(place, target));
    }
    all.extend(rest.into_iter().map(|duty| (duty, target)));
    all.extend(own_of(place, target));
}

fn own_of(place: &Place, target: Target) -> impl Iterator<Item = (Duty, Target)> {
    let own = place
        .duties
        .iter()
        .filter(move |(_, (duty, _))| duty.target == target);
    own.map(move |(id, _)| (Duty::Own(*id), target))
}

/// How every duty of a place stands at a moment, in walking order. `place` must be the book's place at that
/// moment.
#[must_use]
pub fn board(book: &Book, place: &Place, now: Timestamp) -> Vec<Standing> {
    let all = targets(place);
    all.into_iter()
        .filter_map(|(duty, target)| standing(book, place, duty, target, now))
        .collect()
}

/// Whether a turn need not be called by itself, since another one that is due in the same pool renews it: whoever
/// changes the water conditions and tops it up with that. Called beside each other they would be done twice. One
/// that is a hazard while the other is not is called all the same.
#[must_use]
pub fn is_folded(board: &[Standing], standing: &Standing) -> bool {
    board.iter().any(|other| {
        other.turn.target == standing.turn.target
            && other.mark > Mark::Calm
            && (standing.mark < Mark::Hazard || other.mark == Mark::Hazard)
            && other.held.is_none()
            && other.duty().renews().contains(&standing.turn.duty)
    })
}
