//! The equation of state of 1980 at the pressure of the air: density from salinity, and back.

use super::limits::{SALINITY, SeawaterError, SeawaterInput, salinity, t68, within};
use super::roots::{polynomial, root};
use crate::quantity::{Beyond, Celsius, Density, Formula, Input, Salinity, Span};

// Millero & Poisson 1981; Fofonoff & Millard 1983, UNESCO Technical Papers in Marine Science 44, p. 17.
const WATER: [f64; 6] = [
    999.842_594,
    6.793_952e-2,
    -9.095_290e-3,
    1.001_685e-4,
    -1.120_083e-6,
    6.536_332e-9,
];
const LINEAR: [f64; 5] = [8.244_93e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9];
const BENT: [f64; 3] = [-5.724_66e-3, 1.0227e-4, -1.6546e-6];
const SQUARE: f64 = 4.8314e-4;

/// The salinities that the equation is published for (from memory).
const SALINITIES: Span = Span::new(0.0, 42.0);

/// The temperatures in °C that the equation is published for (from memory).
const TEMPERATURES: Span = Span::new(-2.0, 40.0);

/// Density in kg/m³ of water at a temperature of the scale of 1968. Beyond the published salinities it goes on rising.
pub(crate) fn at_surface(s: f64, t68: f64) -> f64 {
    polynomial(&WATER, t68) + s * (polynomial(&LINEAR, t68) + s.sqrt() * polynomial(&BENT, t68) + SQUARE * s)
}

/// Density of sea water at the pressure of the air, in kg/m³.
///
/// Within 0.006 kg/m³ of TEOS-10 for salinities up to 42 at 10 to 35 °C. Units: g/kg, °C (ITS-90); published for
/// 0 to 42 and −2 to 40 °C, see [`density_beyond`].
///
/// Source: Fofonoff & Millard 1983, UNESCO Technical Papers in Marine Science 44, p. 17.
///
/// # Errors
///
/// A temperature outside −10 to 60 °C, or a salinity outside 0 to 60.
pub fn density(of: Salinity, at: Celsius) -> Result<Density, SeawaterError> {
    Ok(Density(at_surface(salinity(of)?, t68(at)?)))
}

/// Density of water without salt at the pressure of the air, in kg/m³: [`density`] at salinity 0.
///
/// # Errors
///
/// A temperature outside −10 to 60 °C.
pub fn fresh_density(at: Celsius) -> Result<Density, SeawaterError> {
    Ok(Density(polynomial(&WATER, t68(at)?)))
}

/// Salinity of water of a density at a temperature: the inverse of [`density`], found by iteration.
///
/// # Errors
///
/// A temperature outside −10 to 60 °C; a density below that of fresh water or above that of salinity 60.
pub fn salinity_from_density(of: Density, at: Celsius) -> Result<Salinity, SeawaterError> {
    let t68 = t68(at)?;
    let range = Span::new(at_surface(SALINITY.low, t68), at_surface(SALINITY.high, t68));
    let rho = within(SeawaterInput::Density, of.0, range)?;
    let (linear, bent) = (polynomial(&LINEAR, t68), polynomial(&BENT, t68));
    let found = root(
        SALINITY.low,
        SALINITY.high,
        (rho - range.low) / linear,
        |s: f64| {
            let slope = linear + 1.5 * s.sqrt() * bent + 2.0 * SQUARE * s;
            (at_surface(s, t68) - rho, slope)
        },
    );
    Ok(Salinity(found))
}

/// Where a salinity and a temperature leave the ranges of the equation of state: 0 to 42, −2 to 40 °C (from memory).
#[must_use]
pub fn density_beyond(of: Salinity, at: Celsius) -> Vec<Beyond> {
    let formula = Formula::EquationOfState;
    Beyond::of(formula, Input::Salinity, of.0, SALINITIES)
        .into_iter()
        .chain(Beyond::of(formula, Input::Temperature, at.0, TEMPERATURES))
        .collect()
}
