//! What can be computed at all: within these limits a formula still gives a usable number, which is flagged where it
//! leaves its published range; outside them the number would mislead, and it is refused.

use crate::quantity::{Celsius, Salinity, Span};

/// A pressure of water above that of the air, in decibars: very nearly a metre of depth each.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Decibars(pub f64);

impl Decibars {
    /// At the surface.
    pub const SURFACE: Self = Self(0.0);
}

/// What is liquid, and a little more. The formulas drift outside −2 to 40 °C: at 60 °C the density is off by some
/// tenths of a kg/m³.
pub(super) const TEMPERATURE: Span = Span::new(-10.0, 60.0);

/// As salty as a reading can be. At 60 the density is off by less than 0.1 kg/m³ from 0 to 40 °C.
pub(crate) const SALINITY: Span = Span::new(0.0, 60.0);

/// From the surface to the deepest sea.
pub(super) const PRESSURE: Span = Span::new(0.0, 10_000.0);

/// As much as any instrument for such water shows.
pub(super) const CONDUCTIVITY: Span = Span::new(0.0, 200.0);

/// A volume or mass of water that can be meant, in litres or kilograms.
pub(super) const AMOUNT: Span = Span::new(0.0, 1e9);

/// What was asked about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SeawaterInput {
    /// A temperature of water in °C.
    Temperature,
    /// A salinity in g/kg.
    Salinity,
    /// A conductivity in mS/cm.
    Conductivity,
    /// A pressure in dbar.
    Pressure,
    /// A density in kg/m³.
    Density,
    /// A volume in litres.
    Volume,
    /// A mass in kilograms.
    Mass,
    /// A share of the water, 0 to 1.
    Share,
}

/// What of sea water cannot be computed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SeawaterError {
    /// An input, or what it leads to, is not one of sea water.
    #[error("{input:?} {value} is not between {} and {}", .range.low, .range.high)]
    Outside {
        /// Which one.
        input: SeawaterInput,
        /// What was given or came out.
        value: f64,
        /// What can be computed.
        range: Span,
    },
    /// A target that the water at hand cannot reach: it lies not between the water that is there and what is added.
    #[error("{target} is not between {from} and {added}", target = .target.0, from = .from.0, added = .added.0)]
    OutOfReach {
        /// The salinity that is there.
        from: Salinity,
        /// The salinity of what is added.
        added: Salinity,
        /// The salinity that was asked for.
        target: Salinity,
    },
}

/// A value, if it lies within a range.
#[inline]
pub(super) fn within(input: SeawaterInput, value: f64, range: Span) -> Result<f64, SeawaterError> {
    if range.has(value) {
        Ok(value)
    } else {
        Err(SeawaterError::Outside { input, value, range })
    }
}

/// A salinity that can be computed with.
#[inline]
pub(super) fn salinity(value: Salinity) -> Result<f64, SeawaterError> {
    within(SeawaterInput::Salinity, value.0, SALINITY)
}

/// A temperature that can be computed with, on the scale of 1968 that the formulas were published for.
///
/// Source: t68 = 1.00024 t90 (Saunders 1990).
#[inline]
pub(super) fn t68(value: Celsius) -> Result<f64, SeawaterError> {
    Ok(1.00024 * within(SeawaterInput::Temperature, value.0, TEMPERATURE)?)
}

/// A pressure that can be computed with.
#[inline]
pub(super) fn pressure(value: Decibars) -> Result<f64, SeawaterError> {
    within(SeawaterInput::Pressure, value.0, PRESSURE)
}
