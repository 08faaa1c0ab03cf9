//! What is to be given out: single turns, and which of them belong together.

use std::collections::BTreeMap;

use jiff::civil;

use super::{Draft, stays_free};
use crate::journal::When;
use crate::place::{Carer, EnclosureId, RoundId};
use crate::rota::{Able, able, gave_up};

/// Which turns belong together: those of one enclosure in one round.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Together {
    pub(super) date: civil::Date,
    pub(super) round: RoundId,
    pub(super) enclosure: Option<EnclosureId>,
}

impl Together {
    /// The same a week earlier.
    pub(super) fn week_ago(self) -> Self {
        Self {
            date: crate::civil::plus_days(self.date, -7),
            ..self
        }
    }
}

/// A turn that nobody has yet.
#[derive(Clone, Debug)]
pub(super) struct Free {
    /// Its place in the list.
    pub(super) turn: usize,
    pub(super) minutes: f64,
    /// Minutes of those that follow it, and lie where it does as far as a day has room.
    pub(super) more: f64,
    /// Those who can do it, as places in the list of carers, in order.
    pub(super) can: Vec<usize>,
    /// Whose it is to be.
    pub(super) owner: Option<usize>,
}

impl Free {
    /// What whoever gets it has to do, in minutes.
    pub(super) fn load(&self) -> f64 {
        self.minutes + self.more
    }
}

/// Turns that belong together, as far as nobody has them yet.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub(super) key: Together,
    pub(super) turns: Vec<Free>,
    /// Who has others of them already.
    pub(super) with: Vec<usize>,
}

impl Draft<'_> {
    /// The key of a turn.
    pub(super) fn key(&self, index: usize) -> Together {
        let expected = &self.turns[index].expected;
        Together {
            date: expected.when.date,
            round: expected.when.round,
            enclosure: expected.enclosure,
        }
    }

    /// The turns that are to be given out, those that belong together in a group, the longest first.
    pub(super) fn groups(&self, carers: &[&Carer]) -> Vec<Group> {
        let mut there: BTreeMap<When, Vec<usize>> = BTreeMap::new();
        let mut groups: BTreeMap<Together, Group> = BTreeMap::new();
        let (following, behind) = (self.following(), self.behind());
        for (index, turn) in self.turns.iter().enumerate() {
            if turn.carer.is_some()
                || turn.follows
                || stays_free(&self.hands[index], &turn.expected, self.now)
            {
                continue;
            }
            let when = turn.expected.when;
            let there = there.entry(when).or_insert_with(|| self.there(carers, &when));
            let key = self.key(index);
            let group = groups.entry(key).or_insert_with(|| Group {
                key,
                turns: Vec::new(),
                with: Vec::new(),
            });
            group.turns.push(Free {
                turn: index,
                minutes: turn.expected.work.minutes,
                more: following.get(&turn.expected.slot).copied().unwrap_or_default(),
                can: self.can_all(
                    carers,
                    self.can(carers, there, index),
                    behind.get(&turn.expected.slot),
                ),
                owner: None,
            });
        }
        let mut all: Vec<Group> = groups.into_values().collect();
        for group in &mut all {
            group.turns.sort_by(|a, b| b.minutes.total_cmp(&a.minutes));
        }
        all
    }

    /// Of those who can do a turn, who can do those that follow as well, where one of them has no limit of the day; else all.
    fn can_all(&self, carers: &[&Carer], can: Vec<usize>, behind: Option<&Vec<usize>>) -> Vec<usize> {
        let behind = behind.map_or(&[][..], Vec::as_slice);
        let is_able = |who: &usize| {
            behind
                .iter()
                .all(|index| self.able(carers[*who], *index) == Able::Yes)
        };
        let all: Vec<usize> = can.iter().copied().filter(is_able).collect();
        if all.iter().any(|who| carers[*who].minutes_max.is_none()) {
            all
        } else {
            can
        }
    }

    /// Who is there at a moment and shares the work.
    pub(super) fn there(&self, carers: &[&Carer], when: &When) -> Vec<usize> {
        let can = |carer: &Carer| {
            able(self.book, carer, &crate::rota::Needs::default(), when, self.now) == Able::Yes
        };
        (0..carers.len()).filter(|index| can(carers[*index])).collect()
    }

    /// Who of those who are there can do a turn and did not say that they cannot.
    pub(super) fn can(&self, carers: &[&Carer], there: &[usize], index: usize) -> Vec<usize> {
        let expected = &self.turns[index].expected;
        let gave_up = |carer: &Carer| gave_up(self.book, expected, carer.id, self.now);
        let can =
            |index: &usize| expected.work.needs.met_by(&carers[*index].can()) && !gave_up(carers[*index]);
        there.iter().copied().filter(can).collect()
    }
}
