//! How cold a pool without a heater becomes by its own evaporation.

use super::{ACTIVITIES, Spread, TRANSFERS, Transfer};
use crate::air::moist::{Air, AirError, What, latent_heat_kj_kg, saturation};
use crate::quantity::{Celsius, Span};

/// How far below its air an unheated pool sits, in K, at 27 °C and 80 %: 1.1 to 1.7 (the fact sheet's heat balance of
/// the surface with 8 to 16 W/m²K); the middle is taken as likely. The water's temperature is the most sensitive
/// input: measure it.
pub const UNHEATED_BELOW_AIR: Spread<f64> = Spread::new(1.1, 1.4, 1.7);

/// The temperature at which the heat that flows into the surface covers what evaporation takes:
/// h(Ta − Tw) = k·L·(a·p_s(Tw) − p). `film` is h in W/m²/K with radiation in it, 8 to 16 as a rule. It lies between
/// the dew point and the air's temperature.
///
/// # Errors
/// [`AirError::Outside`] for a film outside 1 to 100 W/m²/K, a transfer or an activity that cannot be.
pub fn unheated(air: &Air, transfer: Transfer, activity: f64, film: f64) -> Result<Celsius, AirError> {
    let k = AirError::unless(What::Transfer, transfer.0, TRANSFERS)?;
    let activity = AirError::unless(What::Activity, activity, ACTIVITIES)?;
    let film = AirError::unless(What::Film, film, Span::new(1.0, 100.0))?;
    let (t, vapour) = (air.temperature().0, air.vapour_pressure().0);
    let surplus = |water: f64| -> Result<f64, AirError> {
        let taken = k / 3600.0 * latent_heat_kj_kg(Celsius(water))? * 1000.0;
        Ok(film * (t - water) - taken * (activity * saturation(Celsius(water))?.0 - vapour))
    };
    // Water with salt in damp air takes vapour up and is warmed by it, so it may be warmer than the air, by a little.
    let (mut low, mut high) = (-40.0_f64, (t + 20.0).min(100.0));
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if surplus(middle)? > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(Celsius(f64::midpoint(low, high)))
}
