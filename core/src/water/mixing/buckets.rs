//! A recipe in buckets that people can lift.

use crate::quantity::{Grams, Kilograms, Litres};
use crate::rests::Rests;

use super::{Problem, Recipe};

/// What is spilt and left in buckets and hoses: common practice, no published source.
pub const MARGIN: f64 = 0.05;

/// What a kitchen scale shows: whole grams.
pub const SCALE: Grams = Grams(1.0);

/// More buckets than this are no advice.
pub const BUCKETS_MAX: u32 = 1000;

/// A recipe in equal buckets.
#[derive(Clone, Debug, PartialEq)]
pub struct Split {
    /// How many.
    pub buckets: u32,
    /// What each holds in the end, in litres.
    pub finished_each: Litres,
    /// The source water to fill into each.
    pub source_each: Kilograms,
    /// The product for each, in steps of the scale. They differ by one step at most, and add up to `product`.
    pub product_each: Vec<Grams>,
    /// All of the product, in steps of the scale.
    pub product: Grams,
    /// What a full bucket weighs, itself included.
    pub lift: Kilograms,
    /// What it rests on.
    pub rests: Rests,
}

/// More water than is needed, for what is spilt: the volume times (1 + margin).
///
/// # Errors
///
/// A volume that is not above 0 and at most 1,000,000 L, a margin outside 0 to 1.
pub fn with_margin(needed: Litres, margin: f64) -> Result<Litres, Problem> {
    if !(0.0..=1.0).contains(&margin) {
        return Err(Problem::Margin { value: margin });
    }
    if !(needed.0 > 0.0 && needed.0 <= 1e6) {
        return Err(Problem::Volume { litres: needed.0 });
    }
    Ok(needed * (1.0 + margin))
}

/// Splits a recipe into the fewest equal buckets that hold it. `finished` is its volume
/// ([`Recipe::finished_volume`]), `holds` what goes into a bucket with room to carry it, `empty` what an empty one
/// weighs, `scale` the step that the scale shows ([`SCALE`]).
///
/// # Errors
///
/// A volume that is not above 0 and at most 1,000,000 L, a bucket outside 0.1 to 1000 L or heavier than 1000 kg, a scale
/// outside 0.001 to 1000 g, more than [`BUCKETS_MAX`] buckets.
pub fn split(
    recipe: &Recipe,
    finished: Litres,
    holds: Litres,
    empty: Kilograms,
    scale: Grams,
) -> Result<Split, Problem> {
    if !(finished.0 > 0.0 && finished.0 <= 1.1e6) {
        return Err(Problem::Volume { litres: finished.0 });
    }
    if !(0.1..=1000.0).contains(&holds.0) {
        return Err(Problem::Bucket { litres: holds.0 });
    }
    if !(0.0..=1000.0).contains(&empty.0) {
        return Err(Problem::BucketWeight { kg: empty.0 });
    }
    if !(0.001..=1000.0).contains(&scale.0) {
        return Err(Problem::Scale { grams: scale.0 });
    }
    // A bucket that is filled to its mark but for rounding is full, not one too many.
    let needed = (finished / holds * (1.0 - 1e-9)).ceil().max(1.0);
    if needed > f64::from(BUCKETS_MAX) {
        return Err(Problem::TooManyBuckets { needed });
    }
    let buckets = needed as u32;
    // Counted in whole steps, so that the parts add up to the whole: at most 9e7 kg over 1 mg, far below 2^53.
    let steps = (recipe.product / scale).round() as u64;
    let (each, more) = (steps / u64::from(buckets), steps % u64::from(buckets));
    let product_each = (0..u64::from(buckets))
        .map(|at| scale * (each + u64::from(at < more)) as f64)
        .collect();
    Ok(Split {
        buckets,
        finished_each: finished * (1.0 / needed),
        source_each: recipe.source.mass() * (1.0 / needed),
        product_each,
        product: scale * steps as f64,
        lift: recipe.finished.mass() * (1.0 / needed) + empty,
        rests: recipe.rests,
    })
}
