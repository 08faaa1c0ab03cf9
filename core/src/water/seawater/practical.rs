//! The practical salinity scale of 1978: salinity from conductivity, and back.

use super::limits::{
    CONDUCTIVITY, Decibars, SALINITY, SeawaterError, SeawaterInput, pressure, salinity, t68, within,
};
use super::roots::{polynomial, root, slope};
use crate::quantity::{Beyond, Celsius, Conductivity, Formula, Input, Salinity, Span};

/// Conductivity at salinity 35, 15 °C of the scale of 1968 and the surface, in mS/cm.
///
/// Source: as in the TEOS-10 library; the scale itself needs ratios only.
const REFERENCE: f64 = 42.914;

// Fofonoff & Millard 1983, UNESCO Technical Papers in Marine Science 44, p. 6 to 9.
const A: [f64; 6] = [0.0080, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081];
const B: [f64; 6] = [0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144];
const C: [f64; 5] = [0.676_609_7, 2.005_64e-2, 1.104_259e-4, -6.9698e-7, 1.0031e-9];
const D: [f64; 4] = [3.426e-2, 4.464e-4, 4.215e-1, -3.107e-3];
const E: [f64; 4] = [0.0, 2.070e-5, -6.370e-10, 3.989e-15];
const K: f64 = 0.0162;

/// Below this salinity the extension takes over.
const EXTENDED: f64 = 2.0;

/// The salinities that the scale is defined for (from memory).
const SALINITIES: Span = Span::new(2.0, 42.0);

/// The temperatures in °C that the scale is defined for (from memory).
const TEMPERATURES: Span = Span::new(-2.0, 35.0);

/// Grams of salt in a kilogram of standard sea water for each of practical salinity.
pub(super) const REFERENCE_RATIO: f64 = 35.165_04 / 35.0;

/// How the temperature enters the scale.
fn warmth(t68: f64) -> f64 {
    (t68 - 15.0) / (1.0 + K * (t68 - 15.0))
}

/// The scale at one temperature as it was published: a polynomial of the root of the conductivity ratio.
fn published(warmth: f64) -> [f64; 6] {
    std::array::from_fn(|power| A[power] + warmth * B[power])
}

/// What the extension takes away at low salinity, so that water without salt has a salinity of 0; and its slope.
///
/// Source: Hill, Dauphinee & Woods 1986, IEEE Journal of Oceanic Engineering 11, p. 109 (from memory); its constants
/// are the first of [`A`] and [`B`] with 400, 1.5 and 100, as in the TEOS-10 library.
fn taken_away(x: f64, warmth: f64) -> (f64, f64) {
    let (y, root) = (400.0 * x * x, 10.0 * x);
    let (one, two) = (1.0 + y * (1.5 + y), 1.0 + root * (1.0 + root * (1.0 + root)));
    let value = A[0] / one + B[0] * warmth / two;
    let slope = -A[0] * 800.0 * x * (1.5 + 2.0 * y) / (one * one)
        - B[0] * warmth * 10.0 * (1.0 + root * (2.0 + 3.0 * root)) / (two * two);
    (value, slope)
}

/// Where the published scale is at 2, nearly: only where to start from, a fit of our own to 6e-7.
const MEETS: [f64; 3] = [0.266_451, 1.175_78e-4, 6.342e-8];

/// The root of the conductivity ratio by that of salinity to 35, nearly: only where to start from, a fit of our own
/// to some thousandths.
const START: [f64; 4] = [0.0, 1.144_74, -0.180_24, 0.035_03];

/// The extension at one temperature.
struct Extension<'a> {
    published: &'a [f64; 6],
    warmth: f64,
    /// Where it meets the published scale.
    meets: f64,
    /// What makes both equal there, as the TEOS-10 library does it.
    ratio: f64,
}

impl<'a> Extension<'a> {
    fn at(warmth: f64, published: &'a [f64; 6]) -> Self {
        let near = polynomial(&MEETS, warmth);
        // One step of Newton's leaves 1e-12.
        let meets = near - (polynomial(published, near) - EXTENDED) / slope(published, near);
        Self {
            published,
            warmth,
            meets,
            ratio: EXTENDED / (EXTENDED - taken_away(meets, warmth).0),
        }
    }

    fn salinity(&self, x: f64) -> (f64, f64) {
        let (less, less_slope) = taken_away(x, self.warmth);
        let (value, steep) = (polynomial(self.published, x), slope(self.published, x));
        (self.ratio * (value - less), self.ratio * (steep - less_slope))
    }
}

/// Practical salinity of water at the surface from its conductivity at its own temperature.
///
/// Below 2 by the extension of Hill, Dauphinee & Woods 1986; conductivities under about 0.0015 mS/cm, where that
/// would turn negative, are of salinity 0. Units: mS/cm, °C (ITS-90); published for 2 to 42 and −2 to 35 °C, see
/// [`practical_beyond`].
///
/// Source: Fofonoff & Millard 1983, UNESCO Technical Papers in Marine Science 44.
///
/// # Errors
///
/// A temperature outside −10 to 60 °C, a conductivity outside 0 to 200 mS/cm, or a salinity above 60.
pub fn salinity_from_conductivity(shown: Conductivity, at: Celsius) -> Result<Salinity, SeawaterError> {
    salinity_under(shown, at, Decibars::SURFACE)
}

/// The same under the pressure of water, 0 to 10 000 dbar.
///
/// # Errors
///
/// As [`salinity_from_conductivity`]; and a pressure outside 0 to 10 000 dbar.
pub fn salinity_under(shown: Conductivity, at: Celsius, under: Decibars) -> Result<Salinity, SeawaterError> {
    let t68 = t68(at)?;
    let p = pressure(under)?;
    let shown = within(SeawaterInput::Conductivity, shown.0, CONDUCTIVITY)?;
    let plain = polynomial(&C, t68);
    let squeezed = if p == 0.0 {
        plain
    } else {
        let less = 1.0 + (D[0] + D[1] * t68) * t68 + (D[2] + D[3] * t68) * (shown / REFERENCE);
        plain * (1.0 + polynomial(&E, p) / less)
    };
    let x = (shown / (REFERENCE * squeezed)).sqrt();
    let warmth = warmth(t68);
    let published = published(warmth);
    let value = polynomial(&published, x);
    let value = if value < EXTENDED {
        Extension::at(warmth, &published).salinity(x).0.max(0.0)
    } else {
        value
    };
    within(SeawaterInput::Salinity, value, SALINITY).map(Salinity)
}

/// Conductivity of water at the surface at its own temperature from its practical salinity: the inverse of
/// [`salinity_from_conductivity`], found by iteration to the last digits.
///
/// # Errors
///
/// A temperature outside −10 to 60 °C, or a salinity outside 0 to 60.
pub fn conductivity_from_salinity(of: Salinity, at: Celsius) -> Result<Conductivity, SeawaterError> {
    conductivity_under(of, at, Decibars::SURFACE)
}

/// The same under the pressure of water, 0 to 10 000 dbar.
///
/// # Errors
///
/// As [`conductivity_from_salinity`]; and a pressure outside 0 to 10 000 dbar.
pub fn conductivity_under(of: Salinity, at: Celsius, under: Decibars) -> Result<Conductivity, SeawaterError> {
    let s = salinity(of)?;
    let t68 = t68(at)?;
    let p = pressure(under)?;
    let warmth = warmth(t68);
    let published = published(warmth);
    let start = polynomial(&START, (s / 35.0).sqrt());
    let x = if s < EXTENDED {
        // From 0.002 on it rises from under 0; before that it falls.
        let extension = Extension::at(warmth, &published);
        root(0.002, 1.001 * extension.meets, start, |x| {
            let (value, slope) = extension.salinity(x);
            (value - s, slope)
        })
    } else {
        root(0.1, 2.0, start, |x| {
            (polynomial(&published, x) - s, slope(&published, x))
        })
    };
    // The ratio under pressure stands on both sides of its equation: the positive root of a quadratic.
    let plain = x * x * polynomial(&C, t68);
    let (a, b, c) = (
        D[2] + D[3] * t68,
        1.0 + (D[0] + D[1] * t68) * t68,
        polynomial(&E, p),
    );
    let d = b - a * plain;
    let ratio = ((d * d + 4.0 * a * plain * (b + c)).sqrt() - d) / (2.0 * a);
    Ok(Conductivity(REFERENCE * ratio))
}

/// Where a salinity and a temperature leave the ranges of the practical salinity scale: 2 to 42, −2 to 35 °C (from
/// memory). Below 2 the value is the extension's, which differs from the plain scale by 0.015 at most.
#[must_use]
pub fn practical_beyond(of: Salinity, at: Celsius) -> Vec<Beyond> {
    let formula = Formula::PracticalSalinity;
    Beyond::of(formula, Input::Salinity, of.0, SALINITIES)
        .into_iter()
        .chain(Beyond::of(formula, Input::Temperature, at.0, TEMPERATURES))
        .collect()
}

/// Reference salinity in g/kg, the best estimate of the grams of salt in a kilogram of standard sea water, from
/// practical salinity.
///
/// Source: 35.16504/35, Millero et al. 2008, as in the TEOS-10 library.
///
/// # Errors
///
/// A salinity outside 0 to 60.
pub fn reference_salinity(of: Salinity) -> Result<f64, SeawaterError> {
    Ok(salinity(of)? * REFERENCE_RATIO)
}
