//! How thick the water in a tube is.

use super::{Celsius, Given, Salinity, SiphonError, Span, within};

/// Liquid at all.
const TEMPERATURES: Span = Span::new(0.0, 100.0);

/// The published range of the viscosity of sea water, g/kg.
const SALINITIES: Span = Span::new(0.0, 150.0);

/// Water of a temperature and a salinity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Liquid {
    temperature: f64,
    salinity: f64,
}

impl Liquid {
    /// Water of 0–100 °C with 0–150 g of salt a kg.
    ///
    /// # Errors
    /// A temperature or a salinity outside these ranges.
    pub fn new(temperature: Celsius, salinity: Salinity) -> Result<Self, SiphonError> {
        within(Given::Temperature, temperature.0, TEMPERATURES)?;
        within(Given::Salinity, salinity.0, SALINITIES)?;
        Ok(Self {
            temperature: temperature.0,
            salinity: salinity.0,
        })
    }

    /// Dynamic viscosity in Pa s.
    ///
    /// Source: Sharqawy, Lienhard & Zubair 2010, Desalination and Water Treatment 16:354–380, equations 22 and 23 (seen
    /// as quoted in public code); 0–180 °C, 0–150 g/kg, within 1.5 %. For fresh water it is within 0.02 % of IAPWS (the
    /// library iapws 1.5.5) from 0.5 to 40 °C.
    #[must_use]
    pub fn viscosity(self) -> f64 {
        let (t, s) = (self.temperature, self.salinity / 1000.0);
        let fresh = 4.2844e-5 + (0.157 * (t + 64.993).powi(2) - 91.296).recip();
        let a = 1.541 + t * (1.998e-2 - t * 9.52e-5);
        let b = 7.974 + t * (-7.561e-2 + t * 4.724e-4);
        fresh * (1.0 + s * (a + s * b))
    }

    /// Kinematic viscosity in m²/s. Density cancels everywhere else in a siphon, so here it may be rough: Kell 1975 for
    /// fresh water (from memory; within 1e-5 of the library iapws 1.5.5 up to 40 °C) and 0.75 kg/m³ for each g/kg of
    /// salt (EOS-80 at 25 °C: 26.295 kg/m³ at 35; at 5 °C 27.708, which is 0.15 % of the whole more).
    pub(super) fn kinematic_viscosity(self) -> f64 {
        let t = self.temperature;
        let above = 999.839_52
            + t * (16.945_176
                + t * (-7.987_040_1e-3 + t * (-46.170_461e-6 + t * (105.563_02e-9 - t * 280.542_53e-12))));
        let fresh = above / (1.0 + 16.879_850e-3 * t);
        self.viscosity() / (fresh + 0.75 * self.salinity)
    }
}
