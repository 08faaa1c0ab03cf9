//! Groups of turns given out, then moved and swapped for as long as that makes loads evener.

use std::collections::BTreeMap;

use jiff::{Timestamp, civil};

use super::group::{Group, Together, groups, key};
use super::{SharedOut, There};
use crate::civil::plus_days;
use crate::journal::Book;
use crate::place::{CarerId, EnclosureId, Place};

/// What it costs to break with a habit, in minutes squared: a habit is worth an unevenness of five minutes. Common
/// practice, no published source.
const HABIT: f64 = 25.0;

/// What it costs to put an enclosure's turns of a round into two hands, in minutes squared.
const SPLIT: f64 = 400.0;

/// How often all turns are looked at again.
const SWEEPS_MAX: usize = 12;

/// Swaps are looked for among so many groups at most, so that the time stays in proportion to the turns.
const SWAPS_MAX: usize = 96;

/// What someone has on their hands.
#[derive(Clone, Debug)]
struct Load {
    balance: f64,
    share: f64,
    most: Option<f64>,
    by_day: BTreeMap<civil::Date, f64>,
}

impl Load {
    /// What taking so many minutes more adds to the measure.
    fn rise(&self, minutes: f64) -> f64 {
        ((self.balance + minutes).powi(2) - self.balance.powi(2)) / self.share
    }

    fn has_room(&self, date: civil::Date, minutes: f64) -> bool {
        let used = self.by_day.get(&date).copied().unwrap_or(0.0);
        self.most.is_none_or(|most| used + minutes <= most)
    }

    fn take(&mut self, date: civil::Date, minutes: f64) {
        self.balance += minutes;
        *self.by_day.entry(date).or_default() += minutes;
    }
}

struct Table {
    loads: BTreeMap<CarerId, Load>,
    groups: Vec<Group>,
    /// Whose each group is.
    owners: Vec<Option<CarerId>>,
    /// Whose the turns of a round of an enclosure are that were published before.
    published: BTreeMap<Together, CarerId>,
    /// Whose enclosure it is by habit.
    habits: BTreeMap<EnclosureId, CarerId>,
}

/// Gives out the turns that nobody has yet.
pub(crate) fn deal(book: &Book, place: &Place, now: Timestamp, shared: &mut SharedOut) {
    let mut table = Table::new(book, place, now, shared);
    for index in 0..table.groups.len() {
        let owner = table.best(index);
        table.give(index, owner);
    }
    for _ in 0..SWEEPS_MAX {
        if !table.sweep() && !table.swap() {
            break;
        }
    }
    for (group, owner) in table.groups.iter().zip(&table.owners) {
        for index in &group.turns {
            shared.turns[*index].carer = *owner;
        }
    }
}

impl Table {
    fn new(book: &Book, place: &Place, now: Timestamp, shared: &SharedOut) -> Self {
        let loads = place.carers.values().map(|carer| {
            let load = Load {
                balance: shared
                    .credits
                    .get(&carer.id)
                    .map_or(0.0, |credit| credit.balance()),
                share: carer.wants().max(0.01),
                most: carer.minutes_max.map(f64::from),
                by_day: BTreeMap::new(),
            };
            (carer.id, load)
        });
        let habits = place.enclosures.values();
        let habits = habits.filter_map(|enclosure| Some((enclosure.id, enclosure.carer?)));
        let groups = groups(book, place, now, shared);
        let mut table = Self {
            loads: loads.collect(),
            owners: vec![None; groups.len()],
            groups,
            published: BTreeMap::new(),
            habits: habits.collect(),
        };
        let mut there = There::new(book, place, now);
        for (index, turn) in shared.turns.iter().enumerate() {
            let (expected, minutes) = (&turn.expected, turn.expected.work.minutes);
            let shares = there.at(expected);
            let sum: f64 = shares.iter().map(|(_, share)| share).sum();
            for (carer, share) in shares {
                if let Some(load) = table.loads.get_mut(carer) {
                    load.balance -= minutes * share / sum;
                }
            }
            if let Some(carer) = turn.carer {
                table.published.entry(key(shared, index)).or_insert(carer);
                if let Some(load) = table.loads.get_mut(&carer) {
                    load.take(expected.when.date, minutes);
                }
            }
        }
        table
    }

    /// What it costs beside unevenness that someone gets a group.
    fn custom(&self, index: usize, carer: CarerId) -> f64 {
        let key = &self.groups[index].key;
        let split = self.published.get(key).is_some_and(|with| *with != carer);
        let habit = self.habit(key).is_some_and(|habit| habit != carer);
        f64::from(u8::from(split)) * SPLIT + f64::from(u8::from(habit)) * HABIT
    }

    /// Who does an enclosure's turns of a round by habit: its own carer, else whoever has them a week earlier.
    fn habit(&self, key: &Together) -> Option<CarerId> {
        if let Some(habit) = key.enclosure.and_then(|id| self.habits.get(&id)) {
            return Some(*habit);
        }
        let week_ago = Together {
            date: plus_days(key.date, -7),
            ..*key
        };
        if let Some(carer) = self.published.get(&week_ago) {
            return Some(*carer);
        }
        let at = self.groups.partition_point(|group| group.key < week_ago);
        let before = self.groups.get(at)?;
        self.owners[at].filter(|_| before.key == week_ago)
    }

    fn best(&self, index: usize) -> Option<CarerId> {
        let group = &self.groups[index];
        let cost = |carer: &CarerId| {
            let load = &self.loads[carer];
            load.rise(group.minutes) + self.custom(index, *carer)
        };
        let with_room = group
            .can
            .iter()
            .filter(|carer| self.loads[carer].has_room(group.key.date, group.minutes));
        with_room.copied().min_by(|a, b| cost(a).total_cmp(&cost(b)))
    }

    fn give(&mut self, index: usize, owner: Option<CarerId>) {
        let (date, minutes) = (self.groups[index].key.date, self.groups[index].minutes);
        if let Some(before) = self.owners[index].and_then(|id| self.loads.get_mut(&id)) {
            before.take(date, -minutes);
        }
        self.owners[index] = owner;
        if let Some(load) = owner.and_then(|id| self.loads.get_mut(&id)) {
            load.take(date, minutes);
        }
    }

    /// Gives every group to whoever is best, the others being as they are; whether any changed hands.
    fn sweep(&mut self) -> bool {
        let mut changed = false;
        for index in 0..self.groups.len() {
            let Some(before) = self.owners[index] else {
                continue;
            };
            self.give(index, None);
            let group = &self.groups[index];
            let (load, minutes) = (&self.loads[&before], group.minutes);
            let stay = load.rise(minutes) + self.custom(index, before);
            let best = self.best(index).filter(|best| {
                let better = self.loads[best].rise(minutes) + self.custom(index, *best);
                better < stay - 1e-6
            });
            changed |= best.is_some();
            self.give(index, Some(best.unwrap_or(before)));
        }
        changed
    }

    /// Swaps two groups of two people where that is evener; whether any were.
    fn swap(&mut self) -> bool {
        let first = self.groups.len().saturating_sub(SWAPS_MAX);
        let mut changed = false;
        for one in first..self.groups.len() {
            for other in one + 1..self.groups.len() {
                changed |= self.swap_two(one, other);
            }
        }
        changed
    }

    fn swap_two(&mut self, one: usize, other: usize) -> bool {
        let (Some(a), Some(b)) = (self.owners[one], self.owners[other]) else {
            return false;
        };
        let (first, second) = (&self.groups[one], &self.groups[other]);
        let gain = first.minutes - second.minutes;
        if a == b || gain == 0.0 || !first.can.contains(&b) || !second.can.contains(&a) {
            return false;
        }
        let uneven = self.loads[&a].rise(-gain) + self.loads[&b].rise(gain);
        let before = self.custom(one, a) + self.custom(other, b);
        let after = self.custom(one, b) + self.custom(other, a);
        if uneven + after - before > -1e-6 {
            return false;
        }
        self.give(one, None);
        self.give(other, None);
        let fits = |carer: CarerId, index: usize| {
            let group = &self.groups[index];
            self.loads[&carer].has_room(group.key.date, group.minutes)
        };
        let (one_to, other_to) = if fits(b, one) && fits(a, other) {
            (b, a)
        } else {
            (a, b)
        };
        self.give(one, Some(one_to));
        self.give(other, Some(other_to));
        one_to == b
    }
}
