//! Published turns moved, where loads are far from even or a round of an enclosure lies in more hands than need be.

mod relay;

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
    /// Minutes of those that follow them.
    more: f64,
    /// As places in the draft's list.
    turns: Vec<usize>,
    can: Vec<usize>,
}

impl Part {
    /// What whoever has it has to do, in minutes.
    fn load(&self) -> f64 {
        self.minutes + self.more
    }
}

impl Table {
    /// Moves published turns for as long as loads are far from even and each move makes them much evener, the best one
    /// first, and then a few that lie alone to whoever has others of that round there; whether any moved. They are few, so that
    /// all of a debt may count here.
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
            let Some(steps) = self.best_move(&parts, &hands, joins, most - moved.len()) else {
                break;
            };
            for (at, to) in steps {
                self.move_part(&parts[at], to, &mut hands);
                moved.extend(parts[at].turns.iter().map(|turn| (*turn, to)));
            }
            let is_moved = |turn: &usize| moved.iter().any(|(moved, _)| moved == turn);
            parts.retain(|part| !part.turns.iter().any(is_moved));
        }
        moved
    }

    fn move_part(&mut self, part: &Part, to: usize, hands: &mut BTreeMap<Together, Vec<usize>>) {
        let day = day(self.today, part.key.date);
        self.loads[part.owner].take(day, -part.minutes, -part.more);
        self.loads[to].take(day, part.minutes, part.more);
        let hands = hands.entry(part.key).or_default();
        for _ in &part.turns {
            if let Some(hand) = hands.iter_mut().find(|hand| **hand == part.owner) {
                *hand = to;
            }
        }
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

    /// What could be moved: every published turn that comes no sooner than in a day, with those that follow it, and all such
    /// turns of a round of an enclosure in one hand.
    fn movable(&self, draft: &Draft<'_>) -> Vec<Part> {
        let carers: Vec<&Carer> = draft.place.carers.values().collect();
        let following = draft.following();
        let mut there: BTreeMap<When, Vec<usize>> = BTreeMap::new();
        let mut singles: BTreeMap<(Together, usize), Vec<Part>> = BTreeMap::new();
        for (index, turn) in draft.turns.iter().enumerate() {
            let owner = draft.movable_from(index).filter(|_| !turn.follows);
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
                more: following.get(&turn.expected.slot).copied().unwrap_or_default(),
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

    /// What is moved so that loads get evenest, as places in the list and to whom; `None` where nothing is worth its price.
    /// `joins`: only what puts a round of an enclosure into fewer hands. `turns_max`: how many turns may be moved.
    fn best_move(
        &self,
        parts: &[Part],
        hands: &BTreeMap<Together, Vec<usize>>,
        joins: bool,
        turns_max: usize,
    ) -> Option<Vec<(usize, usize)>> {
        let mut best = None;
        let mut most = 0.0;
        for (at, part) in parts.iter().enumerate() {
            let hands_of = &hands[&part.key];
            if joins && !is_all(part, hands_of) {
                continue;
            }
            let leaves = -self.loads[part.owner].rise(-part.load()) - self.price(part, hands_of);
            let day = day(self.today, part.key.date);
            let others = part.can.iter().copied().filter(|to| *to != part.owner);
            for to in others.filter(|to| !joins || hands_of.contains(to)) {
                let gain = leaves - self.adds(hands_of, to);
                if self.loads[to].has_room(day, part.minutes) {
                    let gain = gain - self.loads[to].rise(part.load());
                    if gain > most {
                        (most, best) = (gain, Some(vec![(at, to)]));
                    }
                } else if !joins && gain - self.loads[to].rise(part.load()).min(0.0) > most {
                    let made = self.make_room_by_moves(parts, hands, (at, to), turns_max);
                    if let Some((cost, steps)) = made.filter(|(cost, _)| gain - cost > most) {
                        (most, best) = (gain - cost, Some(steps));
                    }
                }
            }
        }
        best
    }

    /// What it costs beside unevenness to take a part away from where it lies; less where its owner has nothing else there.
    fn price(&self, part: &Part, hands: &[usize]) -> f64 {
        let leaves = if is_all(part, hands) { SPLIT } else { 0.0 };
        self.customs * (MOVE * part.turns.len() as f64 - leaves)
    }

    /// What it costs that a round of an enclosure lies in someone's hands too.
    fn adds(&self, hands: &[usize], to: usize) -> f64 {
        if hands.contains(&to) {
            0.0
        } else {
            self.customs * SPLIT
        }
    }
}

/// Whether its owner has nothing else of that round there.
fn is_all(part: &Part, hands: &[usize]) -> bool {
    hands.iter().filter(|hand| **hand == part.owner).count() == part.turns.len()
}

/// All of these as one.
fn whole(parts: &[Part]) -> Part {
    let (first, rest) = (&parts[0], &parts[1..]);
    let can = first.can.iter().copied();
    Part {
        key: first.key,
        owner: first.owner,
        minutes: parts.iter().map(|part| part.minutes).sum(),
        more: parts.iter().map(|part| part.more).sum(),
        turns: parts.iter().flat_map(|part| part.turns.clone()).collect(),
        can: can
            .filter(|carer| rest.iter().all(|part| part.can.contains(carer)))
            .collect(),
    }
}
