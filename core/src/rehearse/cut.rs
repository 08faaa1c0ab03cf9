//! What a power cut would have done: gear stops, and the water stands still.

use jiff::Timestamp;

use super::Plan;
use super::moments::rounds;
use super::other::entry;
use crate::care::{Duty, standing};
use crate::civil::seconds_between;
use crate::journal::{Book, Event, GearChange};
use crate::place::{CarerId, Gear, Place, Pool, PoolId, Target};

/// Power cuts that are told of, in hours.
pub const CUTS_H: [i64; 2] = [12, 24];

/// What is left of a pool's water when the power goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Left {
    /// When the power goes.
    pub at: Timestamp,
    /// Minutes until its change is a hazard if nobody changes the water; 0 and less: at once.
    pub minutes: i64,
}

/// What power cuts at the rounds of a span would have done to a pool.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cut {
    /// The pool.
    pub pool: PoolId,
    /// The worst of them.
    pub worst: Left,
    /// How many of them would have come to a hazard within each of [`CUTS_H`], if nobody had changed the water.
    pub within: [u32; 2],
    /// How many rounds there were.
    pub rounds: u32,
    /// How many of them found gear running that would have stopped.
    pub stopped: u32,
}

/// The cuts of every pool that has changes in the span.
pub(super) fn all(book: &Book, plan: &Plan, lanes: &[(Duty, Target)]) -> Vec<Cut> {
    let mut dark = Dark {
        book: book.clone(),
        next: book.last_seq() + 1,
    };
    let mut cuts: Vec<Option<Cut>> = lanes.iter().map(|_| None).collect();
    for at in rounds(book, plan) {
        let place = book.place_at(at);
        for ((duty, target), cut) in lanes.iter().zip(&mut cuts) {
            let (Duty::Change, Target::Pool(id)) = (*duty, *target) else {
                continue;
            };
            let Some((left, stopped)) = place.pools.get(&id).and_then(|pool| dark.left(&place, pool, at))
            else {
                continue;
            };
            let cut = cut.get_or_insert(Cut {
                pool: id,
                worst: left,
                within: [0; 2],
                rounds: 0,
                stopped: 0,
            });
            cut.rounds += 1;
            cut.stopped += u32::from(stopped);
            if left.minutes < cut.worst.minutes {
                cut.worst = left;
            }
            for (count, hours) in cut.within.iter_mut().zip(CUTS_H) {
                *count += u32::from(left.minutes <= hours * 60);
            }
        }
    }
    cuts.into_iter().flatten().collect()
}

/// A journal in which the power goes, again and again, and each time it is taken back.
struct Dark {
    book: Book,
    next: u64,
}

impl Dark {
    /// What is left of a pool's water when the power goes, and whether anything ran.
    fn left(&mut self, place: &Place, pool: &Pool, at: Timestamp) -> Option<(Left, bool)> {
        let gear = [(Gear::Air, pool.air), (Gear::Filter, pool.filter)];
        let runs: Vec<Gear> = gear
            .into_iter()
            .filter(|(_, fitted)| fitted.is_some_and(|fitted| fitted.stopped.is_none()))
            .map(|(gear, _)| gear)
            .collect();
        let first = self.next;
        for gear in &runs {
            self.write(at, Event::Gear(pool.id, *gear, GearChange::Stopped));
        }
        let dark = if runs.is_empty() {
            None
        } else {
            Some(self.book.place_at(at))
        };
        let found = standing(
            &self.book,
            dark.as_ref().unwrap_or(place),
            Duty::Change,
            Target::Pool(pool.id),
            at,
        );
        for wrong in first..self.next {
            self.write(at, Event::Retract(wrong));
        }
        let minutes = seconds_between(at, found?.hazard?).div_euclid(60);
        Some((Left { at, minutes }, !runs.is_empty()))
    }

    fn write(&mut self, at: Timestamp, event: Event) {
        self.book.insert(entry(self.next, at, CarerId(0), event));
        self.next += 1;
    }
}
