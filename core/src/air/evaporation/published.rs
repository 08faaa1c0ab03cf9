//! Published forms of evaporation from a pool, in kg/h/m², for comparison. None was fitted to a dish. Each is given
//! the pressure difference from the water's surface to the air in Pa; a negative one means that vapour condenses on
//! the water.

use crate::air::moist::{AirError, What, latent_heat_kj_kg};
use crate::quantity::{Celsius, Pascals, Span};

/// Differences that can be between water and air.
const DIFFERENCES: Span = Span::new(-1.1e5, 1.1e5);
/// Air moves no faster indoors, in m/s.
const SPEEDS: Span = Span::new(0.0, 50.0);

/// Which factor of activity ASHRAE's simplified form takes (as in a published outline of it): low and high.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ActivityFactor {
    /// Nobody swims: 0.5 (measured in two pools: 0.50–0.57).
    Unoccupied,
    /// A pool at home: 0.5–0.65.
    Residential,
    /// A public pool: 0.65–1.0.
    Public,
    /// A whirlpool: 1.0–1.5.
    Whirlpool,
    /// A wave pool: 1.5–2.0.
    Wave,
}

impl ActivityFactor {
    /// The factor, low and high.
    #[must_use]
    pub fn range(self) -> Span {
        match self {
            Self::Unoccupied => Span::new(0.5, 0.5),
            Self::Residential => Span::new(0.5, 0.65),
            Self::Public => Span::new(0.65, 1.0),
            Self::Whirlpool => Span::new(1.0, 1.5),
            Self::Wave => Span::new(1.5, 2.0),
        }
    }
}

/// The difference in Pa, if it can be.
pub(super) fn difference(value: Pascals) -> Result<f64, AirError> {
    AirError::unless(What::PressureDifference, value.0, DIFFERENCES)
}

/// Carrier 1918, as in ASHRAE Applications: w = dp(0.089 + 0.0782 V)/Y kg/s/m² with dp in kPa, the air's speed V in
/// m/s and the latent heat Y at the water's temperature in kJ/kg.
///
/// # Errors
/// [`AirError::Outside`] for what cannot be.
pub fn ashrae(water: Celsius, dp: Pascals, speed_m_s: f64) -> Result<f64, AirError> {
    let speed = AirError::unless(What::AirSpeed, speed_m_s, SPEEDS)?;
    let per_second = difference(dp)? / 1000.0 * (0.089 + 0.0782 * speed) / latent_heat_kj_kg(water)?;
    Ok(per_second * 3600.0)
}

/// The simplified form of ASHRAE Applications: w = 4e-5·dp·Fa kg/s/m² with dp in kPa, for Y about 2,400 kJ/kg and V
/// 0.1 m/s (the 4e-5 from memory; it agrees with the full form to 1 %). The factor Fa is 0.1 to 3.
///
/// # Errors
/// [`AirError::Outside`] for what cannot be.
pub fn ashrae_simplified(dp: Pascals, activity_factor: f64) -> Result<f64, AirError> {
    let factor = AirError::unless(What::ActivityFactor, activity_factor, Span::new(0.1, 3.0))?;
    Ok(4e-5 * 3600.0 * difference(dp)? / 1000.0 * factor)
}

/// The quiet pool of Smith, Löf and Jones 1998 (ASHRAE Trans. 104-1): 74 % of (95 + 0.425 v)·dp/Y lb/h/ft² with dp in
/// inches of mercury, v in feet a minute and Y in Btu/lb (constants seen in its abstract).
///
/// # Errors
/// [`AirError::Outside`] for what cannot be.
pub fn smith_quiet(water: Celsius, dp: Pascals, speed_m_s: f64) -> Result<f64, AirError> {
    // W/m² in a Btu/h/ft², Pa in an inch of mercury, feet a minute in 1 m/s (definitions).
    let (watts, pascals, feet) = (3.154_590_7, 3386.389, 60.0 / 0.3048);
    let speed = AirError::unless(What::AirSpeed, speed_m_s, SPEEDS)? * feet;
    let flux = 0.74 * (95.0 + 0.425 * speed) * watts / pascals * difference(dp)?;
    Ok(flux * 3600.0 / (latent_heat_kj_kg(water)? * 1000.0))
}

/// Penman 1948: 0.26(1 + 0.54 u)·dp mm/day with dp in hPa and the wind u in m/s (from memory).
///
/// # Errors
/// [`AirError::Outside`] for what cannot be.
pub fn penman(dp: Pascals, wind_m_s: f64) -> Result<f64, AirError> {
    let wind = AirError::unless(What::AirSpeed, wind_m_s, SPEEDS)?;
    Ok(0.26 * (1.0 + 0.54 * wind) * difference(dp)? / 100.0 / 24.0)
}
