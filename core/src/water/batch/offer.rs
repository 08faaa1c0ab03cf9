//! Which batches to use before more is mixed.

use jiff::Timestamp;

use super::problem::{self, Problem};
use super::{Batch, BatchId, Ledger, to_kilograms, to_litres};
use crate::place::Water;
use crate::quantity::{Kilograms, Litres, Salinity};

/// What is left in a vessel of less than this, in kg, cannot be poured: a gram.
const DREGS: f64 = 0.001;

/// Salt water further than this from what the pools are to hold, in g/kg, is put right before it is poured: common
/// practice, no published source.
pub const OFF_TARGET: Salinity = Salinity(1.0);

/// So much of a batch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Offered {
    /// Which.
    pub batch: BatchId,
    /// How much of it.
    pub litres: Litres,
    /// The same by mass.
    pub mass: Kilograms,
    /// Until when it is to be used.
    pub use_by: Timestamp,
    /// Whether its salinity is to be read first: salt water that never was.
    pub measure_first: bool,
}

/// Why a batch with something left is not offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aside {
    /// It is past its date.
    PastUseBy(Timestamp),
    /// It is not known to be conditioned.
    Unconditioned,
    /// It proved wrong.
    Condemned,
    /// It is salt water of another salinity than is wanted.
    OffTarget,
}

/// What to use for some litres of a water.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// What to pour, the oldest first.
    pub parts: Vec<Offered>,
    /// What is to be mixed beside it.
    pub short: Litres,
    /// What is left of batches that cannot be used as they are, and why.
    pub aside: Vec<(BatchId, Litres, Aside)>,
}

impl Batch {
    /// Whether it is salt water off a target by more than [`OFF_TARGET`], to a tenth of a g/kg: no instrument of a household
    /// tells more.
    #[must_use]
    pub fn is_off(&self, target: Salinity) -> bool {
        self.water == Water::Salt && ((self.salinity.0 - target.0).abs() * 10.0).round() > OFF_TARGET.0 * 10.0
    }
}

impl Ledger {
    /// What to use for some litres of a water: of what is prepared, the oldest that is still good; the rest is to be mixed.
    /// With a target, salt water that is off it by more than [`OFF_TARGET`] is left aside.
    ///
    /// # Errors
    ///
    /// If the litres are not more than 0 and at most 1,000,000.
    pub fn offer(
        &self,
        water: Water,
        wanted: Litres,
        target: Option<Salinity>,
        now: Timestamp,
    ) -> Result<Offer, Problem> {
        problem::volume(wanted.0)?;
        let mut batches: Vec<&Batch> = self
            .batches()
            .filter(|batch| batch.water == water && batch.made_at <= now && batch.left.0 >= DREGS)
            .collect();
        batches.sort_by_key(|batch| (batch.made_at, batch.id));
        let (mut parts, mut aside) = (Vec::new(), Vec::new());
        let mut short = wanted;
        for batch in batches {
            let left = to_litres(batch.left, batch.salinity);
            if let Some(why) = why_not(batch, target, now) {
                aside.push((batch.id, left, why));
                continue;
            }
            if short.0 <= 0.0 {
                continue;
            }
            let (litres, mass) = if left.0 <= short.0 {
                (left, batch.left)
            } else {
                (short, to_kilograms(short, batch.salinity))
            };
            short = Litres((short.0 - litres.0).max(0.0));
            parts.push(Offered {
                batch: batch.id,
                litres,
                mass,
                use_by: batch.use_by,
                measure_first: batch.water == Water::Salt && batch.measured.is_none(),
            });
        }
        Ok(Offer { parts, short, aside })
    }
}

/// Why a batch cannot be used as it is; what cannot be mended comes first.
fn why_not(batch: &Batch, target: Option<Salinity>, now: Timestamp) -> Option<Aside> {
    if batch.condemned {
        Some(Aside::Condemned)
    } else if target.is_some_and(|target| batch.is_off(target)) {
        Some(Aside::OffTarget)
    } else if now > batch.use_by {
        Some(Aside::PastUseBy(batch.use_by))
    } else if batch.conditioned {
        None
    } else {
        Some(Aside::Unconditioned)
    }
}
