//! What of the air cannot be computed, and why.

use crate::quantity::Span;

/// What was asked about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum What {
    /// A temperature in °C.
    Temperature,
    /// A relative humidity, 0 to 1.
    Humidity,
    /// The pressure of vapour in Pa.
    VapourPressure,
    /// The pressure of air and vapour together in Pa.
    TotalPressure,
    /// A volume in litres.
    Volume,
    /// A surface in cm².
    Surface,
    /// A thickness in cm.
    Thickness,
    /// A conductivity for heat in W/m/K.
    HeatConductivity,
    /// A film coefficient in W/m²/K.
    Film,
    /// How readily a surface gives vapour, in kg/h/m²/Pa.
    Transfer,
    /// The activity of water, 0 to 1.
    Activity,
    /// A salinity in g/kg.
    Salinity,
    /// How wet a surface is, 0 to 1.
    Wetness,
    /// Air changes an hour.
    Exchange,
    /// A flow of air in L/min.
    AirFlow,
    /// A speed of air in m/s.
    AirSpeed,
    /// An activity factor of swimmers and splashing.
    ActivityFactor,
    /// A span of time in hours.
    Time,
    /// A mass in kg.
    Mass,
    /// A difference of vapour pressures in Pa.
    PressureDifference,
    /// A reading of an instrument, in %.
    Reading,
    /// A count of readings.
    Count,
}

/// Why something of the air cannot be computed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum AirError {
    /// A value that cannot be, or for which the answer would mislead.
    #[error("{what:?}: {value} is not from {} to {}", range.low, range.high)]
    Outside {
        /// Of what.
        what: What,
        /// The value.
        value: f64,
        /// What would be possible.
        range: Span,
    },
    /// Two references of an instrument at which it reads the same.
    #[error("both references read {0} %")]
    SameReading(f64),
    /// Readings that are not in order of time.
    #[error("hour {1} comes after hour {0}")]
    OutOfOrder(f64, f64),
    /// Readings that do not fall towards the room's humidity: no exchange can be told from them.
    #[error("the readings do not fall towards the room's")]
    NoDecay,
}

impl AirError {
    /// The value, if it lies in the range.
    pub(crate) fn unless(what: What, value: f64, range: Span) -> Result<f64, Self> {
        if range.has(value) {
            Ok(value)
        } else {
            Err(Self::Outside { what, value, range })
        }
    }
}
