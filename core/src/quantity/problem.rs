//! Why a text is no quantity. The sentences are made elsewhere, in the reader's language.

use super::Kind;

/// What a text was read as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum What {
    /// A volume of water.
    Volume,
    /// A length.
    Length,
    /// A mass.
    Mass,
    /// A part of a whole.
    Fraction,
    /// A reading of one kind.
    Reading(Kind),
    /// A reading, but nothing says of which kind.
    AnyReading,
    /// A span of time.
    Duration,
}

/// Why a text is no quantity. `text` is always a piece of what the person wrote, as they wrote it.
#[derive(Clone, Debug, PartialEq)]
pub enum Problem {
    /// It cannot be true. The numbers are in the unit the person used.
    OutOfRange {
        /// What was read.
        kind: What,
        /// The value.
        value: f64,
        /// The symbol of the unit; empty for a bare fraction.
        unit: &'static str,
        /// The lowest that can be true; an amount must even be above it.
        low: f64,
        /// The highest that can be true.
        high: f64,
    },
    /// The unit belongs to something else.
    WrongUnit {
        /// The number with its unit.
        text: String,
        /// What was wanted.
        what: What,
    },
    /// A unit is needed to tell what is meant.
    NoUnit {
        /// The number.
        text: String,
        /// What was wanted.
        what: What,
    },
    /// There is no number, or one that cannot be read.
    NotANumber {
        /// The text.
        text: String,
    },
    /// A specific gravity without a convention, at a place that never stated one.
    NoConvention {
        /// The gravity.
        value: f64,
    },
    /// A number too large to count with.
    NotFinite,
    /// A negative number where there is nothing below zero.
    Negative {
        /// The number with its unit.
        text: String,
        /// What was wanted.
        what: What,
    },
    /// A number with words that mean nothing here.
    Unknown {
        /// The number with those words.
        text: String,
    },
}
