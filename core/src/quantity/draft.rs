//! A reading before it is believed: the number, the unit, and what was said around them.

use super::name::Counted;
use super::number::Number;
use super::unit::{Dim, Unit};
use super::{Basis, GravityConvention, Kind, Measured, Problem, What};

/// The temperature in °C that a conductivity is given for unless somebody says otherwise: meters compensate to it.
const CONDUCTIVITY_AT_C: f64 = 25.0;

/// What was gathered about one reading.
pub(super) struct Draft {
    /// What is read.
    pub(super) kind: Kind,
    /// The number.
    pub(super) number: Number,
    /// Its unit.
    pub(super) unit: Option<&'static Unit>,
    /// The number and the unit as they were written.
    pub(super) text: String,
    /// What a nitrogen compound is counted as.
    pub(super) counted: Option<Counted>,
    /// The temperature of a conductivity in °C.
    pub(super) at_c: Option<f64>,
    /// The convention of a gravity.
    pub(super) convention: Option<GravityConvention>,
}

/// The kind of reading that a unit alone tells.
pub(super) fn kind_of(dim: Dim) -> Option<Kind> {
    match dim {
        Dim::Percent | Dim::Moisture => Some(Kind::Humidity),
        Dim::Temperature | Dim::Degrees => Some(Kind::Temperature),
        Dim::Salinity => Some(Kind::Salinity),
        Dim::Conductivity => Some(Kind::Conductivity),
        Dim::Length => Some(Kind::Level),
        _ => None,
    }
}

/// Whether a kind of reading may be in a unit.
pub(super) fn fits(kind: Kind, dim: Dim) -> bool {
    match dim {
        Dim::Dissolved => matches!(
            kind,
            Kind::Ammonia | Kind::Nitrite | Kind::Nitrate | Kind::Chlorine
        ),
        Dim::DissolvedNitrogen => matches!(kind, Kind::Ammonia | Kind::Nitrite | Kind::Nitrate),
        _ => kind_of(dim) == Some(kind),
    }
}

/// Whether a named number could be meant in more than one unit: "level 7" in cm or in, "humidity 0.8" as a part
/// or in percent, "salinity 1.024" as a gravity.
fn needs_unit(kind: Kind, value: f64) -> bool {
    match kind {
        Kind::Temperature | Kind::Conductivity | Kind::Level => true,
        Kind::Humidity => (0.0..=1.0).contains(&value),
        Kind::Salinity => {
            let (low, high) = Kind::Gravity.limits();
            (low..=high).contains(&value)
        }
        _ => false,
    }
}

impl Draft {
    /// The reading, if it can be true.
    ///
    /// # Errors
    ///
    /// [`Problem::WrongUnit`], [`Problem::NoUnit`], [`Problem::Negative`], [`Problem::OutOfRange`], and
    /// [`Problem::NoConvention`] for a gravity where neither the text nor `gravity` gives one.
    pub(super) fn settle(self, gravity: Option<GravityConvention>) -> Result<Measured, Problem> {
        let kind = self.kind;
        let what = What::Reading(kind);
        let value = self.value();
        match self.unit {
            Some(unit) if !fits(kind, unit.dim) => {
                return Err(Problem::WrongUnit {
                    text: self.text,
                    what,
                });
            }
            Some(unit) if unit.dim == Dim::Degrees => {
                return Err(Problem::NoUnit {
                    text: self.text,
                    what,
                });
            }
            None if needs_unit(kind, value) => {
                return Err(Problem::NoUnit {
                    text: self.text,
                    what,
                });
            }
            _ => {}
        }
        if value < 0.0 && kind != Kind::Temperature {
            return Err(Problem::Negative {
                text: self.text,
                what,
            });
        }
        let (low, high) = kind.limits();
        let (unit, low, high) = match self.unit {
            Some(unit) => (unit.symbol, unit.of_base(low), unit.of_base(high)),
            None => (kind.symbol(), low, high),
        };
        if !(low..=high).contains(&value) {
            return Err(Problem::OutOfRange {
                kind: what,
                value,
                unit,
                low,
                high,
            });
        }
        let base = self.unit.map_or(value, |unit| unit.to_base(value));
        self.measured(base, gravity)
    }

    /// The number, with its comma read as this kind of reading needs it.
    fn value(&self) -> f64 {
        match self.number.decimal {
            Some(decimal) if self.kind == Kind::Gravity => decimal,
            _ => self.number.value,
        }
    }

    fn measured(&self, base: f64, gravity: Option<GravityConvention>) -> Result<Measured, Problem> {
        let by_unit = self.unit.filter(|unit| unit.dim == Dim::DissolvedNitrogen);
        let counted = by_unit.map(|_| Counted::As(Basis::Nitrogen)).or(self.counted);
        let (mg_l, basis) = counted.unwrap_or(Counted::As(Basis::Ion)).settle(base);
        Ok(match self.kind {
            Kind::Humidity => Measured::Humidity(base),
            Kind::Temperature => Measured::Temperature(base),
            Kind::Gravity => match self.convention.or(gravity) {
                Some(convention) => Measured::Gravity {
                    value: base,
                    convention,
                },
                None => return Err(Problem::NoConvention { value: base }),
            },
            Kind::Salinity => Measured::Salinity(base),
            Kind::Conductivity => Measured::Conductivity {
                ms_cm: base,
                at_c: self.at_c.unwrap_or(CONDUCTIVITY_AT_C),
            },
            Kind::Ph => Measured::Ph(base),
            Kind::Ammonia => Measured::Ammonia { mg_l, basis },
            Kind::Nitrite => Measured::Nitrite { mg_l, basis },
            Kind::Nitrate => Measured::Nitrate { mg_l, basis },
            Kind::Chlorine => Measured::Chlorine(base),
            Kind::Level => Measured::Level(base),
        })
    }
}

/// A temperature in °C that belongs to another reading.
///
/// # Errors
///
/// As for any temperature.
pub(super) fn temperature(number: Number, unit: &'static Unit, text: String) -> Result<f64, Problem> {
    let kind = Kind::Temperature;
    let unknown = Problem::Unknown { text: text.clone() };
    let draft = Draft {
        kind,
        number,
        unit: Some(unit),
        text,
        counted: None,
        at_c: None,
        convention: None,
    };
    match draft.settle(None)? {
        Measured::Temperature(c) => Ok(c),
        _ => Err(unknown),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn draft(kind: Kind, value: f64) -> Draft {
        let number = Number {
            value,
            decimal: None,
            whole: false,
            spelled: false,
        };
        let text = value.to_string();
        Draft {
            kind,
            number,
            unit: None,
            text,
            counted: None,
            at_c: None,
            convention: None,
        }
    }

    #[test]
    fn check_limits_are_included() {
        for kind in [
            Kind::Ph,
            Kind::Ammonia,
            Kind::Nitrite,
            Kind::Nitrate,
            Kind::Chlorine,
            Kind::Gravity,
        ] {
            let (low, high) = kind.limits();
            for value in [low, high] {
                let got = draft(kind, value).settle(Some(GravityConvention::T25T25));
                assert_eq!(got.map(|m| m.kind()), Ok(kind), "{value}");
            }
            let unit = kind.symbol();
            let value = high + 0.001;
            let want = Problem::OutOfRange {
                kind: What::Reading(kind),
                value,
                unit,
                low,
                high,
            };
            assert_eq!(
                draft(kind, value).settle(Some(GravityConvention::T25T25)),
                Err(want)
            );
        }
    }

    #[test]
    fn check_units_that_are_needed() {
        for (kind, value, needed) in [
            (Kind::Level, 7.0, true),
            (Kind::Temperature, 26.0, true),
            (Kind::Conductivity, 53.0, true),
            (Kind::Humidity, 0.8, true),
            (Kind::Humidity, 82.0, false),
            (Kind::Salinity, 1.024, true),
            (Kind::Salinity, 35.0, false),
            (Kind::Ph, 8.0, false),
        ] {
            let missing = matches!(draft(kind, value).settle(None), Err(Problem::NoUnit { .. }));
            assert_eq!(missing, needed, "{kind:?} {value}");
        }
    }
}
