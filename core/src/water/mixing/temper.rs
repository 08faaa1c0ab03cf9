//! Temperatures of waters that are poured together.
//!
//! The heat of both is taken to be as their masses: sea water takes about 4 % less heat than fresh (from memory), which
//! moves a mixture of the two by a hundredth of the difference between them at most.

use crate::quantity::Celsius;

use super::Problem;

fn liquid(temperature: Celsius) -> Result<f64, Problem> {
    if (-2.0..=100.0).contains(&temperature.0) {
        Ok(temperature.0)
    } else {
        Err(Problem::Temperature {
            celsius: temperature.0,
        })
    }
}

pub(super) fn part(fraction: f64) -> Result<f64, Problem> {
    if fraction > 0.0 && fraction <= 1.0 {
        Ok(fraction)
    } else {
        Err(Problem::Fraction { value: fraction })
    }
}

/// The temperature of a pool after a part of its water was changed: (1 − f)T₁ + fT₂.
///
/// # Errors
///
/// A temperature outside −2 to 100 °C, a part that is not above 0 and at most 1.
pub fn mixed(pool: Celsius, new: Celsius, fraction: f64) -> Result<Celsius, Problem> {
    let (pool, new, fraction) = (liquid(pool)?, liquid(new)?, part(fraction)?);
    Ok(Celsius((1.0 - fraction) * pool + fraction * new))
}

/// The largest part of a pool that may be changed if it is not to move by more than `allowed` °C: f ≤ d/|T₂ − T₁|, and
/// never more than all of it.
///
/// # Errors
///
/// A temperature outside −2 to 100 °C; a permitted difference below 0, or 0 where the two differ.
pub fn largest_fraction(pool: Celsius, new: Celsius, allowed: f64) -> Result<f64, Problem> {
    largest(liquid(pool)?, liquid(new)?, allowed)
}

/// The largest part that moves one value towards another by no more than `allowed`.
pub(super) fn largest(own: f64, new: f64, allowed: f64) -> Result<f64, Problem> {
    let apart = (new - own).abs();
    if !(0.0..=f64::MAX).contains(&allowed) || (allowed == 0.0 && apart > 0.0) {
        return Err(Problem::Allowed { allowed, apart });
    }
    Ok(if apart <= allowed { 1.0 } else { allowed / apart })
}

/// How warm the new water must be for a pool to have a temperature after a part of it was changed:
/// (T − (1 − f)T₁)/f.
///
/// # Errors
///
/// A temperature outside −2 to 100 °C, given or needed; a part that is not above 0 and at most 1.
pub fn temperature_for(pool: Celsius, wanted: Celsius, fraction: f64) -> Result<Celsius, Problem> {
    let (pool, wanted, fraction) = (liquid(pool)?, liquid(wanted)?, part(fraction)?);
    // Written as a difference from the pool's, which stays exact where nothing is to move.
    let needed = pool + (wanted - pool) / fraction;
    if (-2.0..=100.0).contains(&needed) {
        Ok(Celsius(needed))
    } else {
        Err(Problem::TemperatureNeeded { needed })
    }
}

/// The part of warm water in a bucket of cold and warm that gives a temperature: (T − Tc)/(Tw − Tc).
///
/// # Errors
///
/// A temperature outside −2 to 100 °C; one that does not lie between the two.
pub fn blend(cold: Celsius, warm: Celsius, wanted: Celsius) -> Result<f64, Problem> {
    let (one, other, wanted) = (liquid(cold)?, liquid(warm)?, liquid(wanted)?);
    if wanted < one.min(other) || wanted > one.max(other) {
        return Err(Problem::TemperatureNotBetween { wanted, one, other });
    }
    Ok(if wanted == one {
        0.0
    } else {
        (wanted - one) / (other - one)
    })
}
