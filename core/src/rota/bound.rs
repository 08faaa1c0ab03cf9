//! How even a span of time could have been at best: what skills, absences and daily minutes leave.
//!
//! Whatever was done may be given anew, in fractions even, to anyone who could do it then and whose day is not shorter
//! than the whole of it. Jain's index of loads `x`,
//! each divided by what was owed, is at most `θ` where `Σx ≤ √(θn)·‖x‖`. For any vector `u` of length one `‖x‖ ≥ u·x`, so
//! that `θ` is certified once the least of the linear `Σ(√(θn)·uᵢ − 1)·xᵢ` over all assignments is no less than zero; that
//! least is had by giving everything to whoever is cheapest, daily minutes having a price (a Lagrangian bound for any
//! price). `u` is the direction of an assignment found by filling up, turn by turn, whoever has least.

use std::collections::{BTreeMap, BTreeSet};

use jiff::{Timestamp, civil};

use super::credit::{Credit, crews, done_in, held, nearest};
use super::{Able, able, credits, work};
use crate::journal::Book;
use crate::place::{CarerId, Place};

/// How even loads could have been.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bound {
    /// No assignment has a Jain's index over this.
    pub most: f64,
    /// An assignment with fractions of turns that has this one.
    pub found: f64,
}

/// Turns of one day that the same people could do.
struct Lot {
    minutes: f64,
    /// Who could do them, as places in the list of those who owe anything, and the place of their limit of that day.
    can: Vec<(usize, Option<usize>)>,
    /// What each of them is given.
    given: Vec<f64>,
}

struct Lots {
    owed: Vec<f64>,
    all: Vec<Lot>,
    loads: Vec<f64>,
    /// Minutes of someone on a day: the most, and what is given.
    limits: Vec<(f64, f64)>,
}

/// How even the work of a span of time could have been among those who owed any of it, as far as is known at its end.
/// Work in excess of what someone's day allows counts as allowed where they did it.
#[must_use]
pub fn bound(book: &Book, place: &Place, from: Timestamp, to: Timestamp) -> Bound {
    let mut lots = Lots::new(book, place, from, to);
    if lots.owed.is_empty() || lots.all.is_empty() {
        return Bound {
            most: 1.0,
            found: 1.0,
        };
    }
    let mut aim = 1.0;
    for _ in 0..AIMS {
        for _ in 0..SWEEPS {
            lots.fill(aim);
        }
        let x = lots.x();
        aim = x.iter().map(|x| x * x).sum::<f64>() / x.iter().sum::<f64>();
    }
    let x = lots.x();
    let found = super::jain(x.iter().map(|x| (*x, 1.0)));
    Bound {
        most: lots.certified(&x, found),
        found,
    }
}

/// How often the aim is set anew, and how often all lots are filled for each.
const AIMS: usize = 4;
const SWEEPS: usize = 12;

impl Lots {
    fn new(book: &Book, place: &Place, from: Timestamp, to: Timestamp) -> Self {
        let credits = credits(book, place, from, to);
        let owing: Vec<(CarerId, Credit)> = credits
            .into_iter()
            .filter(|(_, credit)| credit.owed > 0.0)
            .collect();
        let at: BTreeMap<CarerId, usize> = owing
            .iter()
            .zip(0..)
            .map(|((carer, _), index)| (*carer, index))
            .collect();
        let (crews, held) = (crews(book, from, to), held(place, from, to));
        let mut lots: BTreeMap<(civil::Date, BTreeSet<usize>), f64> = BTreeMap::new();
        let mut most: BTreeMap<(usize, civil::Date), f64> = BTreeMap::new();
        let mut did: BTreeMap<(usize, civil::Date), f64> = BTreeMap::new();
        for (done, target, minutes) in done_in(book, place, from, to) {
            let crew = crews.partition_point(|crew| crew.from <= done.at).max(1) - 1;
            let when = held[nearest(&held, done.at)];
            let needs = work(place, done.duty, target).needs;
            let mut can = BTreeSet::new();
            for carer in crews[crew].people.values() {
                let Some(index) = at.get(&carer.id) else { continue };
                let is_too_long = carer.minutes_max.is_some_and(|most| minutes > f64::from(most));
                if !is_too_long && able(book, carer, &needs, &when, to) == Able::Yes {
                    can.insert(*index);
                    if let Some(minutes) = carer.minutes_max {
                        most.insert((*index, when.date), f64::from(minutes));
                    }
                }
            }
            let doers: Vec<CarerId> = [Some(done.by), book.together(done.seq)]
                .into_iter()
                .flatten()
                .collect();
            for doer in doers.iter().filter_map(|doer| at.get(doer)) {
                can.insert(*doer);
                *did.entry((*doer, when.date)).or_default() += minutes / doers.len() as f64;
            }
            if minutes > 0.0 && !can.is_empty() {
                *lots.entry((when.date, can)).or_default() += minutes;
            }
        }
        let places: BTreeMap<(usize, civil::Date), usize> = most.keys().copied().zip(0..).collect();
        let limit = |(key, most): (&(usize, civil::Date), &f64)| {
            (most.max(did.get(key).copied().unwrap_or(0.0)), 0.0)
        };
        let all = lots.into_iter().map(|((date, can), minutes)| Lot {
            minutes,
            given: vec![0.0; can.len()],
            can: can
                .into_iter()
                .map(|index| (index, places.get(&(index, date)).copied()))
                .collect(),
        });
        Self {
            loads: vec![0.0; owing.len()],
            owed: owing.iter().map(|(_, credit)| credit.owed).collect(),
            all: all.collect(),
            limits: most.iter().map(limit).collect(),
        }
    }

    fn x(&self) -> Vec<f64> {
        self.loads
            .iter()
            .zip(&self.owed)
            .map(|(load, owed)| load / owed)
            .collect()
    }

    /// Gives each lot anew, the others being as they are, so that the squares of loads' distances from the aim are least.
    fn fill(&mut self, aim: f64) {
        for lot in &mut self.all {
            for ((index, limit), given) in lot.can.iter().zip(&lot.given) {
                self.loads[*index] -= given;
                if let Some(limit) = limit {
                    self.limits[*limit].1 -= given;
                }
            }
            let (loads, limits, owed) = (&self.loads, &self.limits, &self.owed);
            // Given a level, someone takes until x = aim + level · owed, which is where all slopes are the same.
            let takes = |level: f64, (index, limit): &(usize, Option<usize>)| {
                let wanted = (aim + level * owed[*index]) * owed[*index] - loads[*index];
                let room = limit.map_or(f64::INFINITY, |limit| limits[limit].0 - limits[limit].1);
                wanted.min(room).max(0.0)
            };
            let (mut low, mut high) = (-1e6, 1e6);
            for _ in 0..90 {
                let level = f64::midpoint(low, high);
                let sum: f64 = lot.can.iter().map(|who| takes(level, who)).sum();
                if sum < lot.minutes {
                    low = level
                } else {
                    high = level
                }
            }
            let given: Vec<f64> = lot.can.iter().map(|who| takes(high, who)).collect();
            let sum: f64 = given.iter().sum();
            for (((index, limit), given), take) in lot.can.iter().zip(&mut lot.given).zip(given) {
                *given = if sum > 0.0 {
                    take * lot.minutes / sum
                } else {
                    lot.minutes / lot.can.len() as f64
                };
                self.loads[*index] += *given;
                if let Some(limit) = limit {
                    self.limits[*limit].1 += *given;
                }
            }
        }
    }

    /// The least index that is certified not to be exceeded, by the direction of these loads.
    fn certified(&self, x: &[f64], found: f64) -> f64 {
        let length = x.iter().map(|x| x * x).sum::<f64>().sqrt();
        let holds = |theta: f64| {
            let root = (theta * x.len() as f64).sqrt();
            let costs: Vec<f64> = x
                .iter()
                .zip(&self.owed)
                .map(|(x, owed)| (root * x / length - 1.0) / owed)
                .collect();
            [f64::min, f64::max]
                .into_iter()
                .any(|pick| self.least(&costs, &self.prices(&costs, pick)) >= 0.0)
                || self.least(&costs, &vec![0.0; self.limits.len()]) >= 0.0
        };
        let (mut low, mut high) = (found.min(1.0), 1.0);
        for _ in 0..40 {
            let middle = f64::midpoint(low, high);
            if holds(middle) {
                high = middle
            } else {
                low = middle
            }
        }
        high
    }

    /// What any assignment costs at the least, where minutes of the day have these prices.
    fn least(&self, costs: &[f64], prices: &[f64]) -> f64 {
        let lots = self.all.iter().map(|lot| {
            let cost = |(index, limit): &(usize, Option<usize>)| {
                costs[*index] + limit.map_or(0.0, |limit| prices[limit])
            };
            lot.minutes * lot.can.iter().map(cost).fold(f64::INFINITY, f64::min)
        });
        let allowed = prices
            .iter()
            .zip(&self.limits)
            .map(|(price, (most, _))| price * most);
        lots.sum::<f64>() - allowed.sum::<f64>()
    }

    /// Prices of used-up minutes: what the next one who could do it costs more.
    fn prices(&self, costs: &[f64], pick: fn(f64, f64) -> f64) -> Vec<f64> {
        let mut prices: Vec<Option<f64>> = vec![None; self.limits.len()];
        let used_up = |limit: Option<usize>| {
            limit.filter(|limit| self.limits[*limit].1 >= self.limits[*limit].0 - 1e-6)
        };
        for lot in &self.all {
            let others = lot.can.iter().filter(|(_, limit)| used_up(*limit).is_none());
            let next = others
                .map(|(index, _)| costs[*index])
                .fold(f64::INFINITY, f64::min);
            for (index, limit) in lot.can.iter().filter(|_| next.is_finite()) {
                if let Some(limit) = used_up(*limit) {
                    let price = (next - costs[*index]).max(0.0);
                    prices[limit] = Some(prices[limit].map_or(price, |before| pick(before, price)));
                }
            }
        }
        prices.into_iter().map(Option::unwrap_or_default).collect()
    }
}
