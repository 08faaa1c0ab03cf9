//! Coming turns shared out: nobody who is away, lacks a skill or has no time left that day; loads even in proportion to
//! the shares that people want; habits kept where that costs no fairness; an enclosure's turns of a round in one hand.
//!
//! What was published stays as it is unless its owner cannot do it any more; one who is not there on the day that a turn
//! has come to lie on, or has no time left then, exchanges it for another of that duty. Turns that nobody has yet are given out in
//! order of time, each to whoever that leaves the evenest, and are then given anew and swapped among each other for as
//! long as it gets any evener. The measure is m·Σ(balance/owed)², m the mean of what is owed; nothing here depends on
//! chance.

mod deal;
mod exact;
mod exchange;
mod group;
mod reasons;
mod table;

#[cfg(test)]
mod tests;

use std::collections::{BTreeMap, BTreeSet};

use jiff::{Timestamp, civil};

pub use self::exact::{Gap, gap};
pub use self::reasons::{Decided, Laid, Reason, Reasons, laid, reasons};

use super::credit::{credit_start, credits, shares};
use super::{Able, Credit, Expected, Hand, able, hand_of, lay_out};
use crate::care::Standing;
use crate::civil::plus_minutes;
use crate::journal::{Book, When};
use crate::place::{Carer, CarerId, Place};

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
    Draft::new(book, place, board, now, days).shared(false)
}

/// The same for a round: where loads are far from even, a few published turns are moved too, none of the next
/// 24 hours. Not for showing how turns lie, nor for what an absence moves: between two rounds nothing moves for evenness.
#[must_use]
pub fn even_out(book: &Book, place: &Place, board: &[Standing], now: Timestamp, days: i64) -> SharedOut {
    Draft::new(book, place, board, now, days).shared(true)
}

/// Of the next so many minutes nothing is moved but for an absence or a hazard.
pub(super) const SETTLED_MIN: i64 = 24 * 60;

/// No more of what someone owed in the days of credits is made up for by new turns: four weeks of eight. Common practice,
/// no published source.
const DEBT_MAX: f64 = 0.5;

/// A day is too full by more than this, in minutes: less is rounding.
const OVER_MIN: f64 = 1e-6;

/// Turns on their way to being shared out.
pub(super) struct Draft<'a> {
    book: &'a Book,
    place: &'a Place,
    now: Timestamp,
    turns: Vec<Turn>,
    /// Where each turn lies by the journal.
    hands: Vec<Hand>,
    credits: BTreeMap<CarerId, Credit>,
}

impl<'a> Draft<'a> {
    /// The turns as they were published, as far as that still holds.
    pub(super) fn new(
        book: &'a Book,
        place: &'a Place,
        board: &[Standing],
        now: Timestamp,
        days: i64,
    ) -> Self {
        let mut draft = Self {
            book,
            place,
            now,
            turns: Vec::new(),
            hands: Vec::new(),
            credits: credits(book, place, credit_start(now), now),
        };
        let mut seen = BTreeSet::new();
        for expected in lay_out(book, place, board, now, days) {
            let hand = hand_of(book, &expected, now);
            draft.turns.push(Turn {
                carer: hand.carer.filter(|carer| draft.keeps(*carer, &hand, &expected)),
                was: hand.carer,
                was_published: hand.settled,
                follows: !seen.insert(expected.slot),
                expected,
            });
            draft.hands.push(hand);
        }
        draft.part_with_slots();
        draft
    }

    /// Takes turns off those who are away, or cannot do it, when one that follows is to be done, where somebody can do all of
    /// that day's turns: they lie in one hand.
    fn part_with_slots(&mut self) {
        for (slot, behind) in self.behind() {
            let first = self.turns.iter().position(|turn| turn.expected.slot == slot);
            let Some(first) = first.filter(|first| self.may_move(*first)) else {
                continue;
            };
            let can_all = |carer: &Carer| {
                let mut all = behind.iter().chain([&first]);
                all.all(|index| self.able(carer, *index) == Able::Yes)
            };
            let owner = self.turns[first].carer.and_then(|id| self.place.carers.get(&id));
            let is_away = owner.is_some_and(|owner| {
                let keeps =
                    |index: &usize| self.keeps(owner.id, &self.hands[*index], &self.turns[*index].expected);
                !behind.iter().all(keeps)
            });
            if is_away
                && self
                    .place
                    .carers
                    .values()
                    .any(|carer| carer.minutes_max.is_none() && can_all(carer))
            {
                self.turns[first].carer = None;
            }
        }
    }

    /// The turns that follow the first one of their slot.
    fn behind(&self) -> BTreeMap<super::Slot, Vec<usize>> {
        let mut all: BTreeMap<super::Slot, Vec<usize>> = BTreeMap::new();
        for (index, turn) in self.turns.iter().enumerate().filter(|(_, turn)| turn.follows) {
            all.entry(turn.expected.slot).or_default().push(index);
        }
        all
    }

    /// Takes turns off those who cannot keep them, and exchanges what can be exchanged, what a day has no room for only where
    /// loads are made even; which, and whose each was.
    pub(super) fn settle(&mut self, evens: bool) -> BTreeMap<usize, CarerId> {
        let mut exchanged = self.exchange();
        self.lighten();
        if evens {
            exchanged.extend(self.exchange());
        }
        self.follow();
        exchanged
    }

    /// Shares out what nobody has; `evens`: and moves a few that somebody has.
    fn shared(mut self, evens: bool) -> SharedOut {
        self.settle(evens);
        deal::deal(&mut self, evens);
        self.follow();
        SharedOut {
            turns: self.turns,
            credits: self.credits,
        }
    }

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

    /// Minutes by day of those who have a limit, turns that follow included or not.
    fn limited(&self, following: bool) -> BTreeMap<(CarerId, civil::Date), Day> {
        let mut days: BTreeMap<_, Day> = BTreeMap::new();
        for (index, turn) in self.turns.iter().enumerate() {
            let carer = turn.carer.filter(|_| following || !turn.follows);
            let carer = carer.and_then(|carer| self.place.carers.get(&carer));
            if let Some((carer, most)) = carer.and_then(|carer| Some((carer.id, carer.minutes_max?))) {
                let day = days.entry((carer, turn.expected.when.date)).or_default();
                day.over += turn.expected.work.minutes;
                day.most = f64::from(most);
                day.turns.push(index);
            }
        }
        for day in days.values_mut() {
            day.over -= day.most;
        }
        days
    }

    /// Takes turns off those whose day has become more than they can give, as few as will do: work done early or late
    /// moves the turns after it. What they said they do and what comes soon stays.
    fn lighten(&mut self) {
        for mut day in self
            .limited(false)
            .into_values()
            .filter(|day| day.over > OVER_MIN)
        {
            day.turns.retain(|index| !self.stays(*index));
            let mut minutes: Vec<(f64, usize)> = day
                .turns
                .iter()
                .map(|index| (self.minutes(*index), *index))
                .collect();
            minutes.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            while day.over > OVER_MIN && !minutes.is_empty() {
                let enough = minutes.partition_point(|(minutes, _)| *minutes < day.over);
                let (minutes, off) = minutes.remove(enough.min(minutes.len() - 1));
                day.over -= minutes;
                self.turns[off].carer = None;
            }
        }
    }

    fn minutes(&self, index: usize) -> f64 {
        self.turns[index].expected.work.minutes
    }

    /// Whether a turn stays with someone whose day is too full.
    fn stays(&self, index: usize) -> bool {
        let turn = &self.turns[index];
        self.hands[index].said || self.is_near(&turn.expected)
    }

    /// Minutes of the turns that follow the first one of their slot.
    fn following(&self) -> BTreeMap<super::Slot, f64> {
        let sum = |behind: Vec<usize>| behind.into_iter().map(|index| self.minutes(index)).sum();
        let all = self.behind().into_iter();
        all.map(|(slot, behind)| (slot, sum(behind))).collect()
    }

    /// Whose a published turn is that lies still where it was published, and may be moved.
    fn movable_from(&self, index: usize) -> Option<CarerId> {
        let turn = &self.turns[index];
        let is_kept = turn.was_published && turn.was == turn.carer && self.may_move(index);
        turn.carer.filter(|_| is_kept)
    }

    /// Whether a published turn may be moved for evenness: nobody said that they do it, nor waits for an answer to an
    /// offer of it.
    fn may_move(&self, index: usize) -> bool {
        let (turn, hand) = (&self.turns[index], &self.hands[index]);
        !hand.said && hand.offered.is_none() && !self.is_near(&turn.expected)
    }

    /// What everyone will have done and owe once all that is published is done, and how much of what they owe is not asked
    /// of them at once.
    fn prospects(&self) -> BTreeMap<CarerId, (Credit, f64)> {
        let put_off = |credit: &Credit| (credit.owed * (1.0 - DEBT_MAX) - credit.did).max(0.0);
        let with = |(carer, credit): (&CarerId, &Credit)| (*carer, (*credit, put_off(credit)));
        let mut all: BTreeMap<CarerId, (Credit, f64)> = self.credits.iter().map(with).collect();
        let mut there: BTreeMap<When, Vec<(CarerId, f64)>> = BTreeMap::new();
        for turn in &self.turns {
            let (when, minutes) = (turn.expected.when, turn.expected.work.minutes);
            let shares = there
                .entry(when)
                .or_insert_with(|| shares(self.book, &self.place.carers, &when, self.now));
            let sum: f64 = shares.iter().map(|(_, share)| *share).sum();
            for (carer, share) in shares {
                all.entry(*carer).or_default().0.owed += minutes * *share / sum;
            }
            if let Some(carer) = turn.carer {
                all.entry(carer).or_default().0.did += minutes;
            }
        }
        all
    }

    /// Turns of one slot lie where the first of them does; nobody has one for which whoever has the first has no time.
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
        for day in self.limited(true).into_values().filter(|day| day.over > OVER_MIN) {
            for index in day.turns {
                if self.turns[index].follows {
                    self.turns[index].carer = None;
                }
            }
        }
    }
}

/// Someone's day, who has a limit.
#[derive(Default)]
struct Day {
    /// Minutes beyond the limit.
    over: f64,
    most: f64,
    turns: Vec<usize>,
}

/// Whether a turn that nobody has stays free: it was called, and whoever had it cannot, so that anyone may.
fn stays_free(hand: &Hand, expected: &Expected, now: Timestamp) -> bool {
    hand.said && hand.carer.is_none() && expected.due <= now
}
