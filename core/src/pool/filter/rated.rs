//! The range on a filter's box, and what it pumps.

use super::{FilterError, Given, Span, within};
use crate::quantity::{Litres, LitresPerMinute};
use crate::rests::Rests;

/// The pools that a filter is rated for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RatedRange {
    /// The smallest.
    pub from: Litres,
    /// The largest.
    pub to: Litres,
}

const US_GALLON: f64 = 3.785_411_784;

impl RatedRange {
    /// A range in US gallons, as boxes print it.
    #[must_use]
    pub const fn us_gallons(from: f64, to: f64) -> Self {
        Self {
            from: Litres(from * US_GALLON),
            to: Litres(to * US_GALLON),
        }
    }
}

/// Ranges as they are often printed: 1–4, 5–10, 10–20, 20–40, 40–60 US gal; common practice, no published source.
#[must_use]
pub const fn usual_ranges() -> [RatedRange; 5] {
    [
        RatedRange::us_gallons(1.0, 4.0),
        RatedRange::us_gallons(5.0, 10.0),
        RatedRange::us_gallons(10.0, 20.0),
        RatedRange::us_gallons(20.0, 40.0),
        RatedRange::us_gallons(40.0, 60.0),
    ]
}

/// A range that was chosen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Choice {
    /// Which.
    pub range: RatedRange,
    /// What the rule rests on.
    pub rests: Rests,
}

/// A gallon is printed as 3.8 L: as much more than a range's start still counts as its start.
const ROUNDING: f64 = 0.01;

/// The smallest range whose lower end is at least the pool's water: 1 US gal → 1–4, 2.5 US gal → 5–10. Common practice, no
/// published source.
///
/// # Errors
/// A volume that no pool has; a range that is none; no range that starts as high.
pub fn range_for(pool: Litres, ranges: &[RatedRange]) -> Result<Choice, FilterError> {
    const ENDS: Span = Span::new(0.0, 100_000.0);
    within(Given::Pool, pool.0, Span::new(0.001, 100_000.0))?;
    for range in ranges {
        within(Given::RatedEnd, range.from.0, ENDS)?;
        within(Given::RatedEnd, range.to.0, Span::new(range.from.0, ENDS.high))?;
    }
    let smaller = |a: &&RatedRange, b: &&RatedRange| {
        let ends = |range: &RatedRange| [range.from.0, range.to.0];
        let [[a, a_to], [b, b_to]] = [ends(a), ends(b)];
        a.total_cmp(&b).then(a_to.total_cmp(&b_to))
    };
    ranges
        .iter()
        .filter(|range| range.from.0 * (1.0 + ROUNDING) >= pool.0)
        .min_by(smaller)
        .map(|range| Choice {
            range: *range,
            rests: Rests::Practice,
        })
        .ok_or(FilterError::NoRange {
            pool,
            last: ranges.iter().max_by(smaller).map(|range| range.from),
        })
}

/// What a filter still pumps in use, as a share of its rated flow: it falls by 25–40 % (seen on hobby pages).
pub const IN_USE: Span = Span::new(0.60, 0.75);

/// Times an hour that the water goes through the filter: 4–6, fish practice (seen on hobby pages; gentle: 3–5). No figure
/// for land hermit crabs is published.
pub const TURNOVER: Span = Span::new(4.0, 6.0);

/// How often the water goes through the filter in an hour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turnover {
    /// By the rated flow.
    pub rated: f64,
    /// In use: lowest and highest.
    pub in_use: Span,
    /// What this rests on: fish practice.
    pub rests: Rests,
}

/// The turnover of a filter in a pool.
///
/// Source: flow / volume; the loss in use is [`IN_USE`].
///
/// # Errors
/// Water outside 0.001–100,000 L, a flow outside 0–10,000 L/min.
pub fn turnover(pool: Litres, rated: LitresPerMinute) -> Result<Turnover, FilterError> {
    within(Given::Pool, pool.0, Span::new(0.001, 100_000.0))?;
    within(Given::Flow, rated.0, Span::new(0.0, 10_000.0))?;
    let times = rated.0 * 60.0 / pool.0;
    Ok(Turnover {
        rated: times,
        in_use: Span::new(times * IN_USE.low, times * IN_USE.high),
        rests: Rests::Practice,
    })
}
