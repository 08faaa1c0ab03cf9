//! How even a span of time could have been at best: what skills, absences and daily minutes leave.
//!
//! Whatever was done may be given anew, in fractions even, to anyone who could do it in the round that it was due in and
//! whose day is not shorter than the whole of it. A day with a limit holds no more than whole turns come to within it. What
//! somebody did of their own accord while it was someone else's stays theirs, since no assignment decides it. Jain's index of loads `x`,
//! each divided by what was owed, is at most `θ` where `Σx ≤ √(θn)·‖x‖`. For any vector `u` of length one `‖x‖ ≥ u·x`, so
//! that `θ` is certified once the least of the linear `Σ(√(θn)·uᵢ − 1)·xᵢ` over all assignments is no less than zero; that
//! least is had by giving everything to whoever is cheapest, daily minutes having a price (a Lagrangian bound for any
//! price). `u` is the direction of an assignment found by filling up, turn by turn, whoever has least.

mod ahead;
mod past;

use std::collections::BTreeMap;

use jiff::{Timestamp, civil};

use self::past::Past;
use super::credit::done_in;
use super::{credits, work};
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

/// The day of someone who has a limit.
#[derive(Default)]
struct Day {
    /// The greatest that held at any turn of the day.
    most: f64,
    /// What each turn takes that they could have had, in hundredths of a minute.
    turns: Vec<usize>,
    /// Minutes that they did of those.
    did: f64,
}

impl Day {
    fn can(&mut self, most: f64, minutes: f64) {
        self.most = self.most.max(most);
        self.turns.push((minutes * 100.0).round().max(0.0) as usize);
    }

    /// The most that whole turns come to within the limit, or what was done.
    fn limit(&self) -> f64 {
        // So much may be lost by rounding.
        let slack = self.turns.len();
        let most = (self.most * 100.0) as usize + slack;
        let mut comes_to = vec![false; most + 1];
        comes_to[0] = true;
        for turn in &self.turns {
            for sum in (*turn..=most).rev() {
                comes_to[sum] |= comes_to[sum - turn];
            }
        }
        let best = comes_to.iter().rposition(|is_so| *is_so).unwrap_or(most);
        ((best + slack) as f64 / 100.0).min(self.most).max(self.did)
    }
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
    bound_of(Lots::new(
        book,
        place,
        &Past::new(book, from, to, place),
        (from, to),
    ))
}

/// The same for whoever knows of a turn what was known a day before, when turns are settled: who is away, who can do what,
/// and in which round it was expected.
#[must_use]
pub fn bound_ahead(book: &Book, place: &Place, from: Timestamp, to: Timestamp) -> Bound {
    let past = Past::new(book, from, to, place).ahead();
    bound_of(Lots::new(book, place, &past, (from, to)))
}

fn bound_of(mut lots: Lots) -> Bound {
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
    fn new(book: &Book, place: &Place, past: &Past<'_>, (from, to): (Timestamp, Timestamp)) -> Self {
        let credits = credits(book, place, from, to);
        let owing = || {
            let all = credits.iter().filter(|(_, credit)| credit.owed > 0.0);
            all.filter(|(carer, _)| past.counts(place, **carer))
        };
        let at: BTreeMap<CarerId, usize> = owing().map(|(carer, _)| *carer).zip(0..).collect();
        let mut lots: BTreeMap<(civil::Date, Vec<(usize, bool)>), f64> = BTreeMap::new();
        let mut days: BTreeMap<(usize, civil::Date), Day> = BTreeMap::new();
        for (done, target, minutes) in done_in(book, place, from, to) {
            let needs = work(place, done.duty, target).needs;
            let (when, carers) = past.could(&done, target, &needs);
            let mut can: BTreeMap<usize, bool> = BTreeMap::new();
            for carer in &carers {
                let Some(index) = at.get(&carer.id) else { continue };
                let most = carer.minutes_max.map(f64::from);
                if most.is_some_and(|most| minutes > most) {
                    continue;
                }
                can.insert(*index, most.is_some());
                if let Some(most) = most {
                    days.entry((*index, when.date)).or_default().can(most, minutes);
                }
            }
            let doers = [Some(done.by), book.together(done.seq)];
            if doers.iter().flatten().any(|doer| !past.counts(place, *doer)) {
                continue;
            }
            let doers: Vec<usize> = doers
                .iter()
                .flatten()
                .filter_map(|doer| at.get(doer).copied())
                .collect();
            for doer in &doers {
                let is_limited = can.entry(*doer).or_insert(false);
                if *is_limited {
                    days.entry((*doer, when.date)).or_default().did += minutes / doers.len() as f64;
                }
            }
            if minutes > 0.0 && !can.is_empty() {
                *lots.entry((when.date, can.into_iter().collect())).or_default() += minutes;
            }
        }
        let places: BTreeMap<(usize, civil::Date), usize> = days.keys().copied().zip(0..).collect();
        let all = lots.into_iter().map(|((date, can), minutes)| Lot {
            minutes,
            given: vec![0.0; can.len()],
            can: can
                .into_iter()
                .map(|(index, is_limited)| (index, is_limited.then(|| places[&(index, date)])))
                .collect(),
        });
        Self {
            loads: vec![0.0; at.len()],
            owed: owing().map(|(_, credit)| credit.owed).collect(),
            all: all.collect(),
            limits: days.values().map(|day| (day.limit(), 0.0)).collect(),
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
