//! What cannot be rehearsed.

use jiff::Timestamp;

use super::other::{Change, fitted};
use super::{DAY_S, DAYS_MAX, DAYS_MIN, Plan};
use crate::care::{Numbers, Rule};
use crate::civil::seconds_between;
use crate::journal::{Book, Event, GearChange, PoolChange};
use crate::place::{Gear, PoolId};

/// Why something cannot be rehearsed.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum Problem {
    /// The span begins in the future.
    #[error("the span begins in the future")]
    ToCome,
    /// The span ends in the future.
    #[error("the span ends in the future")]
    EndToCome,
    /// The span ends before it begins.
    #[error("the span ends before it begins")]
    Backwards,
    /// The span is less than a week.
    #[error("the span is less than {DAYS_MIN} days")]
    Short,
    /// The span is longer than is replayed.
    #[error("the span is more than {DAYS_MAX} days")]
    Long,
    /// The pool is none of the place's, or none any more.
    #[error("no such pool")]
    NoPool(PoolId),
    /// The pool was set up later.
    #[error("the pool was set up later")]
    PoolLater {
        /// The pool.
        pool: PoolId,
        /// When it was set up.
        since: Timestamp,
    },
    /// The gear runs there already.
    #[error("the gear runs there already")]
    RunsAlready {
        /// The pool.
        pool: PoolId,
        /// The gear.
        gear: Gear,
        /// Since when.
        since: Timestamp,
    },
    /// The gear was never there in the span.
    #[error("the gear was not there")]
    NeverThere {
        /// The pool.
        pool: PoolId,
        /// The gear.
        gear: Gear,
    },
    /// The pool holds so much already.
    #[error("the pool holds so much already")]
    SameLitres(PoolId),
    /// The numbers are those of the place already.
    #[error("the numbers are the same already")]
    SameNumbers(Rule),
}

/// Holds that a plan can be rehearsed.
pub(super) fn hold(book: &Book, plan: &Plan, now: Timestamp) -> Result<(), Problem> {
    span(plan, now)?;
    for pool in plan
        .pools
        .iter()
        .copied()
        .chain(plan.changes.iter().filter_map(Change::pool))
    {
        there(book, pool, plan.from)?;
    }
    plan.changes
        .iter()
        .try_for_each(|change| other(book, plan, change))
}

fn span(plan: &Plan, now: Timestamp) -> Result<(), Problem> {
    let seconds = seconds_between(plan.from, plan.to);
    // A clock change may take an hour off a week.
    let least = DAYS_MIN * DAY_S - 3600;
    match () {
        () if plan.from > now => Err(Problem::ToCome),
        () if plan.to < plan.from => Err(Problem::Backwards),
        () if plan.to > now => Err(Problem::EndToCome),
        () if seconds < least => Err(Problem::Short),
        () if seconds > DAYS_MAX * DAY_S => Err(Problem::Long),
        () => Ok(()),
    }
}

fn there(book: &Book, pool: PoolId, from: Timestamp) -> Result<(), Problem> {
    if book.pool_at(pool, from).is_some() {
        return Ok(());
    }
    let set_up = book.entries().find(|entry| {
        matches!(entry.event, Event::Pool(of, PoolChange::Added { .. }) if of == pool)
            && !book.is_void(entry.seq)
    });
    match set_up {
        Some(entry) if entry.at > from => Err(Problem::PoolLater {
            pool,
            since: entry.at,
        }),
        _ => Err(Problem::NoPool(pool)),
    }
}

fn other(book: &Book, plan: &Plan, change: &Change) -> Result<(), Problem> {
    match *change {
        Change::With { pool, gear, proven } => match running(book, plan, pool, gear, proven) {
            Some(since) => Err(Problem::RunsAlready { pool, gear, since }),
            None => Ok(()),
        },
        Change::Without { pool, gear } => {
            let is_there = fitted(book.pool_at(pool, plan.from).as_ref(), gear).is_some()
                || told(
                    book,
                    plan,
                    |event| matches!(event, Event::Gear(of, what, GearChange::Added { .. }) if (*of, *what) == (pool, gear)),
                );
            is_there.then_some(()).ok_or(Problem::NeverThere { pool, gear })
        }
        Change::Litres(pool, litres) => {
            let is_same = book
                .pool_at(pool, plan.from)
                .is_some_and(|pool| pool.litres == litres)
                && !told(
                    book,
                    plan,
                    |event| matches!(event, Event::Pool(of, PoolChange::Litres(_)) if *of == pool),
                );
            (!is_same).then_some(()).ok_or(Problem::SameLitres(pool))
        }
        Change::Numbers(rule, numbers) => {
            let set = book
                .place_at(plan.from)
                .numbers
                .get(&rule)
                .map(|(numbers, _)| *numbers);
            let is_same = in_force(rule, set.unwrap_or_default()) == in_force(rule, numbers)
                && !told(
                    book,
                    plan,
                    |event| matches!(event, Event::Numbers(of, _) if *of == rule),
                );
            (!is_same).then_some(()).ok_or(Problem::SameNumbers(rule))
        }
    }
}

/// Since when a piece of gear runs through the whole span, proven where that is asked.
fn running(book: &Book, plan: &Plan, pool: PoolId, gear: Gear, proven: bool) -> Option<Timestamp> {
    let found = fitted(book.pool_at(pool, plan.from).as_ref(), gear)?;
    let stood = told(
        book,
        plan,
        |event| matches!(event, Event::Gear(of, what, change) if (*of, *what) == (pool, gear) && *change != GearChange::Proven),
    );
    let counts = found.stopped.is_none() && (!proven || found.proven.is_some());
    (counts && !stood).then_some(found.since)
}

/// Whether the journal says such a thing within the span.
fn told(book: &Book, plan: &Plan, says: impl Fn(&Event) -> bool) -> bool {
    book.entries().any(|entry| {
        plan.from < entry.at && entry.at <= plan.to && !book.is_void(entry.seq) && says(&entry.event)
    })
}

/// A rule's interval and limits with the place's own numbers in them.
fn in_force(rule: Rule, numbers: Numbers) -> impl PartialEq {
    let row = rule.row();
    (
        numbers.every.unwrap_or(row.every),
        numbers.grace_h.map_or(row.grace, crate::care::Grace::Hours),
        numbers.hazard_h.or(row.hazard_h),
    )
}
