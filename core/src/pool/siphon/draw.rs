//! How long it takes to draw water, and how many buckets.

use super::{Flow, Given, Liquid, SiphonError, Tube, flow, within};
use crate::pool::contents::Pool;
use crate::quantity::{Centimetres, Litres, Minutes, Span};
use crate::rests::Rests;

/// Litres that anyone draws through a tube.
const DRAWS: Span = Span::new(0.0, 100_000.0);

/// What drawing leaves behind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawn {
    /// How long it takes.
    pub minutes: Minutes,
    /// Where the water stands then.
    pub level: Centimetres,
    /// What is left of the head.
    pub head: Centimetres,
    /// The weaker of flow and water.
    pub rests: Rests,
}

/// Minutes to draw litres while the head stays as it is: a big pool, a small bucket.
///
/// # Errors
/// Litres outside 0–100,000; a flow that is none.
pub fn constant_head(litres: Litres, flow: &Flow) -> Result<Minutes, SiphonError> {
    within(Given::Draw, litres.0, DRAWS)?;
    let minutes = litres.0 / flow.rate.0;
    within(Given::Minutes, minutes, MINUTES)?;
    Ok(Minutes(minutes))
}

/// Minutes to draw litres from a pool whose level falls, and the head with it.
///
/// The outlet (or the bucket's water) stays `head` below the first level. Source: t = ∫ dV / Q(h), summed over slices
/// that are even in √h; for a prism and a constant friction factor it is 2A(√h₁ − √h₂)/(a C √(2g)).
///
/// # Errors
/// Those of [`flow`] and of [`Pool::water`]; more water than there is; a head that runs out before.
pub fn falling_head(
    pool: Pool<'_>,
    litres: Litres,
    tube: Tube,
    head: Centimetres,
    liquid: Liquid,
) -> Result<Drawn, SiphonError> {
    const SLICES: u32 = 64;
    within(Given::Draw, litres.0, DRAWS)?;
    flow(tube, head, liquid)?;
    let (from, water) = (pool.level, pool.water()?);
    if litres > water.likely {
        return Err(SiphonError::MoreThanThere {
            asked: litres,
            there: water.likely,
        });
    }
    let level = pool
        .level_for(water.likely - litres)
        .map(|level| Centimetres(level.0.min(from.0)))?;
    let left = head - (from - level);
    // A head of less than half a millimetre drips.
    if left.0 < 0.05 {
        let lowest = Centimetres((from - head).0.max(0.0));
        let kept = pool.at(lowest).water().map_or(Litres(0.0), |kept| kept.likely);
        let reachable = water.likely - kept;
        return Err(SiphonError::HeadRunsOut {
            asked: litres,
            reachable,
        });
    }
    let (first, last) = (head.0.sqrt(), left.0.sqrt());
    let (mut minutes, mut before) = (0.0, (head, water.likely));
    for slice in 1..=SLICES {
        let root = first + (last - first) * f64::from(slice) / f64::from(SLICES);
        let now = Centimetres((root * root).clamp(left.0, head.0));
        let height = Centimetres((from - (head - now)).0.clamp(level.0, from.0));
        let there = pool.at(height).water()?.likely;
        let middle = Centimetres(f64::midpoint(before.0.0, now.0));
        minutes += (before.1 - there).0.max(0.0) / flow(tube, middle, liquid)?.rate.0;
        before = (now, there);
    }
    within(Given::Minutes, minutes, MINUTES)?;
    Ok(Drawn {
        minutes: Minutes(minutes),
        level,
        head: left,
        rests: water.rests.and(Rests::Computed),
    })
}

/// The tube for a pool: a larger one for a larger pool; common practice, no published source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bore {
    /// Across the inside.
    pub inner: Centimetres,
    /// What this rests on.
    pub rests: Rests,
}

/// The bore for a pool of so many litres: 6 mm up to 4 L, 9 mm up to 20 L, 12 mm up to 80 L, 16 mm above. Common practice,
/// no published source.
///
/// # Errors
/// A volume that no pool has.
pub fn bore_for(pool: Litres) -> Result<Bore, SiphonError> {
    within(Given::Draw, pool.0, DRAWS)?;
    let inner = match pool.0 {
        small if small <= 4.0 => 0.6,
        middle if middle <= 20.0 => 0.9,
        large if large <= 80.0 => 1.2,
        _ => 1.6,
    };
    Ok(Bore {
        inner: Centimetres(inner),
        rests: Rests::Practice,
    })
}

/// A bucket, as it is carried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bucket {
    /// To its rim: 0.1–1000 L.
    pub holds: Litres,
    /// The share that is filled, so that it can be carried: 0.1–1.
    pub filled: f64,
    /// To lift the tube, empty the bucket and start again: 0–60 minutes.
    pub changing: Minutes,
}

impl Bucket {
    /// Filled to four fifths, two minutes to change; common practice, no published source.
    #[must_use]
    pub const fn of(holds: Litres) -> Self {
        Self {
            holds,
            filled: 0.8,
            changing: Minutes(2.0),
        }
    }
}

/// How often a bucket goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Buckets {
    /// How many fillings.
    pub count: u32,
    /// In each but the last.
    pub each: Litres,
    /// In the last one.
    pub last: Litres,
    /// Drawing, and every bucket emptied.
    pub minutes: Minutes,
}

/// Buckets for litres that take so long to draw.
///
/// # Errors
/// Litres or minutes below nothing or beyond reason; a bucket that is none.
pub fn buckets(litres: Litres, drawing: Minutes, bucket: Bucket) -> Result<Buckets, SiphonError> {
    within(Given::Draw, litres.0, DRAWS)?;
    within(Given::Minutes, drawing.0, MINUTES)?;
    within(Given::Minutes, bucket.changing.0, Span::new(0.0, 60.0))?;
    within(Given::Bucket, bucket.holds.0, Span::new(0.1, 1000.0))?;
    within(Given::Filled, bucket.filled, Span::new(0.1, 1.0))?;
    let each = bucket.holds * bucket.filled;
    // A drop more than a bucket is not a bucket more.
    let count = (litres / each - 1e-9)
        .ceil()
        .max(f64::from(u8::from(litres.0 > 0.0))) as u32;
    let last = litres - each * f64::from(count.saturating_sub(1));
    Ok(Buckets {
        count,
        each,
        last,
        minutes: drawing + bucket.changing * f64::from(count),
    })
}

/// Ten years.
const MINUTES: Span = Span::new(0.0, 5_259_600.0);
