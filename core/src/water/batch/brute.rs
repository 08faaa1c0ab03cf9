//! The same by brute force: every pour into a pool is a parcel of its own that is followed through all that happens to the
//! pool after it. Slow and plain, and it shares no arithmetic with what it checks.

use std::collections::{BTreeMap, BTreeSet};

use super::*;

/// One pour into a pool.
#[derive(Clone, Copy, Debug)]
struct Parcel {
    from: Option<(BatchId, bool)>,
    pool: PoolId,
    /// Its water without salt, its salt, and how much of the pour holds what is dissolved here of it: all in kg.
    water: f64,
    salt: f64,
    mark: f64,
}

/// All that is left of all pours.
#[derive(Clone, Debug, Default)]
pub(super) struct Brute {
    parcels: Vec<Parcel>,
    treated: BTreeSet<BatchId>,
    /// Which batch ever reached which pool, and whether before it was conditioned in its vessel.
    pub(super) ever: BTreeSet<(BatchId, bool, PoolId)>,
    /// Kilograms left in each vessel.
    pub(super) left: BTreeMap<BatchId, f64>,
}

impl Brute {
    /// Follows events, with these salinities of the batches in g/kg.
    pub(super) fn of(events: &[Event], salinities: &BTreeMap<BatchId, f64>) -> Self {
        let mut all = Self::default();
        for event in events {
            all.take(&event.what, salinities);
        }
        all
    }

    fn take(&mut self, what: &What, salinities: &BTreeMap<BatchId, f64>) {
        match *what {
            What::Made { batch, mass, .. } => {
                self.left.insert(batch, mass.0);
            }
            What::Conditioned { batch, .. } => {
                self.treated.insert(batch);
            }
            What::Measured { .. } | What::Dated { .. } | What::Condemned { .. } => {}
            What::Discarded { batch, mass } => *self.left.get_mut(&batch).unwrap() -= mass.0,
            What::Drawn { batch, pool, mass } => self.pour(pool, mass.0, Source::Batch(batch), salinities),
            What::ToppedUp { pool, mass, source } => self.pour(pool, mass.0, source, salinities),
            What::Filled { pool, mass, source } => {
                self.parcels.retain(|parcel| parcel.pool != pool);
                self.pour(pool, mass.0, source, salinities);
            }
            What::Changed {
                pool,
                removed,
                added,
                source,
            } => {
                let stays = (self.mass(pool) - removed.0) / self.mass(pool);
                for parcel in self.parcels.iter_mut().filter(|parcel| parcel.pool == pool) {
                    parcel.water *= stays;
                    parcel.salt *= stays;
                    parcel.mark *= stays;
                }
                if added.0 > 0.0 {
                    self.pour(pool, added.0, source, salinities);
                }
            }
            What::Evaporated { pool, mass } => {
                let stays = (self.water(pool) - mass.0) / self.water(pool);
                for parcel in self.parcels.iter_mut().filter(|parcel| parcel.pool == pool) {
                    parcel.water *= stays;
                }
            }
        }
    }

    fn pour(&mut self, pool: PoolId, mass: f64, source: Source, salinities: &BTreeMap<BatchId, f64>) {
        let (from, per_mille) = match source {
            Source::Other(salinity) => (None, salinity.0),
            Source::Batch(batch) => {
                *self.left.get_mut(&batch).unwrap() -= mass;
                let treated = self.treated.contains(&batch);
                self.ever.insert((batch, treated, pool));
                (Some((batch, treated)), salinities[&batch])
            }
        };
        self.parcels.push(Parcel {
            from,
            pool,
            water: mass * (1000.0 - per_mille) / 1000.0,
            salt: mass * per_mille / 1000.0,
            mark: mass,
        });
    }

    fn sum(&self, of: impl Fn(&Parcel) -> f64, which: impl Fn(&Parcel) -> bool) -> f64 {
        self.parcels.iter().filter(|parcel| which(parcel)).map(of).sum()
    }

    /// Water without salt in a pool, in kg.
    pub(super) fn water(&self, pool: PoolId) -> f64 {
        self.sum(|parcel| parcel.water, |parcel| parcel.pool == pool)
    }

    /// Salt in a pool, in kg.
    pub(super) fn salt(&self, pool: PoolId) -> f64 {
        self.sum(|parcel| parcel.salt, |parcel| parcel.pool == pool)
    }

    /// Water and salt in a pool, in kg.
    pub(super) fn mass(&self, pool: PoolId) -> f64 {
        self.water(pool) + self.salt(pool)
    }

    /// Water, then mark of a batch in a pool, in kg; only of what was drawn before it was conditioned in its vessel, if so
    /// asked.
    pub(super) fn of_batch(&self, pool: PoolId, batch: BatchId, untreated: bool) -> (f64, f64) {
        let which = |parcel: &Parcel| {
            parcel.pool == pool
                && parcel
                    .from
                    .is_some_and(|(from, treated)| from == batch && !(untreated && treated))
        };
        (
            self.sum(|parcel| parcel.water, which),
            self.sum(|parcel| parcel.mark, which),
        )
    }
}
