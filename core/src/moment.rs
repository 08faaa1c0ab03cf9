//! Which posts a moment calls for, and when the next such moment is.
//!
//! [`items`] lists all that calls for a post at a moment, each under its key. Whoever holds the store keeps those that
//! are new ([`new_items`]), and [`plan`] makes as few posts of them as tell the truth: to the chat of all one call at most,
//! however long nothing was posted, and beside it one to each who is reminded alone or, as a keeper, of looks that are
//! theirs alone.

mod calls;
mod destination;
mod handover;
mod hands;
mod items;
mod known;
mod looks;
mod plan;
mod rest;
mod steps;
mod untreated;
mod woken;

use jiff::{Timestamp, civil};

pub use destination::{Destination, NoDestination, private_key, to_each};
pub use hands::taken_from;
pub use items::{Item, What, items, next_moment, seen_after, step_times};
pub use known::{asked_keys, new_items};
pub use looks::Look;
pub use plan::{Called, Plan, Post, Subject, plan};
pub use rest::{awake, call_times, called_at, rests};
pub use steps::steps;
pub use untreated::untreated;
pub use woken::unnamed;

use crate::place::RoundId;

/// How far back a stop is caught up: older rounds and alarms are not called any more.
pub const CATCH_UP_MAX_H: i64 = 72;

/// A call held later than this after its round says so, in minutes.
pub const LATE_CALL_MIN: i64 = 15;

/// The key of a round call.
#[must_use]
pub fn round_key(round: RoundId, date: civil::Date) -> String {
    format!("round.{}.{date}", round.0)
}

/// How a late turn is passed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Step {
    /// To its carer.
    Carer,
    /// To the stand-in.
    StandIn,
    /// To the keeper.
    Keeper,
    /// It has become a hazard: to the keeper and everyone.
    Hazard,
}

impl Step {
    /// All of them in order.
    pub const ALL: [Self; 4] = [Self::Carer, Self::StandIn, Self::Keeper, Self::Hazard];
}

/// Whether a moment lies in the catch-up window before another.
fn is_recent(at: Timestamp, now: Timestamp) -> bool {
    crate::civil::seconds_between(at, now) <= CATCH_UP_MAX_H * 3600
}
