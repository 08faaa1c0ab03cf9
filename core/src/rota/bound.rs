//! How even a span of time could have been at best: what skills, absences and daily minutes leave.
//!
//! Whatever was done may be given anew, in fractions even, to anyone who could do it in the round that it was due in and
//! whose day is not shorter than the whole of it. A day with a limit holds no more than whole turns come to within it. What
//! somebody did of their own accord while it was someone else's stays theirs, since no assignment decides it. The evenest
//! assignment is found in `evenest`, and that none is evener is certified by its own direction.

mod ahead;
mod cheapest;
mod evenest;
mod past;

use std::collections::BTreeMap;

use jiff::{Timestamp, civil};

use self::cheapest::Day;
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

/// The day of someone who has a limit.
#[derive(Default)]
struct Limit {
    /// The greatest that held at any turn of the day.
    most: f64,
    /// What each turn takes that they could have had, in hundredths of a minute.
    turns: Vec<usize>,
    /// Minutes that they did of those.
    did: f64,
}

impl Limit {
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
    days: Vec<Day>,
}

/// How even the work of a span of time could have been among those who owed any of it, as far as is known at its end.
/// Work in excess of what someone's day allows counts as allowed where they did it.
#[must_use]
pub fn bound(book: &Book, place: &Place, from: Timestamp, to: Timestamp) -> Bound {
    bound_of(&Lots::new(
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
    bound_of(&Lots::new(book, place, &past, (from, to)))
}

/// The same where all that was done before a moment stays as it was: what could still be reached then, by whoever knew all
/// that was to come. The least of these, over the moments at which somebody said that they are away, is what absences leave
/// to whoever does not know of them before.
#[must_use]
pub fn bound_since(
    book: &Book,
    place: &Place,
    (from, to): (Timestamp, Timestamp),
    since: Timestamp,
) -> Bound {
    let past = Past::new(book, from, to, place).ahead().since(since);
    bound_of(&Lots::new(book, place, &past, (from, to)))
}

fn bound_of(lots: &Lots) -> Bound {
    if lots.owed.is_empty() || lots.days.is_empty() {
        return Bound {
            most: 1.0,
            found: 1.0,
        };
    }
    let x = lots.evenest();
    let found = evenest::index(&x);
    Bound {
        most: lots.certified(&x, found),
        found,
    }
}

impl Lots {
    fn new(book: &Book, place: &Place, past: &Past<'_>, (from, to): (Timestamp, Timestamp)) -> Self {
        let credits = credits(book, place, from, to);
        let owing = || {
            let all = credits.iter().filter(|(_, credit)| credit.owed > 0.0);
            all.filter(|(carer, _)| past.counts(place, **carer))
        };
        let at: BTreeMap<CarerId, usize> = owing().map(|(carer, _)| *carer).zip(0..).collect();
        let mut lots: BTreeMap<(civil::Date, Vec<(usize, bool)>), f64> = BTreeMap::new();
        let mut limits: BTreeMap<(civil::Date, usize), Limit> = BTreeMap::new();
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
                    limits.entry((when.date, *index)).or_default().can(most, minutes);
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
                    limits.entry((when.date, *doer)).or_default().did += minutes / doers.len() as f64;
                }
            }
            if minutes > 0.0 && !can.is_empty() {
                *lots.entry((when.date, can.into_iter().collect())).or_default() += minutes;
            }
        }
        let mut days: BTreeMap<civil::Date, Day> = BTreeMap::new();
        for ((date, can), minutes) in lots {
            let day = days.entry(date).or_insert_with(|| {
                let of = limits.range((date, 0)..=(date, usize::MAX));
                Day::new(of.map(|((_, who), limit)| (*who, limit.limit())).collect())
            });
            day.add(minutes, &can);
        }
        Self {
            owed: owing().map(|(_, credit)| credit.owed).collect(),
            days: days.into_values().collect(),
        }
    }
}
