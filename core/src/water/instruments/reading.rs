//! The salinity behind whatever was read.

use super::InstrumentError;
use super::gravity::{salinity_from_gravity, temperatures};
use crate::quantity::{Beyond, Celsius, Conductivity, Gravity, Measured, Salinity};
use crate::water::seawater::{
    SALINITY, SeawaterError, SeawaterInput, density_beyond, practical_beyond, salinity_from_conductivity,
};

/// A salinity from a reading.
#[derive(Clone, Debug, PartialEq)]
pub struct FromReading {
    /// The salinity of the water.
    pub salinity: Salinity,
    /// Where a formula's published range was left on the way.
    pub beyond: Vec<Beyond>,
}

/// Salinity of the water of which this was read: a salinity, a specific gravity or a conductivity.
///
/// # Errors
///
/// Another kind of reading, or one that no water between fresh and salinity 60 shows.
pub fn salinity_of(read: &Measured) -> Result<FromReading, InstrumentError> {
    match *read {
        Measured::Salinity(value) if SALINITY.has(value) => Ok(FromReading {
            salinity: Salinity(value),
            beyond: Vec::new(),
        }),
        Measured::Salinity(value) => Err(SeawaterError::Outside {
            input: SeawaterInput::Salinity,
            value,
            range: SALINITY,
        }
        .into()),
        Measured::Gravity { value, convention } => {
            let salinity = salinity_from_gravity(Gravity(value), convention)?;
            Ok(FromReading {
                salinity,
                beyond: density_beyond(salinity, temperatures(convention).0),
            })
        }
        Measured::Conductivity { ms_cm, at_c } => {
            let salinity = salinity_from_conductivity(Conductivity(ms_cm), Celsius(at_c))?;
            Ok(FromReading {
                salinity,
                beyond: practical_beyond(salinity, Celsius(at_c)),
            })
        }
        ref other => Err(InstrumentError::NotOfSalt(other.kind())),
    }
}
