//! A vessel that was filled by measure.

use super::{SIZES, ShapeError};
use crate::quantity::{Centimetres, Litres, Span};

/// The litres that a vessel holds up to a level.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Fill {
    /// Above the floor.
    pub level: Centimetres,
    /// Poured in until there.
    pub litres: Litres,
}

/// Two readings of a rule that are nearer than this are one, in cm.
const STEP_MIN: f64 = 0.01;

/// A cube of 100 m, in litres: more than any vessel.
const LITRES: Span = Span::new(0.0, 1e9);

/// Looks whether the points make a vessel. The first one may be the empty floor.
pub(super) fn check(points: &[Fill]) -> Result<(), ShapeError> {
    if points.len() < 2 {
        return Err(ShapeError::FewPoints { points: points.len() });
    }
    let mut before = [0.0, 0.0];
    for (index, fill) in points.iter().enumerate() {
        let now = [fill.level.0, fill.litres.0];
        let empty = index == 0 && now == [0.0, 0.0];
        let rises = now[0] >= before[0] + STEP_MIN * (1.0 - 1e-9) && now[1] > before[1];
        let sane = now[0] <= SIZES.high && LITRES.has(now[1]);
        if !(empty || rises && sane) {
            return Err(ShapeError::NotRising { point: index + 1 });
        }
        before = now;
    }
    Ok(())
}

/// The last point.
pub(super) fn rim(points: &[Fill]) -> Fill {
    points.last().copied().unwrap_or(FLOOR)
}

const FLOOR: Fill = Fill {
    level: Centimetres(0.0),
    litres: Litres(0.0),
};

/// The stretch that the first point beyond ends, from the point before it or from the floor.
fn stretch(points: &[Fill], beyond: impl Fn(&Fill) -> bool) -> (Fill, Fill) {
    // A first point on the floor says nothing that is not known.
    let points = match points {
        [first, rest @ ..] if first.level.0 <= 0.0 => rest,
        all => all,
    };
    let end = points
        .iter()
        .position(beyond)
        .unwrap_or(points.len().saturating_sub(1));
    let start = end.checked_sub(1).map_or(FLOOR, |before| points[before]);
    (start, points.get(end).copied().unwrap_or(FLOOR))
}

/// Litres to a level.
pub(super) fn volume(points: &[Fill], level: f64) -> f64 {
    let (start, end) = stretch(points, |fill| fill.level.0 >= level);
    between(
        level,
        [start.level.0, end.level.0],
        [start.litres.0, end.litres.0],
    )
}

/// The level of so many litres.
pub(super) fn level(points: &[Fill], litres: f64) -> f64 {
    let (start, end) = stretch(points, |fill| fill.litres.0 >= litres);
    between(
        litres,
        [start.litres.0, end.litres.0],
        [start.level.0, end.level.0],
    )
}

/// cm² at a level: the slope of the volume, so that the area's integral is the volume.
pub(super) fn area(points: &[Fill], level: f64) -> f64 {
    let (start, end) = stretch(points, |fill| fill.level.0 >= level);
    1000.0 * (end.litres.0 - start.litres.0) / (end.level.0 - start.level.0)
}

/// A value between two points, evenly.
fn between(x: f64, [x0, x1]: [f64; 2], [y0, y1]: [f64; 2]) -> f64 {
    let share = ((x - x0) / (x1 - x0)).clamp(0.0, 1.0);
    // From the nearer end, so that both ends are met exactly.
    if share < 0.5 {
        y0 + (y1 - y0) * share
    } else {
        y1 - (y1 - y0) * (1.0 - share)
    }
}
