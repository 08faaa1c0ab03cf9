//! How long a place can be left with nobody there: the first failure, what to do before leaving, and the fewest visits
//! that keep every duty away from its hazard limit.
//!
//! What the journal does not hold yet is imagined: the work before leaving, and that of each visit, is put into a copy
//! of the book (`imagined`), and care tells how every duty stands with it. In reading order: `levels` is what
//! evaporation does to a pool; `limits` when each duty reaches its limit; `visits` the fewest visits.
//!
//! The cadence of a duty is taken to stay what it is when nobody is there: whatever changes it is an entry.

mod imagined;
mod levels;
mod limits;
mod visits;

#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;

use jiff::Timestamp;

use self::imagined::Imagined;
pub use self::levels::{Bared, Level, Levels, levels};
pub use self::limits::{Cause, Limit};
pub use self::visits::{Gap, MARGIN_H, Times, Visit, Visits};
use crate::care::{CATALOGUE, Duty, Rule, Standing, board};
use crate::civil::plus_minutes;
use crate::journal::Book;
use crate::place::{Place, PoolId, Target};

/// A time in which nobody is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// When the last one leaves.
    pub leave: Timestamp,
    /// When somebody is back.
    pub back: Timestamp,
}

/// A duty to do at a pool, an enclosure or the place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// The duty as people call it.
    pub duty: Duty,
    /// What it is about.
    pub target: Target,
    /// The new water that a change takes, in litres, without a margin for spills.
    pub litres: Option<f64>,
}

/// A duty that is not done for a while, without a hazard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Undone {
    /// The duty as people call it.
    pub duty: Duty,
    /// What it is about.
    pub target: Target,
    /// From when it is overdue.
    pub since: Timestamp,
}

/// What becomes of a pool whose air or filter earns it a longer cadence, if that stops as the last one leaves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Power {
    /// The pool.
    pub pool: PoolId,
    /// When its change is a hazard as long as the gear runs; `None` when it never is.
    pub running: Option<Timestamp>,
    /// When it is one as a still pool.
    pub still: Timestamp,
}

/// What is known of a time in which nobody is there.
#[derive(Clone, Debug, PartialEq)]
pub struct Alone {
    /// The time.
    pub span: Span,
    /// What to do before leaving, in walking order: all that falls due, or comes near its limit, before somebody is back.
    pub before: Vec<Turn>,
    /// What reaches its limit if that is done and nobody comes, in order of time: all of it until somebody is back, and
    /// the first one even if it comes later.
    pub failures: Vec<Limit>,
    /// The same if nothing is done from now on.
    pub as_it_stands: Vec<Limit>,
    /// What is overdue before somebody is back, without a hazard until then.
    pub undone: Vec<Undone>,
    /// What evaporation does to the pools.
    pub levels: Levels,
    /// What hangs on air and filters.
    pub power: Vec<Power>,
    /// The fewest visits.
    pub visits: Visits,
}

/// What is to be known of a time in which nobody is there. `span` starts now or later, and ends after it starts.
#[must_use]
pub fn alone(book: &Book, now: Timestamp, span: Span) -> Alone {
    let place = book.place_at(now);
    let levels = levels(book, &place, now);
    let as_it_stands = until_back(limits::limits(book, &levels, now), span.back);

    let mut prepared = Imagined::of(book, &place);
    let before = visits::wanted(&prepared.book, &levels, span.leave, span.back);
    prepared.does(&before, span.leave);

    let there = prepared.book.place_at(span.leave);
    let standings = board(&prepared.book, &there, span.leave);
    let failures = until_back(limits::limits(&prepared.book, &levels, span.leave), span.back);
    Alone {
        span,
        before,
        as_it_stands,
        undone: undone(&standings, &failures, span.back),
        power: power(&there, &standings),
        visits: visits::fewest(&prepared, &levels, span),
        failures,
        levels,
    }
}

/// The limits up to a moment, and the first one at any rate.
fn until_back(mut all: Vec<Limit>, back: Timestamp) -> Vec<Limit> {
    let count = all.iter().take_while(|limit| limit.at <= back).count();
    all.truncate(count.max(1));
    all
}

fn undone(standings: &[Standing], failures: &[Limit], back: Timestamp) -> Vec<Undone> {
    let fails = |one: &Standing| {
        let mut until = failures.iter().filter(|limit| limit.at <= back);
        until.any(|limit| limit.target == one.turn.target && limit.duty.family() == one.turn.duty)
    };
    let late = standings.iter().filter(|one| one.overdue < back && !fails(one));
    late.map(|one| Undone {
        duty: one.duty(),
        target: one.turn.target,
        since: one.overdue,
    })
    .collect()
}

fn power(place: &Place, standings: &[Standing]) -> Vec<Power> {
    let still = place.numbers.get(&Rule::ChangeStill);
    let row = CATALOGUE[Rule::ChangeStill as usize].hazard_h;
    let Some(hours) = still.and_then(|(numbers, _)| numbers.hazard_h).or(row) else {
        return Vec::new();
    };
    let of = |one: &Standing| match (one.turn.target, one.cadence.rule) {
        (Target::Pool(pool), Some(Rule::ChangeAerated | Rule::PartChange)) => Some(Power {
            pool,
            running: one.hazard,
            still: plus_minutes(one.anchor.hazard_from, i64::from(hours) * 60),
        }),
        _ => None,
    };
    standings.iter().filter_map(of).collect()
}
