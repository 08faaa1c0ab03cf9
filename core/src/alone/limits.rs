//! When each duty reaches its limit if nobody does anything.

use jiff::{SignedDuration, Timestamp};

use super::levels::{Bared, Level, Levels};
use crate::care::{Duty, Standing, board};
use crate::journal::Book;
use crate::place::{Place, Target};

/// Why a duty reaches its limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// So many hours since it was last done are a hazard.
    Cadence,
    /// The water has fallen so far, at the fastest that it may evaporate.
    Level(Bared),
}

/// The moment from which a duty that nobody does puts animals or enclosure at risk.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limit {
    /// The duty as people call it.
    pub duty: Duty,
    /// What it is about.
    pub target: Target,
    /// The moment; that of the question where it is past already.
    pub at: Timestamp,
    /// Why.
    pub cause: Cause,
    /// Until when a quiet zone holds the duty back.
    pub held: Option<Timestamp>,
}

/// The limits of all duties that have one, in order of time, then of the walk, as they stand at a moment if nobody
/// does anything after it.
pub(super) fn limits(book: &Book, levels: &Levels, now: Timestamp) -> Vec<Limit> {
    let place = book.place_at(now);
    let standings = board(book, &place, now);
    let mut all: Vec<Limit> = standings
        .iter()
        .flat_map(|one| of(&place, one, levels, now))
        .collect();
    all.sort_by_key(|limit| limit.at);
    all
}

/// The limits of one duty, the earliest one first.
pub(super) fn of(place: &Place, standing: &Standing, levels: &Levels, now: Timestamp) -> Vec<Limit> {
    let held = standing
        .held
        .as_ref()
        .map(|zone| place.zone.day_start(zone.until));
    let limit = |at: Timestamp, cause| Limit {
        duty: standing.duty(),
        target: standing.turn.target,
        // While a quiet zone holds it back it is no hazard.
        at: at.max(now).max(held.unwrap_or(now)),
        cause,
        held,
    };
    let level = match standing.turn.target {
        Target::Pool(pool) if standing.turn.duty == Duty::TopUp => levels.of(pool),
        _ => None,
    };
    let falls = level.map_or(&[][..], |level: &Level| &level.bares);
    let bared = falls.iter().filter_map(|(what, days)| {
        let full = standing.anchor.hazard_from;
        let after = SignedDuration::try_from_secs_f64(days.low? * 86_400.0).ok()?;
        Some(limit(full.saturating_add(after).ok()?, Cause::Level(*what)))
    });
    let cadence = standing.hazard.map(|at| limit(at, Cause::Cadence));
    let mut all: Vec<Limit> = cadence.into_iter().chain(bared).collect();
    all.sort_by_key(|limit| limit.at);
    all
}
