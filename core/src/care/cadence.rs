//! The rule in force for a duty at a moment, and why it is this one.

use jiff::Timestamp;

use super::{Basis, Duty, Every, Grace, Numbers, Rule, Schedule, catalogue::part_fraction};
use crate::journal::{Book, DoneKind};
use crate::place::{Fitted, Life, Place, Pool, Target};

/// How a duty recurs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Pace {
    /// After an interval; `first_round`: at the day's first round, whenever it was done.
    Interval {
        /// The interval.
        every: Every,
        /// At the day's first round.
        first_round: bool,
    },
    /// By a calendar.
    Calendar(Schedule),
}

/// One reason for a cadence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Because {
    /// The water stands still: neither air nor filter counts.
    Still,
    /// Air moves the water since then.
    Aerated(Timestamp),
    /// The filter's cycle is proven since then.
    Filtered(Timestamp),
    /// Air was fitted then, but no change was made under it yet, so the stricter cadence holds.
    AirWaits(Timestamp),
    /// The filter was proven then, but no change was made under it yet, so the stricter cadence holds.
    FilterWaits(Timestamp),
    /// A filter was fitted then; its cycle is not proven.
    FilterUnproven(Timestamp),
    /// What the filter had proven counts no longer since then.
    FilterLapsed(Timestamp),
    /// The air stands still since then.
    AirStopped(Timestamp),
    /// The filter stands still since then.
    FilterStopped(Timestamp),
    /// The pool cycles since then.
    Cycling(Timestamp),
    /// The place set these numbers then.
    SetByPlace(Timestamp),
}

/// The rule in force for a duty.
#[derive(Clone, Debug, PartialEq)]
pub struct Cadence {
    /// The row of the catalogue; `None` for a duty of the place's own.
    pub rule: Option<Rule>,
    /// How it recurs.
    pub pace: Pace,
    /// How long after due it is late.
    pub grace: Grace,
    /// Elapsed hours since the last one after which it is a hazard.
    pub hazard_h: Option<u32>,
    /// Minutes within which a second log is asked about.
    pub guard_min: u32,
    /// The fraction of the water that the duty itself asks for; 1 but for a part change.
    pub fraction: f64,
    /// What the numbers rest on.
    pub basis: Basis,
    /// The reasons, the deciding one first.
    pub because: Vec<Because>,
    /// Since when it has been in force, where something set it in force: a stop of gear, a number of the place.
    pub since: Option<Timestamp>,
    /// From when a duty never done counts.
    pub begun: Timestamp,
}

/// How a piece of gear counts at a moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Force {
    Absent,
    Stopped(Timestamp),
    Unproven(Timestamp),
    Lapsed(Timestamp),
    Waits(Timestamp),
    Runs(Timestamp),
}

fn force(book: &Book, pool: &Pool, fitted: Option<Fitted>, now: Timestamp) -> Force {
    let Some(fitted) = fitted else {
        return Force::Absent;
    };
    if let Some(stopped) = fitted.stopped {
        return Force::Stopped(stopped);
    }
    let Some(proven) = fitted.proven else {
        return fitted.lapsed.map_or(Force::Unproven(fitted.since), Force::Lapsed);
    };
    let changed_under_it = book
        .done_until(Duty::Change, Target::Pool(pool.id), now)
        .rev()
        .take_while(|done| done.at >= proven)
        .any(|done| matches!(done.kind, DoneKind::Did(_)));
    if proven <= pool.since || changed_under_it {
        Force::Runs(proven)
    } else {
        Force::Waits(proven)
    }
}

/// The rule of changes for a pool in use, its reasons, and since when a stop of gear holds it in force.
fn change_rule(book: &Book, pool: &Pool, now: Timestamp) -> (Rule, Vec<Because>, Option<Timestamp>) {
    let air = force(book, pool, pool.air, now);
    let filter = force(book, pool, pool.filter, now);
    let mut because = Vec::new();
    let mut since = pool.bared;
    let rule = match (filter, air) {
        (Force::Runs(at), _) => {
            because.push(Because::Filtered(at));
            Rule::PartChange
        }
        (_, Force::Runs(at)) => {
            because.push(Because::Aerated(at));
            Rule::ChangeAerated
        }
        _ => {
            // Air or a filter that only waits for its first change moves the water already.
            let waits = |force| matches!(force, Force::Waits(_));
            if !waits(air) && !waits(filter) {
                because.push(Because::Still);
            }
            Rule::ChangeStill
        }
    };
    match filter {
        Force::Stopped(at) => {
            because.push(Because::FilterStopped(at));
            since = since.max(Some(at));
        }
        Force::Unproven(at) => because.push(Because::FilterUnproven(at)),
        Force::Lapsed(at) => {
            because.push(Because::FilterLapsed(at));
            since = since.max(Some(at));
        }
        Force::Waits(at) => because.push(Because::FilterWaits(at)),
        Force::Absent | Force::Runs(_) => {}
    }
    match air {
        Force::Stopped(at) => {
            because.push(Because::AirStopped(at));
            since = since.max(Some(at));
        }
        Force::Waits(at) => because.push(Because::AirWaits(at)),
        _ => {}
    }
    (rule, because, since)
}

/// The fraction of the water that a change of this pool asked for at a moment: 1, or less when it was filtered.
#[must_use]
pub(super) fn fraction_asked(book: &Book, pool: &Pool, now: Timestamp) -> f64 {
    let (rule, _, _) = change_rule(book, pool, now);
    if rule == Rule::PartChange {
        part_fraction(pool.litres)
    } else {
        1.0
    }
}

/// The rule in force for a duty of a target at a moment; `None` when it has no such duty then. `place` must be
/// the book's place at that moment.
#[must_use]
pub fn cadence(book: &Book, place: &Place, duty: Duty, target: Target, now: Timestamp) -> Option<Cadence> {
    if let Duty::Own(id) = duty {
        return own(place, id, target);
    }
    let (rule, because, since, begun) = match target {
        Target::Place => return None,
        Target::Enclosure(id) => {
            let enclosure = place.enclosures.get(&id)?;
            let rule = match duty {
                Duty::Look => Rule::Look,
                Duty::Reading if !enclosure.sensor => Rule::Reading,
                Duty::Hygrometer => Rule::Hygrometer,
                _ => return None,
            };
            (rule, Vec::new(), None, enclosure.since)
        }
        Target::Pool(id) => pool_rule(book, place.pools.get(&id)?, duty, now)?,
    };
    let fraction = match target {
        Target::Pool(id) if rule == Rule::PartChange => part_fraction(place.pools[&id].litres),
        _ => 1.0,
    };
    let row = rule.row();
    let mut cadence = Cadence {
        rule: Some(rule),
        pace: Pace::Interval {
            every: row.every,
            first_round: row.first_round,
        },
        grace: row.grace,
        hazard_h: row.hazard_h,
        guard_min: row.guard_min,
        fraction,
        basis: row.basis,
        because,
        since,
        begun,
    };
    if let Some((numbers, set)) = place.numbers.get(&rule) {
        set_numbers(&mut cadence, *numbers, row.first_round, *set);
    }
    Some(cadence)
}

fn set_numbers(cadence: &mut Cadence, numbers: Numbers, first_round: bool, set: Timestamp) {
    if let Some(every) = numbers.every {
        cadence.pace = Pace::Interval { every, first_round };
    }
    if let Some(hours) = numbers.grace_h {
        cadence.grace = Grace::Hours(hours);
    }
    cadence.hazard_h = numbers.hazard_h.or(cadence.hazard_h);
    cadence.basis = Basis::Place;
    cadence.because.push(Because::SetByPlace(set));
    cadence.since = cadence.since.max(Some(set));
}

type PoolRule = (Rule, Vec<Because>, Option<Timestamp>, Timestamp);

fn pool_rule(book: &Book, pool: &Pool, duty: Duty, now: Timestamp) -> Option<PoolRule> {
    let cycling = match pool.life {
        Life::Cycling => true,
        Life::InUse => false,
        Life::Planned | Life::LeakTest | Life::OutOfUse => return None,
    };
    let plain = |rule| Some((rule, Vec::new(), None, pool.since));
    match duty {
        Duty::TopUp => plain(Rule::TopUp),
        Duty::Test => {
            let filter = pool.filter?;
            let begun = filter.since.max(pool.since);
            if cycling {
                Some((Rule::TestCycling, vec![Because::Cycling(pool.since)], None, begun))
            } else if filter.proven.is_none() {
                let because = filter
                    .lapsed
                    .map_or(Because::FilterUnproven(filter.since), Because::FilterLapsed);
                Some((Rule::TestCycling, vec![because], filter.lapsed, begun))
            } else {
                Some((Rule::Test, Vec::new(), None, begun))
            }
        }
        _ if cycling => None,
        Duty::Change | Duty::PartChange => {
            let (rule, because, since) = change_rule(book, pool, now);
            Some((rule, because, since, pool.since))
        }
        Duty::Condition => {
            let (rule, because, since) = change_rule(book, pool, now);
            (rule != Rule::PartChange).then_some((Rule::Condition, because, since, pool.since))
        }
        Duty::Rinse => {
            let filter = pool.filter?;
            Some((Rule::Rinse, Vec::new(), None, filter.since.max(pool.since)))
        }
        Duty::AirCheck => {
            let air = pool.air?;
            Some((Rule::AirCheck, Vec::new(), None, air.since.max(pool.since)))
        }
        Duty::LeakCheck if pool.nested => plain(Rule::LeakCheck),
        Duty::Scrub => plain(Rule::Scrub),
        _ => None,
    }
}

/// Minutes within which a second log of a place's own duty is asked about.
const OWN_GUARD_MIN: u32 = 60;

fn own(place: &Place, id: crate::place::OwnDutyId, target: Target) -> Option<Cadence> {
    let (duty, since) = place.duties.get(&id)?;
    if duty.target != target {
        return None;
    }
    let pace = match &duty.schedule {
        Schedule::Every(every) => Pace::Interval {
            every: *every,
            first_round: false,
        },
        calendar => Pace::Calendar(calendar.clone()),
    };
    Some(Cadence {
        rule: None,
        pace,
        grace: Grace::Hours(duty.grace_h),
        hazard_h: None,
        guard_min: OWN_GUARD_MIN,
        fraction: 1.0,
        basis: Basis::Place,
        because: Vec::new(),
        since: None,
        begun: *since,
    })
}
