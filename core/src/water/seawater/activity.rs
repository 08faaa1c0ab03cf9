//! How much less sea water evaporates than fresh water does.

use super::limits::{SeawaterError, salinity};
use crate::quantity::{Beyond, Celsius, Formula, Input, Salinity, Span};

/// The salinities at which it was compared.
const SALINITIES: Span = Span::new(0.0, 42.0);

/// The temperatures in °C at which it was compared.
const TEMPERATURES: Span = Span::new(15.0, 35.0);

/// Water activity: vapour pressure over sea water by that over fresh water of the same temperature, 1 without salt.
///
/// By the osmotic coefficient at 25 °C; temperature matters little. Within 5e-5 of TEOS-10 from 20 to 35 °C at
/// salinities up to 37, within 1.3e-4 from 15 °C up to 42. The shorter rule 1 − 0.000537 S (Green & Carritt 1967) is
/// 2.6e-4 too low near salinity 20.
///
/// Source: Dickson, Sabine & Christian 2007, Guide to best practices for ocean CO2 measurements (from memory; its
/// digits were seen in public code, and the values compared with TEOS-10).
///
/// # Errors
///
/// A salinity outside 0 to 60.
pub fn water_activity(of: Salinity) -> Result<f64, SeawaterError> {
    let s = salinity(of)?;
    // Moles of dissolved particles in a kilogram of water.
    let molality = 31.998 * s / (1000.0 - 1.005 * s);
    let half = 0.5 * molality;
    let osmotic = 0.907_99 + half * (-0.089_92 + half * (0.184_58 + half * (-0.073_95 - half * 0.002_21)));
    Ok((-0.018 * osmotic * molality).exp())
}

/// Where a salinity and a temperature leave what [`water_activity`] was compared for: 0 to 42, 15 to 35 °C.
#[must_use]
pub fn water_activity_beyond(of: Salinity, at: Celsius) -> Vec<Beyond> {
    let formula = Formula::WaterActivity;
    Beyond::of(formula, Input::Salinity, of.0, SALINITIES)
        .into_iter()
        .chain(Beyond::of(formula, Input::Temperature, at.0, TEMPERATURES))
        .collect()
}
