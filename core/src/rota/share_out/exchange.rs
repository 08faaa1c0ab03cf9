//! Turns exchanged where work done early or late has re-dated them.
//!
//! A turn keeps its owner when it is re-dated; one who is not there on the new day, or has no time left then, cannot keep
//! it. Whoever gets it gives another turn of that duty in return, which lies now where the first one did: everyone keeps
//! their days, and nobody gains or loses minutes.

use std::collections::BTreeMap;

use super::Draft;
use crate::care::Duty;
use crate::place::{Carer, CarerId, Target};
use crate::rota::{Able, able, gave_up};

impl Draft<'_> {
    /// Exchanges every coming turn whose owner cannot keep it where it lies now for another of that duty, the nearest that
    /// both can do; which, and whose each was.
    pub(super) fn exchange(&mut self) -> BTreeMap<usize, CarerId> {
        let mut all = BTreeMap::new();
        let mut chains: BTreeMap<(Duty, Target), Vec<usize>> = BTreeMap::new();
        for (index, turn) in self.turns.iter().enumerate().filter(|(_, turn)| !turn.follows) {
            let slot = turn.expected.slot;
            chains.entry((slot.duty, slot.target)).or_default().push(index);
        }
        for chain in chains.values() {
            for place in 0..chain.len() {
                all.extend(self.exchange_one(chain, place).into_iter().flatten());
            }
        }
        all
    }

    fn exchange_one(&mut self, chain: &[usize], place: usize) -> Option<[(usize, CarerId); 2]> {
        let lost = chain[place];
        let loser = self.lost(lost)?;
        let mut others: Vec<usize> = (0..chain.len()).filter(|other| *other != place).collect();
        others.sort_by_key(|other| (other.abs_diff(place), *other));
        let fits = |other: &usize| {
            let other = chain[*other];
            let owner = self.movable_from(other).filter(|owner| *owner != loser)?;
            (self.could_have(loser, other) && self.could_have(owner, lost)).then_some((other, owner))
        };
        let (other, owner) = others.iter().find_map(fits)?;
        self.turns[lost].carer = Some(owner);
        self.turns[other].carer = Some(loser);
        Some([(lost, loser), (other, owner)])
    }

    /// Who had a coming turn, and has it no more because they are not there when it is to be done now, or their day is full.
    fn lost(&self, index: usize) -> Option<CarerId> {
        let turn = &self.turns[index];
        let loser = self.carer(turn.was.filter(|_| turn.carer.is_none())?)?;
        let is_full = || self.able(loser, index) == Able::Yes && !self.has_room(loser, index);
        (self.able(loser, index) == Able::NotThere || is_full()).then_some(loser.id)
    }

    fn carer(&self, id: CarerId) -> Option<&Carer> {
        self.place.carers.get(&id)
    }

    pub(super) fn able(&self, carer: &Carer, index: usize) -> Able {
        let expected = &self.turns[index].expected;
        able(self.book, carer, &expected.work.needs, &expected.when, self.now)
    }

    /// Whether someone can do a turn, did not give it up, and has time for it that day.
    fn could_have(&self, carer: CarerId, index: usize) -> bool {
        let expected = &self.turns[index].expected;
        self.carer(carer).is_some_and(|carer| {
            self.able(carer, index) == Able::Yes
                && !gave_up(self.book, expected, carer.id, self.now)
                && self.has_room(carer, index)
        })
    }

    fn has_room(&self, carer: &Carer, index: usize) -> bool {
        carer.minutes_max.is_none_or(|most| {
            let date = self.turns[index].expected.when.date;
            let theirs = self.turns.iter().filter(|turn| turn.carer == Some(carer.id));
            let on_day = theirs.filter(|turn| turn.expected.when.date == date && !turn.follows);
            let used: f64 = on_day.map(|turn| turn.expected.work.minutes).sum();
            used + self.minutes(index) <= f64::from(most)
        })
    }
}
