//! What brings a pool back to what it should be.

use std::collections::BTreeMap;

use super::problem::{self, Problem};
use crate::place::PoolId;
use crate::quantity::{Grams, Kilograms, Litres, Millilitres, Salinity};
use crate::water::mixing::ProductFactor;

/// A salinity this near to its target, in g/kg, is let be: no instrument of a keeper shows less (common practice, no
/// published source).
pub const NEAR_ENOUGH: Salinity = Salinity(0.05);

/// What is at hand, and what is wanted.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Means {
    /// The label of the conditioner: so many mL for so many litres, both 0.001 to 1,000,000.
    pub label: Option<(Millilitres, Litres)>,
    /// What a gram of the place's salt counts; dry salt where nothing is known of it.
    pub product: ProductFactor,
    /// The salinity that a pool should have. For a pool that is not here, it is the one that it was believed to have.
    pub targets: BTreeMap<PoolId, Salinity>,
}

/// What brings a pool back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fix {
    /// Nothing has to be done.
    Nothing,
    /// Conditioner for all its water.
    Condition {
        /// The pool's litres.
        litres: Litres,
        /// The dose, where the label was given.
        dose: Option<Millilitres>,
    },
    /// Part of its water is changed for fresh water without salt.
    Change {
        /// The share of it, over 0 and at most 1, by mass.
        share: f64,
        /// That share in kg: so much out, and as much in.
        mass: Kilograms,
    },
    /// Dry salt is put in, dissolved first, without taking water out.
    Salt {
        /// How much, as salt without water of its own.
        grams: Grams,
        /// The same in grams of the place's product.
        product: Grams,
    },
}

impl Means {
    /// Whether its numbers can be.
    pub(super) fn check(&self) -> Result<(), Problem> {
        if let Some((dose, per)) = self.label {
            problem::label(dose.0, per.0)?;
        }
        self.targets
            .values()
            .try_for_each(|target| problem::salinity(target.0))
    }

    /// What takes the chlorine out of a pool's litres: the label's dose for all of them, since the dose goes by the water
    /// and not by what is in it.
    pub(super) fn against_chlorine(&self, litres: Litres) -> Fix {
        let dose = self
            .label
            .map(|(dose, per)| Millilitres(dose.0 / per.0 * litres.0));
        Fix::Condition { litres, dose }
    }

    /// What brings a pool of some kg from one salinity to its target, by mass balance: salt is M (T - S) / (1000 - T), a
    /// change for fresh water the share 1 - T / S (computed).
    pub(super) fn against_salinity(
        &self,
        pool: PoolId,
        mass: Kilograms,
        now: Salinity,
        believed: Salinity,
    ) -> Fix {
        let target = self.targets.get(&pool).copied().unwrap_or(believed).0;
        let over = now.0 - target;
        if over.abs() < NEAR_ENOUGH.0 {
            Fix::Nothing
        } else if over > 0.0 {
            let share = 1.0 - target / now.0;
            Fix::Change {
                share,
                mass: mass * share,
            }
        } else {
            let grams = Grams(mass.0 * -over / (1000.0 - target) * 1000.0);
            Fix::Salt {
                grams,
                product: self.product.product_for(grams),
            }
        }
    }
}
