//! What of a person is set.

use jiff::civil;
use wrackline_core::people::Free;
use wrackline_core::place::{CarerId, QuietHours, Role};
use wrackline_core::quantity::Units;

/// A field of a person.
#[derive(Clone, Debug, PartialEq)]
pub enum CarerField {
    /// `role regular`
    Role(Role),
    /// `stand-in NAME`, `stand-in none`
    StandIn(Option<CarerId>),
    /// `from 2026-07-03 to 2026-07-12`, `always`
    Days(DaysSaid),
    /// `zone ZONE`, checked; `zone none`
    Zone(Option<String>),
    /// `units us`, `units none`
    Units(Option<Units>),
    /// `language en`
    Language(String),
    /// `free Mon Wed evening, Sat Sun`, `free any`
    Free(Option<Vec<Free>>),
    /// `quiet 21:00 to 07:00`, `quiet none`
    Quiet(Option<QuietHours>),
    /// `skill siphon and salt`: these and no others
    Skill(SkillSaid),
    /// `lifts 10 kg`, `lifts anything`: kilograms
    Lifts(Option<f64>),
    /// `share 0.5`, `share none`: 0 to 10
    Share(f64),
    /// `minutes 30`, `minutes any`: 1 to 1440 a day
    Minutes(Option<u16>),
    /// `private yes|no`
    Private(bool),
    /// `member @MEMBER`: their account on the chat platform
    Account(i64),
}

/// The days of a span as they were said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DaysSaid {
    /// There is none any more.
    Always,
    /// From one day to another; what was not said stays as it was.
    Days {
        /// The first.
        from: Option<civil::Date>,
        /// The last.
        to: Option<civil::Date>,
    },
}

/// What someone can do beside lifting.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SkillSaid {
    /// Draws water with a siphon.
    pub siphon: bool,
    /// Mixes marine salt water.
    pub salt: bool,
}
