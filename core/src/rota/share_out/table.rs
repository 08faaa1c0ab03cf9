//! Who has what so far, and what it costs to give someone more.

mod asked;
mod cover;
mod even;
#[cfg(test)]
pub(super) mod made;
mod relay;
mod swap;

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil;

use super::Draft;
use super::group::{Free, Group, Together};
use crate::place::{Carer, CarerId, EnclosureId};
use crate::rota::jain;

/// What it costs to break with a habit, in minutes of the measure. Common practice, no published source.
const HABIT: f64 = 0.5;

/// What it costs to put an enclosure's turns of a round into one more hand: as much as it gains to move five minutes
/// between two who are a tenth of their share above and below it. Common practice, no published source.
const SPLIT: f64 = 2.0;

/// Loads with this index or more are even enough for customs to count in full, and with the other or less they count for
/// no more than so much. Common practice, no published source.
const EVEN: f64 = 0.99;
const UNEVEN: f64 = 0.95;
const CUSTOMS_MIN: f64 = 0.1;

/// What it costs that nobody has a turn that someone could do.
const NOBODY: f64 = 1e9;

/// Whoever owes less than this counts as owing it, in minutes: a single round of theirs shall not outweigh everyone's weeks.
const OWED_MIN: f64 = 15.0;

/// What is gained at the least by a change, so that rounding moves nothing.
const GAIN_MIN: f64 = 1e-6;

/// A turn, as the places of its group and in it.
type At = (usize, usize);

/// What someone has on their hands.
struct Load {
    balance: f64,
    /// What they owe beside the balance that is not asked of them at once.
    put_off: f64,
    owed: f64,
    /// What it costs that the balance is not nought, per minute squared.
    weight: f64,
    most: Option<f64>,
    /// Minutes by civil day, from today.
    days: Vec<f64>,
}

impl Load {
    /// What taking so many minutes more adds to the measure.
    fn rise(&self, minutes: f64) -> f64 {
        minutes * (2.0 * self.balance + minutes) * self.weight
    }

    /// What they did and have to do, in minutes.
    fn has(&self) -> f64 {
        self.balance - self.put_off + self.owed
    }

    fn has_room(&self, day: usize, minutes: f64) -> bool {
        self.most
            .is_none_or(|most| self.days[day] + minutes <= most + GAIN_MIN)
    }

    /// Takes so many minutes of a day, and more that follow.
    fn take(&mut self, day: usize, minutes: f64, more: f64) {
        self.balance += minutes + more;
        self.days[day] += minutes;
    }
}

pub(super) struct Table {
    carers: Vec<CarerId>,
    loads: Vec<Load>,
    pub(super) groups: Vec<Group>,
    today: civil::Date,
    /// How much habits, splits and moves count: less where loads are far from even.
    customs: f64,
    /// Whose the turns of a round of an enclosure are that were published before.
    pub(super) published: BTreeMap<Together, usize>,
    /// Whose enclosure it is by habit.
    habits: BTreeMap<EnclosureId, usize>,
}

impl Table {
    pub(super) fn new(draft: &Draft<'_>) -> Self {
        let carers: Vec<&Carer> = draft.place.carers.values().collect();
        let at: BTreeMap<CarerId, usize> = carers.iter().map(|carer| carer.id).zip(0..).collect();
        let today = draft.place.zone.date(draft.now);
        let days = draft
            .turns
            .last()
            .map_or(0, |turn| day(today, turn.expected.when.date))
            + 1;
        let prospects = draft.prospects();
        let of = |carer: &Carer| prospects.get(&carer.id).copied().unwrap_or_default();
        let owing: Vec<f64> = prospects
            .values()
            .map(|(credit, _)| credit.owed)
            .filter(|owed| *owed > 0.0)
            .collect();
        let mean = owing.iter().sum::<f64>() / owing.len().max(1) as f64;
        let load = |carer: &&Carer| Load {
            balance: of(carer).0.balance() + of(carer).1,
            put_off: of(carer).1,
            weight: mean / of(carer).0.owed.max(OWED_MIN).powi(2),
            owed: of(carer).0.owed,
            most: carer.minutes_max.map(f64::from),
            days: vec![0.0; days],
        };
        let habits = draft.place.enclosures.values();
        let habits = habits.filter_map(|enclosure| Some((enclosure.id, *at.get(&enclosure.carer?)?)));
        let mut table = Self {
            loads: carers.iter().map(load).collect(),
            groups: draft.groups(&carers),
            today,
            customs: 1.0,
            published: BTreeMap::new(),
            habits: habits.collect(),
            carers: carers.iter().map(|carer| carer.id).collect(),
        };
        for turn in &draft.turns {
            // Those that follow another one get what time is left.
            let carer = turn.carer.filter(|_| !turn.follows);
            if let Some(carer) = carer.and_then(|carer| at.get(&carer)) {
                let date = turn.expected.when.date;
                table.loads[*carer].days[day(today, date)] += turn.expected.work.minutes;
            }
        }
        table.read_hands(draft);
        table.customs = ((table.index(table.undealt()) - UNEVEN) / (EVEN - UNEVEN)).clamp(CUSTOMS_MIN, 1.0);
        table
    }

    /// Those who owe anything.
    fn owing(&self) -> impl Iterator<Item = &Load> {
        self.loads.iter().filter(|load| load.owed > 0.0)
    }

    /// What part of all that is owed nobody has yet.
    fn undealt(&self) -> f64 {
        let owed: f64 = self.owing().map(|load| load.owed).sum();
        let has: f64 = self.owing().map(Load::has).sum();
        if owed > 0.0 {
            (1.0 - has / owed).max(0.0)
        } else {
            0.0
        }
    }

    /// Jain's index of what everyone has done and has to do beside what is theirs, with so much more of it done by each.
    fn index(&self, more: f64) -> f64 {
        jain(
            self.owing()
                .map(|load| (load.has() + more * load.owed, load.owed)),
        )
    }

    /// Takes up in whose hands the turns lie that are not given out here.
    fn read_hands(&mut self, draft: &Draft<'_>) {
        let dealt: BTreeSet<usize> = self.owners().map(|(turn, _)| turn).collect();
        let mut with: BTreeMap<Together, Vec<usize>> = BTreeMap::new();
        self.published.clear();
        for (index, turn) in draft.turns.iter().enumerate() {
            let carer = turn.carer.filter(|_| !dealt.contains(&index));
            if let Some(carer) = carer.and_then(|carer| self.carers.binary_search(&carer).ok()) {
                let key = draft.key(index);
                self.published.entry(key).or_insert(carer);
                with.entry(key).or_default().push(carer);
            }
        }
        for group in &mut self.groups {
            group.with = with.remove(&group.key).unwrap_or_default();
        }
    }

    /// Whose each turn is that was given out.
    pub(super) fn owners(&self) -> impl Iterator<Item = (usize, Option<CarerId>)> {
        let turns = self.groups.iter().flat_map(|group| &group.turns);
        turns.map(|free| (free.turn, free.owner.map(|owner| self.carers[owner])))
    }

    /// Who does a group's turns by habit: the enclosure's own carer, else whoever has them a week earlier.
    fn habit(&self, group: usize) -> Option<usize> {
        let key = self.groups[group].key;
        if let Some(habit) = key.enclosure.and_then(|id| self.habits.get(&id)) {
            return Some(*habit);
        }
        let week_ago = key.week_ago();
        if let Some(carer) = self.published.get(&week_ago) {
            return Some(*carer);
        }
        let at = self
            .groups
            .binary_search_by_key(&week_ago, |group| group.key)
            .ok()?;
        self.groups[at].turns.first()?.owner
    }

    /// What the hands of a group cost beside unevenness.
    fn custom(&self, group: usize, habit: Option<usize>) -> f64 {
        let Group { turns, with, .. } = &self.groups[group];
        let mut hands: Vec<usize> = turns.iter().filter_map(|free| free.owner).collect();
        hands.extend(with);
        hands.sort_unstable();
        hands.dedup();
        let others = hands
            .iter()
            .filter(|hand| habit.is_some_and(|habit| habit != **hand))
            .count();
        self.customs * (hands.len().saturating_sub(1) as f64 * SPLIT + others as f64 * HABIT)
    }

    /// How uneven loads are: m·Σ(balance/owed)², m the mean of what is owed, in minutes.
    fn uneven(&self) -> f64 {
        let all = self
            .loads
            .iter()
            .map(|load| load.balance * load.balance * load.weight);
        all.sum()
    }

    /// How many turns of a group nobody has though someone could do them, had they the time.
    fn left(&self, group: usize) -> usize {
        let turns = self.groups[group].turns.iter();
        turns
            .filter(|free| free.owner.is_none() && !free.can.is_empty())
            .count()
    }

    /// What is to be least while a group is given out.
    fn score(&self, group: usize, habit: Option<usize>) -> f64 {
        self.uneven() + self.custom(group, habit) + self.left(group) as f64 * NOBODY
    }

    /// Of all groups: how many turns nobody has though someone could do them, and the measure.
    pub(super) fn measure(&self) -> (usize, f64) {
        let groups = 0..self.groups.len();
        let custom = groups.clone().map(|group| self.custom(group, self.habit(group)));
        let measure = self.uneven() + custom.sum::<f64>();
        (groups.map(|group| self.left(group)).sum(), measure)
    }

    /// Every turn that is to be given out, as places of its group and in it, with those who can do it.
    pub(super) fn free(&self) -> Vec<(usize, usize, Vec<usize>)> {
        let of = |(group, of): (usize, &Group)| {
            let turns = of.turns.iter().enumerate();
            turns
                .map(|(turn, free)| (group, turn, free.can.clone()))
                .collect::<Vec<_>>()
        };
        self.groups.iter().enumerate().flat_map(of).collect()
    }

    /// Whether someone's day has room for a turn that nobody has.
    pub(super) fn has_room(&self, group: usize, free: usize, carer: usize) -> bool {
        let of = &self.groups[group];
        self.loads[carer].has_room(day(self.today, of.key.date), of.turns[free].minutes)
    }

    /// Whether a turn that these can do may lie with nobody, since each of them has a day that may be full.
    pub(super) fn may_lack_time(&self, can: &[usize]) -> bool {
        can.iter().all(|carer| self.loads[*carer].most.is_some())
    }

    /// Gives one turn to someone, or to nobody.
    pub(super) fn give(&mut self, group: usize, free: usize, owner: Option<usize>) {
        let day = day(self.today, self.groups[group].key.date);
        let one = &mut self.groups[group].turns[free];
        if let Some(before) = std::mem::replace(&mut one.owner, owner) {
            self.loads[before].take(day, -one.minutes, -one.more);
        }
        if let Some(owner) = owner {
            self.loads[owner].take(day, one.minutes, one.more);
        }
    }

    fn give_all(&mut self, group: usize, owners: &[Option<usize>]) {
        for (free, owner) in owners.iter().enumerate() {
            self.give(group, free, *owner);
        }
    }

    /// Gives a group anew: all of it to whoever is best, or turn by turn where that is better; whether that is better
    /// than what was.
    pub(super) fn give_out(&mut self, group: usize) -> bool {
        let habit = self.habit(group);
        let turns = &self.groups[group].turns;
        let (before, nobody) = (
            turns.iter().map(|free| free.owner).collect::<Vec<_>>(),
            vec![None; turns.len()],
        );
        let stay = self.score(group, habit);
        self.give_all(group, &nobody);
        let whole = self.best_of_all(group, habit);
        for free in 0..nobody.len() {
            let best = self.best(group, free, habit);
            self.give(group, free, best);
        }
        let mut score = self.score(group, habit);
        if let Some(whole) = whole.map(|carer| vec![Some(carer); nobody.len()]) {
            let singly: Vec<_> = self.groups[group].turns.iter().map(|free| free.owner).collect();
            self.give_all(group, &whole);
            let of_whole = self.score(group, habit);
            if score < of_whole {
                self.give_all(group, &singly);
            } else {
                score = of_whole;
            }
        }
        let is_better = score < stay - GAIN_MIN;
        if !is_better {
            self.give_all(group, &before);
        }
        is_better
    }

    /// Who is best for all turns of a group that nobody has.
    fn best_of_all(&self, group: usize, habit: Option<usize>) -> Option<usize> {
        let of = &self.groups[group];
        let (first, rest) = of.turns.split_first()?;
        let minutes: f64 = of.turns.iter().map(|free| free.minutes).sum();
        let load: f64 = of.turns.iter().map(Free::load).sum();
        let day = day(self.today, of.key.date);
        let all = first.can.iter().copied();
        let can = all.filter(|carer| {
            rest.iter().all(|free| free.can.contains(carer)) && self.loads[*carer].has_room(day, minutes)
        });
        let cost = |carer: usize| self.loads[carer].rise(load) + self.new_hand(group, carer, habit);
        can.min_by(|a, b| cost(*a).total_cmp(&cost(*b)))
    }

    /// Who is best for one turn that nobody has.
    fn best(&self, group: usize, free: usize, habit: Option<usize>) -> Option<usize> {
        let one = &self.groups[group].turns[free];
        let cost = |carer: usize| self.loads[carer].rise(one.load()) + self.new_hand(group, carer, habit);
        let all = one.can.iter().copied();
        let with_room = all.filter(|carer| self.has_room(group, free, *carer));
        with_room.min_by(|a, b| cost(*a).total_cmp(&cost(*b)))
    }

    /// What it costs beside unevenness that someone gets turns of a group too.
    fn new_hand(&self, group: usize, carer: usize, habit: Option<usize>) -> f64 {
        let Group { turns, with, .. } = &self.groups[group];
        let hands = || {
            with.iter()
                .copied()
                .chain(turns.iter().filter_map(|free| free.owner))
        };
        if hands().any(|hand| hand == carer) {
            return 0.0;
        }
        let split = if hands().next().is_some() { SPLIT } else { 0.0 };
        let other = if habit.is_some_and(|habit| habit != carer) {
            HABIT
        } else {
            0.0
        };
        self.customs * (split + other)
    }

    /// Gives every group anew, the others being as they are; whether any got better.
    pub(super) fn sweep(&mut self) -> bool {
        let mut changed = false;
        for group in 0..self.groups.len() {
            changed |= self.give_out(group);
        }
        changed
    }
}

/// So many days after today.
fn day(today: civil::Date, date: civil::Date) -> usize {
    let days = date.duration_since(today).as_hours() / 24;
    usize::try_from(days).unwrap_or(0)
}
