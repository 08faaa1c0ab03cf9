//! What an assignment costs at the least where a minute has one price for each person.
//!
//! A set of people can take of a day's turns no more than any cut lets through: for each choice among those with a limit,
//! their limits, and all turns that somebody else of the set could do (max-flow, min-cut). What sets can take is
//! submodular, so that it costs least to give as much as they can take to the cheapest, then to the two cheapest together,
//! and so on (the greedy algorithm on a polymatroid: Edmonds 1970, "Submodular Functions, Matroids, and Certain
//! Polyhedra").

/// The limits of more people than this are not looked at on a day, so that the cuts stay few: it makes the least no greater.
const LIMITS_MAX: usize = 10;

/// Turns of a day that the same people could do.
pub(super) struct Lot {
    minutes: f64,
    /// Who could do them whatever else they do that day.
    free: Vec<usize>,
    /// Who could within their limit: a bit for each of the day's limits.
    within: u16,
}

/// A day's turns.
#[derive(Default)]
pub(super) struct Day {
    lots: Vec<Lot>,
    /// Who has a limit, and how many minutes it is.
    limits: Vec<(usize, f64)>,
    people: Vec<usize>,
}

impl Day {
    /// A day whose people have these limits.
    pub(super) fn new(mut limits: Vec<(usize, f64)>) -> Self {
        limits.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
        limits.truncate(LIMITS_MAX);
        Self {
            limits,
            ..Self::default()
        }
    }

    /// Adds turns that these could do; `true`: within their limit.
    pub(super) fn add(&mut self, minutes: f64, can: &[(usize, bool)]) {
        let (mut free, mut within) = (Vec::new(), 0);
        for (who, is_limited) in can {
            let limit = self.limits.iter().position(|(limited, _)| limited == who);
            match limit.filter(|_| *is_limited) {
                Some(limit) => within |= 1 << limit,
                None => free.push(*who),
            }
            if !self.people.contains(who) {
                self.people.push(*who);
            }
        }
        self.lots.push(Lot {
            minutes,
            free,
            within,
        });
    }

    /// Adds to everyone's minutes what is theirs of this day where it costs least; `rank`: everyone's place from the
    /// cheapest on.
    pub(super) fn give(&self, rank: &[usize], loads: &mut [f64]) {
        let mut people = self.people.clone();
        people.sort_by_key(|who| rank[*who]);
        let mut taken = 0.0;
        for who in people {
            let takes = self.takes(rank, rank[who]);
            loads[who] += takes - taken;
            taken = takes;
        }
    }

    /// The most that everyone up to a rank can take of the day.
    fn takes(&self, rank: &[usize], to: usize) -> f64 {
        let mut limited = 0_u16;
        for (limit, (who, _)) in self.limits.iter().enumerate() {
            limited |= u16::from(rank[*who] <= to) << limit;
        }
        let (mut free, mut lots) = (0.0, Vec::new());
        for lot in &self.lots {
            if lot.free.iter().any(|who| rank[*who] <= to) {
                free += lot.minutes;
            } else if lot.within & limited != 0 {
                lots.push((lot.within & limited, lot.minutes));
            }
        }
        let cut = |at_limit: u16| -> f64 {
            let limits = self.limits.iter().enumerate();
            let limits = limits.filter(|(limit, _)| at_limit >> limit & 1 == 1);
            let others = lots.iter().filter(|(within, _)| within & !at_limit != 0);
            limits.map(|(_, (_, most))| most).sum::<f64>() + others.map(|(_, minutes)| minutes).sum::<f64>()
        };
        // Every choice among those with a limit.
        let (mut least, mut at_limit) = (cut(0), limited);
        while at_limit != 0 {
            least = least.min(cut(at_limit));
            at_limit = (at_limit - 1) & limited;
        }
        free + least
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::Day;

    /// The minutes of a day, each with those who could do it and whether it counts towards their limit.
    type Minutes = Vec<Vec<(usize, bool)>>;

    /// The least that any assignment of whole minutes costs, everyone having so much of their day left.
    fn least(minutes: &[Vec<(usize, bool)>], costs: &[i32], left: &mut [u32]) -> i32 {
        let Some((first, rest)) = minutes.split_first() else {
            return 0;
        };
        let mut best = i32::MAX / 2;
        for (who, is_limited) in first {
            let counts = u32::from(*is_limited);
            if left[*who] >= counts {
                left[*who] -= counts;
                best = best.min(costs[*who] + least(rest, costs, left));
                left[*who] += counts;
            }
        }
        best
    }

    /// A day's lots: how many minutes, and who of three with limits could do them. The first person has none, so that there
    /// is always somebody, and for the third what they do does not count where it is their own.
    fn day(lots: &[(u32, u8)], limits: [u32; 3]) -> (Day, Minutes) {
        let limited = (1..=3).zip(limits.map(f64::from));
        let (mut day, mut minutes) = (Day::new(limited.collect()), Vec::new());
        for (count, who) in lots {
            let mut can = vec![(0, false)];
            can.extend(
                (1..=3)
                    .filter(|one| who >> one & 1 == 1)
                    .map(|one| (one, one != 3 || who & 1 == 0)),
            );
            day.add(f64::from(*count), &can);
            minutes.extend((0..*count).map(|_| can.clone()));
        }
        (day, minutes)
    }

    proptest! {
        #[test]
        fn no_assignment_costs_less(
            lots in prop::collection::vec((1..=3_u32, 0..16_u8), 1..=4),
            limits in prop::array::uniform3(0..=4_u32),
            costs in prop::array::uniform4(-4..=4_i32),
        ) {
            let (day, minutes) = day(&lots, limits);
            let mut order: Vec<usize> = (0..4).collect();
            order.sort_by_key(|who| costs[*who]);
            let mut rank = vec![0; 4];
            order.iter().enumerate().for_each(|(place, who)| rank[*who] = place);
            let mut loads = vec![0.0; 4];
            day.give(&rank, &mut loads);
            let mut left = vec![u32::MAX, limits[0], limits[1], limits[2]];
            let best = f64::from(least(&minutes, &costs, &mut left));
            let greedy: f64 = loads.iter().zip(costs).map(|(load, cost)| load * f64::from(cost)).sum();
            prop_assert!((greedy - best).abs() < 1e-9, "{greedy}, not {best}: {loads:?}");
            let all: f64 = loads.iter().sum();
            prop_assert!((all - minutes.len() as f64).abs() < 1e-9, "{loads:?}");
        }
    }
}
