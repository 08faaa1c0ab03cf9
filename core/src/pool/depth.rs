//! Who can submerge, who can get out, and what a tipped pool spills.
//!
//! In reading order: here is the depth for the largest crab; `way_out` is for the smallest one; `spill` is what a pool
//! weighs and where its water goes.

mod spill;
mod way_out;

#[cfg(test)]
mod tests;

use super::contents::{ContentsError, Pool};
use crate::quantity::{Centimetres, Span};
use crate::rests::Rests;
pub use spill::{Spill, Substrate, spill, weight};
pub use way_out::{CHECKS, Check, REACH, Route, STEEPEST, WayOut, way_out};

/// Which number of a question.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Given {
    /// A shell's height or length, cm.
    Shell,
    /// Height of a shell as a share of its length.
    Ratio,
    /// Water above the shell, cm.
    Margin,
    /// Rise of a ramp, cm.
    Rise,
    /// Run of a ramp along the floor, cm.
    Run,
    /// A single step, cm.
    Step,
    /// Steepest slope, degrees.
    Slope,
    /// The share of its shell's length that a crab climbs at once.
    Reach,
    /// Floor that a spill spreads over, cm².
    Floor,
    /// The share of the substrate that a spill can fill.
    Open,
    /// Depth of the substrate, cm.
    Substrate,
    /// Density of the water, kg/m³.
    Density,
    /// The empty vessel, kg.
    Empty,
}

/// Why there is no answer on depth.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum DepthError {
    /// A number that cannot be.
    #[error("{given:?}: {value} is not between {} and {}", .range.low, .range.high)]
    Range {
        /// Which one.
        given: Given,
        /// What was given.
        value: f64,
        /// What can be.
        range: Span,
    },
    /// The pool itself.
    #[error(transparent)]
    Contents(#[from] ContentsError),
}

/// The shell of the largest crab, as it lies on the pool's floor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shell {
    /// Its height as it lies was measured: 0.2–30 cm.
    Height(Centimetres),
    /// Only its length is known: 0.2–30 cm. Its height is then a share of it, 0.2–1.
    Length {
        /// The longest way across the shell.
        length: Centimetres,
        /// Height as it lies, for a length of 1; [`LYING`] unless the place knows better.
        ratio: f64,
    },
}

/// How high a shell lies for its length: seven tenths; common practice, no published source. A shell that was measured is
/// better: long, thin ones lie lower, round ones higher.
pub const LYING: f64 = 0.7;

/// Water above the shell as it lies: 1 cm; common practice, no published source.
pub const MARGIN: Centimetres = Centimetres(1.0);

/// Whether the largest crab can submerge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Submersion {
    /// Water above the floor, or above the gravel.
    pub depth: Centimetres,
    /// What the crab needs.
    pub needed: Centimetres,
    /// What is missing, if something is.
    pub missing: Option<Centimetres>,
    /// How far the water line would have to stand above the vessel's floor.
    pub level: Centimetres,
    /// Whether the vessel is too low for that, so that no filling helps: less gravel, or another vessel.
    pub above_rim: bool,
    /// What this rests on: the rule is common practice.
    pub rests: Rests,
}

/// Whether the largest crab can submerge completely: the water above the gravel is at least as deep as its shell is high,
/// and a margin.
///
/// The pool's water line is read, or computed by [`Pool::filled_with`], with stones, stone, filter and ramp in their
/// places. Common practice, no published source.
///
/// # Errors
/// A pool, a shell or a margin (0–20 cm) that cannot be.
pub fn submersion(pool: Pool<'_>, shell: Shell, margin: Centimetres) -> Result<Submersion, DepthError> {
    pool.water()?;
    within(Given::Margin, margin.0, Span::new(0.0, 20.0))?;
    let needed = shell.height()? + margin;
    let bed = pool.contents.bed();
    let depth = Centimetres((pool.level - bed).0.max(0.0));
    let rim = pool.shape.height().map_err(ContentsError::from)?;
    let level = bed + needed;
    // A tenth of a millimetre is not seen on a rule.
    let missing = level - pool.level;
    Ok(Submersion {
        depth,
        needed,
        missing: (missing.0 > 0.01).then_some(missing),
        level,
        above_rim: level > rim,
        rests: Rests::Practice,
    })
}

impl Shell {
    /// How high it lies.
    ///
    /// # Errors
    /// A size outside 0.2–30 cm, a ratio outside 0.2–1.
    pub fn height(self) -> Result<Centimetres, DepthError> {
        match self {
            Self::Height(height) => {
                within(Given::Shell, height.0, SHELLS)?;
                Ok(height)
            }
            Self::Length { length, ratio } => {
                within(Given::Shell, length.0, SHELLS)?;
                within(Given::Ratio, ratio, Span::new(0.2, 1.0))?;
                Ok(length * ratio)
            }
        }
    }
}

const SHELLS: Span = Span::new(0.2, 30.0);

fn within(given: Given, value: f64, range: Span) -> Result<(), DepthError> {
    if range.has(value) {
        Ok(())
    } else {
        Err(DepthError::Range { given, value, range })
    }
}
