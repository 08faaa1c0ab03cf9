//! All water at one moment: what is left in the vessels, what is in the pools, what is gone.

use std::collections::{BTreeMap, BTreeSet};

use jiff::Timestamp;

use super::body::{Body, Origin};
use super::problem::{Problem, mass, mass_or_none};
use super::{BatchId, Event, Source, What};
use crate::place::PoolId;
use crate::quantity::Kilograms;

/// Rounding in sums of masses must not refuse the last of a vessel.
const ROUNDING: f64 = 1e-9;

/// What of one origin went into a pool so far.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reach {
    /// When the first of it did.
    pub(super) first: Timestamp,
    /// How many kg in all.
    pub(super) mass: f64,
}

/// What is in a vessel.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Vessel {
    /// What is left, in kg.
    pub(super) left: f64,
    /// What was thrown away, in kg.
    pub(super) discarded: f64,
}

/// All water at one moment.
#[derive(Clone, Debug, Default)]
pub(super) struct Flow {
    pub(super) vessels: BTreeMap<BatchId, Vessel>,
    treated: BTreeSet<BatchId>,
    pub(super) pools: BTreeMap<PoolId, Body>,
    pub(super) reached: BTreeMap<(PoolId, Origin), Reach>,
    /// What came from elsewhere: mass and salt in kg.
    pub(super) from_elsewhere: (f64, f64),
    /// What was taken out of pools: mass and salt in kg.
    pub(super) removed: (f64, f64),
    /// What left as vapour, in kg.
    pub(super) evaporated: f64,
}

impl Flow {
    /// Takes a further event; nothing is changed if it cannot be. Batches have these salinities in g/kg.
    pub(super) fn step(&mut self, event: &Event, salinities: &BTreeMap<BatchId, f64>) -> Result<(), Problem> {
        let at = event.at;
        match event.what {
            What::Made { batch, mass: of, .. } => {
                let left = mass(of)?;
                self.vessels.insert(batch, Vessel { left, discarded: 0.0 });
            }
            What::Measured { batch, .. } | What::Dated { batch, .. } | What::Condemned { batch } => {
                self.vessel(batch)?;
            }
            What::Conditioned { batch, .. } => {
                self.vessel(batch)?;
                self.treated.insert(batch);
            }
            What::Discarded { batch, mass: of } => {
                let out = self.enough(batch, mass(of)?)?;
                let vessel = self.vessels.entry(batch).or_default();
                vessel.left -= out;
                vessel.discarded += out;
            }
            What::Drawn {
                batch,
                pool,
                mass: of,
            } => {
                self.pour(at, pool, mass(of)?, Source::Batch(batch), salinities)?;
            }
            What::ToppedUp {
                pool,
                mass: of,
                source,
            } => {
                self.pour(at, pool, mass(of)?, source, salinities)?;
            }
            What::Filled {
                pool,
                mass: of,
                source,
            } => {
                let of = self.can_pour(mass(of)?, source)?;
                self.drain(pool, f64::INFINITY);
                self.pour(at, pool, of, source, salinities)?;
            }
            What::Changed {
                pool,
                removed,
                added,
                source,
            } => {
                let (out, into) = (mass_or_none(removed)?, mass_or_none(added)?);
                let held = self.pools.get(&pool).map_or(0.0, Body::mass);
                if out > held * (1.0 + ROUNDING) {
                    let (held, asked) = (Kilograms(held), removed);
                    return Err(Problem::PoolTooLittle { pool, held, asked });
                }
                let into = self.can_pour(into, source)?;
                self.drain(pool, out);
                if into > 0.0 {
                    self.pour(at, pool, into, source, salinities)?;
                }
            }
            What::Evaporated { pool, mass: of } => self.evaporate(pool, mass(of)?)?,
        }
        Ok(())
    }

    fn vessel(&self, batch: BatchId) -> Result<Vessel, Problem> {
        self.vessels
            .get(&batch)
            .copied()
            .ok_or(Problem::UnknownBatch { batch })
    }

    /// What can be taken of a batch when so many kg are asked: them, or what rounding left of them.
    fn enough(&self, batch: BatchId, asked: f64) -> Result<f64, Problem> {
        let left = self.vessel(batch)?.left;
        if asked > left * (1.0 + ROUNDING) {
            let (left, asked) = (Kilograms(left), Kilograms(asked));
            return Err(Problem::TooLittleLeft { batch, left, asked });
        }
        Ok(asked.min(left))
    }

    /// What can be poured from a source when so many kg are asked.
    fn can_pour(&self, asked: f64, source: Source) -> Result<f64, Problem> {
        match source {
            Source::Batch(batch) => self.enough(batch, asked),
            Source::Other(_) => Ok(asked),
        }
    }

    /// Takes kg out of a pool, or all there is.
    fn drain(&mut self, pool: PoolId, mass: f64) {
        if let Some(body) = self.pools.get_mut(&pool) {
            let (out, salt) = body.remove(mass);
            self.removed.0 += out;
            self.removed.1 += salt;
        }
    }

    /// Puts kg of a source into a pool.
    fn pour(
        &mut self,
        at: Timestamp,
        pool: PoolId,
        asked: f64,
        source: Source,
        salinities: &BTreeMap<BatchId, f64>,
    ) -> Result<(), Problem> {
        let mass = self.can_pour(asked, source)?;
        let (origin, salinity) = match source {
            Source::Batch(batch) => {
                let known = salinities.get(&batch).copied();
                let salinity = known.ok_or(Problem::UnknownBatch { batch })?;
                self.vessels.entry(batch).or_default().left -= mass;
                let treated = self.treated.contains(&batch);
                (Origin::Batch { batch, treated }, salinity)
            }
            Source::Other(salinity) => {
                self.from_elsewhere.0 += mass;
                self.from_elsewhere.1 += mass * salinity.0 / 1000.0;
                (Origin::Other, salinity.0)
            }
        };
        self.pools.entry(pool).or_default().add(origin, mass, salinity);
        let reach = self.reached.entry((pool, origin));
        reach.or_insert(Reach { first: at, mass: 0.0 }).mass += mass;
        Ok(())
    }

    fn evaporate(&mut self, pool: PoolId, asked: f64) -> Result<(), Problem> {
        let water = self.pools.get(&pool).map_or(0.0, Body::water);
        match self.pools.get_mut(&pool) {
            Some(body) if asked < body.vapour() => body.evaporate(asked),
            _ => {
                let (water, asked) = (Kilograms(water), Kilograms(asked));
                return Err(Problem::Dry { pool, water, asked });
            }
        }
        self.evaporated += asked;
        Ok(())
    }
}
