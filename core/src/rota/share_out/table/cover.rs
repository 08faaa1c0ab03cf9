//! Somebody found for turns that nobody has time for, where another turn of the day may lie elsewhere.

use super::{At, GAIN_MIN, Table, day};

impl Table {
    /// Gives turns that nobody has to someone whose day gets room by giving one other turn of it to somebody else, or by
    /// exchanging one for a shorter one; whether any found someone.
    pub(in crate::rota::share_out) fn cover(&mut self) -> bool {
        if (0..self.groups.len()).all(|group| self.left(group) == 0) {
            return false;
        }
        let mut found = false;
        for (group, free, can) in self.free() {
            if self.owner((group, free)).is_none() {
                found |= self.make_room((group, free), &can);
            }
        }
        found
    }

    pub(super) fn owner(&self, (group, free): At) -> Option<usize> {
        self.groups[group].turns[free].owner
    }

    /// The turns of a day that somebody has.
    pub(super) fn of_day(&self, of: usize) -> Vec<At> {
        let date = self.groups[of].key.date;
        let groups = self.groups.iter().enumerate();
        let groups = groups.filter(|(_, group)| group.key.date == date);
        let all = groups.flat_map(|(at, group)| (0..group.turns.len()).map(move |free| (at, free)));
        all.filter(|one| self.owner(*one).is_some()).collect()
    }

    /// Gives a turn to one of these, whose day gets room for it.
    fn make_room(&mut self, turn: At, can: &[usize]) -> bool {
        let all = self.of_day(turn.0);
        for one in &all {
            let Some(owner) = self.owner(*one).filter(|owner| can.contains(owner)) else {
                continue;
            };
            let others = self.groups[one.0].turns[one.1].can.clone();
            for to in others.into_iter().filter(|to| *to != owner) {
                let back = all.iter().copied().filter(|back| self.owner(*back) == Some(to));
                let back = back.filter(|(group, free)| self.groups[*group].turns[*free].can.contains(&owner));
                let back: Vec<Option<At>> = std::iter::once(None).chain(back.map(Some)).collect();
                if back
                    .into_iter()
                    .any(|back| self.exchange(turn, *one, back, (owner, to)))
                {
                    return true;
                }
            }
        }
        false
    }

    /// Gives one turn of an owner to another, who gives one back or none, and a third one to the owner; all stays as it was
    /// where a day gets too full.
    fn exchange(&mut self, turn: At, one: At, back: Option<At>, (owner, to): (usize, usize)) -> bool {
        let date = day(self.today, self.groups[turn.0].key.date);
        self.give(one.0, one.1, Some(to));
        if let Some(back) = back {
            self.give(back.0, back.1, Some(owner));
        }
        let load = &self.loads[to];
        let fits = load.most.is_none_or(|most| load.days[date] <= most + GAIN_MIN);
        if fits && self.has_room(turn.0, turn.1, owner) {
            self.give(turn.0, turn.1, Some(owner));
            return true;
        }
        self.give(one.0, one.1, Some(owner));
        if let Some(back) = back {
            self.give(back.0, back.1, Some(to));
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use super::super::made::table;
    use crate::rota::share_out::deal::improve;

    #[test]
    fn a_turn_that_nobody_has_time_for_finds_somebody_where_others_may_lie_elsewhere() {
        let check = |most: &[f64], minutes: &[f64], left: usize| {
            let people: Vec<(Option<f64>, f64)> = most.iter().map(|most| (Some(*most), 0.0)).collect();
            let all: Vec<usize> = (0..most.len()).collect();
            let turns = minutes.iter().map(|minutes| (*minutes, &all[..])).collect();
            let mut table = table(&people, vec![turns]);
            improve(&mut table);
            assert_eq!(table.measure().0, left, "{most:?} {minutes:?}");
            for (load, most) in table.loads.iter().zip(most) {
                assert!(load.days[0] <= most + 1e-6, "{most:?} {minutes:?}");
            }
        };
        // The longest first to either: only one way leaves room for both of the others.
        check(&[12.0, 10.0], &[10.0, 6.0, 6.0], 0);
        check(&[10.0, 12.0], &[10.0, 6.0, 6.0], 0);
        check(&[20.0, 9.0, 9.0], &[12.0, 9.0, 8.0, 8.0], 0);
        // Nothing makes room for more minutes than there are.
        check(&[12.0, 10.0], &[10.0, 6.0, 6.0, 6.0], 1);
    }
}
