//! How much thiosulfate chlorine takes, from atomic weights: a cross-check of a label, not a dose.
//!
//! Which reaction runs depends on acidity and on what is in excess, so the demand is a span. To sulfate, at four
//! chlorine to one thiosulfate, it is smallest; to tetrathionate, at one chlorine to two thiosulfate, it is largest, and
//! that is the safe one near neutral. A support page (TE213) of a maker of water analysers counts with 7.0 mg
//! of the pentahydrate per mg of chlorine, and 1.13 mL of 0.0250 N, which is the same reaction.

use crate::quantity::{Litres, MilligramsPerLitre, Millilitres};
use crate::rests::Rests;

use super::{Label, Mains, Problem, chlorine, volume};

/// Abridged standard atomic weights of IUPAC.
const H: f64 = 1.008;
const N: f64 = 14.007;
const O: f64 = 15.999;
const NA: f64 = 22.990;
const S: f64 = 32.06;
const CL: f64 = 35.45;

const CHLORINE: f64 = 2.0 * CL;
const ANHYDROUS: f64 = 2.0 * NA + 2.0 * S + 3.0 * O;
const PENTAHYDRATE: f64 = ANHYDROUS + 5.0 * (2.0 * H + O);
const AMMONIA: f64 = N + 3.0 * H;

/// More chlorine than this is no mains water, and no bucket either.
pub const CHLORINE_MAX: MilligramsPerLitre = MilligramsPerLitre(1000.0);

/// What thiosulfate becomes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Route {
    /// S₂O₃²⁻ + 4 Cl₂ + 5 H₂O: to sulfate.
    Sulfate,
    /// S₂O₃²⁻ + Cl₂ + H₂O: to sulfur and sulfate.
    SulfurAndSulfate,
    /// 2 S₂O₃²⁻ + Cl₂: to tetrathionate.
    Tetrathionate,
}

/// The route that needs the most: who doses for it has enough whichever runs.
pub const SAFE_ROUTE: Route = Route::Tetrathionate;

impl Route {
    /// All of them, from the smallest demand to the largest.
    pub const ALL: [Self; 3] = [Self::Sulfate, Self::SulfurAndSulfate, Self::Tetrathionate];

    /// Moles of thiosulfate per mole of Cl₂.
    #[must_use]
    pub const fn moles(self) -> f64 {
        match self {
            Self::Sulfate => 0.25,
            Self::SulfurAndSulfate => 1.0,
            Self::Tetrathionate => 2.0,
        }
    }

    /// Milligrams of sodium thiosulfate pentahydrate, the crystals that are sold, per milligram of chlorine: 0.8751,
    /// 3.5003, 7.0006.
    #[must_use]
    pub const fn pentahydrate(self) -> f64 {
        self.moles() * PENTAHYDRATE / CHLORINE
    }

    /// Milligrams of anhydrous sodium thiosulfate per milligram of chlorine: 0.5575, 2.2299, 4.4597.
    #[must_use]
    pub const fn anhydrous(self) -> f64 {
        self.moles() * ANHYDROUS / CHLORINE
    }
}

/// The thiosulfate pentahydrate, in mg, that an amount of water takes. Chloramine, counted as chlorine, takes as much as
/// chlorine does: both oxidise alike.
///
/// # Errors
///
/// A volume outside 0.001 to 1,000,000 L, or chlorine outside 0 to 1000 mg/L.
pub fn demand(water: Litres, as_chlorine: MilligramsPerLitre, route: Route) -> Result<f64, Problem> {
    Ok(volume(water)? * chlorine(as_chlorine)? * route.pentahydrate())
}

/// The millilitres of a thiosulfate solution of a normality that a mass of chlorine, in mg, takes on the way to
/// tetrathionate, where an equivalent is a mole: 1.128 mL of 0.0250 N per mg.
///
/// # Errors
///
/// A mass outside 0 to 1,000,000 mg ([`Problem::Chlorine`]) or a normality outside 0.0001 to 10.
pub fn titrant(chlorine_mg: f64, normality: f64) -> Result<Millilitres, Problem> {
    if !(0.0..=1e6).contains(&chlorine_mg) {
        return Err(Problem::Chlorine { value: chlorine_mg });
    }
    if !(1e-4..=10.0).contains(&normality) {
        return Err(Problem::Strength { value: normality });
    }
    // Milligrams over grams per equivalent are milliequivalents; those over equivalents per litre are millilitres.
    Ok(Millilitres(chlorine_mg / CL / normality))
}

/// What chloramine leaves once its chlorine is gone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Freed {
    /// Ammonia, as NH₃.
    pub ammonia: MilligramsPerLitre,
    /// The same, as its nitrogen.
    pub nitrogen: MilligramsPerLitre,
    /// What it rests on: one ammonia for one Cl₂, all of it freed.
    pub rests: Rests,
}

/// The ammonia that chloramine, counted as chlorine, leaves: 0.2402 mg of NH₃, or 0.1976 mg of N, per mg.
///
/// # Errors
///
/// Chloramine outside 0 to 1000 mg/L.
pub fn freed_ammonia(as_chlorine: MilligramsPerLitre) -> Result<Freed, Problem> {
    let moles = chlorine(as_chlorine)? / CHLORINE;
    Ok(Freed {
        ammonia: MilligramsPerLitre(moles * AMMONIA),
        nitrogen: MilligramsPerLitre(moles * N),
        rests: Rests::Computed,
    })
}

/// A label against what the chlorine in the water takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Check {
    /// The thiosulfate pentahydrate that a litre of the water takes, in mg, on the safe route.
    pub safe_mg: f64,
    /// The same on the route that takes the least: a label that does not reach this cannot be right.
    pub least_mg: f64,
    /// How strong the bottle must be for the label's dose to reach the safe one, in mg of pentahydrate per mL.
    pub needs_strength: f64,
    /// How often the label's dose covers the safe demand, where the strength is known. Without chlorine, `None`.
    pub covers: Option<f64>,
    /// Whether it covers the least demand, where the strength is known.
    pub possible: Option<bool>,
    /// What it rests on.
    pub rests: Rests,
}

/// Holds a label against stoichiometry. `strength` is what the bottle holds, in mg of thiosulfate pentahydrate per mL:
/// `None` for a product that is no thiosulfate or does not say, of which only the needed strength can be told.
///
/// # Errors
///
/// A label whose figures cannot be true, chlorine outside 0 to 1000 mg/L, a strength that is not above 0 and at most
/// 2000 mg/mL, which is more than crystals hold.
pub fn crosscheck(
    label: &Label,
    mains: Mains,
    as_chlorine: MilligramsPerLitre,
    strength: Option<f64>,
) -> Result<Check, Problem> {
    let one = Litres(1.0);
    let safe_mg = demand(one, as_chlorine, SAFE_ROUTE)?;
    let least_mg = demand(one, as_chlorine, Route::Sulfate)?;
    let per_litre = label.dose_for(one, mains)?.amount.0;
    if let Some(value) = strength
        && !(value > 0.0 && value <= 2000.0)
    {
        return Err(Problem::Strength { value });
    }
    let dosed = strength.map(|strength| strength * per_litre);
    let covers = dosed
        .map(|dosed| dosed / safe_mg)
        .filter(|times| times.is_finite());
    Ok(Check {
        safe_mg,
        least_mg,
        needs_strength: safe_mg / per_litre,
        covers,
        possible: dosed.map(|dosed| dosed >= least_mg),
        rests: Rests::Computed.and(Rests::Place),
    })
}
