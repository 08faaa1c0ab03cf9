//! What cannot be read off an instrument.

use crate::quantity::{Gravity, GravityConvention, Kind, Salinity};
use crate::water::seawater::SeawaterError;

/// Why a reading says nothing about the water.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum InstrumentError {
    /// A specific gravity whose two temperatures nobody stated: the same 1.025 is anything from 32.6 to 37.2 g/kg.
    #[error("specific gravity {} has no convention", .0.0)]
    NoConvention(Gravity),
    /// A specific gravity that no water between fresh and the saltiest one has.
    #[error("specific gravity {} ({}) is not between {} and {}", .shown.0, .convention.as_str(), .low.0, .high.0)]
    Gravity {
        /// What was read.
        shown: Gravity,
        /// In which convention.
        convention: GravityConvention,
        /// What fresh water shows.
        low: Gravity,
        /// What water of salinity 60 shows.
        high: Gravity,
    },
    /// A refractometer that is so far off at its standard that it is broken, dry or made for another scale.
    #[error("a standard of {} shows as {}, not between {} and {}", .standard.0, .shown.0, .low.0, .high.0)]
    Standard {
        /// What the standard stands for.
        standard: Salinity,
        /// What was read.
        shown: Salinity,
        /// As low as can be put right.
        low: Salinity,
        /// As high as can be put right.
        high: Salinity,
    },
    /// A reading that tells nothing of salt.
    #[error("{0:?} tells no salinity")]
    NotOfSalt(Kind),
    /// A temperature, conductivity or salinity that sea water does not have.
    #[error(transparent)]
    Seawater(#[from] SeawaterError),
}
