//! Where a batch went that proved wrong.

use std::collections::BTreeMap;

use jiff::Timestamp;

use super::body::{Body, Origin};
use super::fix::{Fix, Means};
use super::flow::Flow;
use super::problem::{self, Problem};
use super::{BatchId, Ledger, to_litres};
use crate::place::PoolId;
use crate::quantity::{Kilograms, Litres, MilligramsPerLitre, Salinity};
use crate::rests::Rests;

/// What is less than this share of a pool counts as gone: no instrument shows it.
const GONE: f64 = 1e-9;

/// How a batch is wrong.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wrong {
    /// It was not conditioned and held this much chlorine, 0 to 1000 mg/L. What was drawn after an event that conditioned
    /// it in its vessel is fine; if that event is what is wrong, it has to be taken back first.
    Chlorine(MilligramsPerLitre),
    /// It had this salinity, 0 to 300 g/kg, and not the one in the ledger.
    Salinity(Salinity),
}

/// What is in a pool now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Found {
    /// At most this much chlorine: as if none had decayed, left with air or vapour, or been conditioned in the pool.
    Chlorine(MilligramsPerLitre),
    /// This salinity, where the ledger believes another.
    Salinity {
        /// What it is.
        now: Salinity,
        /// What it was believed to be.
        believed: Salinity,
    },
    /// Nothing: all its water was changed since.
    Gone,
}

/// A pool that a batch reached.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reached {
    /// The pool.
    pub pool: PoolId,
    /// When the first of the batch went in.
    pub first: Timestamp,
    /// How much of it went in, in all.
    pub drawn: Kilograms,
    /// The share of the pool's water now that came with it, 0 to 1.
    pub share: f64,
    /// The share of its solution now that holds what came dissolved in it: the batch's concentration times this is the
    /// pool's. More than [`Reached::share`] where water evaporated, and over 1 where much did.
    pub dissolved: f64,
    /// The pool's water and salt now.
    pub mass: Kilograms,
    /// The same in litres.
    pub litres: Litres,
    /// What is in it now.
    pub found: Found,
    /// What brings it back.
    pub fix: Fix,
}

/// Where a batch went.
#[derive(Clone, Debug, PartialEq)]
pub struct Trail {
    /// Which batch.
    pub batch: BatchId,
    /// How it is wrong.
    pub wrong: Wrong,
    /// Each pool that it reached, and no other.
    pub pools: Vec<Reached>,
    /// What is still in its vessel.
    pub left: Kilograms,
    /// What was thrown away of it.
    pub discarded: Kilograms,
    /// What it rests on: computed, from masses that people told.
    pub rests: Rests,
}

impl Ledger {
    /// Where a batch went that proved wrong: each pool that it reached, what is in it now, and what brings it back. Pools
    /// and vessels count as well mixed.
    ///
    /// # Errors
    ///
    /// If the batch was never made, a number cannot be, or more water evaporated than there was with a salinity like this.
    pub fn trail(&self, batch: BatchId, wrong: Wrong, means: &Means) -> Result<Trail, Problem> {
        means.check()?;
        let vessel = self
            .flow
            .vessels
            .get(&batch)
            .copied()
            .ok_or(Problem::UnknownBatch { batch })?;
        let again;
        let flow = match wrong {
            Wrong::Chlorine(chlorine) => {
                problem::chlorine(chlorine.0)?;
                &self.flow
            }
            Wrong::Salinity(salinity) => {
                problem::salinity(salinity.0)?;
                let mut salinities = self.salinities.clone();
                salinities.insert(batch, salinity.0);
                again = self.again(&salinities)?;
                &again
            }
        };
        let counts = |origin: Origin| match (wrong, origin) {
            (Wrong::Chlorine(_), Origin::Batch { treated: true, .. }) => false,
            _ => origin.is_of(batch),
        };
        let asked = Asked {
            ledger: self,
            batch,
            wrong,
            means,
        };
        let pools = entries(flow, counts)
            .into_iter()
            .map(|(pool, (first, drawn))| asked.reached(flow, counts, pool, first, drawn))
            .collect();
        Ok(Trail {
            batch,
            wrong,
            pools,
            left: Kilograms(vessel.left),
            discarded: Kilograms(vessel.discarded),
            rests: Rests::Computed,
        })
    }
}

/// When water of such an origin first went into each pool, and how many kg of it.
fn entries(flow: &Flow, counts: impl Fn(Origin) -> bool) -> BTreeMap<PoolId, (Timestamp, f64)> {
    let mut pools = BTreeMap::new();
    for ((pool, origin), reach) in &flow.reached {
        if counts(*origin) {
            let (first, mass) = pools.entry(*pool).or_insert((reach.first, 0.0));
            *first = reach.first.min(*first);
            *mass += reach.mass;
        }
    }
    pools
}

/// A question on one batch.
struct Asked<'a> {
    ledger: &'a Ledger,
    batch: BatchId,
    wrong: Wrong,
    means: &'a Means,
}

impl Asked<'_> {
    /// How a pool stands that such water reached.
    fn reached(
        &self,
        flow: &Flow,
        counts: impl Fn(Origin) -> bool,
        pool: PoolId,
        first: Timestamp,
        drawn: f64,
    ) -> Reached {
        let empty = Body::default();
        let body = flow.pools.get(&pool).unwrap_or(&empty);
        let (mut water, mut mark) = (0.0, 0.0);
        for (_, part) in body.parts().filter(|(origin, _)| counts(*origin)) {
            water += part.water;
            mark += part.mark;
        }
        let (mass, salinity) = (Kilograms(body.mass()), Salinity(body.salinity()));
        let litres_now = to_litres(mass, salinity);
        let over = |part: f64, whole: f64| if part > 0.0 { part / whole } else { 0.0 };
        let (share, dissolved) = (over(water, body.water()), over(mark, mass.0));
        let (found, fix) = if dissolved < GONE {
            (Found::Gone, Fix::Nothing)
        } else {
            match self.wrong {
                Wrong::Chlorine(chlorine) => {
                    let from = to_litres(Kilograms(mark), self.salinity());
                    let now = MilligramsPerLitre(chlorine.0 * (from / litres_now));
                    (Found::Chlorine(now), self.means.against_chlorine(litres_now))
                }
                Wrong::Salinity(_) => {
                    let before = self.ledger.flow.pools.get(&pool).unwrap_or(&empty);
                    let believed = Salinity(before.salinity());
                    let fix = self.means.against_salinity(pool, mass, salinity, believed);
                    (
                        Found::Salinity {
                            now: salinity,
                            believed,
                        },
                        fix,
                    )
                }
            }
        };
        let drawn = Kilograms(drawn);
        let litres = litres_now;
        Reached {
            pool,
            first,
            drawn,
            share,
            dissolved,
            mass,
            litres,
            found,
            fix,
        }
    }

    /// The batch's salinity by the ledger.
    fn salinity(&self) -> Salinity {
        self.ledger
            .batch(self.batch)
            .map_or(Salinity(0.0), |batch| batch.salinity)
    }
}
