//! How much ammonia is un-ionised.
//!
//! A kit reads total ammonia: what is un-ionised (NH₃) and what is ionised (NH₄⁺) together. The first does the harm, and
//! its share rises with pH and temperature. `nitrification` is how fast bacteria use it up, and what they need for that.

mod nitrification;

#[cfg(test)]
mod tests;

use crate::quantity::{Beyond, Celsius, Formula, Input, MilligramsPerLitre, Salinity, Span};
use crate::rests::Rests;

pub use self::nitrification::{FilmLimit, Growth, Needs, needs, rate_factor};

/// From this salinity on, in g/kg, water is taken for sea water. The two formulas nearly meet there: at 25 °C that of sea
/// water without salt lies within 0.007 of the pKa of fresh water (computed from both).
pub const SEA_FROM: Salinity = Salinity(1.0);

/// Un-ionised ammonia in mg/L as NH₃ that the keeping of fish takes for the most that is borne for long (from memory: the
/// criterion of a European commission on inland fisheries). No limit for land hermit crabs is published.
pub const FISH_LIMIT: MilligramsPerLitre = MilligramsPerLitre(0.025);

/// Temperatures in °C that anything is computed for.
const TEMPERATURES: Span = Span::new(-5.0, 60.0);
/// The pH scale.
const PHS: Span = Span::new(0.0, 14.0);
/// Salinities in g/kg that anything is computed for.
const SALINITIES: Span = Span::new(0.0, 100.0);
/// Concentrations in mg/L that anything is computed for.
const CONCENTRATIONS: Span = Span::new(0.0, 1e6);

/// Temperatures in °C of Emerson et al. 1975.
const FRESH_TEMPERATURES: Span = Span::new(0.0, 50.0);
/// Temperatures in °C of the data below Bell et al. 2007.
const SEA_TEMPERATURES: Span = Span::new(5.0, 25.0);
/// Salinities in g/kg of those data (from memory).
const SEA_SALINITIES: Span = Span::new(0.0, 40.0);

/// 0 °C in kelvin.
const KELVIN: f64 = 273.15;

/// What is impossible about a question on ammonia.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Problem {
    /// A temperature at which no such water is.
    #[error("a temperature of {value} °C: it must be -5 to 60")]
    Temperature {
        /// What was given, in °C.
        value: f64,
    },
    /// A pH off the scale.
    #[error("a pH of {value}: it must be 0 to 14")]
    Ph {
        /// What was given.
        value: f64,
    },
    /// A salinity that no pool has.
    #[error("a salinity of {value} g/kg: it must be 0 to 100")]
    Salinity {
        /// What was given, in g/kg.
        value: f64,
    },
    /// A concentration that is none.
    #[error("a concentration of {value} mg/L: it must be 0 to 1000000")]
    Concentration {
        /// What was given, in mg/L.
        value: f64,
    },
    /// A temperature factor that no bacteria have.
    #[error("a temperature factor of {value}: it must be 1 to 1.2")]
    Theta {
        /// What was given.
        value: f64,
    },
}

/// How much of the ammonia in a water is un-ionised.
#[derive(Clone, Debug, PartialEq)]
pub struct Unionised {
    /// The share of it, over 0 and under 1. It is a share of molecules, so it holds for nitrogen and for ions counted
    /// as NH₃ alike.
    pub share: f64,
    /// The formula that gave it.
    pub formula: Formula,
    /// Where that formula left its published range.
    pub beyond: Vec<Beyond>,
    /// What it rests on.
    pub rests: Rests,
}

impl Unionised {
    /// What of a total is un-ionised, in mg/L, counted as the total is counted: as NH₃-N of a total as N, as NH₃ of a
    /// total as NH₃.
    ///
    /// # Errors
    ///
    /// If the total is no concentration.
    pub fn of(&self, total: MilligramsPerLitre) -> Result<MilligramsPerLitre, Problem> {
        Ok(MilligramsPerLitre(self.share * concentration(total)?))
    }
}

/// How much of the ammonia in a water is un-ionised: by [`SEA_FROM`], as in fresh water or as in sea water. A pH of sea
/// water is on the NBS scale here, that of common meters and kits; scales of oceanography do not mix with it.
///
/// Fresh water: Emerson, Russo, Lund & Thurston 1975, 0–50 °C. Sea water: Bell et al. 2007, with their corrigendum of
/// 2008, on data from 5 to 25 °C; above, it is extrapolated. Against a table measured at 34 g/kg (Bower & Bidwell 1978)
/// it lies within 3 %.
///
/// # Errors
///
/// If the temperature is not -5 to 60 °C, the pH not 0 to 14, or the salinity not 0 to 100 g/kg.
pub fn unionised(temperature: Celsius, ph: f64, salinity: Salinity) -> Result<Unionised, Problem> {
    let (t, s) = (temperature.0, salinity.0);
    if !TEMPERATURES.has(t) {
        return Err(Problem::Temperature { value: t });
    }
    if !PHS.has(ph) {
        return Err(Problem::Ph { value: ph });
    }
    if !SALINITIES.has(s) {
        return Err(Problem::Salinity { value: s });
    }
    let (formula, pka, beyond) = if s < SEA_FROM.0 {
        let beyond = [
            Beyond::of(Formula::FreshAmmonia, Input::Temperature, t, FRESH_TEMPERATURES),
            None,
        ];
        (Formula::FreshAmmonia, pka_fresh(t, KELVIN), beyond)
    } else {
        let beyond = [
            Beyond::of(Formula::SeaAmmonia, Input::Temperature, t, SEA_TEMPERATURES),
            Beyond::of(Formula::SeaAmmonia, Input::Salinity, s, SEA_SALINITIES),
        ];
        (Formula::SeaAmmonia, pka_sea(t, s), beyond)
    };
    Ok(Unionised {
        share: share(pka, ph),
        formula,
        beyond: beyond.into_iter().flatten().collect(),
        rests: Rests::Seen,
    })
}

/// The pKa of ammonium in fresh water at a temperature in °C (Emerson et al. 1975). The second number is 0 °C in kelvin:
/// 273.15, or the 273.2 with which the table printed there agrees (that table from memory).
pub(crate) fn pka_fresh(t: f64, kelvin: f64) -> f64 {
    0.090_18 + 2729.92 / (t + kelvin)
}

/// The pKa of ammonium in sea water on the NBS scale, from °C and g/kg (Bell et al. 2007, corrigendum 2008).
fn pka_sea(t: f64, s: f64) -> f64 {
    10.0423 - 0.031_553_6 * t + 0.003_071 * s
}

/// The share of a base that is un-ionised, 0..1, from the pKa of its acid and the pH: the law of mass action.
pub(crate) fn share(pka: f64, ph: f64) -> f64 {
    1.0 / (1.0 + 10.0_f64.powf(pka - ph))
}

/// A concentration in mg/L, if it is one.
fn concentration(of: MilligramsPerLitre) -> Result<f64, Problem> {
    if CONCENTRATIONS.has(of.0) {
        Ok(of.0)
    } else {
        Err(Problem::Concentration { value: of.0 })
    }
}
