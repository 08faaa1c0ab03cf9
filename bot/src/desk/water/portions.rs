//! Water for single pools, to be weighed out ahead: the same as `/mix` gives for their changes.

use std::collections::BTreeMap;

use wrackline_core::place::{Place, Water};
use wrackline_core::quantity::{Grams, Millilitres};

use super::changes::{brief, with_spill};
use super::made::{Made, ROOM};
use super::said;
use crate::desk::Refused;
use crate::desk::batches::DREGS_L;
use crate::desk::batches::offer::at_hand;
use crate::desk::tell::Tell;
use crate::msg;

/// What goes into the new water of one pool, its margin for spills with it.
pub(in crate::desk) struct Portion(Made);

/// The portion for some litres of a pool's change.
///
/// # Errors
/// One sentence about what cannot be mixed.
pub(in crate::desk) fn portion(place: &Place, water: Water, litres: f64) -> Result<Portion, Refused> {
    with_spill(place, (water, litres), None, ROOM).map(Portion)
}

impl Portion {
    /// It as it stands on its label.
    pub(in crate::desk) fn told(&self, tell: &Tell<'_>) -> String {
        let made = &self.0;
        let dose = made.dose.map_or_else(
            || tell.word("alone-dose-label"),
            |dose| tell.say(&msg!("prepare-dose", dose = said::dose(dose.amount))),
        );
        let source = said::volume(tell.place, made.source);
        tell.say(&match made.water {
            Water::Salt => msg!(
                "alone-portion-salt",
                salt = said::mass(tell.place, made.product()),
                dose = dose,
                source = source
            ),
            Water::Fresh => msg!("alone-portion-fresh", dose = dose, source = source),
        })
    }
}

/// The salt and the conditioner of portions together; `None` where there is neither to weigh out.
pub(in crate::desk) fn in_all(tell: &Tell<'_>, portions: &[Portion], doses: f64) -> Option<String> {
    let salt: f64 = portions.iter().map(|one| one.0.product().0).sum();
    let each = portions.iter().filter_map(|one| one.0.dose);
    let dose = each.map(|dose| dose.amount.0).sum::<f64>() + doses;
    let parts = [
        (salt > 0.0).then(|| tell.say(&msg!("prepare-salt", salt = said::mass(tell.place, Grams(salt))))),
        (dose > 0.0).then(|| tell.say(&msg!("prepare-dose", dose = said::dose(Millilitres(dose))))),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    (!parts.is_empty()).then(|| parts.join(", "))
}

/// What is to be prepared for some changes, in a line; `None` where there is nothing. `at_hand`: less what is prepared
/// already.
pub(in crate::desk) fn prepare(tell: &Tell<'_>, changes: &[(Water, f64)], less: bool) -> Option<String> {
    let mut sums: BTreeMap<Water, f64> = BTreeMap::new();
    for (water, litres) in changes {
        *sums.entry(*water).or_default() += litres;
    }
    let made = sums.into_iter().filter_map(|(water, litres)| {
        let litres = if less {
            litres - at_hand(tell, water, litres)
        } else {
            litres
        };
        let some = litres >= DREGS_L;
        some.then(|| with_spill(tell.place, (water, litres), None, ROOM).ok())?
    });
    brief(tell, &made.collect::<Vec<_>>())
}
