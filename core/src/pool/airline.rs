//! Pump, tube, valve and stone.
//!
//! The airline is two lengths with the valve between, cut with the stone in its place. Here is what to cut; `pressure` is
//! what the pump has to overcome.

mod pressure;

#[cfg(test)]
mod tests;

use crate::quantity::{Centimetres, Pascals, Span};
use crate::rests::Rests;
pub use pressure::{Fit, Pressure, STONE, VALVE, air_flow, pressure, pump_fits, shallower, water_above};

/// How an airline runs, in centimetres. Heights are above the water line, upright; the rest is along the tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Route {
    /// From the water line down to the stone, which lies in its place: 0–200 cm.
    pub stone_depth: Centimetres,
    /// From above the stone to where the tube goes over the rim, level: 0–1000 cm.
    pub across: Centimetres,
    /// The highest rim that the tube goes over, above the water line: 0–300 cm.
    pub rim: Centimetres,
    /// From that rim down to where the valve hangs outside: 0–300 cm.
    pub valve_below_rim: Centimetres,
    /// From under the valve to the pump, level: 0–2000 cm.
    pub to_pump: Centimetres,
    /// Where the pump stands, above the water line; below it when negative: −300 to 300 cm.
    pub pump: Centimetres,
    /// Whether a check valve stops water on its way back.
    pub check_valve: bool,
}

/// What is added to what was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slack {
    /// A share of each length: 0–1.
    pub share: f64,
    /// For the loop that hangs below the pump's connection, so that drops fall off it: 0–100 cm.
    pub drip_loop: Centimetres,
}

impl Slack {
    /// A tenth, and 10 cm for the loop; common practice, no published source.
    pub const USUAL: Self = Self {
        share: 0.1,
        drip_loop: Centimetres(10.0),
    };
}

/// Whether a check valve is needed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CheckValve {
    /// The pump stands below the water line: when it stops, the pool would run out through it.
    Needed,
    /// The pump stands at the water line or above it.
    Optional,
}

/// What to cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cuts {
    /// From the stone over the rim to the valve.
    pub stone_to_valve: Centimetres,
    /// From the valve to the pump. The check valve goes into this one.
    pub valve_to_pump: Centimetres,
    /// Whether there has to be a check valve.
    pub check_valve: CheckValve,
    /// What this rests on: the slack is common practice.
    pub rests: Rests,
}

/// Which measure of an airline.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Part {
    /// Depth of the stone, cm.
    StoneDepth,
    /// From the stone to the rim, cm.
    Across,
    /// Height of the rim, cm.
    Rim,
    /// From the rim down to the valve, cm.
    ValveBelowRim,
    /// From the valve to the pump, cm.
    ToPump,
    /// Height of the pump, cm.
    Pump,
    /// Share of slack.
    Slack,
    /// The drip loop, cm.
    Loop,
    /// The water's density, kg/m³.
    Density,
    /// The pump's rated pressure, Pa.
    Rated,
    /// The pool's water, litres.
    Pool,
}

/// Why there is no airline.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum AirlineError {
    /// A measure that cannot be.
    #[error("{part:?}: {value} is not between {} and {}", .range.low, .range.high)]
    Range {
        /// Which one.
        part: Part,
        /// What was given.
        value: f64,
        /// What can be.
        range: Span,
    },
    /// The pump stands below the water line and nothing stops the water on its way back.
    #[error("the pump is {below:?} below the water line, and there is no check valve")]
    NoCheckValve {
        /// How far below.
        below: Centimetres,
    },
    /// The pump cannot push air out of the stone.
    #[error("rated {rated}, likely needed {needed}", rated = rated.0, needed = needed.likely.0)]
    Weak {
        /// What the pump is rated for.
        rated: Pascals,
        /// What it would have to overcome.
        needed: Pressure,
        /// What it lacks of the likely pressure.
        missing: Pascals,
    },
}

/// The two lengths to cut.
///
/// Source: the sum of the stretches, with slack; common practice, no published source.
///
/// # Errors
/// A measure that cannot be; a pump below the water line without a check valve.
pub fn cuts(route: Route, slack: Slack) -> Result<Cuts, AirlineError> {
    route.check()?;
    within(Part::Slack, slack.share, Span::new(0.0, 1.0))?;
    within(Part::Loop, slack.drip_loop.0, Span::new(0.0, 100.0))?;
    let check_valve = if route.pump.0 < 0.0 {
        CheckValve::Needed
    } else {
        CheckValve::Optional
    };
    if check_valve == CheckValve::Needed && !route.check_valve {
        return Err(AirlineError::NoCheckValve {
            below: route.pump * -1.0,
        });
    }
    let more = 1.0 + slack.share;
    let valve = route.rim - route.valve_below_rim;
    let fall = Centimetres((valve - route.pump).0.abs());
    Ok(Cuts {
        stone_to_valve: (route.stone_depth + route.across + route.rim + route.valve_below_rim) * more,
        valve_to_pump: (route.to_pump + fall) * more + slack.drip_loop,
        check_valve,
        rests: Rests::Practice,
    })
}

/// What is seen to when an airline is laid; common practice, no published source, but for the drip loop of the cord, which
/// public pages name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Check {
    /// The pump stands outside the enclosure.
    PumpOutside,
    /// The check valve is in, its arrow towards the stone.
    CheckValveTowardsStone,
    /// The pump's cord falls below the outlet before it rises to it.
    DripLoop,
    /// Gaps round airline and cord are sealed: crabs leave through them, and so does humid air.
    GapsSealed,
    /// The stone lies under something heavy, or it works loose and sprays.
    StoneWeighted,
    /// The valve is turned down when it splashes or when humidity climbs.
    LessAirWhenItSplashes,
}

/// All of them, in their order.
pub const CHECKS: [Check; 6] = [
    Check::PumpOutside,
    Check::CheckValveTowardsStone,
    Check::DripLoop,
    Check::GapsSealed,
    Check::StoneWeighted,
    Check::LessAirWhenItSplashes,
];

impl Route {
    fn check(self) -> Result<(), AirlineError> {
        for (part, value, low, high) in [
            (Part::StoneDepth, self.stone_depth, 0.0, 200.0),
            (Part::Across, self.across, 0.0, 1000.0),
            (Part::Rim, self.rim, 0.0, 300.0),
            (Part::ValveBelowRim, self.valve_below_rim, 0.0, 300.0),
            (Part::ToPump, self.to_pump, 0.0, 2000.0),
            (Part::Pump, self.pump, -300.0, 300.0),
        ] {
            within(part, value.0, Span::new(low, high))?;
        }
        Ok(())
    }
}

fn within(part: Part, value: f64, range: Span) -> Result<(), AirlineError> {
    if range.has(value) {
        Ok(())
    } else {
        Err(AirlineError::Range { part, value, range })
    }
}
