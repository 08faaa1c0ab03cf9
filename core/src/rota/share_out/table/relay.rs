//! Turns handed on: someone whose day is full takes one that few can do, and others take what makes room for it.

use super::{At, GAIN_MIN, Table};

impl Table {
    /// Gives turns to people whose day gets room by giving others of it to somebody else, where that is better; whether any
    /// was.
    pub(in crate::rota::share_out) fn relay(&mut self) -> bool {
        let mut changed = false;
        for (group, free, can) in self.free() {
            for to in can {
                if self.would_even((group, free), to) && !self.has_room(group, free, to) {
                    changed |= self.hand_on((group, free), to);
                }
            }
        }
        changed
    }

    /// Whether loads were evener if somebody else had a turn.
    fn would_even(&self, (group, free): At, to: usize) -> bool {
        let load = self.groups[group].turns[free].load();
        let owner = self.owner((group, free)).filter(|owner| *owner != to);
        owner.is_some_and(|owner| self.loads[owner].rise(-load) + self.loads[to].rise(load) < -GAIN_MIN)
    }

    /// Gives a turn to someone, and so many of their others of that day to whoever is best that there is room for it; all
    /// stays as it was where that is no better.
    fn hand_on(&mut self, turn: At, to: usize) -> bool {
        let of_day = self.of_day(turn.0);
        let before: Vec<Option<usize>> = of_day.iter().map(|one| self.owner(*one)).collect();
        let stay = self.score_of(&of_day);
        let mut theirs: Vec<At> = of_day
            .iter()
            .copied()
            .filter(|one| self.owner(*one) == Some(to))
            .collect();
        theirs.sort_by(|a, b| self.minutes_of(*b).total_cmp(&self.minutes_of(*a)));
        self.give(turn.0, turn.1, None);
        let mut handed = Vec::new();
        for one in theirs {
            if self.has_room(turn.0, turn.1, to) {
                break;
            }
            self.give(one.0, one.1, None);
            handed.push(one);
        }
        if self.has_room(turn.0, turn.1, to) {
            self.give(turn.0, turn.1, Some(to));
            for (group, free) in &handed {
                let best = self.best(*group, *free, self.habit(*group));
                self.give(*group, *free, best);
            }
            if self.score_of(&of_day) < stay - GAIN_MIN {
                return true;
            }
        }
        for ((group, free), owner) in of_day.into_iter().zip(before) {
            self.give(group, free, owner);
        }
        false
    }

    fn minutes_of(&self, (group, free): At) -> f64 {
        self.groups[group].turns[free].minutes
    }

    /// What is to be least while turns of these groups are handed on.
    fn score_of(&self, turns: &[At]) -> f64 {
        let mut groups: Vec<usize> = turns.iter().map(|(group, _)| *group).collect();
        groups.dedup();
        let of = |group: usize| self.score(group, self.habit(group)) - self.uneven();
        self.uneven() + groups.into_iter().map(of).sum::<f64>()
    }
}

#[cfg(test)]
mod tests {
    use super::super::made::table;
    use crate::rota::share_out::deal::improve;

    #[test]
    fn a_full_day_gets_room_for_what_few_can_do() {
        // The second person has time for the long turn alone, which the third cannot do; the first has done much already.
        let check = |balances: [f64; 3], long: usize, short: usize| {
            let most = [None, Some(16.0), None];
            let people: Vec<(Option<f64>, f64)> = most.into_iter().zip(balances).collect();
            let mut table = table(&people, vec![vec![(15.0, &[1, 2])], vec![(16.0, &[0, 1])]]);
            improve(&mut table);
            let owners: Vec<Option<u32>> = table
                .owners()
                .map(|(_, owner)| owner.map(|one| one.0 - 1))
                .collect();
            let expected = [short, long].map(|one| u32::try_from(one).ok());
            assert_eq!(owners, expected, "{balances:?}");
        };
        check([20.0, -20.0, -12.0], 1, 2);
        // There is no use in it where the first has little.
        check([-20.0, -20.0, -12.0], 0, 1);
    }
}
