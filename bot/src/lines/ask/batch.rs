//! Prepared water, and where it went.

use jiff::{Timestamp, civil};
use wrackline_core::place::Water;
use wrackline_core::quantity::Measured;
use wrackline_core::water::batch::BatchId;

/// How a batch is said to be wrong.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Suspect {
    /// It was not conditioned; perhaps with the chlorine in mg/L that the tap water held.
    Unconditioned(Option<f64>),
    /// Its salt was read, and is another.
    Salinity(Measured),
}

/// What is asked of prepared water.
#[derive(Clone, Debug, PartialEq)]
pub enum BatchAsk {
    /// `/batch add VESSEL 20 L salt 35 [conditioned] [from TIME]`
    Add {
        /// What its vessel is called.
        vessel: String,
        /// How many litres.
        litres: f64,
        /// Which water.
        water: Water,
        /// The salinity that it was made for, or what was read in it.
        salt: Option<Measured>,
        /// Whether it was conditioned.
        conditioned: bool,
        /// When it was made; `None`: now.
        from: Option<Timestamp>,
    },
    /// `/batch set VESSEL [READING] [conditioned] [by DATE]`
    Set {
        /// Which.
        batch: BatchId,
        /// What was read in it.
        measured: Option<Measured>,
        /// Whether it was conditioned now.
        conditioned: bool,
        /// The last day on which it is used.
        use_by: Option<civil::Date>,
    },
    /// `/batch list`
    List,
    /// `/batch retire VESSEL`
    Retire {
        /// Which.
        batch: BatchId,
    },
    /// `/trail VESSEL [unconditioned | READING] [at TIME]`
    Trail {
        /// Which.
        batch: BatchId,
        /// How it is wrong; `None`: only where it went is asked.
        wrong: Option<Suspect>,
    },
}
