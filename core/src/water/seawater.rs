//! Salinity, conductivity and density of sea water.
//!
//! In reading order: `limits` is what can be computed at all and what is refused; `roots` finds where a rising curve
//! meets a value; `practical` is the practical salinity scale of 1978; `density` and `depth` are the equation of state
//! of 1980, at the surface and below it; `activity` is how much less sea water evaporates than fresh; `mass` is salt
//! and water by weight.
//!
//! A salinity here is a practical salinity, and it is taken for the grams of salt in a kilogram of sea water, as the
//! labels of salt mixes and instruments do. The reference salinity of the year 2010 is 0.5 % more
//! ([`reference_salinity`]).

mod activity;
mod density;
mod depth;
mod limits;
mod mass;
mod practical;
mod roots;

#[cfg(test)]
mod tests;

pub use self::activity::{water_activity, water_activity_beyond};
pub(crate) use self::density::at_surface;
pub use self::density::{density, density_beyond, fresh_density, salinity_from_density};
pub use self::depth::density_under;
pub(crate) use self::limits::SALINITY;
pub use self::limits::{Decibars, SeawaterError, SeawaterInput};
pub use self::mass::{
    Prepared, after_evaporation, prepared_from, prepared_to, salt_per_kilogram, salt_to_raise, share_to_swap,
};
pub use self::practical::{
    conductivity_from_salinity, conductivity_under, practical_beyond, reference_salinity,
    salinity_from_conductivity, salinity_under,
};
