//! Whether a change of the people leaves a duty that nobody can do.

use std::collections::BTreeMap;

use super::{Needs, work};
use crate::care::Standing;
use crate::people::Carer;
use crate::place::{CarerId, Place, Role};

/// The first turn that somebody could do for good before the people became these, and nobody can after. Whoever comes
/// for a span only, and a helper who wants no share, is not counted on.
#[must_use]
pub fn left_undone<'b>(
    place: &Place,
    board: &'b [Standing],
    after: &BTreeMap<CarerId, Carer>,
) -> Option<(&'b Standing, Needs)> {
    board.iter().find_map(|standing| {
        let needs = work(place, standing.duty(), standing.turn.target).needs;
        let lost = anyone(&place.carers, &needs) && !anyone(after, &needs);
        lost.then_some((standing, needs))
    })
}

fn anyone(carers: &BTreeMap<CarerId, Carer>, needs: &Needs) -> bool {
    carers.values().any(|carer| {
        let is_counted_on = carer.span.is_none() && (carer.role != Role::Helper || carer.wants() > 0.0);
        is_counted_on && needs.met_by(&carer.can())
    })
}
