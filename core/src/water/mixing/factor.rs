//! What a salt product is worth, learnt from what was measured after mixing.
//!
//! Sea salt mixes hold water of crystallisation, so that a gram of one makes less than a gram of salt. The factor is
//! measured over expected salinity, and the next dose is divided by it: common practice, no published source.

use crate::quantity::{Grams, Salinity};
use crate::rests::Rests;

use super::Problem;

/// Less than this is no product but a mistake in weighing or measuring.
pub const FACTOR_MIN: f64 = 0.7;

/// More than this is one too.
pub const FACTOR_MAX: f64 = 1.3;

/// How much salinity a gram of a product makes, against a gram of dry salt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProductFactor {
    value: f64,
    rests: Rests,
}

/// A batch that was mixed and measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mixed {
    /// The factor that its dose was computed with.
    pub with: ProductFactor,
    /// What was expected of it: 0.1 to 60 g/kg.
    pub expected: Salinity,
    /// What was measured once all of the salt was dissolved.
    pub measured: Salinity,
}

/// What several batches teach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Learnt {
    /// The middle one of their factors.
    pub factor: ProductFactor,
    /// How many batches it rests on.
    pub used: usize,
    /// How many were left out because no product explains them.
    pub left_out: usize,
}

impl Default for ProductFactor {
    fn default() -> Self {
        Self::DRY
    }
}

impl ProductFactor {
    /// A product of which nothing was learnt yet is taken for dry salt.
    pub const DRY: Self = Self {
        value: 1.0,
        rests: Rests::Practice,
    };

    /// A factor that the place knows.
    ///
    /// # Errors
    ///
    /// One outside 0.7 to 1.3.
    pub fn new(value: f64) -> Result<Self, Problem> {
        if (FACTOR_MIN..=FACTOR_MAX).contains(&value) {
            Ok(Self {
                value,
                rests: Rests::Place,
            })
        } else {
            Err(Problem::Factor { factor: value })
        }
    }

    /// The factor itself.
    #[must_use]
    pub fn value(self) -> f64 {
        self.value
    }

    /// The grams of the product that count as so much dry salt.
    #[must_use]
    pub fn product_for(self, salt: Grams) -> Grams {
        Grams(salt.0 / self.value)
    }

    /// What it rests on: the place's own measurements, or nothing but practice.
    #[must_use]
    pub fn rests(self) -> Rests {
        self.rests
    }

    /// The factor for the next dose, after a dose with this one was expected to make one salinity and made another:
    /// f × measured/expected.
    ///
    /// # Errors
    ///
    /// An expected salinity outside 0.1 to 60 g/kg, a measured one outside 0 to 260, and a factor outside 0.7 to 1.3
    /// ([`Problem::Unexplained`]): then something else went wrong.
    pub fn learn(self, expected: Salinity, measured: Salinity) -> Result<Self, Problem> {
        if super::target(expected)? < 0.1 {
            return Err(Problem::Target {
                target: expected.0,
                limit: super::TARGET_MAX.0,
            });
        }
        if !(0.0..=super::SALINITY_MAX.0).contains(&measured.0) {
            return Err(Problem::Salinity { value: measured.0 });
        }
        let factor = self.value * (measured.0 / expected.0);
        Self::new(factor).map_err(|_| Problem::Unexplained {
            expected: expected.0,
            measured: measured.0,
            factor,
        })
    }
}

/// The factor from several batches: the middle one, which a single misreading does not move far. Batches that no product
/// explains are left out and counted.
///
/// # Errors
///
/// [`Problem::NothingLearnt`] if none is left.
pub fn learnt(batches: &[Mixed]) -> Result<Learnt, Problem> {
    let mut factors: Vec<f64> = batches
        .iter()
        .filter_map(|batch| batch.with.learn(batch.expected, batch.measured).ok())
        .map(ProductFactor::value)
        .collect();
    factors.sort_by(f64::total_cmp);
    let (low, high) = (
        factors.get(factors.len().saturating_sub(1) / 2),
        factors.get(factors.len() / 2),
    );
    let (Some(low), Some(high)) = (low, high) else {
        return Err(Problem::NothingLearnt { pairs: batches.len() });
    };
    Ok(Learnt {
        factor: ProductFactor::new(low.midpoint(*high))?,
        used: factors.len(),
        left_out: batches.len() - factors.len(),
    })
}
