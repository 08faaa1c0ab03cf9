//! A way out for the smallest crab.
//!
//! How steep and how high a land hermit crab climbs is not published; all of this is common practice, and what the place
//! states goes before it.

use super::{DepthError, Given, Pool, SHELLS, Span, within};
use crate::pool::contents::ContentsError;
use crate::quantity::Centimetres;
use crate::rests::Rests;

/// The steepest ramp that is taken for a way out, in degrees, if it is rough; common practice, no published source.
pub const STEEPEST: f64 = 45.0;

/// What a crab climbs at once, for a shell's length of 1: half of it; common practice, no published source.
pub const REACH: f64 = 0.5;

/// How crabs get out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Route {
    /// A rough slope that starts on the pool's bed.
    Ramp {
        /// How high its upper end lies above its lower end: 0–1000 cm.
        rise: Centimetres,
        /// How far apart its ends are along the floor: 0.1–1000 cm.
        run: Centimetres,
    },
    /// Steps or piled stones that start on the pool's bed.
    Steps {
        /// The highest single step: 0–1000 cm.
        highest: Centimetres,
        /// How high the uppermost lies above the bed: 0–1000 cm.
        rise: Centimetres,
    },
    /// Nothing: they climb the wall.
    Wall,
}

/// Whether there is a way out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WayOut {
    /// What the smallest crab climbs at once.
    pub reach: Centimetres,
    /// The highest single step on the way, with the last one over the rim.
    pub step: Centimetres,
    /// What of that is too much, if something is.
    pub too_high: Option<Centimetres>,
    /// The ramp's slope in degrees, if there is a ramp.
    pub slope: Option<f64>,
    /// How many degrees it is too steep, if it is.
    pub too_steep: Option<f64>,
    /// What this rests on.
    pub rests: Rests,
}

impl WayOut {
    /// Whether the smallest crab gets out.
    #[must_use]
    pub fn leads_out(&self) -> bool {
        self.too_high.is_none() && self.too_steep.is_none()
    }
}

/// Whether the smallest crab gets out of a pool: no step on the way is higher than it climbs, the last one over the rim
/// included, and a ramp is no steeper than `steepest` degrees (5–90).
///
/// `smallest` is the shell's length (0.2–30 cm), `reach` the share of it that is climbed at once (0.05–3). Common practice,
/// no published source: [`REACH`] and [`STEEPEST`] unless the place knows better.
///
/// # Errors
/// A pool, a crab or a way that cannot be.
pub fn way_out(
    pool: Pool<'_>,
    way: Route,
    smallest: Centimetres,
    reach: f64,
    steepest: f64,
) -> Result<WayOut, DepthError> {
    const LENGTHS: Span = Span::new(0.0, 1000.0);
    pool.water()?;
    within(Given::Shell, smallest.0, SHELLS)?;
    within(Given::Reach, reach, Span::new(0.05, 3.0))?;
    within(Given::Slope, steepest, Span::new(5.0, 90.0))?;
    let climbed = smallest * reach;
    let wall = pool.shape.height().map_err(ContentsError::from)? - pool.contents.bed();
    let over_rim = |rise: Centimetres| Centimetres((wall - rise).0.max(0.0));
    let (step, slope) = match way {
        Route::Ramp { rise, run } => {
            within(Given::Rise, rise.0, LENGTHS)?;
            within(Given::Run, run.0, Span::new(0.1, 1000.0))?;
            (over_rim(rise), Some(rise.0.atan2(run.0).to_degrees()))
        }
        Route::Steps { highest, rise } => {
            within(Given::Step, highest.0, LENGTHS)?;
            within(Given::Rise, rise.0, LENGTHS)?;
            (Centimetres(over_rim(rise).0.max(highest.0)), None)
        }
        Route::Wall => (over_rim(Centimetres(0.0)), None),
    };
    let higher = step - climbed;
    Ok(WayOut {
        reach: climbed,
        step,
        too_high: (higher.0 > 0.01).then_some(higher),
        slope,
        too_steep: slope.map(|slope| slope - steepest).filter(|more| *more > 1e-6),
        rests: Rests::Practice,
    })
}

/// What is seen to in every pool; common practice, no published source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Check {
    /// A way in and a way out.
    InAndOut,
    /// Something rough on the bottom: stones, shells, sand.
    GripOnTheBottom,
    /// No bare wood from the water to the substrate: it wicks the pool dry and the substrate wet.
    NoBareWood,
    /// Two vessels, one in the other: one lifts out for care, and a leak shows.
    Nested,
    /// The depth is measured with everything in its place.
    MeasuredWhenFilled,
}

/// All of them, in their order.
pub const CHECKS: [Check; 5] = [
    Check::InAndOut,
    Check::GripOnTheBottom,
    Check::NoBareWood,
    Check::Nested,
    Check::MeasuredWhenFilled,
];
