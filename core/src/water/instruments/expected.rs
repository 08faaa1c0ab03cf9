//! What each instrument will show of water of a salinity.

use super::InstrumentError;
use super::gravity::gravity_from_salinity;
use crate::quantity::{Beyond, Celsius, Conductivity, Gravity, GravityConvention, Salinity};
use crate::water::seawater::{conductivity_from_salinity, density_beyond, practical_beyond};

/// The readings to expect of water of a salinity.
#[derive(Clone, Debug, PartialEq)]
pub struct Expected {
    /// The salinity.
    pub salinity: Salinity,
    /// Specific gravity in each convention, in the order of [`GravityConvention::ALL`].
    pub gravities: [(GravityConvention, Gravity); 4],
    /// Conductivity at the water's own temperature.
    pub conductivity: Conductivity,
    /// That temperature.
    pub at: Celsius,
    /// Where a formula's published range was left.
    pub beyond: Vec<Beyond>,
}

/// The readings to expect of water of a salinity at a temperature. The gravities are those of the conventions' own
/// temperatures.
///
/// # Errors
///
/// A salinity outside 0 to 60, or a temperature outside −10 to 60 °C.
pub fn expected(of: Salinity, at: Celsius) -> Result<Expected, InstrumentError> {
    let mut gravities = GravityConvention::ALL.map(|convention| (convention, Gravity(0.0)));
    for (convention, gravity) in &mut gravities {
        *gravity = gravity_from_salinity(of, *convention)?;
    }
    let mut beyond = practical_beyond(of, at);
    beyond.extend(density_beyond(of, at));
    Ok(Expected {
        salinity: of,
        gravities,
        conductivity: conductivity_from_salinity(of, at)?,
        at,
        beyond,
    })
}
