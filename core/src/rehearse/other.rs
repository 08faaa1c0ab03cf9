//! What would have been otherwise, and the journal where it is so and every deed stays.

use jiff::Timestamp;

use super::Plan;
use crate::care::{Numbers, Rule};
use crate::journal::{Book, Entry, Event, GearChange, PoolChange};
use crate::place::{CarerId, Fitted, Gear, Pool, PoolId};

/// One thing that would have been otherwise from the start of the span on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// A pool with a piece of gear that runs all the time.
    With {
        /// The pool.
        pool: PoolId,
        /// The gear.
        gear: Gear,
        /// Whether a filter comes with its cycle proven.
        proven: bool,
    },
    /// A pool without a piece of gear.
    Without {
        /// The pool.
        pool: PoolId,
        /// The gear.
        gear: Gear,
    },
    /// Numbers of a row of the catalogue, for the whole place.
    Numbers(Rule, Numbers),
    /// A pool of so many litres.
    Litres(PoolId, f64),
}

impl Change {
    /// The pool that it is about; `None` for the whole place.
    #[must_use]
    pub fn pool(&self) -> Option<PoolId> {
        match self {
            Self::With { pool, .. } | Self::Without { pool, .. } | Self::Litres(pool, _) => Some(*pool),
            Self::Numbers(..) => None,
        }
    }

    /// Whether an entry of the journal says otherwise.
    fn speaks_against(&self, event: &Event) -> bool {
        match (self, event) {
            (Self::With { pool, gear, .. } | Self::Without { pool, gear }, Event::Gear(of, what, _)) => {
                (pool, gear) == (of, what)
            }
            (Self::Numbers(rule, _), Event::Numbers(of, _)) => rule == of,
            (Self::Litres(pool, _), Event::Pool(of, PoolChange::Litres(_))) => pool == of,
            _ => false,
        }
    }

    /// The events that bring it about at the start of the span.
    fn events(&self, book: &Book, from: Timestamp) -> Vec<Event> {
        match *self {
            Self::With { pool, gear, proven } => {
                let gear_event = |change| Event::Gear(pool, gear, change);
                match fitted(book.pool_at(pool, from).as_ref(), gear) {
                    None => vec![gear_event(GearChange::Added { proven })],
                    Some(found) => {
                        let stood = found.stopped.map(|_| gear_event(GearChange::Started));
                        let proof =
                            (proven && found.proven.is_none()).then(|| gear_event(GearChange::Proven));
                        stood.into_iter().chain(proof).collect()
                    }
                }
            }
            Self::Without { pool, gear } => fitted(book.pool_at(pool, from).as_ref(), gear)
                .map(|_| Event::Gear(pool, gear, GearChange::Removed))
                .into_iter()
                .collect(),
            Self::Numbers(rule, numbers) => vec![Event::Numbers(rule, numbers)],
            Self::Litres(pool, litres) => vec![Event::Pool(pool, PoolChange::Litres(litres))],
        }
    }
}

/// A piece of gear of a pool, where it is fitted.
pub(super) fn fitted(pool: Option<&Pool>, gear: Gear) -> Option<Fitted> {
    pool.and_then(|pool| match gear {
        Gear::Air => pool.air,
        Gear::Filter => pool.filter,
    })
}

/// The row of the catalogue by which a pool's changes go once they are made under its gear and these changes.
#[must_use]
pub fn rule_of_changes(pool: &Pool, changes: &[Change]) -> Rule {
    let counts = |gear: Gear| {
        let said = changes.iter().rev().find_map(|change| match change {
            Change::With {
                pool: id,
                gear: of,
                proven,
            } if (*id, *of) == (pool.id, gear) => Some(*proven || gear == Gear::Air),
            Change::Without { pool: id, gear: of } if (*id, *of) == (pool.id, gear) => Some(false),
            _ => None,
        });
        let is = fitted(Some(pool), gear);
        said.unwrap_or(false)
            || said.is_none() && is.is_some_and(|is| is.stopped.is_none() && is.proven.is_some())
    };
    if counts(Gear::Filter) {
        Rule::PartChange
    } else if counts(Gear::Air) {
        Rule::ChangeAerated
    } else {
        Rule::ChangeStill
    }
}

/// The journal under the other keeping, every deed as it was. What the journal says against a change within the span is left
/// out; the change itself stands behind the last entry by its number, and at the start of the span by its time.
pub(super) fn book(book: &Book, plan: &Plan) -> Book {
    let in_span = |entry: &Entry| plan.from < entry.at && entry.at <= plan.to;
    let stays = |entry: &&Entry| {
        !(in_span(entry)
            && plan
                .changes
                .iter()
                .any(|change| change.speaks_against(&entry.event)))
    };
    let mut other = copy(book, book.entries().filter(stays).cloned());
    // Behind the last number of the journal itself, which may be one that was left out.
    let mut seq = book.last_seq();
    for change in &plan.changes {
        for event in change.events(book, plan.from) {
            seq += 1;
            other.insert(entry(seq, plan.from, CarerId(0), event));
        }
    }
    other
}

/// A journal of some entries with the names and notes of another one.
pub(super) fn copy(book: &Book, entries: impl Iterator<Item = Entry>) -> Book {
    let mut copy = Book::of(entries);
    copy.names.clone_from(&book.names);
    copy.notes.clone_from(&book.notes);
    copy
}

/// An entry that was never written.
pub(super) fn entry(seq: u64, at: Timestamp, by: CarerId, event: Event) -> Entry {
    Entry::at_once(seq, at, by, event)
}
