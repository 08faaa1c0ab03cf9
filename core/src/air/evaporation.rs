//! What a water surface gives to the air: E = k (a·p_s(T_water) − p_air), Dalton's form.
//!
//! `evaporation/spread` is a value with its doubt; `evaporation/published` are the published forms, which differ
//! threefold for a dish; `evaporation/shah` is the one that knows buoyancy; `evaporation/unheated` is how cold a pool
//! becomes by its own evaporation.

mod published;
mod shah;
mod spread;
mod unheated;

#[cfg(test)]
mod tests;

use super::moist::{AirError, VAPOUR_GAS_CONSTANT, What, possible};
use crate::quantity::{
    Beyond, Celsius, Formula, Hours, Input, Kilograms, LitresPerMinute, Pascals, Salinity, Span,
    SquareCentimetres,
};
use crate::rests::Rests;

pub use self::published::{ActivityFactor, ashrae, ashrae_simplified, penman, smith_quiet};
pub use self::shah::{Shah, shah, shah_no_buoyancy};
pub use self::spread::Spread;
pub use self::unheated::{UNHEATED_BELOW_AIR, unheated};

/// How readily a surface gives vapour: kg per hour, m² and Pa.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Transfer(pub f64);

/// What passes vapour: kg per hour and Pa.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Conductance(pub f64);

/// What is taken for a still surface until a pool's own is known: the floor of Shah's form (5e-5, constant from
/// memory) as the likely value, and up to the quiet pool of Smith, Löf and Jones 1998 at 0.1 m/s (1.05e-4). For small pools a
/// declared assumption: no source measured dishes.
pub const STILL: Spread<Transfer> = Spread::new(Transfer(5e-5), Transfer(5e-5), Transfer(1.05e-4));

/// What the assumptions rest on, whatever published form they were taken from: nobody measured dishes.
pub const ASSUMED: Rests = Rests::Practice;

/// Times as much with an air stone. Common practice, no published source.
pub const AIR_STONE_TIMES: Spread<f64> = Spread::new(1.0, 1.5, 2.0);

/// Times as much with falling water. Common practice, no published source.
pub const FALLING_WATER_TIMES: Spread<f64> = Spread::new(1.5, 2.0, 3.0);

/// Transfers that are taken seriously: from a hundredth of the likely one to a hundred times it.
pub const TRANSFERS: Span = Span::new(5e-7, 5e-3);

/// Surfaces that are taken seriously, in cm²: up to 1,000 m².
pub const SURFACES: Span = Span::new(0.0, 1e7);

/// Activities of water: from the most humid to the driest of brines.
pub const ACTIVITIES: Span = Span::new(0.5, 1.0);

/// The surfaces that Shah's form was tested over, in cm²: 0.073 to 425 m² (from memory). Every dish lies below.
pub const PUBLISHED_SURFACES: Span = Span::new(730.0, 4_250_000.0);

/// What moves a pool's water.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stirring {
    /// Nothing.
    Still,
    /// An air stone.
    AirStone,
    /// Water that falls back in, as from a filter's outlet.
    FallingWater,
}

impl Stirring {
    /// Its transfer as assumed, from low to high, until the pool's own is fitted.
    #[must_use]
    pub fn assumed(self) -> Spread<Transfer> {
        let times = match self {
            Self::Still => return STILL,
            Self::AirStone => AIR_STONE_TIMES,
            Self::FallingWater => FALLING_WATER_TIMES,
        };
        STILL.with(times, |still, times| Transfer(still.0 * times))
    }
}

/// What is to be said of a surface that a published form of evaporation is used for.
#[must_use]
pub fn surface_beyond(surface: SquareCentimetres) -> Option<Beyond> {
    Beyond::of(
        Formula::Evaporation,
        Input::Surface,
        surface.0,
        PUBLISHED_SURFACES,
    )
}

/// The activity of the water of a sea salt solution: 1 − 0.000537 S, within 2e-4 of TEOS-10 at 25 °C for S up to 40
/// (the fact sheet's rule, computed from gsw). From 0 to 100 g/kg; above, saturated brine comes near and it misleads.
///
/// # Errors
/// [`AirError::Outside`] for a salinity outside 0 to 100 g/kg.
pub fn activity(salinity: Salinity) -> Result<f64, AirError> {
    let salinity = AirError::unless(What::Salinity, salinity.0, Span::new(0.0, 100.0))?;
    Ok(1.0 - 0.000_537 * salinity)
}

/// How much vapour bubbles carry off for each Pa: G = q/(Rv·T). They leave nearly saturated at the water's
/// temperature, whether the pump draws room air or the enclosure's. T is the temperature of the air whose flow was
/// stated.
///
/// # Errors
/// [`AirError::Outside`] for a flow outside 0 to 1,000 L/min or an impossible temperature.
pub fn bubble_conductance(flow: LitresPerMinute, air: Celsius) -> Result<Conductance, AirError> {
    let flow = AirError::unless(What::AirFlow, flow.0, Span::new(0.0, 1000.0))?;
    let cubic_metres_per_hour = flow * 60.0 / 1000.0;
    Ok(Conductance(
        cubic_metres_per_hour / (VAPOUR_GAS_CONSTANT * possible(air)?.kelvin()),
    ))
}

/// A pool's own transfer from what was topped up: k = m/(A·dt·dp). It rests on the place.
///
/// # Errors
/// [`AirError::Outside`] for a mass outside 0 to 1,000 kg, a surface under 1 cm², less than an hour or more than a
/// year, a pressure difference under 10 Pa (the answer would mislead), or if the outcome is no plausible transfer
/// ([`TRANSFERS`]): then a leak, a splash or a wrong surface is likelier.
pub fn fit_transfer(
    topped_up: Kilograms,
    surface: SquareCentimetres,
    over: Hours,
    difference: Pascals,
) -> Result<Transfer, AirError> {
    let mass = AirError::unless(What::Mass, topped_up.0, Span::new(0.0, 1000.0))?;
    let surface = AirError::unless(What::Surface, surface.0, Span::new(1.0, SURFACES.high))? / 1e4;
    let hours = AirError::unless(What::Time, over.0, Span::new(1.0, 8784.0))?;
    let pressure = AirError::unless(What::PressureDifference, difference.0, Span::new(10.0, 1e5))?;
    AirError::unless(What::Transfer, mass / (surface * hours * pressure), TRANSFERS).map(Transfer)
}
