//! What an air pump has to overcome.

use super::{AirlineError, Part, Span, within};
use crate::pool::siphon::GRAVITY;
use crate::quantity::{Centimetres, Density, Litres, LitresPerMinute, Pascals};
use crate::rests::Rests;

/// A pressure with its doubt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pressure {
    /// At least.
    pub low: Pascals,
    /// Most likely.
    pub likely: Pascals,
    /// At most.
    pub high: Pascals,
    /// What it rests on.
    pub rests: Rests,
}

/// What a stone itself takes: 1–3 kPa; common practice, no published source.
pub const STONE: Pressure = Pressure {
    low: Pascals(1000.0),
    likely: Pascals(2000.0),
    high: Pascals(3000.0),
    rests: Rests::Practice,
};

/// What an open valve, with a check valve in the line, takes: 0–1 kPa; common practice, no published source.
pub const VALVE: Pressure = Pressure {
    low: Pascals(0.0),
    likely: Pascals(500.0),
    high: Pascals(1000.0),
    rests: Rests::Practice,
};

/// The water above a stone: ρ g d, in Pa.
///
/// Source: hydrostatics; standard gravity 9.80665 m/s².
///
/// # Errors
/// A depth outside 0–200 cm, a density outside 900–1300 kg/m³.
pub fn water_above(depth: Centimetres, density: Density) -> Result<Pascals, AirlineError> {
    within(Part::StoneDepth, depth.0, Span::new(0.0, 200.0))?;
    within(Part::Density, density.0, Span::new(900.0, 1300.0))?;
    Ok(Pascals(density.0 * GRAVITY * depth.0 / 100.0))
}

/// What the pump has to overcome: the water above the stone, the stone and the valve.
///
/// The tube itself is left out: by Hagen and Poiseuille, 128 μ L Q / (π D⁴), a litre of air a minute through 2 m of 4 mm
/// tube takes 0.1 kPa, which is lost in the doubt about the stone.
///
/// # Errors
/// Those of [`water_above`].
pub fn pressure(depth: Centimetres, density: Density) -> Result<Pressure, AirlineError> {
    let water = water_above(depth, density)?;
    Ok(Pressure {
        low: water + STONE.low + VALVE.low,
        likely: water + STONE.likely + VALVE.likely,
        high: water + STONE.high + VALVE.high,
        rests: Rests::Computed.and(STONE.rests).and(VALVE.rests),
    })
}

/// How sure it is that a pump will do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fit {
    /// Its rated pressure is above the highest that may be needed.
    Surely,
    /// Above the likely one.
    Likely,
    /// Above the lowest only: try it before anything is bought.
    Perhaps,
}

/// Whether a pump of a rated pressure will do.
///
/// # Errors
/// A pump that is too weak even if stone and valve take the least, with what it lacks of the likely pressure; a rated
/// pressure outside 0–200 kPa.
pub fn pump_fits(needed: Pressure, rated: Pascals) -> Result<Fit, AirlineError> {
    within(Part::Rated, rated.0, Span::new(0.0, 200_000.0))?;
    if rated >= needed.high {
        Ok(Fit::Surely)
    } else if rated >= needed.likely {
        Ok(Fit::Likely)
    } else if rated >= needed.low {
        Ok(Fit::Perhaps)
    } else {
        Err(AirlineError::Weak {
            rated,
            needed,
            missing: needed.likely - rated,
        })
    }
}

/// How much shallower a stone would have to lie for a pump to lack nothing: Δp / (ρ g).
///
/// # Errors
/// A density outside 900–1300 kg/m³.
pub fn shallower(missing: Pascals, density: Density) -> Result<Centimetres, AirlineError> {
    let of_a_centimetre = water_above(Centimetres(1.0), density)?;
    Ok(Centimetres(missing.0 / of_a_centimetre.0))
}

/// Air for a pool: 0.033 L/min for each US gallon. A rule for fish tanks on a hobby page, no published source; no figure
/// for land hermit crabs is published.
///
/// # Errors
/// A volume outside 0–100,000 L.
pub fn air_flow(water: Litres) -> Result<(LitresPerMinute, Rests), AirlineError> {
    const US_GALLON: f64 = 3.785_411_784;
    within(Part::Pool, water.0, Span::new(0.0, 100_000.0))?;
    Ok((LitresPerMinute(0.033 * water.0 / US_GALLON), Rests::Practice))
}
