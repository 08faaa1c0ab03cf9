//! Prepared water in a vessel, and the trail of every litre of it.
//!
//! A ledger takes what happened to vessels and pools, one event at a time, in order. It knows what is left of each batch,
//! and of each pool which part of its water came from which batch. When a batch proves wrong, the trail names each pool
//! that it reached.
//!
//! Everything is counted by mass, since litres of fresh and of salt water do not add up. Two things are followed: the
//! water of a batch, which evaporates with the rest, and what is dissolved in it, which stays.
//!
//! In reading order: this file is what happens; `problem` what cannot; `body` is one pool; `flow` is all water at one
//! moment; `ledger` is what is known; `offer` is which batch to use; `trail` is where one went, and `fix` what helps.

mod body;
mod fix;
mod flow;
mod ledger;
mod offer;
mod problem;
mod trail;

#[cfg(test)]
mod brute;
#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::place::{PoolId, Water};
use crate::quantity::{Days, Kilograms, Litres, Millilitres, Salinity};
use crate::water::seawater::at_surface;

pub use self::fix::{Fix, Means, NEAR_ENOUGH};
pub use self::ledger::{Amounts, Balance, Batch, Ledger, Pool, Warning};
pub use self::offer::{Aside, OFF_TARGET, Offer, Offered};
pub use self::problem::Problem;
pub use self::trail::{Found, Reached, Trail, Wrong};

/// A batch of prepared water, numbered within its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct BatchId(pub u32);

/// An event of a ledger, numbered by whoever keeps it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct EventId(pub u64);

/// Something that happened to a vessel or a pool.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Event {
    /// Its number. Each counts once.
    pub id: EventId,
    /// When it happened; never before the event before it.
    pub at: Timestamp,
    /// What happened.
    pub what: What,
}

/// Where water that goes into a pool comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Source {
    /// From a batch: it is drawn from its vessel.
    Batch(BatchId),
    /// From elsewhere, such as straight from a bucket, with this salinity, 0 to 300 g/kg.
    Other(Salinity),
}

/// What happened. Masses are of the water with its salt, from a billionth of a kg up to 1,000,000 kg where
/// nothing else is said.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum What {
    /// A batch was made.
    Made {
        /// The batch.
        batch: BatchId,
        /// Which water it is for.
        water: Water,
        /// How much.
        mass: Kilograms,
        /// Its salinity as computed or read, 0 to 300 g/kg.
        salinity: Salinity,
        /// Whether it was conditioned.
        conditioned: bool,
        /// With how much of the bottle, 0 to 1,000,000 mL.
        dosed: Millilitres,
    },
    /// Its salinity was read. A batch is taken to be the same all through, so this holds for what was drawn before, too.
    Measured {
        /// The batch.
        batch: BatchId,
        /// What was read, 0 to 300 g/kg.
        salinity: Salinity,
    },
    /// It was conditioned: what is drawn from now on is.
    Conditioned {
        /// The batch.
        batch: BatchId,
        /// With how much of the bottle, 0 to 1,000,000 mL.
        dosed: Millilitres,
    },
    /// It is to be used until then, whatever the rule for all says.
    Dated {
        /// The batch.
        batch: BatchId,
        /// Until when.
        use_by: Timestamp,
    },
    /// It proved wrong, and is not to be used.
    Condemned {
        /// The batch.
        batch: BatchId,
    },
    /// Some of it went into a pool, from which nothing was taken.
    Drawn {
        /// The batch.
        batch: BatchId,
        /// The pool.
        pool: PoolId,
        /// How much.
        mass: Kilograms,
    },
    /// Some of it was thrown away.
    Discarded {
        /// The batch.
        batch: BatchId,
        /// How much.
        mass: Kilograms,
    },
    /// A pool was filled anew; what was in it is gone.
    Filled {
        /// The pool.
        pool: PoolId,
        /// How much it holds then.
        mass: Kilograms,
        /// Where the water came from.
        source: Source,
    },
    /// Part of a pool's water was changed: some taken out, then some put in.
    Changed {
        /// The pool.
        pool: PoolId,
        /// How much was taken out; may be 0.
        removed: Kilograms,
        /// How much was put in; may be 0.
        added: Kilograms,
        /// Where that came from.
        source: Source,
    },
    /// Water left a pool as vapour; its salt stays.
    Evaporated {
        /// The pool.
        pool: PoolId,
        /// How much.
        mass: Kilograms,
    },
    /// A pool was topped up.
    ToppedUp {
        /// The pool.
        pool: PoolId,
        /// With how much.
        mass: Kilograms,
        /// Where it came from.
        source: Source,
    },
}

impl What {
    /// The batch that something is taken of, if any is.
    fn draws(&self) -> Option<BatchId> {
        let source = match *self {
            Self::Drawn { batch, .. } | Self::Discarded { batch, .. } => Source::Batch(batch),
            Self::Filled { source, .. } | Self::ToppedUp { source, .. } => source,
            Self::Changed { source, added, .. } if added.0 > 0.0 => source,
            _ => return None,
        };
        match source {
            Source::Batch(batch) => Some(batch),
            Source::Other(_) => None,
        }
    }
}

/// What holds for the batches of a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rules {
    /// How long prepared water is used after it was made, more than 0 and up to 3650 days.
    pub keep: Days,
}

impl Default for Rules {
    /// Two weeks: common practice, no published source.
    fn default() -> Self {
        Self { keep: Days(14.0) }
    }
}

/// kg in a litre at 25 °C, by the equation of state of 1980 (Fofonoff & Millard 1983, UNESCO Technical Papers in Marine
/// Science 44). Beyond a salinity of 42 it is an extension, in which no pool is kept; it still rises there.
fn density(salinity: Salinity) -> f64 {
    at_surface(salinity.0, 25.0) / 1000.0
}

/// The litres of a mass of water, at about 25 °C.
///
/// # Errors
///
/// If the mass is not a billionth of a kg to 1,000,000 kg, or the salinity not 0 to 300 g/kg.
pub fn litres(mass: Kilograms, salinity: Salinity) -> Result<Litres, Problem> {
    problem::salinity(salinity.0)?;
    Ok(to_litres(Kilograms(problem::mass(mass)?), salinity))
}

/// The mass of some litres of water, at about 25 °C.
///
/// # Errors
///
/// If the litres are not more than 0 and at most 1,000,000, or the salinity not 0 to 300 g/kg.
pub fn kilograms(litres: Litres, salinity: Salinity) -> Result<Kilograms, Problem> {
    problem::salinity(salinity.0)?;
    problem::volume(litres.0)?;
    Ok(to_kilograms(litres, salinity))
}

fn to_litres(mass: Kilograms, salinity: Salinity) -> Litres {
    Litres(mass.0 / density(salinity))
}

fn to_kilograms(litres: Litres, salinity: Salinity) -> Kilograms {
    Kilograms(litres.0 * density(salinity))
}
