//! `/rehearse`: the place's own past under another way of keeping. The first line is the verdict with its numbers.
//!
//! `rehearse/table` sets both keepings beside each other, `rehearse/told` is all that is said, `rehearse/no` what cannot be.

mod no;
mod table;
mod told;

use jiff::Timestamp;
use wrackline_core::care::Numbers;
use wrackline_core::civil::plus_days;
use wrackline_core::journal::{Event, PoolChange};
use wrackline_core::place::{Gear, Pool, PoolId};
use wrackline_core::rehearse::{Change, Plan, rehearse as replay, rule_of_changes};

use super::setup::duties;
use super::{Desk, Refused};
use crate::chat::blocks::Answer;
use crate::lines::ask::Rehearse;
use crate::msg;

/// How far back a rehearsal goes where nobody said, in days: eight weeks.
const BACK_DAYS: i64 = 56;

/// `/rehearse`
///
/// # Errors
/// One sentence about what cannot be rehearsed.
pub(super) fn rehearse(desk: &Desk<'_>, ask: &Rehearse) -> Result<Answer, Refused> {
    let plan = plan(desk, ask)?;
    let found =
        replay(desk.book(), &plan, desk.now()).map_err(|problem| no::problem(desk, &plan, &problem))?;
    Ok(told::answer(desk, &plan, &found))
}

fn plan(desk: &Desk<'_>, ask: &Rehearse) -> Result<Plan, Refused> {
    let to = ask.to.unwrap_or(desk.now());
    let from = match ask.from {
        Some(from) => from_set_up(desk, &ask.pools, from),
        None => back(desk, &ask.pools, to),
    };
    let mut changes = Vec::new();
    for id in &ask.pools {
        for gear in [Gear::Air, Gear::Filter] {
            let (with, without) = (ask.with.contains(&gear), ask.without.contains(&gear));
            if with && without {
                return Err(msg!("rehearse-no-both", with = told::with(desk, gear, false)));
            }
            let proven = ask.proven && gear == Gear::Filter;
            changes.extend(with.then_some(Change::With {
                pool: *id,
                gear,
                proven,
            }));
            changes.extend(without.then_some(Change::Without { pool: *id, gear }));
        }
        changes.extend(ask.litres.map(|litres| Change::Litres(*id, litres)));
    }
    changes.extend(numbers(desk, ask, &changes, from)?);
    Ok(Plan {
        changes,
        pools: ask.pools.clone(),
        from,
        to,
    })
}

/// Eight weeks before the end of the span, but no earlier than what is asked of was set up.
fn back(desk: &Desk<'_>, pools: &[PoolId], to: Timestamp) -> Timestamp {
    let zone = &desk.place().zone;
    let weeks = zone.day_start(plus_days(zone.date(to), -BACK_DAYS));
    set_up(desk, pools).map_or(weeks, |first| first.max(weeks))
}

/// A day that was said; the one on which what is asked of was set up begins with that.
fn from_set_up(desk: &Desk<'_>, pools: &[PoolId], from: Timestamp) -> Timestamp {
    let zone = &desk.place().zone;
    let day = zone.date(from);
    if from != zone.day_start(day) {
        return from;
    }
    let first = set_up(desk, pools).filter(|first| zone.date(*first) == day);
    first.unwrap_or(from)
}

/// When what is asked of was set up: the last of the pools, or the first enclosure where no pool is named.
fn set_up(desk: &Desk<'_>, pools: &[PoolId]) -> Option<Timestamp> {
    let added = |pool: &PoolId| {
        desk.book().entries().find_map(|entry| match entry.event {
            Event::Pool(id, PoolChange::Added { .. }) if id == *pool && !desk.book().is_void(entry.seq) => {
                Some(entry.at)
            }
            _ => None,
        })
    };
    if pools.is_empty() {
        desk.place().enclosures.values().map(|one| one.since).min()
    } else {
        pools.iter().filter_map(added).max()
    }
}

/// Other numbers, of the rule that was said or of the one by which the pools' changes go.
fn numbers(
    desk: &Desk<'_>,
    ask: &Rehearse,
    changes: &[Change],
    from: Timestamp,
) -> Result<Option<Change>, Refused> {
    if ask.numbers == Numbers::default() {
        return Ok(None);
    }
    let pools = ask.pools.iter().filter_map(|id| desk.book().pool_at(*id, from));
    let mut rules: Vec<_> = pools.map(|pool: Pool| rule_of_changes(&pool, changes)).collect();
    rules.dedup();
    let rule = match (ask.rule, rules.as_slice()) {
        (Some(rule), _) => rule,
        (None, [rule]) => *rule,
        (None, []) => return Ok(None),
        (None, _) => return Err(msg!("rehearse-no-one-rule")),
    };
    let set = desk
        .book()
        .place_at(from)
        .numbers
        .get(&rule)
        .map(|(numbers, _)| *numbers);
    let numbers = duties::joined(desk, rule, ask.numbers, set.unwrap_or_default())?;
    Ok(Some(Change::Numbers(rule, numbers)))
}
