//! The heat that evaporation takes.

use super::{AirError, possible};
use crate::quantity::{Beyond, Celsius, Formula, Input, Span};

/// Where [`latent_heat_kj_kg`] was fitted.
pub const LATENT_HEAT_RANGE: Span = Span::new(0.01, 60.0);

/// Coefficients of a cubic in °C, in kJ/kg.
const CUBIC: [f64; 4] = [2500.92, -2.3777, 6.528e-4, -1.3719e-5];

/// Latent heat of evaporation of water in kJ/kg: a cubic in °C that was fitted here to IAPWS-95 (as computed by
/// CoolProp 8.0.0) from 0.01 to 60 °C, with at most 0.02 kJ/kg off.
///
/// # Errors
/// [`AirError::Outside`] for a temperature outside −40 to 100 °C.
pub fn latent_heat_kj_kg(temperature: Celsius) -> Result<f64, AirError> {
    let t = possible(temperature)?.0;
    let [a, b, c, d] = CUBIC;
    Ok(a + t * (b + t * (c + t * d)))
}

/// What is to be said of a temperature that [`latent_heat_kj_kg`] was asked for.
#[must_use]
pub fn latent_heat_beyond(temperature: Celsius) -> Option<Beyond> {
    Beyond::of(
        Formula::LatentHeat,
        Input::Temperature,
        temperature.0,
        LATENT_HEAT_RANGE,
    )
}
