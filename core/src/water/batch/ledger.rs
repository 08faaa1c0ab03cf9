//! What is known of batches and pools.

use std::collections::{BTreeMap, BTreeSet};

use jiff::{SignedDuration, Timestamp};

use super::body::{Body, Origin};
use super::flow::Flow;
use super::problem::{self, Problem};
use super::{BatchId, Event, EventId, Rules, Source, What, to_litres};
use crate::place::{PoolId, Water};
use crate::quantity::{Kilograms, Litres, Millilitres, Salinity};

/// What is known of a batch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Batch {
    /// Its number.
    pub id: BatchId,
    /// Which water it is for.
    pub water: Water,
    /// When it was made.
    pub made_at: Timestamp,
    /// How much was made.
    pub made: Kilograms,
    /// How much is left in its vessel.
    pub left: Kilograms,
    /// Its salinity as last read, else as it was made.
    pub salinity: Salinity,
    /// When that was last read.
    pub measured: Option<Timestamp>,
    /// Whether it was conditioned.
    pub conditioned: bool,
    /// With how much of the bottle in all.
    pub dosed: Millilitres,
    /// Whether it proved wrong.
    pub condemned: bool,
    /// Until when it is to be used.
    pub use_by: Timestamp,
}

/// What is known of a pool's water.
#[derive(Clone, Debug, PartialEq)]
pub struct Pool {
    /// How much it holds.
    pub mass: Kilograms,
    /// The same in litres.
    pub litres: Litres,
    /// Its salinity.
    pub salinity: Salinity,
    /// The share of its water that came from each batch, 0 to 1. What is missing to 1 came from elsewhere.
    pub shares: BTreeMap<BatchId, f64>,
}

/// What should be said when water goes into a pool. It went in all the same.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Warning {
    /// The batch was past its date.
    PastUseBy {
        /// Which.
        batch: BatchId,
        /// Its date.
        use_by: Timestamp,
    },
    /// The batch is not known to be conditioned.
    Unconditioned {
        /// Which.
        batch: BatchId,
    },
    /// The salinity of salt water was never read.
    Unmeasured {
        /// Which.
        batch: BatchId,
    },
    /// The batch had proven wrong before.
    Condemned {
        /// Which.
        batch: BatchId,
    },
}

/// An amount of water with its salt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amounts {
    /// Water and salt.
    pub mass: Kilograms,
    /// The salt in it.
    pub salt: Kilograms,
}

/// Where all water and salt is: what came in is what is here and what is gone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Made, or brought into a pool from elsewhere.
    pub entered: Amounts,
    /// In vessels and pools.
    pub here: Amounts,
    /// Thrown away, taken out of pools, or gone as vapour.
    pub gone: Amounts,
}

/// What happened to vessels and pools, and what is known from it.
#[derive(Clone, Debug)]
pub struct Ledger {
    rules: Rules,
    events: Vec<Event>,
    known: BTreeSet<EventId>,
    batches: BTreeMap<BatchId, Batch>,
    pub(super) salinities: BTreeMap<BatchId, f64>,
    pub(super) flow: Flow,
}

impl Default for Ledger {
    /// A ledger without events, with the usual rules.
    fn default() -> Self {
        Self::empty(Rules::default())
    }
}

impl Ledger {
    /// A ledger without events.
    ///
    /// # Errors
    ///
    /// If water is kept for no time, or for more than 3650 days.
    pub fn new(rules: Rules) -> Result<Self, Problem> {
        let value = rules.keep.0;
        if !(value > 0.0 && value <= 3650.0) {
            return Err(Problem::Keep { value });
        }
        Ok(Self::empty(rules))
    }

    fn empty(rules: Rules) -> Self {
        Self {
            rules,
            events: Vec::new(),
            known: BTreeSet::new(),
            batches: BTreeMap::new(),
            salinities: BTreeMap::new(),
            flow: Flow::default(),
        }
    }

    /// Takes a further event, and gives what should be said of it.
    ///
    /// # Errors
    ///
    /// If it lies before the last event, is known already, names a batch that was never made or makes one twice, takes more
    /// than is left in a vessel or a pool, or a number cannot be. The ledger is then as it was.
    pub fn apply(&mut self, event: Event) -> Result<Vec<Warning>, Problem> {
        let at = event.at;
        if let Some(last) = self.events.last().map(|last| last.at).filter(|last| at < *last) {
            return Err(Problem::Backwards { last, at });
        }
        if self.known.contains(&event.id) {
            return Err(Problem::KnownEvent { id: event.id });
        }
        check(&event.what)?;
        match event.what {
            What::Made { batch, .. } if self.batches.contains_key(&batch) => {
                return Err(Problem::MadeTwice { batch });
            }
            What::Measured { batch, salinity } => self.measure(batch, salinity, at)?,
            _ => self.flow.step(&event, &self.salinities)?,
        }
        self.note(&event);
        self.known.insert(event.id);
        self.events.push(event);
        Ok(self.warnings(&event))
    }

    /// Goes through all events once more, with these salinities of the batches in g/kg.
    pub(super) fn again(&self, salinities: &BTreeMap<BatchId, f64>) -> Result<Flow, Problem> {
        let mut flow = Flow::default();
        for event in &self.events {
            flow.step(event, salinities)?;
        }
        Ok(flow)
    }

    /// Takes a salinity that was read, also for what was drawn before.
    fn measure(&mut self, batch: BatchId, salinity: Salinity, at: Timestamp) -> Result<(), Problem> {
        let Some(found) = self.batches.get(&batch).copied() else {
            return Err(Problem::UnknownBatch { batch });
        };
        let mut salinities = self.salinities.clone();
        salinities.insert(batch, salinity.0);
        // Nothing of a batch that stayed in its vessel has to be found again.
        if self.flow.reached.keys().any(|(_, origin)| origin.is_of(batch)) {
            self.flow = self.again(&salinities)?;
        }
        self.salinities = salinities;
        let measured = Some(at);
        self.batches.insert(
            batch,
            Batch {
                salinity,
                measured,
                ..found
            },
        );
        Ok(())
    }

    /// Keeps what an event says of a batch.
    fn note(&mut self, event: &Event) {
        let at = event.at;
        match event.what {
            What::Made {
                batch: id,
                water,
                mass,
                salinity,
                conditioned,
                dosed,
            } => {
                self.salinities.insert(id, salinity.0);
                let keep = SignedDuration::from_secs_f64(self.rules.keep.0 * 86_400.0);
                let batch = Batch {
                    id,
                    water,
                    made_at: at,
                    made: mass,
                    left: mass,
                    salinity,
                    measured: None,
                    conditioned,
                    dosed,
                    condemned: false,
                    use_by: at.checked_add(keep).unwrap_or(Timestamp::MAX),
                };
                self.batches.insert(id, batch);
            }
            What::Conditioned { batch, dosed } => {
                if let Some(batch) = self.batches.get_mut(&batch) {
                    batch.conditioned = true;
                    batch.dosed = batch.dosed + dosed;
                }
            }
            What::Dated { batch, use_by } => {
                if let Some(batch) = self.batches.get_mut(&batch) {
                    batch.use_by = use_by;
                }
            }
            What::Condemned { batch } => {
                if let Some(batch) = self.batches.get_mut(&batch) {
                    batch.condemned = true;
                }
            }
            _ => {}
        }
        let drawn = event.what.draws();
        if let Some((batch, vessel)) =
            drawn.and_then(|id| self.batches.get_mut(&id).zip(self.flow.vessels.get(&id)))
        {
            batch.left = Kilograms(vessel.left);
        }
    }

    /// What should be said of an event that was taken.
    fn warnings(&self, event: &Event) -> Vec<Warning> {
        let discarded = matches!(event.what, What::Discarded { .. });
        let drawn = event.what.draws().filter(|_| !discarded);
        let Some((id, batch)) = drawn.and_then(|id| Some((id, self.batches.get(&id)?))) else {
            return Vec::new();
        };
        let use_by = batch.use_by;
        let unmeasured = batch.water == Water::Salt && batch.measured.is_none();
        [
            (event.at > use_by, Warning::PastUseBy { batch: id, use_by }),
            (!batch.conditioned, Warning::Unconditioned { batch: id }),
            (unmeasured, Warning::Unmeasured { batch: id }),
            (batch.condemned, Warning::Condemned { batch: id }),
        ]
        .into_iter()
        .filter_map(|(true_of_it, warning)| true_of_it.then_some(warning))
        .collect()
    }

    /// A batch, if it was made.
    #[must_use]
    pub fn batch(&self, id: BatchId) -> Option<&Batch> {
        self.batches.get(&id)
    }

    /// All batches.
    pub fn batches(&self) -> impl Iterator<Item = &Batch> {
        self.batches.values()
    }

    /// The water of a pool, if any ever went in.
    #[must_use]
    pub fn pool(&self, id: PoolId) -> Option<Pool> {
        self.flow.pools.get(&id).map(pool)
    }

    /// Where all water and salt is.
    #[must_use]
    pub fn balance(&self) -> Balance {
        let flow = &self.flow;
        let mut entered = flow.from_elsewhere;
        let mut here = (0.0, 0.0);
        let mut gone = (flow.removed.0 + flow.evaporated, flow.removed.1);
        let count = |to: &mut (f64, f64), mass: f64, share: f64| {
            to.0 += mass;
            to.1 += mass * share;
        };
        for batch in self.batches.values() {
            let share = batch.salinity.0 / 1000.0;
            let discarded = flow.vessels.get(&batch.id).map_or(0.0, |vessel| vessel.discarded);
            count(&mut entered, batch.made.0, share);
            count(&mut here, batch.left.0, share);
            count(&mut gone, discarded, share);
        }
        for body in flow.pools.values() {
            here.0 += body.mass();
            here.1 += body.salt();
        }
        let amounts = |(mass, salt)| Amounts {
            mass: Kilograms(mass),
            salt: Kilograms(salt),
        };
        Balance {
            entered: amounts(entered),
            here: amounts(here),
            gone: amounts(gone),
        }
    }
}

/// The water of a pool, as it is told.
fn pool(body: &Body) -> Pool {
    let (mass, salinity, water) = (Kilograms(body.mass()), Salinity(body.salinity()), body.water());
    let mut shares = BTreeMap::new();
    for (origin, part) in body.parts() {
        if let Origin::Batch { batch, .. } = origin {
            *shares.entry(batch).or_insert(0.0) += part.water / water;
        }
    }
    Pool {
        mass,
        litres: to_litres(mass, salinity),
        salinity,
        shares,
    }
}

/// Whether an event's numbers can be. Masses are checked where they are used.
fn check(what: &What) -> Result<(), Problem> {
    match what {
        What::Made { salinity, dosed, .. } => {
            problem::salinity(salinity.0)?;
            problem::dose(dosed.0)
        }
        What::Measured { salinity, .. } => problem::salinity(salinity.0),
        What::Conditioned { dosed, .. } => problem::dose(dosed.0),
        What::Filled {
            source: Source::Other(salinity),
            ..
        }
        | What::Changed {
            source: Source::Other(salinity),
            ..
        }
        | What::ToppedUp {
            source: Source::Other(salinity),
            ..
        } => problem::salinity(salinity.0),
        _ => Ok(()),
    }
}
