//! What two people have is swapped where that is better.

use super::{GAIN_MIN, Table, day};
use crate::rota::share_out::group::Free;

/// Swaps are looked for among so many hands at most, so that the time stays in proportion to the turns.
const SWAPS_MAX: usize = 96;

/// The turns of a group that are in one hand.
#[derive(Clone, Copy)]
struct Part {
    group: usize,
    owner: usize,
    /// What whoever has it has to do, in minutes.
    load: f64,
}

impl Table {
    /// What is in one hand of each group, the last ones.
    fn parts(&self) -> Vec<Part> {
        let mut all = Vec::new();
        for (group, of) in self.groups.iter().enumerate().rev() {
            let mut owners: Vec<usize> = of.turns.iter().filter_map(|free| free.owner).collect();
            owners.sort_unstable();
            owners.dedup();
            all.extend(owners.into_iter().map(|owner| {
                let theirs = of.turns.iter().filter(|free| free.owner == Some(owner));
                Part {
                    group,
                    owner,
                    load: theirs.map(Free::load).sum(),
                }
            }));
            if all.len() >= SWAPS_MAX {
                break;
            }
        }
        all
    }

    /// Swaps what two people have where that is better; whether anything was.
    pub(in crate::rota::share_out) fn swap(&mut self) -> bool {
        let mut parts = self.parts();
        let mut changed = false;
        for one in 0..parts.len() {
            for other in one + 1..parts.len() {
                let (a, b) = (parts[one], parts[other]);
                let is_one = a.owner == b.owner || a.group == b.group;
                if !is_one && self.evens(a, b) && self.swap_two(a, b) {
                    (parts[one].owner, parts[other].owner) = (b.owner, a.owner);
                    changed = true;
                }
            }
        }
        changed
    }

    /// Whether loads are evener with two parts swapped.
    fn evens(&self, a: Part, b: Part) -> bool {
        let gain = b.load - a.load;
        self.loads[a.owner].rise(gain) + self.loads[b.owner].rise(-gain) < -GAIN_MIN
    }

    /// The places in its group, and the minutes to do, of a part that someone else can do; `None` where they cannot.
    fn goes_to(&self, part: Part, carer: usize) -> Option<(Vec<usize>, f64)> {
        let turns = &self.groups[part.group].turns;
        let of = |(_, free): &(usize, &Free)| free.owner == Some(part.owner);
        let (mut places, mut load) = (Vec::new(), 0.0);
        for (place, free) in turns.iter().enumerate().filter(of) {
            if !free.can.contains(&carer) {
                return None;
            }
            places.push(place);
            load += free.load();
        }
        Some((places, load)).filter(|(places, _)| !places.is_empty())
    }

    fn swap_two(&mut self, a: Part, b: Part) -> bool {
        let (Some((a_places, a_load)), Some((b_places, b_load))) =
            (self.goes_to(a, b.owner), self.goes_to(b, a.owner))
        else {
            return false;
        };
        let gain = b_load - a_load;
        let uneven = self.loads[a.owner].rise(gain) + self.loads[b.owner].rise(-gain);
        let (a_habit, b_habit) = (self.habit(a.group), self.habit(b.group));
        if uneven >= -GAIN_MIN {
            return false;
        }
        let before = self.custom(a.group, a_habit) + self.custom(b.group, b_habit);
        let give = |table: &mut Self, a_owner: usize, b_owner: usize| {
            a_places
                .iter()
                .for_each(|place| table.give(a.group, *place, Some(a_owner)));
            b_places
                .iter()
                .for_each(|place| table.give(b.group, *place, Some(b_owner)));
        };
        give(self, b.owner, a.owner);
        let after = self.custom(a.group, a_habit) + self.custom(b.group, b_habit);
        let fits = |part: Part, carer: usize| {
            self.loads[carer].has_room(day(self.today, self.groups[part.group].key.date), 0.0)
        };
        if uneven + after - before < -GAIN_MIN && fits(a, b.owner) && fits(b, a.owner) {
            return true;
        }
        give(self, a.owner, b.owner);
        false
    }
}
