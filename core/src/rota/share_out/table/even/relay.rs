//! Published turns moved one after the other: someone whose day is full takes one that few can do, and others take what
//! makes room for it.

use std::collections::BTreeMap;

use super::super::GAIN_MIN;
use super::{Part, Table, Together, day};

impl Table {
    /// What is moved so that someone's day has room for a part, that part first, with what all of it costs beside that it
    /// leaves its owner; `None` where there is no way, or it takes more turns than may be moved.
    pub(super) fn make_room_by_moves(
        &self,
        parts: &[Part],
        hands: &BTreeMap<Together, Vec<usize>>,
        (at, to): (usize, usize),
        turns_max: usize,
    ) -> Option<(f64, Vec<(usize, usize)>)> {
        let part = &parts[at];
        let date = part.key.date;
        let load = &self.loads[to];
        let on = day(self.today, date);
        let mut over = load.days[on] + part.minutes - load.most?;
        let mut theirs: Vec<usize> = (0..parts.len())
            .filter(|other| parts[*other].owner == to && parts[*other].key.date == date)
            .filter(|other| parts[*other].turns.len() == 1)
            .collect();
        theirs.sort_by(|a, b| parts[*b].minutes.total_cmp(&parts[*a].minutes));
        let (mut cost, mut given, mut turns) = (0.0, 0.0, part.turns.len());
        let mut steps = vec![(at, to)];
        let mut taken: BTreeMap<usize, f64> = BTreeMap::new();
        for other in theirs {
            if over <= GAIN_MIN || turns >= turns_max {
                break;
            }
            let one = &parts[other];
            let hands = &hands[&one.key];
            let others = one.can.iter().copied().filter(|who| *who != to);
            let has_room = |who: &usize| {
                let more = taken.get(who).copied().unwrap_or_default();
                self.loads[*who].has_room(on, one.minutes + more)
            };
            let costs = |who: usize| self.loads[who].rise(one.load()) + self.adds(hands, who);
            let best = others
                .filter(has_room)
                .min_by(|a, b| costs(*a).total_cmp(&costs(*b)));
            let Some(who) = best else { continue };
            cost += costs(who) + self.price(one, hands);
            *taken.entry(who).or_default() += one.minutes;
            given += one.load();
            over -= one.minutes;
            turns += 1;
            steps.push((other, who));
        }
        cost += load.rise(part.load() - given);
        (over <= GAIN_MIN && turns <= turns_max).then_some((cost, steps))
    }
}
