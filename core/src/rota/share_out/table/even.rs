//! Published turns moved, where loads are far from even or a round of an enclosure lies in more hands than need be.

use std::collections::BTreeMap;

use super::{SPLIT, Table, day};
use crate::journal::When;
use crate::place::Carer;
use crate::rota::share_out::Draft;
use crate::rota::share_out::group::Together;

/// Loads with this index or more are even enough for published turns to stay where they lie. Common practice, no
/// published source.
const ENOUGH: f64 = 0.985;

/// What it costs to move a published turn, in minutes of the measure. Common practice, no published source.
const MOVE: f64 = 1.0;

/// So many turns are moved at a round, and of those that could be no more than a tenth. Common practice, no published
/// source.
const MOVES_MAX: usize = 6;

/// Once so many turns were moved at a round, none is moved any more only to put a round of an enclosure into fewer hands.
/// Common practice, no published source.
const JOINED_MAX: usize = 2;

/// Published turns of a round of an enclosure in one hand that could go to another.
struct Part {
    key: Together,
    owner: usize,
    minutes: f64,
    /// As places in the draft's list.
    turns: Vec<usize>,
    can: Vec<usize>,
}

impl Table {
    /// Moves published turns for as long as loads are far from even and each move makes them much evener, the best one
    /// first, and then a few that lie alone to whoever has others of that round there; whether any moved. They are few, so that all of a debt may count here.
    pub(in crate::rota::share_out) fn even_out(&mut self, draft: &mut Draft<'_>) -> bool {
        let put_off: Vec<f64> = self.loads.iter().map(|load| load.put_off).collect();
        for load in &mut self.loads {
            load.balance -= std::mem::take(&mut load.put_off);
        }
        let moved = self.move_some(draft);
        for (load, put_off) in self.loads.iter_mut().zip(put_off) {
            load.put_off = put_off;
            load.balance += put_off;
        }
        for (turn, to) in &moved {
            draft.turns[*turn].carer = Some(self.carers[*to]);
        }
        self.read_hands(draft);
        !moved.is_empty()
    }

    /// Which turns go to whom.
    fn move_some(&mut self, draft: &Draft<'_>) -> Vec<(usize, usize)> {
        let mut moved = Vec::new();
        let mut hands = self.hands(draft);
        let mut parts = self.movable(draft);
        let most = parts
            .iter()
            .filter(|part| part.turns.len() == 1)
            .count()
            .div_ceil(10)
            .min(MOVES_MAX);
        loop {
            parts.retain(|part| moved.len() + part.turns.len() <= most);
            let joins = self.index(0.0) >= ENOUGH;
            if joins && moved.len() >= JOINED_MAX {
                break;
            }
            let Some((at, to)) = self.best_move(&parts, &hands, joins) else {
                break;
            };
            let part = parts.swap_remove(at);
            let day = day(self.today, part.key.date);
            self.loads[part.owner].take(day, -part.minutes);
            self.loads[to].take(day, part.minutes);
            let hands = hands.entry(part.key).or_default();
            for turn in &part.turns {
                moved.push((*turn, to));
                if let Some(hand) = hands.iter_mut().find(|hand| **hand == part.owner) {
                    *hand = to;
                }
            }
            parts.retain(|other| !other.turns.iter().any(|turn| part.turns.contains(turn)));
        }
        moved
    }

    /// In whose hands the turns of each round of an enclosure lie, each turn's once.
    fn hands(&self, draft: &Draft<'_>) -> BTreeMap<Together, Vec<usize>> {
        let mut hands: BTreeMap<Together, Vec<usize>> = BTreeMap::new();
        for (index, turn) in draft.turns.iter().enumerate() {
            let owner = turn
                .carer
                .and_then(|carer| self.carers.binary_search(&carer).ok());
            if let Some(owner) = owner {
                hands.entry(draft.key(index)).or_default().push(owner);
            }
        }
        hands
    }

    /// What could be moved: every published turn that comes no sooner than in a day and has no other of its slot behind it,
    /// and all such turns of a round of an enclosure in one hand.
    fn movable(&self, draft: &Draft<'_>) -> Vec<Part> {
        let carers: Vec<&Carer> = draft.place.carers.values().collect();
        let several = draft.several();
        let mut there: BTreeMap<When, Vec<usize>> = BTreeMap::new();
        let mut singles: BTreeMap<(Together, usize), Vec<Part>> = BTreeMap::new();
        for (index, turn) in draft.turns.iter().enumerate() {
            if several.contains(&turn.expected.slot) {
                continue;
            }
            let owner = draft.movable_from(index);
            let Some(owner) = owner.and_then(|owner| self.carers.binary_search(&owner).ok()) else {
                continue;
            };
            let when = turn.expected.when;
            let there = there.entry(when).or_insert_with(|| draft.there(&carers, &when));
            let key = draft.key(index);
            singles.entry((key, owner)).or_default().push(Part {
                key,
                owner,
                minutes: turn.expected.work.minutes,
                turns: vec![index],
                can: draft.can(&carers, there, index),
            });
        }
        let mut all: Vec<Part> = singles
            .values()
            .filter(|parts| parts.len() > 1)
            .map(|parts| whole(parts))
            .collect();
        all.extend(singles.into_values().flatten());
        all
    }

    /// The move that makes loads evenest, and to whom; `None` where none is worth its price. `joins`: only one that puts a
    /// round of an enclosure into fewer hands.
    fn best_move(
        &self,
        parts: &[Part],
        hands: &BTreeMap<Together, Vec<usize>>,
        joins: bool,
    ) -> Option<(usize, usize)> {
        let mut best = None;
        let mut most = 0.0;
        let (split, price) = (self.customs * SPLIT, self.customs * MOVE);
        for (at, part) in parts.iter().enumerate() {
            let hands = &hands[&part.key];
            let is_all = hands.iter().filter(|hand| **hand == part.owner).count() == part.turns.len();
            if joins && !is_all {
                continue;
            }
            let leaves = if is_all { split } else { 0.0 };
            let gain = leaves - self.loads[part.owner].rise(-part.minutes) - price * part.turns.len() as f64;
            let day = day(self.today, part.key.date);
            let others = part.can.iter().copied().filter(|to| *to != part.owner);
            for to in others.filter(|to| !joins || hands.contains(to)) {
                let adds = if hands.contains(&to) { 0.0 } else { split };
                let gain = gain - self.loads[to].rise(part.minutes) - adds;
                if gain > most && self.loads[to].has_room(day, part.minutes) {
                    (most, best) = (gain, Some((at, to)));
                }
            }
        }
        best
    }
}

/// All of these as one.
fn whole(parts: &[Part]) -> Part {
    let (first, rest) = (&parts[0], &parts[1..]);
    let can = first.can.iter().copied();
    Part {
        key: first.key,
        owner: first.owner,
        minutes: parts.iter().map(|part| part.minutes).sum(),
        turns: parts.iter().flat_map(|part| part.turns.clone()).collect(),
        can: can
            .filter(|carer| rest.iter().all(|part| part.can.contains(carer)))
            .collect(),
    }
}
