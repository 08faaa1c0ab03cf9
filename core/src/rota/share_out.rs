//! Coming turns shared out: nobody who is away, lacks a skill or has no time left that day; loads even in proportion to
//! the shares that people want; habits kept where that costs no fairness; an enclosure's turns of a round in one hand.
//!
//! What was published stays as it is unless its owner cannot do it any more. Turns that nobody has yet are given out in
//! order of time, each to whoever that leaves the evenest, and are then moved and swapped among each other for as long
//! as it gets any evener. The measure is Σ balance²/share; nothing here depends on chance.

mod deal;
mod group;

use std::collections::BTreeMap;

use jiff::Timestamp;

use super::credit::{credit_start, credits, shares};
use super::{Able, Credit, Expected, Hand, able, hand_of, lay_out};
use crate::care::Standing;
use crate::journal::Book;
use crate::place::{CarerId, Place, RoundId};

pub(super) use deal::deal;

/// A turn, shared out.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// The turn.
    pub expected: Expected,
    /// Whose it is; `None`: nobody can do it, or it is free for anyone.
    pub carer: Option<CarerId>,
    /// Whose it was before; `None`: nobody's yet.
    pub was: Option<CarerId>,
    /// Whether it was published before, with or without an owner.
    pub was_published: bool,
}

impl Turn {
    /// Whether it is published anew: for the first time, or with another owner.
    #[must_use]
    pub fn is_new(&self) -> bool {
        !self.was_published || self.carer != self.was
    }

    /// Whether it changes hands.
    #[must_use]
    pub fn moves(&self) -> bool {
        self.was_published && self.carer != self.was
    }
}

/// All turns of the horizon, shared out.
#[derive(Clone, Debug, PartialEq)]
pub struct SharedOut {
    /// In order of the moment, then of the walk.
    pub turns: Vec<Turn>,
    /// What everyone did and owed up to now.
    pub credits: BTreeMap<CarerId, Credit>,
}

impl SharedOut {
    /// What is to be written down, in the order of the turns: those that are new or change hands.
    #[must_use]
    pub fn changes(&self) -> Vec<(super::Slot, Option<CarerId>)> {
        let new = self.turns.iter().filter(|turn| turn.is_new());
        new.map(|turn| (turn.expected.slot, turn.carer)).collect()
    }
}

/// Shares out the turns of so many civil days, today included. `board` is the place's at that moment.
#[must_use]
pub fn share_out(book: &Book, place: &Place, board: &[Standing], now: Timestamp, days: i64) -> SharedOut {
    let credits = credits(book, place, credit_start(now), now);
    let laid_out = lay_out(book, place, board, now, days);
    let turns: Vec<Turn> = laid_out
        .into_iter()
        .map(|expected| as_published(book, place, expected, now))
        .collect();
    let mut shared = SharedOut { turns, credits };
    deal(book, place, now, &mut shared);
    shared
}

/// A turn as it was published, as far as that still holds.
fn as_published(book: &Book, place: &Place, expected: Expected, now: Timestamp) -> Turn {
    let hand = hand_of(book, &expected.slot, expected.turn.as_ref(), expected.due, now);
    let can = |carer: &CarerId| {
        place.carers.get(carer).is_some_and(|carer| {
            matches!(
                able(book, carer, &expected.work.needs, &expected.when, now),
                // Whoever wants no share may have taken it all the same.
                Able::Yes | Able::NoShare
            )
        })
    };
    Turn {
        carer: hand.carer.filter(can),
        was: hand.carer,
        was_published: hand.settled,
        expected,
    }
}

/// Whether a turn that nobody has stays free: it was called, and whoever had it cannot, so that anyone may.
pub(super) fn stays_free(hand: &Hand, expected: &Expected, now: Timestamp) -> bool {
    hand.said && hand.carer.is_none() && expected.due <= now
}

/// The shares of those who are there, by round and civil date.
pub(super) struct There<'a> {
    book: &'a Book,
    place: &'a Place,
    now: Timestamp,
    known: BTreeMap<(RoundId, jiff::civil::Date), Vec<(CarerId, f64)>>,
}

impl<'a> There<'a> {
    fn new(book: &'a Book, place: &'a Place, now: Timestamp) -> Self {
        Self {
            book,
            place,
            now,
            known: BTreeMap::new(),
        }
    }

    fn at(&mut self, expected: &Expected) -> &[(CarerId, f64)] {
        let when = &expected.when;
        self.known
            .entry((when.round, when.date))
            .or_insert_with(|| shares(self.book, &self.place.carers, when, self.now))
    }
}
