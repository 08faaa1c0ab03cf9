//! A table that a person can act on: which change on which day, and what it leaves.

use crate::quantity::{Days, MilligramsPerLitre};
use crate::rests::Rests;

use super::{Problem, changes_to, left};

/// One change of a plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Planned {
    /// Which change it is, from 1.
    pub number: u32,
    /// When, in days after the first one.
    pub day: Days,
    /// What is left after it.
    pub after: MilligramsPerLitre,
}

/// Equal changes from a start to a target.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The fraction of the water that each takes.
    pub fraction: f64,
    /// The changes in order. None if there is nothing to do.
    pub changes: Vec<Planned>,
    /// What is left after the last one; the start if there is none.
    pub end: MilligramsPerLitre,
    /// How much water they take in all, as a multiple of the pool's.
    pub volumes: f64,
    /// What it rests on: the sums are computed, the days between are the place's choice.
    pub rests: Rests,
}

/// Equal changes of a fraction, some days apart, until a target is reached. What the animals make meanwhile is not in
/// it ([`super::Keeping`] has that): the plan is for days, not for months.
///
/// # Errors
///
/// What [`changes_to`] refuses, and an interval outside 0.01 to 3650 days.
pub fn plan(
    start: MilligramsPerLitre,
    target: MilligramsPerLitre,
    source: MilligramsPerLitre,
    fraction: f64,
    apart: Days,
) -> Result<Plan, Problem> {
    let apart = super::steady::interval(apart)?;
    let n = changes_to(start, target, source, fraction)?;
    let changes: Vec<Planned> = (1..=n)
        .map(|number| Planned {
            number,
            day: Days(f64::from(number - 1) * apart),
            after: MilligramsPerLitre(left(start.0, source.0, fraction, number)),
        })
        .collect();
    Ok(Plan {
        fraction,
        end: changes.last().map_or(start, |last| last.after),
        changes,
        volumes: f64::from(n) * fraction,
        rests: Rests::Computed,
    })
}
