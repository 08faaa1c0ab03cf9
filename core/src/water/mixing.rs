//! The recipe of a bucket, and what is done to a pool that stands.
//!
//! All of it is two balances, of salt and of the whole mass, in kilograms: what is weighed adds up, while litres do not
//! (a litre of fresh water and its salt make 1.01 L). Volumes come in through [`mass_of`] and go out through
//! [`volume_of`], with densities from `seawater`.
//!
//! In reading order: `factor` is what a salt product is worth; `recipe` is dry salt into water; `buckets` splits a recipe
//! for people to lift; `pool` raises, lowers and tops up; `temper` matches temperatures; `steps` is the order of work.

mod buckets;
mod factor;
mod pool;
mod problem;
mod recipe;
mod steps;
mod temper;

#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;

use crate::quantity::{Density, Kilograms, Litres, Salinity};

pub use self::buckets::{BUCKETS_MAX, MARGIN, SCALE, Split, split, with_margin};
pub use self::factor::{FACTOR_MAX, FACTOR_MIN, Learnt, Mixed, ProductFactor, learnt};
pub use self::pool::{
    Raise, Swap, evaporated, largest_swap, raise, swap, top_up, top_up_effect, top_up_mass,
};
pub use self::problem::Problem;
pub use self::recipe::{Recipe, bucket, finished, made};
pub use self::steps::{Step, steps};
pub use self::temper::{blend, largest_fraction, mixed, temperature_for};

/// The highest target: beyond it there is no sea water, and the formulas for it end at 42 g/kg.
pub const TARGET_MAX: Salinity = Salinity(60.0);

/// About where brine is saturated at room temperature (from memory): water cannot hold more.
pub const SALINITY_MAX: Salinity = Salinity(260.0);

/// The largest mass that is computed with.
pub const MASS_MAX: Kilograms = Kilograms(1e6);

/// The smallest mass of water that is one: a milligram.
const MASS_MIN: f64 = 1e-6;

/// A body of water: its whole mass, salt included, and what it holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Water {
    mass: Kilograms,
    salinity: Salinity,
}

impl Water {
    /// A body of water.
    ///
    /// # Errors
    ///
    /// A mass outside 0.000001 to 1,000,000 kg, a salinity outside 0 to 260 g/kg.
    pub fn new(mass: Kilograms, salinity: Salinity) -> Result<Self, Problem> {
        if !(MASS_MIN..=MASS_MAX.0).contains(&mass.0) {
            return Err(Problem::Mass { kg: mass.0 });
        }
        if !(0.0..=SALINITY_MAX.0).contains(&salinity.0) {
            return Err(Problem::Salinity { value: salinity.0 });
        }
        Ok(Self { mass, salinity })
    }

    /// What it weighs, salt included.
    #[must_use]
    pub fn mass(&self) -> Kilograms {
        self.mass
    }

    /// What it holds, in g/kg.
    #[must_use]
    pub fn salinity(&self) -> Salinity {
        self.salinity
    }

    /// The salt in it.
    #[must_use]
    pub fn salt(&self) -> Kilograms {
        self.mass * (self.salinity.0 / 1000.0)
    }

    /// The water in it without its salt.
    #[must_use]
    pub fn fresh(&self) -> Kilograms {
        self.mass * ((1000.0 - self.salinity.0) / 1000.0)
    }

    /// Both poured together.
    ///
    /// # Errors
    ///
    /// More than 1,000,000 kg in all.
    pub fn and(self, other: Self) -> Result<Self, Problem> {
        let mass = self.mass + other.mass;
        // A mean, weighed by mass: it cannot leave the span between the two but by rounding.
        let mean = (self.mass.0 * self.salinity.0 + other.mass.0 * other.salinity.0) / mass.0;
        Self::new(mass, Salinity(mean.min(SALINITY_MAX.0)))
    }
}

/// What a volume weighs at a density.
///
/// # Errors
///
/// A volume that is not above 0 and at most 1,000,000 L, or a density outside 900 to 1300 kg/m³.
pub fn mass_of(volume: Litres, density: Density) -> Result<Kilograms, Problem> {
    if !(1e-6..=1e6).contains(&volume.0) {
        return Err(Problem::Volume { litres: volume.0 });
    }
    Ok(Kilograms(volume.0 * water_density(density)? / 1000.0))
}

/// The volume of a mass at a density.
///
/// # Errors
///
/// A mass outside 0 to 1,000,000 kg, or a density outside 900 to 1300 kg/m³.
pub fn volume_of(mass: Kilograms, density: Density) -> Result<Litres, Problem> {
    if !(0.0..=MASS_MAX.0).contains(&mass.0) {
        return Err(Problem::Mass { kg: mass.0 });
    }
    Ok(Litres(mass.0 / water_density(density)? * 1000.0))
}

fn water_density(density: Density) -> Result<f64, Problem> {
    if (900.0..=1300.0).contains(&density.0) {
        Ok(density.0)
    } else {
        Err(Problem::Density { value: density.0 })
    }
}

/// A target that is sea water, or fresh.
fn target(salinity: Salinity) -> Result<f64, Problem> {
    if (0.0..=TARGET_MAX.0).contains(&salinity.0) {
        Ok(salinity.0)
    } else {
        Err(Problem::Target {
            target: salinity.0,
            limit: TARGET_MAX.0,
        })
    }
}
