//! What is asked of coming turns.

use jiff::civil;
use wrackline_core::care::Duty;
use wrackline_core::journal::Absence;
use wrackline_core::place::{CarerId, RoundId};

use super::Spot;

/// A coming turn as it was said.
#[derive(Clone, Debug, PartialEq)]
pub struct TurnAsk {
    /// The duty.
    pub duty: Duty,
    /// Where.
    pub spot: Spot,
    /// On which day; `None`: the next that fits.
    pub date: Option<civil::Date>,
    /// In which round.
    pub round: Option<RoundId>,
}

/// An absence as it was said.
#[derive(Clone, Debug, PartialEq)]
pub enum AwayAsk {
    /// Who is away when.
    List,
    /// Somebody is there again.
    Back {
        /// Who; `None`: the one who says it.
        by: Option<CarerId>,
    },
    /// Somebody is away.
    Set {
        /// When.
        absence: Absence,
        /// Who; `None`: the one who says it.
        by: Option<CarerId>,
        /// Whether it is final at once.
        sure: bool,
    },
}
