//! Emptying a pool through a tube.
//!
//! In reading order: `liquid` is how thick the water is, `friction` what a tube does to it; here is the flow; `draw` is
//! how long it takes and how many buckets.

mod draw;
mod friction;
mod liquid;

#[cfg(test)]
mod tests;

use super::contents::ContentsError;
use crate::quantity::{
    Beyond, Celsius, Centimetres, Formula, Input, Litres, LitresPerMinute, Salinity, Span,
};
use crate::rests::Rests;
pub use draw::{Bore, Bucket, Buckets, Drawn, bore_for, buckets, constant_head, falling_head};
pub use liquid::Liquid;

/// Standard gravity in m/s²: exact, by definition.
pub(super) const GRAVITY: f64 = 9.806_65;

/// The loss where water enters a tube with a sharp edge, in heads of its speed: 0.5, as in the facts that the checks
/// were computed with.
pub const SHARP_ENTRANCE: f64 = 0.5;

/// A smooth tube, filled from end to end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tube {
    /// Across the inside: 0.1–20 cm.
    pub bore: Centimetres,
    /// From end to end: 1 cm to 100 m.
    pub length: Centimetres,
    /// What entrance, bends and fittings lose together, in heads of the speed: 0–100. [`SHARP_ENTRANCE`] for a tube
    /// without anything on it.
    pub losses: f64,
}

/// What a number in the question stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Given {
    /// The tube's inside diameter, cm.
    Bore,
    /// The tube's length, cm.
    Length,
    /// What fittings lose, in heads of the speed.
    Losses,
    /// The water's temperature, °C.
    Temperature,
    /// The water's salinity, g/kg.
    Salinity,
    /// Water to draw, litres.
    Draw,
    /// What a bucket holds, litres.
    Bucket,
    /// The share of a bucket that is filled.
    Filled,
    /// Minutes to change buckets, or to draw.
    Minutes,
}

/// Why nothing flows.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SiphonError {
    /// The outlet stands as high as the water: the bucket must stand lower.
    #[error("no head: {head:?}; the bucket must stand lower than the pool")]
    NoHead {
        /// How far the outlet is below the water.
        head: Centimetres,
    },
    /// A tube cannot reach from the water over the rim to an outlet that is further down than it is long.
    #[error("a tube of {length:?} is shorter than the head of {head:?}")]
    TooShort {
        /// The tube's length.
        length: Centimetres,
        /// What it has to reach at least.
        head: Centimetres,
    },
    /// A number that cannot be.
    #[error("{what:?}: {value} is not between {} and {}", .range.low, .range.high)]
    Range {
        /// What it stands for.
        what: Given,
        /// What was given.
        value: f64,
        /// What can be.
        range: Span,
    },
    /// More water than there is.
    #[error("{asked:?} of {there:?}")]
    MoreThanThere {
        /// What was to be drawn.
        asked: Litres,
        /// What the pool holds.
        there: Litres,
    },
    /// The pool would fall to the outlet before all is drawn.
    #[error("the head is used up after {reachable:?} of {asked:?}")]
    HeadRunsOut {
        /// What was to be drawn.
        asked: Litres,
        /// What can be drawn before the pool stands as low as the outlet.
        reachable: Litres,
    },
    /// The pool itself.
    #[error(transparent)]
    Contents(#[from] ContentsError),
}

/// How the water moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Regime {
    /// In layers.
    Laminar,
    /// Between the two: it flips to and fro, and the speed stays where the layers break up.
    Border,
    /// In eddies.
    Turbulent,
}

/// What flows through a tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flow {
    /// How much.
    pub rate: LitresPerMinute,
    /// The Reynolds number of it.
    pub reynolds: f64,
    /// How the water moves.
    pub regime: Regime,
    /// Set where friction is computed below the published range of the turbulent formula.
    pub beyond: Option<Beyond>,
    /// What this rests on.
    pub rests: Rests,
}

/// The flow through a siphon: v = √(2 g h / (1 + K + f L / D)), where f depends on v.
///
/// Source: Bernoulli's equation with Darcy's and Weisbach's friction. f is 64/Re up to a Reynolds number of 2040 and
/// Colebrook's for a smooth tube above; see `friction`. Where f jumps up, heads between the two give the speed at the
/// jump, so that more head never gives less flow. Within 2 % of the library fluids 1.3.1 (`tests/data/reference`).
///
/// `head` is from the water's surface down to the tube's outlet, or to the water in the bucket if the outlet is under it.
///
/// # Errors
/// No head; a tube shorter than the head; measures that cannot be.
pub fn flow(tube: Tube, head: Centimetres, liquid: Liquid) -> Result<Flow, SiphonError> {
    tube.check(head)?;
    let [diameter, length, fall] = [tube.bore, tube.length, head].map(|cm| cm.0 / 100.0);
    let nu = liquid.kinematic_viscosity();
    let inner = friction::Inner {
        diameter,
        length,
        losses: tube.losses,
        nu,
    };
    let (speed, regime) = inner.speed(fall);
    let reynolds = speed * diameter / nu;
    let beyond = match regime {
        Regime::Laminar => None,
        Regime::Border | Regime::Turbulent => Beyond::of(
            Formula::TubeFriction,
            Input::Reynolds,
            reynolds,
            friction::TURBULENT,
        ),
    };
    Ok(Flow {
        rate: rate(diameter, speed),
        reynolds,
        regime,
        beyond,
        rests: Rests::Computed,
    })
}

/// The flow that Torricelli's law gives, without any friction: two to four times too much for a real tube. Only to show
/// what friction costs.
///
/// # Errors
/// No head; a bore outside 0.1–20 cm.
pub fn frictionless(bore: Centimetres, head: Centimetres) -> Result<LitresPerMinute, SiphonError> {
    within(Given::Bore, bore.0, BORES)?;
    // As far as a tube could reach.
    within(Given::Length, head.0.max(LENGTHS.low), LENGTHS)?;
    has_head(head)?;
    let fall = head.0 / 100.0;
    Ok(rate(bore.0 / 100.0, (2.0 * GRAVITY * fall).sqrt()))
}

/// What is done and seen to when a pool is siphoned; common practice, no published source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Check {
    /// The bucket stands lower than the pool.
    BucketLower,
    /// Plugs off: filter and heater stand dry when the water falls.
    GearOff,
    /// The tube is filled with water or with a bulb; nobody sucks at it with the mouth.
    PrimeWithoutMouth,
    /// A coarse net over the inlet: no crab and no gravel goes in.
    NetOverInlet,
    /// Someone watches the bucket; lifting the outlet above the water stops the flow.
    WatchTheBucket,
}

/// All of them, in their order.
pub const CHECKS: [Check; 5] = [
    Check::GearOff,
    Check::BucketLower,
    Check::NetOverInlet,
    Check::PrimeWithoutMouth,
    Check::WatchTheBucket,
];

const BORES: Span = Span::new(0.1, 20.0);
const LENGTHS: Span = Span::new(1.0, 10_000.0);
const LOSSES: Span = Span::new(0.0, 100.0);

impl Tube {
    /// A bare tube.
    #[must_use]
    pub const fn bare(bore: Centimetres, length: Centimetres) -> Self {
        Self {
            bore,
            length,
            losses: SHARP_ENTRANCE,
        }
    }

    fn check(self, head: Centimetres) -> Result<(), SiphonError> {
        within(Given::Bore, self.bore.0, BORES)?;
        within(Given::Length, self.length.0, LENGTHS)?;
        within(Given::Losses, self.losses, LOSSES)?;
        has_head(head)?;
        if head > self.length {
            return Err(SiphonError::TooShort {
                length: self.length,
                head,
            });
        }
        Ok(())
    }
}

/// A head of less than a hair is none.
fn has_head(head: Centimetres) -> Result<(), SiphonError> {
    const LEAST_CM: f64 = 1e-3;
    if head.0 >= LEAST_CM {
        Ok(())
    } else {
        Err(SiphonError::NoHead { head })
    }
}

fn within(what: Given, value: f64, range: Span) -> Result<(), SiphonError> {
    if range.has(value) {
        Ok(())
    } else {
        Err(SiphonError::Range { what, value, range })
    }
}

/// Litres a minute from a diameter in m and a speed in m/s.
fn rate(diameter: f64, speed: f64) -> LitresPerMinute {
    LitresPerMinute(std::f64::consts::FRAC_PI_4 * diameter * diameter * speed * 60_000.0)
}
