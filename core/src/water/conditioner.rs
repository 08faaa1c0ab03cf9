//! What makes mains water fit.
//!
//! The label of the bottle decides the dose; nothing here is wiser than it. `stoichiometry` says what chlorine and
//! chloramine need at least, to catch a label that was copied wrongly; `limits` says what mains water may hold; `guard`
//! adds up what was dosed lately.

mod guard;
mod limits;
mod stoichiometry;

#[cfg(test)]
mod tests;

use serde::{Deserialize, Serialize};

use crate::quantity::{Hours, Litres, MilligramsPerLitre, Millilitres};
use crate::rests::Rests;

pub use self::guard::{Doses, Given, Total, doses_within, total_within};
pub use self::limits::{Authority, LIMITS, Limit, exceeded, highest};
pub use self::stoichiometry::{
    CHLORINE_MAX, Check, Freed, Route, SAFE_ROUTE, crosscheck, demand, freed_ammonia, titrant,
};

/// How long a product is taken to hold what it binds where its label does not say: common practice, no published
/// source.
pub const HOLD_DEFAULT: Hours = Hours(48.0);

/// What mains water is disinfected with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Mains {
    /// Free chlorine, which leaves water that stands open with air (common practice, no published source).
    Chlorine,
    /// Monochloramine. Standing for a day does not remove it (common practice, widely stated), and what removes the
    /// chlorine of it leaves the ammonia.
    Chloramine,
}

/// What a label says of chloramine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ForChloramine {
    /// The same dose does.
    Same,
    /// Twice the dose.
    Doubled,
    /// Nothing: the single dose is computed, and said to be unsaid.
    Unsaid,
}

/// The label of a bottle, as the place entered it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Label {
    /// The dose for chlorine: so much of the bottle, above 0 and up to 10,000 mL …
    pub dose: Millilitres,
    /// … for so much water, above 0 and up to 1,000,000 L.
    pub per: Litres,
    /// What it says of chloramine.
    pub chloramine: ForChloramine,
    /// How long it holds what it binds, if it says: above 0 and up to 1000 h.
    pub hold: Option<Hours>,
    /// Whether it binds ammonia too. Such a product can disturb ammonia tests.
    pub binds_ammonia: bool,
}

/// How much of a bottle for an amount of water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dose {
    /// What to measure out.
    pub amount: Millilitres,
    /// Whether the label doubled it for chloramine.
    pub doubled: bool,
    /// The water holds chloramine, and the label says nothing of it: to be asked of its maker.
    pub unsaid: bool,
    /// An ammonia test in this water may show what is not there, or miss what is: the label says that the product binds
    /// ammonia (common practice, no published source).
    pub disturbs_ammonia_tests: bool,
    /// What it rests on: the label that the place entered.
    pub rests: Rests,
}

/// What is impossible about a dose.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Problem {
    /// A label's dose that is none.
    #[error("a label's dose of {value} mL: it must be more than 0 and at most 10000")]
    LabelDose {
        /// What was given, in mL.
        value: f64,
    },
    /// A label's hold time that is none.
    #[error("a hold time of {value} h: it must be more than 0 and at most 1000")]
    Hold {
        /// What was given, in hours.
        value: f64,
    },
    /// A volume of water that is none.
    #[error("{value} L of water: it must be at least 0.001 and at most 1000000")]
    Volume {
        /// What was given, in litres.
        value: f64,
    },
    /// A dose of a bottle that is none.
    #[error("a dose of {value} mL: it must be 0 to 1000000")]
    Dosed {
        /// What was given, in mL.
        value: f64,
    },
    /// More chlorine than water is disinfected with.
    #[error("{value} mg/L of chlorine: it must be 0 to 1000")]
    Chlorine {
        /// What was given, in mg/L.
        value: f64,
    },
    /// A solution's strength that is none.
    #[error("a solution of strength {value}: it must be more than 0 and at most 2000")]
    Strength {
        /// What was given: mg of thiosulfate in a mL, or a normality.
        value: f64,
    },
    /// A time that is none.
    #[error("a time of {value} h cannot be counted with")]
    Time {
        /// What was given, in hours.
        value: f64,
    },
}

fn volume(litres: Litres) -> Result<f64, Problem> {
    if (0.001..=1e6).contains(&litres.0) {
        Ok(litres.0)
    } else {
        Err(Problem::Volume { value: litres.0 })
    }
}

fn chlorine(of: MilligramsPerLitre) -> Result<f64, Problem> {
    if (0.0..=CHLORINE_MAX.0).contains(&of.0) {
        Ok(of.0)
    } else {
        Err(Problem::Chlorine { value: of.0 })
    }
}

impl Label {
    /// The label itself, if its figures can be true.
    ///
    /// # Errors
    ///
    /// A dose, a volume or a hold time outside the range that its field names.
    pub fn valid(self) -> Result<Self, Problem> {
        // Nothing is measured out by less than a ten-thousandth of a millilitre.
        if !(1e-4..=10_000.0).contains(&self.dose.0) {
            return Err(Problem::LabelDose { value: self.dose.0 });
        }
        volume(self.per)?;
        if let Some(Hours(value)) = self.hold
            && !(value > 0.0 && value <= 1000.0)
        {
            return Err(Problem::Hold { value });
        }
        Ok(self)
    }

    /// How long the product holds what it binds, and whether its label says so: [`HOLD_DEFAULT`] where it does not.
    #[must_use]
    pub fn holds(&self) -> (Hours, Rests) {
        self.hold
            .map_or((HOLD_DEFAULT, Rests::Practice), |hold| (hold, Rests::Place))
    }

    /// The dose for an amount of water: V × label mL / label V, twice that for chloramine if the label says so.
    ///
    /// # Errors
    ///
    /// A label whose figures cannot be true ([`Label::valid`]), or a volume outside 0.001 to 1,000,000 L.
    pub fn dose_for(&self, water: Litres, mains: Mains) -> Result<Dose, Problem> {
        let label = self.valid()?;
        let litres = volume(water)?;
        let chloramine = mains == Mains::Chloramine;
        let doubled = chloramine && label.chloramine == ForChloramine::Doubled;
        let single = litres * (label.dose.0 / label.per.0);
        Ok(Dose {
            amount: Millilitres(if doubled { 2.0 * single } else { single }),
            doubled,
            unsaid: chloramine && label.chloramine == ForChloramine::Unsaid,
            disturbs_ammonia_tests: label.binds_ammonia,
            rests: Rests::Place,
        })
    }
}
