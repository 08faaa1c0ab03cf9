//! Specific gravity in each convention: the density of the sample at one temperature by that of fresh water at another.

use super::InstrumentError;
use crate::quantity::{Celsius, Density, Gravity, GravityConvention, Salinity};
use crate::water::seawater::{SALINITY, density, fresh_density, salinity_from_density};

/// The temperatures of sample and of reference water that a convention is made for.
#[must_use]
pub fn temperatures(convention: GravityConvention) -> (Celsius, Celsius) {
    let sixty_fahrenheit = Celsius((60.0 - 32.0) * 5.0 / 9.0);
    match convention {
        GravityConvention::T25T25 => (Celsius(25.0), Celsius(25.0)),
        GravityConvention::T20T20 => (Celsius(20.0), Celsius(20.0)),
        GravityConvention::F60F60 => (sixty_fahrenheit, sixty_fahrenheit),
        GravityConvention::T25T4 => (Celsius(25.0), Celsius(4.0)),
    }
}

/// Specific gravity of water of a salinity: what a true instrument of that convention shows.
///
/// Source: ρ(S, t1) / ρ(0, t2) by the equation of state of 1980 ([`density`]).
///
/// # Errors
///
/// A salinity outside 0 to 60.
pub fn gravity_from_salinity(
    of: Salinity,
    convention: GravityConvention,
) -> Result<Gravity, InstrumentError> {
    let (sample, reference) = temperatures(convention);
    Ok(Gravity(density(of, sample)?.0 / fresh_density(reference)?.0))
}

/// Salinity of water that shows a specific gravity: the inverse of [`gravity_from_salinity`], found by iteration.
///
/// # Errors
///
/// A gravity below that of fresh water or above that of salinity 60, with both in this convention.
pub fn salinity_from_gravity(
    shown: Gravity,
    convention: GravityConvention,
) -> Result<Salinity, InstrumentError> {
    let (low, high) = (
        gravity_from_salinity(Salinity(SALINITY.low), convention)?,
        gravity_from_salinity(Salinity(SALINITY.high), convention)?,
    );
    // Written so that what is not a number is refused as well.
    if !(low.0 <= shown.0 && shown.0 <= high.0) {
        return Err(InstrumentError::Gravity {
            shown,
            convention,
            low,
            high,
        });
    }
    let (sample, reference) = temperatures(convention);
    // The last digit of the product may fall beside the ends that the ratio has passed.
    let (least, most) = (
        density(Salinity(SALINITY.low), sample)?,
        density(Salinity(SALINITY.high), sample)?,
    );
    let rho = (shown.0 * fresh_density(reference)?.0).clamp(least.0, most.0);
    Ok(salinity_from_density(Density(rho), sample)?)
}

/// The same for a gravity as it was said, with or without its convention.
///
/// # Errors
///
/// [`InstrumentError::NoConvention`] without one; otherwise as [`salinity_from_gravity`].
pub fn salinity_from_stated(
    shown: Gravity,
    convention: Option<GravityConvention>,
) -> Result<Salinity, InstrumentError> {
    let convention = convention.ok_or(InstrumentError::NoConvention(shown))?;
    salinity_from_gravity(shown, convention)
}
