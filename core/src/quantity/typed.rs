//! Numbers that carry their unit in their type, so that a salinity cannot be handed over as a temperature.
//!
//! The number inside is public and always in the unit that the type is called after. What adds up (volumes, masses,
//! lengths, spans of time) can be added and scaled; what does not (temperatures, salinities) cannot.

macro_rules! unit {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, serde::Serialize, serde::Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub f64);
    };
}

macro_rules! amount {
    ($(#[$doc:meta])* $name:ident) => {
        unit!($(#[$doc])* $name);

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, times: f64) -> Self {
                Self(self.0 * times)
            }
        }

        impl std::ops::Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
                Self(all.map(|one| one.0).sum())
            }
        }
    };
}

amount!(/// A volume in litres.
    Litres);
amount!(/// A volume in millilitres: doses from a bottle.
    Millilitres);
amount!(/// A mass in grams.
    Grams);
amount!(/// A mass in kilograms.
    Kilograms);
amount!(/// A length in centimetres.
    Centimetres);
amount!(/// An area in square centimetres.
    SquareCentimetres);
amount!(/// A span of time in minutes.
    Minutes);
amount!(/// A span of time in hours.
    Hours);
amount!(/// A span of time in days of 24 hours.
    Days);
amount!(/// A pressure, or a difference of two, in pascals.
    Pascals);
unit!(/// A temperature in °C of the scale in use since 1990 (ITS-90).
    Celsius);
unit!(/// A relative humidity as a share of saturation: 0 is dry, 1 is saturated.
    Humidity);
unit!(/// A salinity: practical salinity of the scale of 1978, which is taken for g of salt in a kg of sea water.
    Salinity);
unit!(/// An electrical conductivity in mS/cm at the water's own temperature.
    Conductivity);
unit!(/// A density in kg/m³.
    Density);
unit!(/// A specific gravity: a ratio of densities. It says nothing without its convention.
    Gravity);
unit!(/// A concentration in mg/L.
    MilligramsPerLitre);
unit!(/// A flow in litres a minute.
    LitresPerMinute);

impl Celsius {
    /// The same temperature in kelvin.
    #[must_use]
    pub fn kelvin(self) -> f64 {
        self.0 + 273.15
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_arithmetic() {
        let sum: Litres = [Litres(1.5), Litres(2.0) * 2.0].into_iter().sum();
        assert_eq!(sum, Litres(1.5) + Litres(4.0));
        assert!((sum / Litres(2.75) - 2.0).abs() < f64::EPSILON);
        assert_eq!(Celsius(25.0).kelvin(), 298.15);
    }
}
