//! What repeated part changes do to a concentration.
//!
//! A change of a fraction f leaves (1 − f) of the distance to the source water, whatever the substance is: nitrate, too
//! much salt, a medicine. That is the whole of it; `plan` makes a table of it, `steady` adds what is made and taken up
//! between two changes. Nothing here knows what a good value is: limits are the place's (40 mg/L of nitrate is fish
//! practice, and no limit for land hermit crabs is published).

mod plan;
mod problem;
mod steady;

#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;

use crate::quantity::{Litres, MilligramsPerLitre};

pub use self::plan::{Plan, Planned, plan};
pub use self::problem::Problem;
pub use self::steady::{Keeping, Longest, Made, Steady, Transient, days_until, longest_interval};

/// More changes than this are no advice.
pub const CHANGES_MAX: u32 = 10_000;

/// The smallest fraction that counts as a change: a litre of a cubic metre.
pub const FRACTION_MIN: f64 = 0.001;

/// The highest concentration that is taken for one: a kilogram in a litre.
pub const CONCENTRATION_MAX: f64 = 1e6;

/// Two values nearer than this share of their size are the same: rounding must not cost a change.
const SAME: f64 = 1e-12;

fn concentration(of: MilligramsPerLitre) -> Result<f64, Problem> {
    if (0.0..=CONCENTRATION_MAX).contains(&of.0) {
        Ok(of.0)
    } else {
        Err(Problem::Concentration { value: of.0 })
    }
}

fn part(fraction: f64) -> Result<f64, Problem> {
    if (FRACTION_MIN..=1.0).contains(&fraction) {
        Ok(fraction)
    } else {
        Err(Problem::Fraction { value: fraction })
    }
}

fn count(n: u32) -> Result<u32, Problem> {
    if (1..=CHANGES_MAX).contains(&n) {
        Ok(n)
    } else {
        Err(Problem::Count { count: n })
    }
}

/// The value after `n` changes: source + (start − source)·(1 − f)ⁿ. Arguments are valid.
fn left(start: f64, source: f64, fraction: f64, n: u32) -> f64 {
    let share = (1.0 - fraction).powf(f64::from(n));
    // As a mean of the two, so that it never leaves the span between them.
    source * (1.0 - share) + start * share
}

/// The concentration after `n` equal changes of a fraction of the water, source + (start − source)·(1 − f)ⁿ, which
/// follows from the conservation of the substance at each change.
///
/// # Errors
///
/// A concentration outside 0 to 1,000,000 mg/L, a fraction outside 0.001 to 1, more than [`CHANGES_MAX`] changes.
pub fn after(
    start: MilligramsPerLitre,
    source: MilligramsPerLitre,
    fraction: f64,
    n: u32,
) -> Result<MilligramsPerLitre, Problem> {
    let (start, source, fraction) = (concentration(start)?, concentration(source)?, part(fraction)?);
    if n > CHANGES_MAX {
        return Err(Problem::Count { count: n });
    }
    Ok(MilligramsPerLitre(left(start, source, fraction, n)))
}

/// What share of the distance from start to source is to be left: 0 if the target is the source itself, 1 if nothing
/// is to be done.
fn share_left(start: f64, source: f64, target: f64) -> Result<f64, Problem> {
    if target == start {
        return Ok(1.0);
    }
    if target < start && source > target {
        return Err(Problem::SourceAbove {
            source_mg_l: source,
            target,
        });
    }
    if target > start && source < target {
        return Err(Problem::SourceBelow {
            source_mg_l: source,
            target,
        });
    }
    Ok((target - source) / (start - source))
}

/// How many equal changes of a fraction reach a target: the first number after which the value is at the target or past
/// it. Works downwards, towards a source below the target, and upwards, towards one above it. 0 if start and target are
/// the same.
///
/// # Errors
///
/// What [`after`] refuses; a source on the wrong side of the target, or at it unless all the water is changed
/// ([`Problem::SourceAbove`], [`Problem::SourceBelow`]); more than [`CHANGES_MAX`] changes.
pub fn changes_to(
    start: MilligramsPerLitre,
    target: MilligramsPerLitre,
    source: MilligramsPerLitre,
    fraction: f64,
) -> Result<u32, Problem> {
    let (start, target) = (concentration(start)?, concentration(target)?);
    let (source, fraction) = (concentration(source)?, part(fraction)?);
    let share = share_left(start, source, target)?;
    if share >= 1.0 {
        return Ok(0);
    }
    if fraction >= 1.0 {
        return Ok(1);
    }
    if share <= 0.0 {
        let source_mg_l = source;
        return Err(if start > target {
            Problem::SourceAbove { source_mg_l, target }
        } else {
            Problem::SourceBelow { source_mg_l, target }
        });
    }
    let needed = share.ln() / (-fraction).ln_1p();
    if needed > f64::from(CHANGES_MAX) {
        return Err(Problem::TooMany { needed });
    }
    let slack = SAME * target;
    let reached = |n| {
        let value = left(start, source, fraction, n);
        if start > target {
            value <= target + slack
        } else {
            value >= target - slack
        }
    };
    // The logarithm is right but for rounding, which matters where the target is hit exactly.
    let near = needed.floor() as u32;
    let first = near.saturating_sub(1).max(1);
    (first..=CHANGES_MAX)
        .find(|n| reached(*n))
        .ok_or(Problem::TooMany { needed })
}

/// The fraction of the water whose one change brings start to target: (start − target)/(start − source).
///
/// # Errors
///
/// A concentration outside 0 to 1,000,000 mg/L; a source on the wrong side of the target; a fraction that would be less
/// than 0.001, which is also what start = target gives.
pub fn fraction_for(
    start: MilligramsPerLitre,
    target: MilligramsPerLitre,
    source: MilligramsPerLitre,
) -> Result<f64, Problem> {
    fraction_in(start, target, source, 1)
}

/// The fraction of each of `n` equal changes that together bring start to target.
///
/// # Errors
///
/// What [`fraction_for`] refuses; no change at all, or more than [`CHANGES_MAX`].
pub fn fraction_in(
    start: MilligramsPerLitre,
    target: MilligramsPerLitre,
    source: MilligramsPerLitre,
    n: u32,
) -> Result<f64, Problem> {
    let (start, target, source) = (
        concentration(start)?,
        concentration(target)?,
        concentration(source)?,
    );
    let n = count(n)?;
    let share = share_left(start, source, target)?;
    if n == 1 && share < 1.0 {
        return part((start - target) / (start - source));
    }
    part(1.0 - share.powf(1.0 / f64::from(n)))
}

/// The one change that does what `n` changes of a fraction do, 1 − (1 − f)ⁿ: two of 25 % remove 43.75 %, not half.
///
/// # Errors
///
/// A fraction outside 0.001 to 1; no change at all, or more than [`CHANGES_MAX`].
pub fn same_as_one(fraction: f64, n: u32) -> Result<f64, Problem> {
    let (fraction, n) = (part(fraction)?, count(n)?);
    Ok(-(f64::from(n) * (-fraction).ln_1p()).exp_m1())
}

/// The fraction of each of `n` equal changes that together do what one of a fraction does: 1 − (1 − F)^(1/n).
///
/// # Errors
///
/// A fraction outside 0.001 to 1; no change at all, or more than [`CHANGES_MAX`].
pub fn in_parts(fraction: f64, n: u32) -> Result<f64, Problem> {
    let (fraction, n) = (part(fraction)?, count(n)?);
    Ok(-((-fraction).ln_1p() / f64::from(n)).exp_m1())
}

/// The concentration after water ran in and out at the same rate, well mixed all the while: of the distance to the
/// source e^(−Q/V) is left.
///
/// # Errors
///
/// A concentration outside 0 to 1,000,000 mg/L; a volume of the pool that is not positive, or an exchanged one below 0,
/// or more than 1,000,000 L of either.
pub fn continuous(
    start: MilligramsPerLitre,
    source: MilligramsPerLitre,
    exchanged: Litres,
    volume: Litres,
) -> Result<MilligramsPerLitre, Problem> {
    let (start, source) = (concentration(start)?, concentration(source)?);
    if !(0.0..=1e6).contains(&exchanged.0) {
        return Err(Problem::Volume { value: exchanged.0 });
    }
    if !(volume.0 > 0.0 && volume.0 <= 1e6) {
        return Err(Problem::Volume { value: volume.0 });
    }
    let share = (-(exchanged / volume)).exp();
    Ok(MilligramsPerLitre(source * (1.0 - share) + start * share))
}

/// How many times the pool's volume must run through to do what one change of a fraction does: −ln(1 − f). Half of the
/// water costs 0.6931 volumes. All of it would never end.
///
/// # Errors
///
/// A fraction outside 0.001 to 1, or 1.
pub fn continuous_for(fraction: f64) -> Result<f64, Problem> {
    let fraction = part(fraction)?;
    if fraction >= 1.0 {
        return Err(Problem::Fraction { value: fraction });
    }
    Ok(-(-fraction).ln_1p())
}
