//! What was left before a hazard, and how often turns were late.

use std::collections::BTreeSet;

use jiff::Timestamp;

use super::Plan;
use super::moments::{of_all, renewed};
use crate::care::{Duty, Mark, Standing, TurnKey, standing};
use crate::civil::{second_before, seconds_between};
use crate::journal::Book;
use crate::place::Target;

/// How a duty kept clear of its limits over a span.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Margin {
    /// The duty, as it was called when least was left.
    pub duty: Duty,
    /// Its target.
    pub target: Target,
    /// The least that was left before its hazard limit, in minutes, and when; below 0 once it was past it. It is that of turns
    /// that began in the span, where any did: one that was open before belongs to the keeping before. `None` where it has no
    /// such limit.
    pub least: Option<(i64, Timestamp)>,
    /// How many of its turns were late.
    pub overdue: u32,
    /// How many of its turns came to a hazard.
    pub hazards: u32,
}

/// The margins of all duties that a journal has in the span, in their order. They are looked at where they are smallest: right
/// before a deed, at every round, at changes of what is kept, and at the end.
pub(super) fn all(book: &Book, plan: &Plan, lanes: &[(Duty, Target)]) -> Vec<Margin> {
    let common = of_all(book, plan);
    let mut looks: Vec<Look> = lanes.iter().map(|_| Look::default()).collect();
    let mut moments: BTreeSet<(Timestamp, Option<usize>)> = common.iter().map(|at| (*at, None)).collect();
    for (at, lane) in (0..).zip(lanes) {
        let deeds = renewed(book, plan, *lane).map(|done| second_before(done.at));
        moments.extend(
            deeds
                .filter(|moment| *moment > plan.from)
                .map(|moment| (moment, Some(at))),
        );
    }
    for (moment, lane) in moments {
        let place = book.place_at(moment);
        for (at, (duty, target)) in (0..).zip(lanes) {
            if lane.is_none_or(|lane| lane == at)
                && let Some(found) = standing(book, &place, *duty, *target, moment)
            {
                looks[at].take(&found, moment, plan.from);
            }
        }
    }
    let margin = |(look, (_, target)): (Look, &(Duty, Target))| {
        Some(Margin {
            duty: look.duty?,
            target: *target,
            least: look.least.or(look.open),
            overdue: count(&look.overdue),
            hazards: count(&look.hazards),
        })
    };
    looks.into_iter().zip(lanes).filter_map(margin).collect()
}

#[derive(Default)]
struct Look {
    duty: Option<Duty>,
    /// The least of turns that began in the span.
    least: Option<(i64, Timestamp)>,
    /// The least of the turn that was open before.
    open: Option<(i64, Timestamp)>,
    overdue: BTreeSet<TurnKey>,
    hazards: BTreeSet<TurnKey>,
}

impl Look {
    fn take(&mut self, found: &Standing, moment: Timestamp, from: Timestamp) {
        let left = found
            .hazard
            .map(|hazard| seconds_between(moment, hazard).div_euclid(60));
        self.duty.get_or_insert(found.duty());
        let begun = found
            .anchor
            .last
            .or(found.anchor.not_needed)
            .is_some_and(|done| done.at > from);
        let least = if begun { &mut self.least } else { &mut self.open };
        if let Some(left) = left.filter(|left| least.is_none_or(|(least, _)| *left < least)) {
            *least = Some((left, moment));
            self.duty = Some(found.duty());
        }
        if found.mark >= Mark::Overdue {
            self.overdue.insert(found.turn);
        }
        if found.mark == Mark::Hazard {
            self.hazards.insert(found.turn);
        }
    }
}

fn count(turns: &BTreeSet<TurnKey>) -> u32 {
    u32::try_from(turns.len()).unwrap_or(u32::MAX)
}
