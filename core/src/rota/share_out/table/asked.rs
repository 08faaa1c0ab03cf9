//! What is asked of a table for telling why.

use jiff::civil;

use super::{Load, Table, day};
use crate::place::CarerId;
use crate::rota::share_out::group::Group;
use crate::rota::{Credit, Expected};

impl Table {
    /// The group of a turn, and its place in it, where it is given out here.
    fn find(&self, turn: usize) -> Option<(usize, usize)> {
        let place = |of: &Group| of.turns.iter().position(|free| free.turn == turn);
        let mut all = self.groups.iter().enumerate();
        all.find_map(|(group, of)| Some((group, place(of)?)))
    }

    /// Whether someone has other turns that belong together with this one.
    pub(in crate::rota::share_out) fn has_others(&self, turn: usize, carer: CarerId) -> bool {
        let is_theirs = |owner: usize| self.carers[owner] == carer;
        self.find(turn).is_some_and(|(group, _)| {
            let Group { turns, with, .. } = &self.groups[group];
            let others = turns.iter().filter(|free| free.turn != turn);
            with.iter().any(|owner| is_theirs(*owner)) || others.filter_map(|free| free.owner).any(is_theirs)
        })
    }

    /// Takes a turn off whoever it was given to; whose it would be by habit.
    pub(in crate::rota::share_out) fn take_off(&mut self, turn: usize) -> Option<CarerId> {
        let (group, free) = self.find(turn)?;
        let habit = self.habit(group);
        self.give(group, free, None);
        habit.map(|habit| self.carers[habit])
    }

    /// Takes a turn off someone who had it before anything was given out.
    pub(in crate::rota::share_out) fn take_published(&mut self, carer: CarerId, expected: &Expected) {
        let day = day(self.today, expected.when.date);
        if let Ok(at) = self.carers.binary_search(&carer) {
            self.loads[at].take(day, -expected.work.minutes, 0.0);
        }
    }

    fn load(&self, carer: CarerId) -> Option<&Load> {
        let at = self.carers.iter().position(|one| *one == carer)?;
        self.loads.get(at)
    }

    /// What someone did and has to do, beside what is theirs.
    pub(in crate::rota::share_out) fn credit(&self, carer: CarerId) -> Credit {
        self.load(carer).map_or_else(Credit::default, |load| Credit {
            did: load.balance + load.owed,
            owed: load.owed,
        })
    }

    /// Whether someone's day has no room for so many minutes more.
    pub(in crate::rota::share_out) fn is_full(
        &self,
        carer: CarerId,
        date: civil::Date,
        minutes: f64,
    ) -> bool {
        let day = day(self.today, date);
        self.load(carer).is_some_and(|load| !load.has_room(day, minutes))
    }
}
