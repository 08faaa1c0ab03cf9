//! Dry salt into water.

use crate::quantity::{Density, Grams, Kilograms, Litres, Salinity};
use crate::rests::Rests;

use super::{Problem, ProductFactor, Water, target, volume_of};

/// What makes an amount of salt water.
///
/// The product's own water of crystallisation is not counted into the finished mass: where a tenth of the product is
/// water that is 0.4 % of the volume at 35 g/kg, and what it does to the salinity is in the factor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recipe {
    /// The water to start from.
    pub source: Water,
    /// The salt that has to come in.
    pub salt: Grams,
    /// The same on the scales, as grams of the product: the salt over the product's factor.
    pub product: Grams,
    /// What comes out.
    pub finished: Water,
    /// What it rests on: the balance is computed, the product's factor learnt or assumed.
    pub rests: Rests,
}

impl Recipe {
    /// The water to start from, in litres at its density.
    ///
    /// # Errors
    ///
    /// A density outside 900 to 1300 kg/m³.
    pub fn source_volume(&self, density: Density) -> Result<Litres, Problem> {
        volume_of(self.source.mass(), density)
    }

    /// What comes out, in litres at its density.
    ///
    /// # Errors
    ///
    /// A density outside 900 to 1300 kg/m³.
    pub fn finished_volume(&self, density: Density) -> Result<Litres, Problem> {
        volume_of(self.finished.mass(), density)
    }
}

/// The salt for an amount of source water: M(S − s)/(1000 − S), which is M·S/(1000 − S) for water that holds none. From
/// the conservation of salt and of mass: all of M and of the salt is in the end there.
///
/// # Errors
///
/// A mass outside 0.000001 to 1,000,000 kg, or more than that in the end; a source outside 0 to 260 g/kg; a target
/// outside 0 to 60 g/kg ([`Problem::Target`]) or below what the source holds ([`Problem::TargetBelow`]).
pub fn bucket(
    source: Kilograms,
    holds: Salinity,
    wanted: Salinity,
    factor: ProductFactor,
) -> Result<Recipe, Problem> {
    let source = Water::new(source, holds)?;
    let wanted = reachable(holds, wanted)?;
    let salt = source.mass().0 * (wanted - holds.0) / (1000.0 - wanted);
    recipe(source, salt, wanted, factor)
}

/// The source water and the salt for an amount of finished water: M(1000 − S)/(1000 − s) and M(S − s)/(1000 − s).
///
/// # Errors
///
/// As [`bucket`].
pub fn finished(
    finished: Kilograms,
    holds: Salinity,
    wanted: Salinity,
    factor: ProductFactor,
) -> Result<Recipe, Problem> {
    let wanted = reachable(holds, wanted)?;
    let mass = Water::new(finished, Salinity(wanted))?.mass().0;
    let room = 1000.0 - holds.0;
    let source = Water::new(Kilograms(mass * (1000.0 - wanted) / room), holds)?;
    recipe(source, mass * (wanted - holds.0) / room, wanted, factor)
}

/// What an amount of a product makes of water: the way back from [`bucket`], by the same two balances.
///
/// # Errors
///
/// Less than nothing of the product; more than 1,000,000 kg, or more than 260 g/kg, in the end.
pub fn made(source: Water, product: Grams, factor: ProductFactor) -> Result<Water, Problem> {
    let salt = Kilograms(product.0 * factor.value() / 1000.0);
    let mass = source.mass() + salt;
    if !(0.0..=super::MASS_MAX.0).contains(&salt.0) {
        return Err(Problem::Mass { kg: salt.0 });
    }
    Water::new(mass, Salinity((source.salt() + salt) / mass * 1000.0))
}

fn reachable(holds: Salinity, wanted: Salinity) -> Result<f64, Problem> {
    let wanted = target(wanted)?;
    if !(0.0..=super::SALINITY_MAX.0).contains(&holds.0) {
        return Err(Problem::Salinity { value: holds.0 });
    }
    if wanted < holds.0 {
        return Err(Problem::TargetBelow {
            target: wanted,
            holds: holds.0,
        });
    }
    Ok(wanted)
}

fn recipe(source: Water, salt_kg: f64, wanted: f64, factor: ProductFactor) -> Result<Recipe, Problem> {
    let salt = Grams(salt_kg * 1000.0);
    Ok(Recipe {
        source,
        salt,
        product: Grams(salt.0 / factor.value()),
        finished: Water::new(source.mass() + Kilograms(salt_kg), Salinity(wanted))?,
        rests: Rests::Computed.and(factor.rests()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::water::mixing::bucket;

    #[test]
    fn what_a_recipe_weighs_makes_what_it_was_for() {
        for (holds, wanted, factor) in [(0.0, 35.0, 1.0), (0.4, 33.19, 0.95), (20.0, 20.0, 1.1)] {
            let factor = ProductFactor::new(factor).unwrap();
            let recipe = bucket(Kilograms(9.97), Salinity(holds), Salinity(wanted), factor).unwrap();
            let got = made(recipe.source, recipe.product, factor).unwrap();
            assert!((got.salinity().0 - wanted).abs() < 1e-12, "{got:?}");
            assert!((got.mass().0 - recipe.finished.mass().0).abs() < 1e-12, "{got:?}");
        }
        let water = Water::new(Kilograms(10.0), Salinity(0.0)).unwrap();
        for product in [-1.0, f64::NAN, 1e9] {
            assert!(
                made(water, Grams(product), ProductFactor::DRY).is_err(),
                "{product}"
            );
        }
        // Ten litres of fresh water at 25 °C and 358 g: 34.66 g/kg, by 358/(9970.5 + 358).
        let fresh = Water::new(Kilograms(9.9705), Salinity(0.0)).unwrap();
        let got = made(fresh, Grams(358.0), ProductFactor::DRY).unwrap();
        assert!((got.salinity().0 - 34.66).abs() < 0.005, "{got:?}");
    }
}
