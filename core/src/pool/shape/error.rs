//! What can be wrong with a vessel.

use crate::quantity::{Centimetres, Litres, Span};

/// What of a vessel was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dimension {
    /// One side, or the longer diameter.
    Length,
    /// The other side, or the shorter diameter.
    Width,
    /// From floor to rim.
    Height,
    /// Across a circle.
    Diameter,
    /// A radius.
    Radius,
    /// The radius at the floor.
    BottomRadius,
    /// The radius at the rim.
    TopRadius,
    /// A side at the floor.
    BottomLength,
    /// The other side at the floor.
    BottomWidth,
    /// A side at the rim.
    TopLength,
    /// The other side at the rim.
    TopWidth,
    /// A side of a hexagon.
    Side,
}

/// Why there is no volume or no level.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ShapeError {
    /// A measure that no vessel has.
    #[error("{what:?}: {value:?} is not between {} and {} cm", .range.low, .range.high)]
    Size {
        /// Which one.
        what: Dimension,
        /// What was given.
        value: Centimetres,
        /// What can be, in cm.
        range: Span,
    },
    /// A fill table needs two points.
    #[error("{points} points, 2 are needed")]
    FewPoints {
        /// How many there were.
        points: usize,
    },
    /// In a fill table, level and litres rise from each point to the next one, by at least 0.1 mm.
    #[error("point {point} of the table does not rise above the one before")]
    NotRising {
        /// Which point, the first one is 1.
        point: usize,
    },
    /// Water stands between floor and rim.
    #[error("level {level:?} is not between the floor and the rim at {rim:?}")]
    Level {
        /// What was given.
        level: Centimetres,
        /// Where the rim is.
        rim: Centimetres,
    },
    /// More than the vessel holds, or less than nothing.
    #[error("{volume:?} is not between nothing and the {full:?} that it holds")]
    Volume {
        /// What was given.
        volume: Litres,
        /// What it holds.
        full: Litres,
    },
}
