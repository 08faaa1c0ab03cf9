//! What instruments show of salt water, each by its own convention.
//!
//! In reading order: `error` is what cannot be read; `gravity` is specific gravity in each convention; `hydrometer` is
//! a glass one in water of another temperature; `refractometer` is the standard to check one with; `reading` is the
//! salinity behind whatever was read; `expected` is what each instrument will show of water of a salinity.

mod error;
mod expected;
mod gravity;
mod hydrometer;
mod reading;
mod refractometer;

#[cfg(test)]
mod tests;

pub use self::error::InstrumentError;
pub use self::expected::{Expected, expected};
pub use self::gravity::{gravity_from_salinity, salinity_from_gravity, salinity_from_stated, temperatures};
pub use self::hydrometer::{FromHydrometer, from_hydrometer, hydrometer_shows};
pub use self::reading::{FromReading, salinity_of};
pub use self::refractometer::{Correction, STANDARD_SALINITY, Standard, standard};
