//! What of the place's past is replayed, and how it would have been kept.

use jiff::Timestamp;
use wrackline_core::care::{Numbers, Rule};
use wrackline_core::place::{Gear, PoolId};

/// `/rehearse [SPOT] [with air|filter] [without air|filter] [every 3 days] [volume 20 L] [from DATE] [to DATE]`
#[derive(Clone, Debug, PartialEq)]
pub struct Rehearse {
    /// The pools; none for the whole place.
    pub pools: Vec<PoolId>,
    /// Gear that they would have had.
    pub with: Vec<Gear>,
    /// Gear that they would not have had.
    pub without: Vec<Gear>,
    /// Whether a filter would have had its cycle proven.
    pub proven: bool,
    /// Other numbers of a rule; all `None` for those that hold.
    pub numbers: Numbers,
    /// The rule that they are of; `None`: that of the pools' changes.
    pub rule: Option<Rule>,
    /// Other litres.
    pub litres: Option<f64>,
    /// From when; `None`: eight weeks back.
    pub from: Option<Timestamp>,
    /// Up to when; `None`: now.
    pub to: Option<Timestamp>,
}
