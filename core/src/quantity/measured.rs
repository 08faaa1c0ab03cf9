//! What can be read off an instrument, a test kit or a ruler.

use serde::{Deserialize, Serialize};

use super::nitrogen::rebase;
use super::{Basis, GravityConvention};

/// The kinds of reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// Relative humidity of the air.
    Humidity,
    /// Temperature of air or water.
    Temperature,
    /// Specific gravity of salt water.
    Gravity,
    /// Salinity.
    Salinity,
    /// Electrical conductivity.
    Conductivity,
    /// pH.
    Ph,
    /// Ammonia.
    Ammonia,
    /// Nitrite.
    Nitrite,
    /// Nitrate.
    Nitrate,
    /// Chlorine.
    Chlorine,
    /// Depth of the water.
    Level,
}

impl Kind {
    /// All of them, in the order in which they are listed to people.
    pub const ALL: [Self; 11] = [
        Self::Humidity,
        Self::Temperature,
        Self::Gravity,
        Self::Salinity,
        Self::Conductivity,
        Self::Ph,
        Self::Ammonia,
        Self::Nitrite,
        Self::Nitrate,
        Self::Chlorine,
        Self::Level,
    ];

    /// The lowest and highest value that can be true, both included, in the kind's canonical unit: % RH, °C,
    /// none, g/kg, mS/cm, pH, mg/L and cm. They are wide on purpose: they catch slips of the pen and exchanged
    /// units, not bad water.
    #[must_use]
    pub fn limits(self) -> (f64, f64) {
        match self {
            Self::Humidity | Self::Conductivity | Self::Ammonia | Self::Nitrite => (0.0, 100.0),
            Self::Temperature => (-20.0, 60.0),
            Self::Gravity => (0.98, 1.06),
            Self::Salinity => (0.0, 60.0),
            Self::Ph => (0.0, 14.0),
            Self::Nitrate => (0.0, 1000.0),
            Self::Chlorine => (0.0, 20.0),
            Self::Level => (0.0, 200.0),
        }
    }

    /// The symbol of the canonical unit; for gravity and pH, which have none, the symbol of the kind.
    pub(super) fn symbol(self) -> &'static str {
        match self {
            Self::Humidity => "%",
            Self::Temperature => "°C",
            Self::Gravity => "sg",
            Self::Salinity => "g/kg",
            Self::Conductivity => "mS/cm",
            Self::Ph => "pH",
            Self::Ammonia | Self::Nitrite | Self::Nitrate | Self::Chlorine => "mg/L",
            Self::Level => "cm",
        }
    }
}

/// A reading in canonical units.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Measured {
    /// Relative humidity in percent, 0 to 100.
    Humidity(f64),
    /// Temperature in °C, −20 to 60.
    Temperature(f64),
    /// Specific gravity, 0.98 to 1.06.
    Gravity {
        /// The ratio.
        value: f64,
        /// The temperatures it compares.
        convention: GravityConvention,
    },
    /// Salinity in g/kg, 0 to 60. Parts per thousand and practical salinity are taken as the same number; the
    /// latter is lower by 0.5 % (35.165 g/kg at 35, TEOS-10), which is less than a hobby instrument resolves.
    Salinity(f64),
    /// Electrical conductivity.
    Conductivity {
        /// In mS/cm, 0 to 100.
        ms_cm: f64,
        /// The temperature in °C that it is given for.
        at_c: f64,
    },
    /// pH, 0 to 14.
    Ph(f64),
    /// Total ammonia, 0 to 100 mg/L.
    Ammonia {
        /// In mg/L.
        mg_l: f64,
        /// Of what.
        basis: Basis,
    },
    /// Nitrite, 0 to 100 mg/L.
    Nitrite {
        /// In mg/L.
        mg_l: f64,
        /// Of what.
        basis: Basis,
    },
    /// Nitrate, 0 to 1000 mg/L.
    Nitrate {
        /// In mg/L.
        mg_l: f64,
        /// Of what.
        basis: Basis,
    },
    /// Chlorine in mg/L, 0 to 20.
    Chlorine(f64),
    /// Depth of the water in cm, 0 to 200.
    Level(f64),
}

impl Measured {
    /// What was read.
    #[must_use]
    pub fn kind(&self) -> Kind {
        match self {
            Self::Humidity(_) => Kind::Humidity,
            Self::Temperature(_) => Kind::Temperature,
            Self::Gravity { .. } => Kind::Gravity,
            Self::Salinity(_) => Kind::Salinity,
            Self::Conductivity { .. } => Kind::Conductivity,
            Self::Ph(_) => Kind::Ph,
            Self::Ammonia { .. } => Kind::Ammonia,
            Self::Nitrite { .. } => Kind::Nitrite,
            Self::Nitrate { .. } => Kind::Nitrate,
            Self::Chlorine(_) => Kind::Chlorine,
            Self::Level(_) => Kind::Level,
        }
    }

    /// An ammonia, nitrite or nitrate reading in mg/L on the wanted basis; `None` for any other reading.
    #[must_use]
    pub fn mg_l(&self, wanted: Basis) -> Option<f64> {
        match *self {
            Self::Ammonia { mg_l, basis } | Self::Nitrite { mg_l, basis } | Self::Nitrate { mg_l, basis } => {
                rebase(self.kind(), mg_l, basis, wanted)
            }
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_kinds() {
        let convention = GravityConvention::T25T25;
        let basis = Basis::Nitrogen;
        let all = [
            Measured::Humidity(82.0),
            Measured::Temperature(26.5),
            Measured::Gravity {
                value: 1.0245,
                convention,
            },
            Measured::Salinity(35.0),
            Measured::Conductivity {
                ms_cm: 53.0,
                at_c: 25.0,
            },
            Measured::Ph(8.1),
            Measured::Ammonia { mg_l: 0.25, basis },
            Measured::Nitrite { mg_l: 0.1, basis },
            Measured::Nitrate { mg_l: 5.0, basis },
            Measured::Chlorine(0.1),
            Measured::Level(7.0),
        ];
        assert_eq!(all.map(|m| m.kind()), Kind::ALL);
        for kind in Kind::ALL {
            let (low, high) = kind.limits();
            assert!(low < high, "{kind:?}");
        }
        assert_eq!(all[0].mg_l(Basis::Ion), None);
        assert_eq!(all[8].mg_l(Basis::Nitrogen), Some(5.0));
        let ion = all[8].mg_l(Basis::Ion).unwrap();
        assert!((ion - 22.1332).abs() < 1e-3, "{ion}");
    }
}
