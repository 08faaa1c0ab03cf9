//! A glass hydrometer in water that is warmer or colder than the water it is marked for.

use super::InstrumentError;
use super::gravity::{gravity_from_salinity, temperatures};
use crate::quantity::{Beyond, Celsius, Density, Gravity, GravityConvention, Salinity};
use crate::rests::Rests;
use crate::water::seawater::{
    SALINITY, SeawaterError, SeawaterInput, density, density_beyond, fresh_density, salinity_from_density,
};

/// How much the volume of glass grows by each °C (from memory).
const GLASS: f64 = 25e-6;

/// What a glass hydrometer says of the water it swims in.
#[derive(Clone, Debug, PartialEq)]
pub struct FromHydrometer {
    /// The salinity of the water.
    pub salinity: Salinity,
    /// What the hydrometer would show of the same water at its own temperature.
    pub corrected: Gravity,
    /// Where the equation of state was left.
    pub beyond: Vec<Beyond>,
    /// The growth of glass is from memory. Tables that keepers use differ from this by up to 0.4 g/kg.
    pub rests: Rests,
}

/// How much more water the glass displaces than where it is marked for.
fn swollen(convention: GravityConvention, at: Celsius) -> f64 {
    1.0 + GLASS * (at.0 - temperatures(convention).0.0)
}

/// What a glass hydrometer shows of water of a salinity and temperature: ρ(S, T) (1 + γ (T − t1)) / ρ(0, t2), with γ of
/// 25e-6 for each °C (from memory).
///
/// # Errors
///
/// A salinity outside 0 to 60, or a temperature outside −10 to 60 °C.
pub fn hydrometer_shows(
    of: Salinity,
    convention: GravityConvention,
    at: Celsius,
) -> Result<Gravity, InstrumentError> {
    let reference = fresh_density(temperatures(convention).1)?;
    Ok(Gravity(
        density(of, at)?.0 * swollen(convention, at) / reference.0,
    ))
}

/// Salinity, and the reading put right, from what a glass hydrometer shows in water of another temperature than it is
/// marked for: the inverse of [`hydrometer_shows`].
///
/// # Errors
///
/// A temperature outside −10 to 60 °C; a reading below that of fresh water or above that of salinity 60, both at this
/// temperature.
pub fn from_hydrometer(
    shown: Gravity,
    convention: GravityConvention,
    at: Celsius,
) -> Result<FromHydrometer, InstrumentError> {
    let reference = fresh_density(temperatures(convention).1)?;
    let rho = shown.0 * reference.0 / swollen(convention, at);
    let salinity = match salinity_from_density(Density(rho), at) {
        Ok(salinity) => salinity,
        // Say it as the instrument shows it.
        Err(SeawaterError::Outside {
            input: SeawaterInput::Density,
            ..
        }) => {
            return Err(InstrumentError::Gravity {
                shown,
                convention,
                low: hydrometer_shows(Salinity(SALINITY.low), convention, at)?,
                high: hydrometer_shows(Salinity(SALINITY.high), convention, at)?,
            });
        }
        Err(other) => return Err(other.into()),
    };
    Ok(FromHydrometer {
        salinity,
        corrected: gravity_from_salinity(salinity, convention)?,
        beyond: density_beyond(salinity, at),
        rests: Rests::Memory,
    })
}

#[cfg(test)]
mod tests {
    use super::super::salinity_from_gravity;
    use super::*;

    #[test]
    fn at_its_own_temperature_nothing_is_put_right() {
        for convention in GravityConvention::ALL {
            let at = temperatures(convention).0;
            let found = from_hydrometer(Gravity(1.024), convention, at).unwrap();
            assert!((found.corrected.0 - 1.024).abs() < 1e-13);
            let plain = salinity_from_gravity(Gravity(1.024), convention).unwrap();
            assert!((found.salinity.0 - plain.0).abs() < 1e-9);
        }
    }
}
