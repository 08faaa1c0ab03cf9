//! Which filter suits which pool.
//!
//! In reading order: `rated` is which range on the box to look for; here is whether the filter stays under water and for
//! how long, and what it may pump out.

mod rated;

#[cfg(test)]
mod tests;

use super::contents::{ContentsError, Pool};
use super::shape::ShapeError;
use crate::quantity::{Centimetres, Days, Density, Kilograms, Litres, Span, SquareCentimetres};
use crate::rests::Rests;
pub use rated::{Choice, IN_USE, RatedRange, TURNOVER, Turnover, range_for, turnover, usual_ranges};

/// Which number of a question.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Given {
    /// The minimum fill line above the pool's floor, cm.
    FillLine,
    /// Water lost in an hour, kg.
    Loss,
    /// The surface that lost it, cm².
    Surface,
    /// The water's density, kg/m³.
    Density,
    /// The pool's water, litres.
    Pool,
    /// The filter's rated flow, L/min.
    Flow,
    /// The end of a rated range, litres.
    RatedEnd,
}

/// Why a filter is refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FilterError {
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
    /// The minimum fill line lies above the water: this filter is wrong for this pool.
    #[error("the fill line at {line:?} is {missing:?} above the water at {level:?}")]
    FillLineAbove {
        /// The line above the floor.
        line: Centimetres,
        /// The water line above the floor.
        level: Centimetres,
        /// How much the water would have to rise.
        missing: Centimetres,
        /// Whether the line stands above the pool's rim as well, so that no filling helps.
        above_rim: bool,
    },
    /// No range in the list starts as high as the pool is big.
    #[error("no range starts at {pool:?} or above; the last one starts at {last:?}")]
    NoRange {
        /// The pool's water.
        pool: Litres,
        /// Where the highest range starts; nothing if the list is empty.
        last: Option<Litres>,
    },
    /// The pool itself.
    #[error(transparent)]
    Contents(#[from] ContentsError),
}

impl From<ShapeError> for FilterError {
    fn from(error: ShapeError) -> Self {
        Self::Contents(error.into())
    }
}

/// How far the water may fall until the filter's minimum fill line is bare.
///
/// `line` is the mark on the filter above the pool's floor, with the filter where it stands. A line at the water counts as
/// covered by nothing: 0 cm.
///
/// # Errors
/// A pool that cannot be; a line above the water, with the missing centimetres.
pub fn margin(pool: Pool<'_>, line: Centimetres) -> Result<Centimetres, FilterError> {
    pool.water()?;
    let rim = pool.shape.height()?;
    within(Given::FillLine, line.0, Span::new(0.0, 1000.0))?;
    if line > pool.level {
        return Err(FilterError::FillLineAbove {
            line,
            level: pool.level,
            missing: line - pool.level,
            above_rim: line > rim,
        });
    }
    Ok(pool.level - line)
}

/// Water that evaporates: so much an hour from such a surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loss {
    /// In an hour: 0–1000 kg.
    pub hourly: Kilograms,
    /// From this surface: 0.01–1e8 cm².
    pub surface: SquareCentimetres,
}

impl Loss {
    /// A loss from a square metre.
    #[must_use]
    pub const fn per_square_metre(hourly: Kilograms) -> Self {
        Self {
            hourly,
            surface: SquareCentimetres(10_000.0),
        }
    }
}

/// Days until evaporation has brought the water down to the filter's minimum fill line. `None` if nothing evaporates, or
/// if it takes more than ten years.
///
/// Source: the level falls by E/ρ whatever the shape, since loss and level go with the same surface; below the top of the
/// gravel faster, as only its gaps hold water. A loss of 0.0255 kg/h/m² is 0.61 mm a day (facts, section 5). It rests on
/// the loss, which is known to a factor of two or three at best.
///
/// # Errors
/// Those of [`margin`]; a loss or a density that cannot be.
pub fn days_until_bare(
    pool: Pool<'_>,
    line: Centimetres,
    loss: Loss,
    density: Density,
) -> Result<Option<Days>, FilterError> {
    const LONGEST: f64 = 3652.5;
    let fall = margin(pool, line)?;
    within(Given::Loss, loss.hourly.0, Span::new(0.0, 1000.0))?;
    within(Given::Surface, loss.surface.0, Span::new(0.01, 1e8))?;
    within(Given::Density, density.0, Span::new(900.0, 1300.0))?;
    // cm a day: kg/day over cm² and kg/cm³.
    let daily = 24.0 * loss.hourly.0 / loss.surface.0 / (density.0 * 1e-6);
    if daily <= 0.0 {
        return Ok(None);
    }
    let bed = pool.contents.bed();
    let open = (pool.level.0.min(bed.0) - line.0).max(0.0);
    let deep = (fall.0 - open) + open * pool.contents.band().likely;
    let days = deep / daily;
    Ok((days <= LONGEST).then_some(Days(days)))
}

/// Litres that end up in the substrate if the outlet leaves the pool, or the pool is pumped dry: the water above the intake.
///
/// # Errors
/// A pool that cannot be; an intake below the floor or above the water.
pub fn at_stake(pool: Pool<'_>, intake: Centimetres) -> Result<(Litres, Rests), FilterError> {
    margin(pool, intake)?;
    let water = pool.water()?;
    // Where solids reach above the intake nothing is left there that could be kept.
    let kept = match pool.at(intake).water() {
        Ok(kept) => kept.likely,
        Err(ContentsError::NoRoom { .. }) => Litres(0.0),
        Err(error) => return Err(error.into()),
    };
    Ok((water.likely - kept, water.rests))
}

/// What is seen to when a filter is fitted; common practice, no published source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Check {
    /// Its minimum fill line lies under the water line.
    FillLineUnderWater,
    /// Its outlet stays inside the enclosure.
    OutletInside,
    /// Its outlet ends below the pool's rim.
    OutletBelowRim,
    /// It is anchored: crabs tip it, and the pool ends in the substrate.
    Anchored,
    /// Its cord falls below the outlet before it rises to it (public pages name this one).
    DripLoop,
    /// Gaps round its cord are sealed.
    GapsSealed,
}

/// All of them, in their order.
pub const CHECKS: [Check; 6] = [
    Check::FillLineUnderWater,
    Check::OutletInside,
    Check::OutletBelowRim,
    Check::Anchored,
    Check::DripLoop,
    Check::GapsSealed,
];

fn within(given: Given, value: f64, range: Span) -> Result<(), FilterError> {
    if range.has(value) {
        Ok(())
    } else {
        Err(FilterError::Range { given, value, range })
    }
}
