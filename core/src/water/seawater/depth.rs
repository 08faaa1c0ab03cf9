//! The equation of state of 1980 below the surface: what its authors printed for 10 000 dbar checks the whole of it.

use super::density::at_surface;
use super::limits::{Decibars, SeawaterError, pressure, salinity, t68};
use super::roots::polynomial;
use crate::quantity::{Celsius, Density, Salinity};

// Fofonoff & Millard 1983, UNESCO Technical Papers in Marine Science 44, p. 18 to 19.
const WATER: [f64; 5] = [19_652.21, 148.4206, -2.327_105, 1.360_477e-2, -5.155_288e-5];
const SALT: [f64; 4] = [54.6746, -0.603_459, 1.099_87e-2, -6.1670e-5];
const SALT_BENT: [f64; 3] = [7.944e-2, 1.6483e-2, -5.3009e-4];
const A_WATER: [f64; 4] = [3.239_908, 1.437_13e-3, 1.160_92e-4, -5.779_05e-7];
const A_SALT: [f64; 3] = [2.2838e-3, -1.0981e-5, -1.6078e-6];
const A_SALT_BENT: f64 = 1.910_75e-4;
const B_WATER: [f64; 3] = [8.509_35e-5, -6.122_93e-6, 5.2787e-8];
const B_SALT: [f64; 3] = [-9.9348e-7, 2.0816e-8, 9.1697e-10];

/// Density of sea water under the pressure of water, in kg/m³: [`super::density`] for every depth.
///
/// Units: g/kg, °C (ITS-90), dbar above the pressure of the air. Published for 0 to 42, −2 to 40 °C and 0 to
/// 10 000 dbar (from memory).
///
/// Source: Fofonoff & Millard 1983, UNESCO Technical Papers in Marine Science 44, p. 15 to 19.
///
/// # Errors
///
/// A temperature outside −10 to 60 °C, a salinity outside 0 to 60, or a pressure outside 0 to 10 000 dbar.
pub fn density_under(of: Salinity, at: Celsius, under: Decibars) -> Result<Density, SeawaterError> {
    let (s, t, p) = (salinity(of)?, t68(at)?, pressure(under)? / 10.0);
    let root = s.sqrt();
    let k = polynomial(&WATER, t) + s * (polynomial(&SALT, t) + root * polynomial(&SALT_BENT, t));
    let a = polynomial(&A_WATER, t) + s * (polynomial(&A_SALT, t) + root * A_SALT_BENT);
    let b = polynomial(&B_WATER, t) + s * polynomial(&B_SALT, t);
    // The secant bulk modulus, in bar.
    let modulus = k + (a + b * p) * p;
    Ok(Density(at_surface(s, t) / (1.0 - p / modulus)))
}
