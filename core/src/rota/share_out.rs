//! Coming turns shared out: nobody who is away, lacks a skill or has no time left that day; loads even in proportion to
//! the shares that people want; habits kept where that costs no fairness; an enclosure's turns of a round in one hand.
//!
//! What was published stays as it is unless its owner cannot do it any more. Turns that nobody has yet are given out in
//! order of time, each to whoever that leaves the evenest, and are then moved and swapped among each other for as long
//! as it gets any evener. The measure is Σ balance²/share; nothing here depends on chance.

mod deal;
mod group;
mod table;

use std::collections::{BTreeMap, BTreeSet};

use jiff::Timestamp;

use super::credit::{credit_start, credits, shares};
use super::{Able, Credit, Expected, Hand, able, hand_of, lay_out};
use crate::care::Standing;
use crate::civil::plus_minutes;
use crate::journal::{Book, When};
use crate::place::{CarerId, Place};

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
    /// Whether an earlier turn of the list has the same slot, and so tells where this one lies: a duty that comes several
    /// times a day.
    pub follows: bool,
}

impl Turn {
    /// Whether it is published anew: for the first time, or with another owner.
    #[must_use]
    pub fn is_new(&self) -> bool {
        !self.follows && (!self.was_published || self.carer != self.was)
    }

    /// Whether it changes hands.
    #[must_use]
    pub fn moves(&self) -> bool {
        !self.follows && self.was_published && self.carer != self.was
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
    let mut draft = Draft {
        book,
        place,
        now,
        turns: Vec::new(),
        hands: Vec::new(),
        credits: credits(book, place, credit_start(now), now),
    };
    let mut seen = BTreeSet::new();
    for expected in lay_out(book, place, board, now, days) {
        let hand = hand_of(book, &expected.slot, expected.turn.as_ref(), expected.due, now);
        draft.turns.push(Turn {
            carer: hand.carer.filter(|carer| draft.keeps(*carer, &hand, &expected)),
            was: hand.carer,
            was_published: hand.settled,
            follows: !seen.insert(expected.slot),
            expected,
        });
        draft.hands.push(hand);
    }
    draft.lighten();
    deal::deal(&mut draft);
    draft.follow();
    SharedOut {
        turns: draft.turns,
        credits: draft.credits,
    }
}

/// Of the next so many minutes nothing is moved but for an absence or a hazard.
const SETTLED_MIN: i64 = 24 * 60;

/// Turns on their way to being shared out.
struct Draft<'a> {
    book: &'a Book,
    place: &'a Place,
    now: Timestamp,
    turns: Vec<Turn>,
    /// Where each turn lies by the journal.
    hands: Vec<Hand>,
    credits: BTreeMap<CarerId, Credit>,
}

impl Draft<'_> {
    fn is_near(&self, expected: &Expected) -> bool {
        expected.when.at < plus_minutes(self.now, SETTLED_MIN)
    }

    /// Whether someone keeps a turn that lies with them.
    fn keeps(&self, carer: CarerId, hand: &Hand, expected: &Expected) -> bool {
        let Some(carer) = self.place.carers.get(&carer) else {
            return false;
        };
        match able(self.book, carer, &expected.work.needs, &expected.when, self.now) {
            Able::Yes => true,
            // Whoever wants no share may have taken it all the same.
            Able::NoShare => hand.said || self.is_near(expected),
            // It was theirs in its own round; what is late is passed on, not moved.
            Able::NotThere => expected.due <= self.now,
            Able::Away | Able::OutsideSpan | Able::Unskilled => false,
        }
    }

    /// Takes turns off those whose day has become more than they can give, the last first: work done early or late moves
    /// the turns after it. What they said they do and what comes soon stays.
    fn lighten(&mut self) {
        let mut days: BTreeMap<(CarerId, jiff::civil::Date), f64> = BTreeMap::new();
        let most = |carer: &CarerId| self.place.carers.get(carer)?.minutes_max.map(f64::from);
        for turn in &self.turns {
            if let Some(carer) = turn.carer.filter(|carer| most(carer).is_some()) {
                *days.entry((carer, turn.expected.when.date)).or_default() += turn.expected.work.minutes;
            }
        }
        for index in (0..self.turns.len()).rev() {
            let turn = &self.turns[index];
            let Some(carer) = turn.carer else { continue };
            let (Some(used), Some(most)) = (days.get_mut(&(carer, turn.expected.when.date)), most(&carer)) else {
                continue;
            };
            let stays = self.hands[index].said || turn.follows || self.is_near(&turn.expected);
            if *used > most && !stays {
                *used -= turn.expected.work.minutes;
                self.turns[index].carer = None;
            }
        }
    }

    /// What everyone will have done beyond what is theirs, once all that is published is done.
    fn balances(&self) -> BTreeMap<CarerId, f64> {
        let mut all: BTreeMap<CarerId, f64> = BTreeMap::new();
        for (carer, credit) in &self.credits {
            all.insert(*carer, credit.balance());
        }
        let mut there: BTreeMap<When, Vec<(CarerId, f64)>> = BTreeMap::new();
        for turn in &self.turns {
            let (when, minutes) = (turn.expected.when, turn.expected.work.minutes);
            let shares = there
                .entry(when)
                .or_insert_with(|| shares(self.book, &self.place.carers, &when, self.now));
            let sum: f64 = shares.iter().map(|(_, share)| share).sum();
            for (carer, share) in shares {
                *all.entry(*carer).or_default() -= minutes * *share / sum;
            }
            if let Some(carer) = turn.carer {
                *all.entry(carer).or_default() += minutes;
            }
        }
        all
    }

    /// Turns of one slot lie where the first of them does.
    fn follow(&mut self) {
        let mut first: BTreeMap<super::Slot, Option<CarerId>> = BTreeMap::new();
        for index in 0..self.turns.len() {
            let turn = &self.turns[index];
            if turn.follows {
                let carer = first.get(&turn.expected.slot).copied().flatten();
                let keeps = |carer: &CarerId| self.keeps(*carer, &self.hands[index], &turn.expected);
                self.turns[index].carer = carer.filter(keeps);
            } else {
                first.insert(turn.expected.slot, turn.carer);
            }
        }
    }
}

/// Whether a turn that nobody has stays free: it was called, and whoever had it cannot, so that anyone may.
fn stays_free(hand: &Hand, expected: &Expected, now: Timestamp) -> bool {
    hand.said && hand.carer.is_none() && expected.due <= now
}
