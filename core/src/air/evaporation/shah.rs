//! Shah's form of evaporation from an undisturbed pool, which knows buoyancy.

use super::published::difference;
use crate::air::moist::{Air, AirError, STANDARD_ATMOSPHERE};
use crate::quantity::{Celsius, Density, Humidity, Pascals};

/// What Shah's form says of a pool.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shah {
    /// The evaporation in kg/h/m²: the larger of the other two. Negative where vapour condenses on the water.
    pub evaporation: f64,
    /// That of natural convection: E = 35·ρw(ρr − ρw)^⅓(Ww − Wr). None where the room's air is no heavier.
    pub convection: Option<f64>,
    /// That without buoyancy: 5e-5·dp with dp in Pa.
    pub no_buoyancy: f64,
    /// How much heavier the room's air is than the air at the surface.
    pub heavier: Density,
}

/// Shah 2012 and 2014, from an undisturbed pool at one standard atmosphere, in kg/h/m² (constants from memory; the
/// published text confirms the larger of the two). The densities ρ are masses of dry air in a m³ of moist air: only so
/// is the published table reproduced, to 0.2 %.
///
/// # Errors
/// [`AirError::Outside`] for a temperature that cannot be, or water so hot that it boils.
pub fn shah(water: Celsius, room: &Air) -> Result<Shah, AirError> {
    let surface = Air::new(water, Humidity(1.0))?;
    let at_surface = surface.dry_density(STANDARD_ATMOSPHERE)?;
    let heavier = room.dry_density(STANDARD_ATMOSPHERE)? - at_surface;
    let ratios = surface.humidity_ratio(STANDARD_ATMOSPHERE)? - room.humidity_ratio(STANDARD_ATMOSPHERE)?;
    let no_buoyancy = shah_no_buoyancy(surface.vapour_pressure() - room.vapour_pressure())?;
    let convection = (heavier > 0.0).then(|| 35.0 * at_surface * heavier.cbrt() * ratios);
    Ok(Shah {
        evaporation: convection.map_or(no_buoyancy, |convection| convection.max(no_buoyancy)),
        convection,
        no_buoyancy,
        heavier: Density(heavier),
    })
}

/// Shah's form without buoyancy: 5e-5·dp kg/h/m² with dp in Pa (constant from memory).
///
/// # Errors
/// [`AirError::Outside`] for a difference outside ±110,000 Pa.
pub fn shah_no_buoyancy(dp: Pascals) -> Result<f64, AirError> {
    Ok(5e-5 * difference(dp)?)
}
