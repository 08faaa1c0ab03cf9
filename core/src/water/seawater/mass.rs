//! Salt and water by weight: neither is lost, so everything here is a balance of masses.
//!
//! Salt is meant without water. Mixes hold some water of crystallisation, so that a little more of them is needed:
//! a factor for each product, learnt from what was measured after mixing.

use super::density::{density, fresh_density};
use super::limits::{AMOUNT, SALINITY, SeawaterError, SeawaterInput, salinity, within};
use super::practical::REFERENCE_RATIO;
use crate::quantity::{Celsius, Grams, Kilograms, Litres, Salinity, Span};

/// As far as evaporation is followed: salts of calcium fall out of sea water that is thickened much more than three
/// times (from memory), and then salt is no longer conserved in the water.
const THICKENED: Span = Span::new(0.0, 120.0);

/// Sea water made of fresh water and salt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prepared {
    /// The fresh water that goes in.
    pub fresh: Litres,
    /// Its mass at its temperature.
    pub fresh_mass: Kilograms,
    /// The salt that goes in, free of water.
    pub salt: Grams,
    /// What it makes, at the same temperature.
    pub finished: Litres,
    /// The salt in each litre of what it makes.
    pub salt_per_litre: Grams,
}

/// Salt for each kilogram of fresh water: 1000 S / (1000 − S), in grams.
///
/// Source: mass balance.
///
/// # Errors
///
/// A salinity outside 0 to 60.
pub fn salt_per_kilogram(target: Salinity) -> Result<Grams, SeawaterError> {
    let s = salinity(target)?;
    Ok(Grams(1000.0 * s / (1000.0 - s)))
}

/// What an amount of fresh water and salt make, by mass balance; the volumes are of the temperature given.
///
/// # Errors
///
/// A salinity outside 0 to 60, a temperature outside −10 to 60 °C, or a volume outside 0 to 1e9 L.
pub fn prepared_from(fresh: Litres, target: Salinity, at: Celsius) -> Result<Prepared, SeawaterError> {
    let litres = within(SeawaterInput::Volume, fresh.0, AMOUNT)?;
    let per_kilogram = salt_per_kilogram(target)?;
    // Weighed salt is grams in a kilogram, of which the practical salinity that a density goes by is 0.5 % less.
    let practical = Salinity(target.0 / REFERENCE_RATIO);
    let (water, sea) = (fresh_density(at)?.0, density(practical, at)?.0);
    // A litre is a thousandth of a cubic metre.
    let mass = litres * water / 1000.0;
    let salt = per_kilogram.0 * mass;
    Ok(Prepared {
        fresh,
        fresh_mass: Kilograms(mass),
        salt: Grams(salt),
        finished: Litres((mass + salt / 1000.0) * 1000.0 / sea),
        salt_per_litre: Grams(target.0 * sea / 1000.0),
    })
}

/// What has to go in for an amount of finished sea water: [`prepared_from`], asked from its other end.
///
/// # Errors
///
/// As [`prepared_from`].
pub fn prepared_to(finished: Litres, target: Salinity, at: Celsius) -> Result<Prepared, SeawaterError> {
    within(SeawaterInput::Volume, finished.0, AMOUNT)?;
    let of_one = prepared_from(Litres(1.0), target, at)?;
    let fresh = finished.0 / of_one.finished.0;
    Ok(Prepared {
        fresh: Litres(fresh),
        fresh_mass: of_one.fresh_mass * fresh,
        salt: of_one.salt * fresh,
        finished,
        salt_per_litre: of_one.salt_per_litre,
    })
}

/// Salinity after a share of the mass has evaporated: the salt stays. Fresh water of the lost mass restores it.
///
/// Source: salt is conserved, S1 M1 = S2 M2.
///
/// # Errors
///
/// A salinity outside 0 to 60, a share outside 0 to 1, or a salinity above 120 that comes out.
pub fn after_evaporation(before: Salinity, lost: f64) -> Result<Salinity, SeawaterError> {
    let s = salinity(before)?;
    let kept = 1.0 - within(SeawaterInput::Share, lost, Span::new(0.0, 1.0))?;
    // Water without salt stays so to its last drop.
    let after = if s == 0.0 { 0.0 } else { s / kept };
    within(SeawaterInput::Salinity, after, THICKENED).map(Salinity)
}

/// The share of a pool's mass to take out and replace by other water, so that it comes from one salinity to another.
///
/// Source: mass balance, (S1 − S2) / (S1 − S0); with fresh water 1 − S2/S1.
///
/// # Errors
///
/// A salinity outside 0 to 60; a target that lies not between both waters.
pub fn share_to_swap(from: Salinity, target: Salinity, added: Salinity) -> Result<f64, SeawaterError> {
    let (s1, s2, s0) = (salinity(from)?, salinity(target)?, salinity(added)?);
    if s1 == s2 {
        return Ok(0.0);
    }
    let share = (s1 - s2) / (s1 - s0);
    if (0.0..=1.0).contains(&share) {
        Ok(share)
    } else {
        Err(SeawaterError::OutOfReach { from, added, target })
    }
}

/// Dry salt that raises a mass of sea water from one salinity to another, in grams: 1000 M (S2 − S1) / (1000 − S2) for
/// kilograms of water.
///
/// Source: mass balance.
///
/// # Errors
///
/// A salinity outside 0 to 60, a mass outside 0 to 1e9 kg, or a target below what is there.
pub fn salt_to_raise(water: Kilograms, from: Salinity, target: Salinity) -> Result<Grams, SeawaterError> {
    let mass = within(SeawaterInput::Mass, water.0, AMOUNT)?;
    let s1 = salinity(from)?;
    let s2 = within(SeawaterInput::Salinity, target.0, Span::new(s1, SALINITY.high))?;
    Ok(Grams(1000.0 * mass * (s2 - s1) / (1000.0 - s2)))
}
