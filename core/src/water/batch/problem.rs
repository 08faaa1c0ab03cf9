//! What cannot be.

use jiff::Timestamp;

use super::{BatchId, EventId};
use crate::place::PoolId;
use crate::quantity::{Kilograms, Span};

/// Masses in kg that a ledger takes.
const MASSES: Span = Span::new(1e-9, 1e6);
/// Salinities in g/kg that a ledger takes.
const SALINITIES: Span = Span::new(0.0, 300.0);
/// Volumes and doses that a ledger takes.
const VOLUMES: Span = Span::new(0.0, 1e6);
/// Doses in mL and volumes in litres of a label.
const LABELS: Span = Span::new(0.001, 1e6);
/// Chlorine in mg/L that a ledger takes.
const CHLORINE: Span = Span::new(0.0, 1000.0);

/// What is impossible about an event or a question.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Problem {
    /// A mass that is none.
    #[error("{value} kg of water: it must be 0.000000001 to 1000000")]
    Mass {
        /// What was given, in kg.
        value: f64,
    },
    /// A volume that is none.
    #[error("{value} L of water: it must be more than 0 and at most 1000000")]
    Volume {
        /// What was given, in litres.
        value: f64,
    },
    /// A salinity that no water here has.
    #[error("a salinity of {value} g/kg: it must be 0 to 300")]
    Salinity {
        /// What was given, in g/kg.
        value: f64,
    },
    /// A dose that is none.
    #[error("a dose of {value} mL: it must be 0 to 1000000")]
    Dose {
        /// What was given, in mL.
        value: f64,
    },
    /// A label that says no dose.
    #[error("a label of {dose} mL for {per} L: both must be 0.001 to 1000000")]
    Label {
        /// The dose, in mL.
        dose: f64,
        /// The water, in litres.
        per: f64,
    },
    /// More chlorine than water is disinfected with.
    #[error("{value} mg/L of chlorine: it must be 0 to 1000")]
    Chlorine {
        /// What was given, in mg/L.
        value: f64,
    },
    /// A rule of use that is none.
    #[error("water kept for {value} days: it must be more than 0 and at most 3650")]
    Keep {
        /// What was given, in days.
        value: f64,
    },
    /// An event before the one before it.
    #[error("an event at {at} after one at {last}: events come in order of time")]
    Backwards {
        /// When the last event was.
        last: Timestamp,
        /// When this one is.
        at: Timestamp,
    },
    /// An event that is known already.
    #[error("event {} is in the ledger already", id.0)]
    KnownEvent {
        /// Which.
        id: EventId,
    },
    /// A batch that was made already.
    #[error("batch {} was made already", batch.0)]
    MadeTwice {
        /// Which.
        batch: BatchId,
    },
    /// A batch that was never made.
    #[error("batch {} was never made", batch.0)]
    UnknownBatch {
        /// Which.
        batch: BatchId,
    },
    /// More than is left of a batch.
    #[error("{} kg of batch {}, of which {} kg are left", asked.0, batch.0, left.0)]
    TooLittleLeft {
        /// The batch.
        batch: BatchId,
        /// What is left.
        left: Kilograms,
        /// What was to be taken.
        asked: Kilograms,
    },
    /// More than is in a pool.
    #[error("{} kg out of pool {}, which holds {} kg", asked.0, pool.0, held.0)]
    PoolTooLittle {
        /// The pool.
        pool: PoolId,
        /// What it holds.
        held: Kilograms,
        /// What was to be taken.
        asked: Kilograms,
    },
    /// About as much vapour as there is water in a pool, or more: it would be dry.
    #[error("{} kg evaporated from pool {}, which holds {} kg of water beside its salt", asked.0, pool.0, water.0)]
    Dry {
        /// The pool.
        pool: PoolId,
        /// Its water without salt.
        water: Kilograms,
        /// What is said to have evaporated.
        asked: Kilograms,
    },
}

/// A mass in range.
pub(super) fn mass(of: Kilograms) -> Result<f64, Problem> {
    let value = of.0;
    if MASSES.has(value) {
        Ok(value)
    } else {
        Err(Problem::Mass { value })
    }
}

/// A mass that may be 0.
pub(super) fn mass_or_none(of: Kilograms) -> Result<f64, Problem> {
    if of.0 == 0.0 { Ok(0.0) } else { mass(of) }
}

/// A salinity in range.
pub(super) fn salinity(value: f64) -> Result<(), Problem> {
    check(SALINITIES.has(value), || Problem::Salinity { value })
}

/// A dose in range.
pub(super) fn dose(value: f64) -> Result<(), Problem> {
    check(VOLUMES.has(value), || Problem::Dose { value })
}

/// A volume in range, above 0.
pub(super) fn volume(value: f64) -> Result<(), Problem> {
    check(value > 0.0 && VOLUMES.has(value), || Problem::Volume { value })
}

/// A label in range: neither a dose nor its water is smaller than a drop of a drop, so that doses stay numbers.
pub(super) fn label(dose: f64, per: f64) -> Result<(), Problem> {
    check(LABELS.has(dose) && LABELS.has(per), || Problem::Label {
        dose,
        per,
    })
}

/// Chlorine in range.
pub(super) fn chlorine(value: f64) -> Result<(), Problem> {
    check(CHLORINE.has(value), || Problem::Chlorine { value })
}

fn check(fine: bool, problem: impl FnOnce() -> Problem) -> Result<(), Problem> {
    if fine { Ok(()) } else { Err(problem()) }
}
