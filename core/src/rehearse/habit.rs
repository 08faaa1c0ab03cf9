//! How punctual a place is, and who does what: read from its own journal.

use std::collections::BTreeMap;

use jiff::Timestamp;

use super::Plan;
use super::moments::renewed;
use crate::care::{Duty, anchor, standing};
use crate::civil::{second_before, seconds_between};
use crate::journal::{Book, Done, DoneKind};
use crate::place::{CarerId, Target};

/// How a duty was done in a span.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Habit {
    /// From due to done in seconds, in order; below 0 where it was early. Whatever renewed the duty counts.
    pub(super) delays: Vec<i64>,
    /// Who did it, how often.
    pub(super) doers: BTreeMap<CarerId, i64>,
    /// Whether it was readings that did it.
    pub(super) by_reading: bool,
}

impl Habit {
    /// The habit of one duty.
    pub(super) fn of(book: &Book, plan: &Plan, lane: (Duty, Target)) -> Self {
        let mut habit = Self::default();
        let mut others = BTreeMap::new();
        let mut last = None;
        for done in renewed(book, plan, lane).filter(|done| is_whole(book, lane, done)) {
            // Readings of one moment are one turn.
            if last.replace(done.at) == Some(done.at) {
                continue;
            }
            let is_own = done.duty.family() == lane.0;
            habit.by_reading |= is_own && done.kind == DoneKind::Read;
            *(if is_own { &mut habit.doers } else { &mut others })
                .entry(done.by)
                .or_insert(0) += 1;
            let moment = second_before(done.at);
            let turn = standing(book, &book.place_at(moment), lane.0, lane.1, moment);
            let due = turn.map(|turn| turn.due).filter(|due| *due < Timestamp::MAX);
            habit.delays.extend(due.map(|due| seconds_between(due, done.at)));
        }
        if habit.doers.is_empty() {
            habit.doers = others;
        }
        habit
    }

    /// The habit of a duty that the journal does not know: that of others, and none of it early.
    pub(super) fn like<'a>(others: impl Iterator<Item = &'a Self>) -> Self {
        let mut habit = Self::default();
        for other in others {
            habit
                .delays
                .extend(other.delays.iter().map(|delay| (*delay).max(0)));
            for (who, count) in &other.doers {
                *habit.doers.entry(*who).or_insert(0) += count;
            }
        }
        habit
    }

    /// Whether the journal tells nothing of it.
    pub(super) fn is_empty(&self) -> bool {
        self.delays.is_empty() || self.doers.is_empty()
    }

    /// From due to done of the n-th turn, in seconds: the journal's own, in order, and again from the first.
    pub(super) fn delay(&self, turn: usize) -> i64 {
        let at = turn.checked_rem(self.delays.len()).unwrap_or(0);
        self.delays.get(at).copied().unwrap_or(0)
    }

    /// Who does the next turn after those that were given: whoever is furthest behind their share.
    pub(super) fn doer(&self, given: &BTreeMap<CarerId, i64>) -> Option<CarerId> {
        let all: i64 = self.doers.values().sum();
        let turn: i64 = given.values().sum::<i64>() + 1;
        let behind = |who: &CarerId, count: i64| count * turn - given.get(who).copied().unwrap_or(0) * all;
        let mut best: Option<(i64, CarerId)> = None;
        for (who, count) in &self.doers {
            let one = behind(who, *count);
            if best.is_none_or(|(most, _)| one > most) {
                best = Some((one, *who));
            }
        }
        best.map(|(_, who)| who)
    }
}

/// Whether it did all of the duty: what did a part of it, or said that it needed none, tells of no punctuality.
fn is_whole(book: &Book, (duty, target): (Duty, Target), done: &Done) -> bool {
    let needed = !matches!(done.kind, DoneKind::NotNeeded { .. });
    needed && anchor::share(book, duty, target, done) >= anchor::WHOLE_FROM
}

#[cfg(test)]
mod tests {
    use super::*;

    fn habit(delays: &[i64], doers: &[(u32, i64)]) -> Habit {
        Habit {
            delays: delays.to_vec(),
            doers: doers.iter().map(|(who, count)| (CarerId(*who), *count)).collect(),
            by_reading: false,
        }
    }

    #[test]
    fn turns_are_given_in_the_proportions_of_the_journal() {
        let check = |doers: &[(u32, i64)], turns: usize, expected: &[(u32, i64)]| {
            let habit = habit(&[], doers);
            let mut given = BTreeMap::new();
            for _ in 0..turns {
                let who = habit.doer(&given).expect("somebody");
                *given.entry(who).or_insert(0) += 1;
            }
            let found: Vec<_> = given.into_iter().map(|(who, count)| (who.0, count)).collect();
            assert_eq!(found, expected, "{doers:?}");
        };
        check(&[(1, 3), (2, 1)], 8, &[(1, 6), (2, 2)]);
        check(&[(1, 14), (2, 14)], 5, &[(1, 3), (2, 2)]);
        check(&[(1, 1), (2, 1), (3, 1)], 7, &[(1, 3), (2, 2), (3, 2)]);
        check(&[(4, 2)], 3, &[(4, 3)]);
        assert_eq!(habit(&[], &[]).doer(&BTreeMap::new()), None);
    }

    #[test]
    fn delays_come_in_order_and_again() {
        let own = habit(&[600, -300], &[(1, 2)]);
        assert_eq!([0, 1, 2, 5].map(|turn| own.delay(turn)), [600, -300, 600, -300]);
        assert_eq!(habit(&[], &[]).delay(3), 0);
        // What the journal does not know is never early.
        let like = Habit::like([own, habit(&[60], &[(2, 1)])].iter());
        assert_eq!(like, habit(&[600, 0, 60], &[(1, 2), (2, 1)]));
    }
}
