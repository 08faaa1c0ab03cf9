//! Where a formula was used outside the range that its authors published it for.

/// A range with both ends included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Its lower end.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
}

impl Span {
    /// The range between two ends, both included.
    #[must_use]
    pub const fn new(low: f64, high: f64) -> Self {
        Self { low, high }
    }

    /// Whether a value lies within it. Nothing that is not a number does.
    #[must_use]
    pub fn has(self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }
}

/// A published formula with a range of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Formula {
    /// The practical salinity scale of 1978.
    PracticalSalinity,
    /// The equation of state of sea water of 1980, at one atmosphere.
    EquationOfState,
    /// Water activity of sea water by its osmotic coefficient.
    WaterActivity,
    /// Un-ionised ammonia in fresh water.
    FreshAmmonia,
    /// Un-ionised ammonia in sea water.
    SeaAmmonia,
    /// Saturation vapour pressure over water.
    Saturation,
    /// Humidity over saturated salt solutions.
    SaltSolutions,
    /// Friction in a smooth tube.
    TubeFriction,
    /// Evaporation from a still surface.
    Evaporation,
    /// Latent heat of water.
    LatentHeat,
}

/// What of a formula's inputs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Input {
    /// A temperature in °C.
    Temperature,
    /// A salinity in g/kg.
    Salinity,
    /// A pH.
    Ph,
    /// A Reynolds number.
    Reynolds,
    /// A water surface in cm².
    Surface,
}

/// An input outside a formula's published range. The value was computed all the same; who shows it says so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beyond {
    /// Which formula.
    pub formula: Formula,
    /// Which of its inputs.
    pub input: Input,
    /// The input's value.
    pub value: f64,
    /// The range that was published.
    pub range: Span,
}

impl Beyond {
    /// What is to be said of an input: nothing if it lies within the range.
    #[must_use]
    pub fn of(formula: Formula, input: Input, value: f64, range: Span) -> Option<Self> {
        (!range.has(value)).then_some(Self {
            formula,
            input,
            value,
            range,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_ends_belong() {
        let of = |value| {
            Beyond::of(
                Formula::PracticalSalinity,
                Input::Salinity,
                value,
                Span::new(2.0, 42.0),
            )
        };
        assert_eq!([of(2.0), of(42.0)], [None, None]);
        assert_eq!(of(1.9).map(|beyond| beyond.value), Some(1.9));
        assert!(of(f64::NAN).is_some());
    }
}
