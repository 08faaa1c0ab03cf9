//! How fast bacteria turn ammonia to nitrate, and what they need for it.

use super::{Problem, TEMPERATURES, concentration};
use crate::quantity::{Basis, Celsius, Kind, MilligramsPerLitre, Span, rebase};
use crate::rests::Rests;

/// Temperature factors that anything is computed with: 1 is no effect at all.
const THETAS: Span = Span::new(1.0, 1.2);

/// mg of oxygen used per mg of nitrogen nitrified: NH₃ + 2 O₂, IUPAC abridged weights (computed).
const OXYGEN_PER_NITROGEN: f64 = 4.569;

/// mg of alkalinity as CaCO₃ used per mg of nitrogen nitrified: two acids a nitrogen (computed).
const ALKALINITY_PER_NITROGEN: f64 = 7.145;

/// How the bacteria live, which decides how much warmth speeds them up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Growth {
    /// As a film on media, as in a pool's filter.
    FixedFilm,
    /// Afloat, at the lower end of what is published.
    SuspendedLow,
    /// Afloat, at the upper end.
    SuspendedHigh,
}

impl Growth {
    /// The factor of the rate for each °C: 1.04 on media, 1.08 to 1.10 afloat.
    #[must_use]
    pub const fn theta(self) -> f64 {
        match self {
            Self::FixedFilm => 1.04,
            Self::SuspendedLow => 1.08,
            Self::SuspendedHigh => 1.10,
        }
    }

    /// What its factor rests on. That of media is set below the 4.275 % of [`FilmLimit::Ammonia`]; those of growth
    /// afloat are from memory.
    #[must_use]
    pub const fn rests(self) -> Rests {
        match self {
            Self::FixedFilm => Rests::Computed,
            Self::SuspendedLow | Self::SuspendedHigh => Rests::Memory,
        }
    }
}

/// What holds a film of bacteria back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FilmLimit {
    /// Too little ammonia.
    Ammonia,
    /// Too little oxygen.
    Oxygen,
}

impl FilmLimit {
    /// By how many per cent the rate of a film rises for a °C at 20 °C: seen in the abstract of a study of temperature in
    /// fixed-film filters (authors from memory: Zhu & Chen 2002).
    #[must_use]
    pub const fn percent_per_degree(self) -> f64 {
        match self {
            Self::Ammonia => 4.275,
            Self::Oxygen => 1.108,
        }
    }
}

/// By what the rate of nitrification is multiplied from one temperature to another: theta to the power of the
/// difference in °C.
///
/// # Errors
///
/// If a temperature is not -5 to 60 °C, or theta not 1 to 1.2.
pub fn rate_factor(theta: f64, from: Celsius, to: Celsius) -> Result<f64, Problem> {
    if !THETAS.has(theta) {
        return Err(Problem::Theta { value: theta });
    }
    for end in [from, to] {
        if !TEMPERATURES.has(end.0) {
            return Err(Problem::Temperature { value: end.0 });
        }
    }
    Ok(theta.powf(to.0 - from.0))
}

/// What it takes to nitrify some ammonia.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Needs {
    /// Oxygen used, in mg/L.
    pub oxygen: MilligramsPerLitre,
    /// Alkalinity used, in mg/L as CaCO₃.
    pub alkalinity: MilligramsPerLitre,
    /// What they rest on.
    pub rests: Rests,
}

/// What it takes to nitrify an amount of total ammonia, counted as N or as NH₃: 4.569 mg of oxygen and 7.145 mg of
/// alkalinity as CaCO₃ per mg of nitrogen (computed from the reaction; what the bacteria build into themselves is left
/// out).
///
/// # Errors
///
/// If the ammonia is no concentration.
pub fn needs(ammonia: MilligramsPerLitre, basis: Basis) -> Result<Needs, Problem> {
    let given = concentration(ammonia)?;
    // Ammonia has a factor, so this is always some.
    let nitrogen = rebase(Kind::Ammonia, given, basis, Basis::Nitrogen).unwrap_or(given);
    Ok(Needs {
        oxygen: MilligramsPerLitre(nitrogen * OXYGEN_PER_NITROGEN),
        alkalinity: MilligramsPerLitre(nitrogen * ALKALINITY_PER_NITROGEN),
        rests: Rests::Computed,
    })
}
