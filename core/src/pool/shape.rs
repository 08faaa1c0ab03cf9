//! The inside of a vessel: volume to a level and back.
//!
//! In reading order: `section` is a vessel whose horizontal section varies evenly from floor to rim, `table` is one
//! that was filled by measure; here they become one type.

mod error;
mod section;
mod table;

#[cfg(test)]
mod tests;

use crate::quantity::{Centimetres, Litres, Span, SquareCentimetres};
pub use error::{Dimension, ShapeError};
use section::Section;
pub use table::Fill;

/// What a person measures of a vessel: 0.1 mm to 100 m. Anything else is a slip of the pen.
const SIZES: Span = Span::new(0.01, 10_000.0);

/// The inside of a vessel, in centimetres, measured inside and above its floor.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(tag = "shape", rename_all = "snake_case")]
pub enum Shape {
    /// Straight walls on a rectangle.
    Box {
        /// One side.
        length: Centimetres,
        /// The other side.
        width: Centimetres,
        /// From floor to rim.
        height: Centimetres,
    },
    /// Straight walls on a circle.
    Cylinder {
        /// Across the inside.
        diameter: Centimetres,
        /// From floor to rim.
        height: Centimetres,
    },
    /// A bowl with straight, leaning walls on a circle.
    Frustum {
        /// At the floor.
        bottom_radius: Centimetres,
        /// At the rim.
        top_radius: Centimetres,
        /// From floor to rim, upright.
        height: Centimetres,
    },
    /// A tub with straight, leaning walls on a rectangle: a prismatoid.
    Tub {
        /// One side at the floor.
        bottom_length: Centimetres,
        /// The other side at the floor.
        bottom_width: Centimetres,
        /// The side above `bottom_length`, at the rim.
        top_length: Centimetres,
        /// The side above `bottom_width`, at the rim.
        top_width: Centimetres,
        /// From floor to rim, upright.
        height: Centimetres,
    },
    /// A quarter of a cylinder, which stands in a corner.
    QuarterRound {
        /// From the corner to the round side.
        radius: Centimetres,
        /// From floor to rim.
        height: Centimetres,
    },
    /// Straight walls on an ellipse.
    Ellipse {
        /// Across, where it is longest.
        length: Centimetres,
        /// Across, where it is shortest.
        width: Centimetres,
        /// From floor to rim.
        height: Centimetres,
    },
    /// Straight walls on a regular hexagon.
    Hexagon {
        /// One of the six sides.
        side: Centimetres,
        /// From floor to rim.
        height: Centimetres,
    },
    /// Any vessel that was filled by measure. Between two points the volume rises evenly, below the first one from
    /// nothing at the floor. The last point is the rim.
    Table {
        /// At least two points, levels and litres strictly rising.
        points: Vec<Fill>,
    },
}

/// A shape whose measures were looked at.
enum Checked<'a> {
    Section(Section),
    Table(&'a [Fill]),
}

impl Shape {
    /// From floor to rim.
    ///
    /// # Errors
    /// A measure outside 0.01–10,000 cm; a fill table with less than two points or one that does not rise.
    pub fn height(&self) -> Result<Centimetres, ShapeError> {
        Ok(Centimetres(match self.checked()? {
            Checked::Section(section) => section.height,
            Checked::Table(points) => table::rim(points).level.0,
        }))
    }

    /// Litres from the floor to a level, without anything in it.
    ///
    /// Source: elementary geometry; where both sides vary evenly with the height, the exact integral of their product
    /// (the prismatoid formula h/6 (A₁ + 4 Aₘ + A₂)).
    ///
    /// # Errors
    /// Those of [`Shape::height`]; a level below the floor or above the rim.
    pub fn volume_to(&self, level: Centimetres) -> Result<Litres, ShapeError> {
        let checked = self.checked_to(level)?;
        Ok(Litres(match checked {
            Checked::Section(section) => section.volume(level.0) / 1000.0,
            Checked::Table(points) => table::volume(points, level.0),
        }))
    }

    /// The water's surface at a level; for a fill table, that of the stretch below it.
    ///
    /// # Errors
    /// Those of [`Shape::volume_to`].
    pub fn surface_at(&self, level: Centimetres) -> Result<SquareCentimetres, ShapeError> {
        let checked = self.checked_to(level)?;
        Ok(SquareCentimetres(match checked {
            Checked::Section(section) => section.area(level.0),
            Checked::Table(points) => table::area(points, level.0),
        }))
    }

    /// Litres to the rim.
    ///
    /// # Errors
    /// Those of [`Shape::height`].
    pub fn full(&self) -> Result<Litres, ShapeError> {
        self.volume_to(self.height()?)
    }

    /// The level that so many litres reach: the inverse of [`Shape::volume_to`], within a millionth of the height
    /// (unless a side shrinks more than ten-thousandfold on the way to the rim).
    ///
    /// # Errors
    /// Those of [`Shape::height`]; a volume below nothing or above what the vessel holds.
    pub fn level_for(&self, volume: Litres) -> Result<Centimetres, ShapeError> {
        let full = self.full()?;
        // The rim itself may be missed by a rounding.
        if !Span::new(0.0, full.0 * (1.0 + 1e-12)).has(volume.0) {
            return Err(ShapeError::Volume { volume, full });
        }
        Ok(Centimetres(match self.checked()? {
            Checked::Section(section) => section.level(volume.0 * 1000.0),
            Checked::Table(points) => table::level(points, volume.0),
        }))
    }

    fn checked_to(&self, level: Centimetres) -> Result<Checked<'_>, ShapeError> {
        let rim = self.height()?;
        if !Span::new(0.0, rim.0).has(level.0) {
            return Err(ShapeError::Level { level, rim });
        }
        self.checked()
    }

    /// The shape as a factor and two sides that vary evenly, or as its table.
    fn checked(&self) -> Result<Checked<'_>, ShapeError> {
        use std::f64::consts::{FRAC_PI_4, PI};
        for (what, value) in self.measures() {
            if !SIZES.has(value.0) {
                return Err(ShapeError::Size {
                    what,
                    value,
                    range: SIZES,
                });
            }
        }
        Ok(Checked::Section(match *self {
            Self::Table { ref points } => {
                table::check(points)?;
                return Ok(Checked::Table(points));
            }
            Self::Box {
                length,
                width,
                height,
            } => Section::upright(1.0, length, width, height),
            Self::Cylinder { diameter, height } => Section::upright(FRAC_PI_4, diameter, diameter, height),
            Self::Frustum {
                bottom_radius,
                top_radius,
                height,
            } => Section::new(
                PI,
                [bottom_radius, top_radius],
                [bottom_radius, top_radius],
                height,
            ),
            Self::Tub {
                bottom_length,
                bottom_width,
                top_length,
                top_width,
                height,
            } => Section::new(
                1.0,
                [bottom_length, top_length],
                [bottom_width, top_width],
                height,
            ),
            Self::QuarterRound { radius, height } => Section::upright(FRAC_PI_4, radius, radius, height),
            Self::Ellipse {
                length,
                width,
                height,
            } => Section::upright(FRAC_PI_4, length, width, height),
            Self::Hexagon { side, height } => Section::upright(1.5 * 3.0_f64.sqrt(), side, side, height),
        }))
    }

    fn measures(&self) -> Vec<(Dimension, Centimetres)> {
        use Dimension as D;
        match *self {
            Self::Box {
                length,
                width,
                height,
            }
            | Self::Ellipse {
                length,
                width,
                height,
            } => {
                vec![(D::Length, length), (D::Width, width), (D::Height, height)]
            }
            Self::Cylinder { diameter, height } => vec![(D::Diameter, diameter), (D::Height, height)],
            Self::Frustum {
                bottom_radius,
                top_radius,
                height,
            } => vec![
                (D::BottomRadius, bottom_radius),
                (D::TopRadius, top_radius),
                (D::Height, height),
            ],
            Self::Tub {
                bottom_length,
                bottom_width,
                top_length,
                top_width,
                height,
            } => vec![
                (D::BottomLength, bottom_length),
                (D::BottomWidth, bottom_width),
                (D::TopLength, top_length),
                (D::TopWidth, top_width),
                (D::Height, height),
            ],
            Self::QuarterRound { radius, height } => vec![(D::Radius, radius), (D::Height, height)],
            Self::Hexagon { side, height } => vec![(D::Side, side), (D::Height, height)],
            Self::Table { .. } => Vec::new(),
        }
    }
}
