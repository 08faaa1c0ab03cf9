//! How work was shared over a span of time: who did how much and how late, what nobody had, how even it was, and how far
//! from the best that could have been. All of it is read from the journal.

mod gaps;
mod turns;

use std::collections::BTreeMap;

use jiff::Timestamp;

pub use self::gaps::Gaps;
pub use self::turns::Turns;

use crate::civil::plus_days;
use crate::journal::Book;
use crate::place::CarerId;
use crate::rota::{Bound, bound, credits, jain};

/// Over how many of the last days evenness is told beside that of the whole span: four weeks.
pub const LAST_DAYS: i64 = 28;

/// What one person did in a span.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Person {
    /// Minutes of the turns that they did.
    pub did: f64,
    /// Minutes that were theirs to do: of everything that was done while they were there, in proportion to the shares
    /// that people wanted.
    pub owed: f64,
    /// The share that they want, as at the end; `None` for those who left.
    pub wants: Option<f64>,
    /// Turns that were theirs.
    pub turns: Turns,
}

impl Person {
    /// What they did, divided by what was theirs to do; `None` where nothing was.
    #[must_use]
    pub fn load(&self) -> Option<f64> {
        (self.owed > 0.0).then(|| self.did / self.owed)
    }
}

/// How even a span was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Even {
    /// Its start.
    pub from: Timestamp,
    /// Jain's index of what everyone did, divided by what was theirs to do.
    pub jain: f64,
    /// What no sharing of that work could have exceeded.
    pub bound: Bound,
}

/// A span, reckoned up.
#[derive(Clone, Debug, PartialEq)]
pub struct Reckoning {
    /// Everyone who did anything, or to whom anything fell.
    pub people: BTreeMap<CarerId, Person>,
    /// Turns that nobody had when they fell due.
    pub unowned: u32,
    /// Turns that became a hazard before they were done.
    pub hazards: u32,
    /// The whole span.
    pub whole: Even,
    /// Its last four weeks; `None` where it is no longer than that.
    pub last: Option<Even>,
    /// The sharings-out beside the best ones.
    pub gaps: Gaps,
}

/// Reckons up what was done after one moment, up to and with another, which are ends of civil days. The best
/// sharing-out is looked for among so many at most.
#[must_use]
pub fn reckon(book: &Book, from: Timestamp, to: Timestamp, tries_max: u64) -> Reckoning {
    let place = book.place_at(to);
    let even = |from: Timestamp| Even {
        from,
        jain: jain(
            credits(book, &place, from, to)
                .values()
                .map(|one| (one.did, one.owed)),
        ),
        bound: bound(book, &place, from, to),
    };
    let mut people: BTreeMap<CarerId, Person> = BTreeMap::new();
    for (carer, credit) in credits(book, &place, from, to) {
        let person = people.entry(carer).or_default();
        (person.did, person.owed) = (credit.did, credit.owed);
    }
    let count = turns::count(book, from, to);
    for (carer, turns) in count.people {
        people.entry(carer).or_default().turns = turns;
    }
    for (carer, person) in &mut people {
        let known = place.carers.get(carer).or_else(|| place.ended.get(carer));
        person.wants = known.map(super::people::Carer::wants);
    }
    let last = place.zone.day_start(plus_days(place.zone.date(to), -LAST_DAYS));
    Reckoning {
        people,
        unowned: count.unowned,
        hazards: count.hazards,
        whole: even(from),
        last: (last > from).then(|| even(last)),
        gaps: gaps::gaps(book, from, to, tries_max),
    }
}

#[cfg(test)]
mod tests;
