//! A book with work in it that nobody has done yet.

use jiff::Timestamp;

use super::Turn;
use crate::journal::{Book, Entry, Event, Part};
use crate::place::{CarerId, Place};

/// A copy of a place's book that work is put into.
#[derive(Clone, Debug)]
pub(super) struct Imagined {
    pub(super) book: Book,
    by: CarerId,
}

impl Imagined {
    pub(super) fn of(book: &Book, place: &Place) -> Self {
        Self {
            book: book.clone(),
            // Whoever does it: nothing that is asked here hangs on it.
            by: place.keepers().next().unwrap_or(CarerId(0)),
        }
    }

    /// These turns are done at a moment, each of them whole.
    pub(super) fn does(&mut self, turns: &[Turn], at: Timestamp) {
        for turn in turns {
            self.book.insert(Entry::at_once(
                self.book.last_seq() + 1,
                at,
                self.by,
                Event::Did(turn.duty, turn.target, Part::Whole),
            ));
        }
    }
}
