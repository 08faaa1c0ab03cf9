//! Moist air: saturation, dew point, humidity ratio.
//!
//! Saturation pressure over water is Sonntag's formula of 1990; everything else follows from it and the ideal gas law.
//! `moist/error` is what cannot be computed, `moist/heat` is the heat that evaporation takes.

mod error;
mod heat;

#[cfg(test)]
pub(crate) mod comparison;
#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;

use crate::quantity::{Beyond, Celsius, Formula, Humidity, Input, Pascals, Span};

pub use self::error::{AirError, What};
pub use self::heat::{LATENT_HEAT_RANGE, latent_heat_beyond, latent_heat_kj_kg};

/// Gas constant of water vapour in J/kg/K (the fact sheet's box model; IAPWS gives the same to the last digit).
pub const VAPOUR_GAS_CONSTANT: f64 = 461.523;

/// Gas constant of dry air in J/kg/K, of ASHRAE Fundamentals 2017 (from memory).
pub const DRY_AIR_GAS_CONSTANT: f64 = 287.042;

/// Molar mass of water over that of dry air, of ASHRAE Fundamentals 2017 (as in psychrolib).
pub const MOLAR_MASS_RATIO: f64 = 0.621_945;

/// The standard atmosphere.
pub const STANDARD_ATMOSPHERE: Pascals = Pascals(101_325.0);

/// Where saturation over water was checked against IAPWS-95 and holds to 0.01 % (up to 50 °C; to 0.02 % above).
/// Below it water can freeze, and over ice the air holds less.
pub const SATURATION_RANGE: Span = Span::new(0.01, 100.0);

/// Outside of this a temperature is refused: no room and no enclosure is that cold or hot.
pub const TEMPERATURES: Span = Span::new(-40.0, 100.0);

/// A humidity from 0 to 1.
const HUMIDITIES: Span = Span::new(0.0, 1.0);

/// Coefficients of ln(p/Pa) = A/T + B + C·T + D·T² + E·ln T over water: Sonntag 1990, Z. Meteorol. 70(5):340–344, as
/// printed alike in several public atmosphere models.
const SONNTAG: [f64; 5] = [-6096.9385, 21.240_964_2, -2.711_193e-2, 1.673_952e-5, 2.433_502];

/// The logarithm of the saturation pressure over water, in ln Pa, at a temperature in kelvin.
fn ln_saturation(kelvin: f64) -> f64 {
    let [a, b, c, d, e] = SONNTAG;
    a / kelvin + b + (c + d * kelvin) * kelvin + e * kelvin.ln()
}

/// How steeply that logarithm rises, per kelvin.
fn ln_slope(kelvin: f64) -> f64 {
    let [a, _, c, d, e] = SONNTAG;
    -a / (kelvin * kelvin) + c + 2.0 * d * kelvin + e / kelvin
}

/// The temperature, if it is one that air or water can have here.
pub(crate) fn possible(temperature: Celsius) -> Result<Celsius, AirError> {
    AirError::unless(What::Temperature, temperature.0, TEMPERATURES).map(Celsius)
}

/// Saturation pressure of vapour over water, −40 to 100 °C: Sonntag 1990. Whether the temperature lies in the checked
/// range tells [`saturation_beyond`].
///
/// ```
/// use wrackline_core::air::moist::saturation;
/// use wrackline_core::quantity::Celsius;
/// assert!((saturation(Celsius(25.0)).unwrap().0 - 3169.90).abs() < 0.01);
/// ```
///
/// # Errors
/// [`AirError::Outside`] for a temperature outside [`TEMPERATURES`].
pub fn saturation(temperature: Celsius) -> Result<Pascals, AirError> {
    possible(temperature).map(|t| Pascals(ln_saturation(t.kelvin()).exp()))
}

/// What is to be said of a temperature that [`saturation`] was asked for.
#[must_use]
pub fn saturation_beyond(temperature: Celsius) -> Option<Beyond> {
    Beyond::of(
        Formula::Saturation,
        Input::Temperature,
        temperature.0,
        SATURATION_RANGE,
    )
}

/// The temperature at which vapour of this pressure saturates: the dew point, −40 to 100 °C. The inverse of
/// [`saturation`], by Newton's steps on the logarithm, kept inside a bracket.
///
/// # Errors
/// [`AirError::Outside`] for a pressure whose dew point would lie outside [`TEMPERATURES`] (below 19 Pa: too dry).
pub fn dew_point(vapour: Pascals) -> Result<Celsius, AirError> {
    let (mut low, mut high) = (
        Celsius(TEMPERATURES.low).kelvin(),
        Celsius(TEMPERATURES.high).kelvin(),
    );
    let range = Span::new(ln_saturation(low).exp(), ln_saturation(high).exp());
    let wanted = AirError::unless(What::VapourPressure, vapour.0, range)?.ln();
    // Starts from Magnus' closed form (Alduchov and Eskridge 1996), which is at most 0.1 K off.
    let magnus = wanted - 610.94_f64.ln();
    let mut kelvin = (Celsius(243.04 * magnus / (17.625 - magnus)).kelvin()).clamp(low, high);
    for _ in 0..50 {
        let error = ln_saturation(kelvin) - wanted;
        if error > 0.0 {
            high = kelvin;
        } else {
            low = kelvin;
        }
        let newton = kelvin - error / ln_slope(kelvin);
        let next = if (low..=high).contains(&newton) {
            newton
        } else {
            f64::midpoint(low, high)
        };
        let step = (next - kelvin).abs();
        kelvin = next;
        if step < 1e-9 {
            break;
        }
    }
    Ok(Celsius(kelvin - 273.15))
}

/// Mass of vapour per mass of dry air, kg/kg, from the pressure of the vapour and the total one (ideal gases; a
/// real-gas table lies up to 1 % higher).
///
/// # Errors
/// [`AirError::Outside`] for a vapour pressure outside 0 to 1 MPa, or unless the total pressure is above the vapour's
/// by 1 % and from 1 kPa to 1 MPa.
pub fn humidity_ratio(vapour: Pascals, total: Pascals) -> Result<f64, AirError> {
    let dry = dry_part(vapour, total)?;
    Ok(MOLAR_MASS_RATIO * vapour.0 / dry.0)
}

/// What dry air has of a total pressure. It must have 1 % of it at least, else it is steam and not air.
fn dry_part(vapour: Pascals, total: Pascals) -> Result<Pascals, AirError> {
    let vapour = Pascals(AirError::unless(
        What::VapourPressure,
        vapour.0,
        Span::new(0.0, 1e6),
    )?);
    let range = Span::new((vapour.0 / 0.99).max(1000.0), 1e6);
    AirError::unless(What::TotalPressure, total.0, range).map(|total| Pascals(total - vapour.0))
}

/// Air with vapour in it: a temperature from −40 to 100 °C and a relative humidity over water from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    temperature: Celsius,
    humidity: Humidity,
}

impl Air {
    /// Air of this temperature and relative humidity.
    ///
    /// # Errors
    /// [`AirError::Outside`] if either cannot be.
    pub fn new(temperature: Celsius, humidity: Humidity) -> Result<Self, AirError> {
        Ok(Self {
            temperature: possible(temperature)?,
            humidity: Humidity(AirError::unless(What::Humidity, humidity.0, HUMIDITIES)?),
        })
    }

    /// Its temperature.
    #[must_use]
    pub fn temperature(&self) -> Celsius {
        self.temperature
    }

    /// Its relative humidity.
    #[must_use]
    pub fn humidity(&self) -> Humidity {
        self.humidity
    }

    /// The pressure that vapour would have in it at saturation.
    #[must_use]
    pub fn saturation(&self) -> Pascals {
        Pascals(ln_saturation(self.temperature.kelvin()).exp())
    }

    /// The pressure of its vapour.
    #[must_use]
    pub fn vapour_pressure(&self) -> Pascals {
        self.saturation() * self.humidity.0
    }

    /// Its dew point, never above its temperature.
    ///
    /// # Errors
    /// [`AirError::Outside`] if it is so dry that its dew point lies below −40 °C.
    pub fn dew_point(&self) -> Result<Celsius, AirError> {
        dew_point(self.vapour_pressure()).map(|dew| Celsius(dew.0.min(self.temperature.0)))
    }

    /// Mass of vapour in a cubic metre, in g/m³, by the ideal gas law.
    #[must_use]
    pub fn absolute_humidity_g_m3(&self) -> f64 {
        1000.0 * self.vapour_pressure().0 / (VAPOUR_GAS_CONSTANT * self.temperature.kelvin())
    }

    /// Its [`humidity_ratio`] at a total pressure.
    ///
    /// # Errors
    /// As [`humidity_ratio`].
    pub fn humidity_ratio(&self, total: Pascals) -> Result<f64, AirError> {
        humidity_ratio(self.vapour_pressure(), total)
    }

    /// Mass of dry air in a cubic metre, in kg/m³, at a total pressure.
    ///
    /// # Errors
    /// As [`humidity_ratio`].
    pub fn dry_density(&self, total: Pascals) -> Result<f64, AirError> {
        let dry = dry_part(self.vapour_pressure(), total)?;
        Ok(dry.0 / (DRY_AIR_GAS_CONSTANT * self.temperature.kelvin()))
    }
}
