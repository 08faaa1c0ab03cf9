//! Whose turns came, and how many of them late.

use std::collections::BTreeMap;

use jiff::Timestamp;

use crate::care::standing::first_uncovered;
use crate::care::{Duty, Mark, Pace, Standing, anchor, board, standing};
use crate::civil::second_before;
use crate::journal::{Book, Done, DoneKind, Seq};
use crate::place::{CarerId, Place, Target};
use crate::rota::{Hand, Limits, Slot, hand_until};

/// Turns of one person.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Turns {
    /// Those that were done whole, by whomever, those that are still open past their grace, and those that nobody ever
    /// did, since the next occurrence of a calendar superseded them.
    pub all: u32,
    /// Those of them that were not done when their grace ended, or not at all.
    pub late: u32,
}

impl Turns {
    /// The share that came late; `None` where there was no turn.
    #[must_use]
    pub fn late_share(self) -> Option<f64> {
        (self.all > 0).then(|| f64::from(self.late) / f64::from(self.all))
    }
}

/// What is counted on the way.
#[derive(Default)]
pub(super) struct Count {
    pub(super) people: BTreeMap<CarerId, Turns>,
    pub(super) unowned: u32,
    pub(super) hazards: u32,
}

/// Everyone's turns of a span. A late one is of whoever had it when its grace ended, even if somebody else did it then.
pub(super) fn count(book: &Book, from: Timestamp, to: Timestamp) -> Count {
    let mut count = Count::default();
    for (duty, target) in book.cared_for() {
        let (mut last, mut counted) = (None, from);
        for done in book.done_since(duty, target, from, to) {
            count.missed(book, (duty, target), (counted, done.at));
            counted = done.at;
            // What another duty renewed is counted there, and readings that were taken at one moment are one.
            let is_own = done.duty.family() == duty && !matches!(done.kind, DoneKind::NotNeeded { .. });
            if !is_own || last.replace(done.at) == Some(done.at) {
                continue;
            }
            if anchor::share(book, duty, target, done) < anchor::WHOLE_FROM {
                continue;
            }
            let before = second_before(done.at);
            let place = book.place_at(before);
            if let Some(turn) = standing(book, &place, duty, target, before) {
                count.done(book, &place, &turn, done);
            }
        }
    }
    let place = book.place_at(to);
    for turn in board(book, &place, to) {
        let (duty, target) = (turn.turn.duty, turn.turn.target);
        let done = book.done_since(duty, target, from, to).last();
        count.missed(book, (duty, target), (done.map_or(from, |done| done.at), to));
        if turn.mark >= Mark::Overdue {
            count.hazards += u32::from(turn.mark == Mark::Hazard);
            count.open(book, &place, &turn, to);
        }
    }
    count
}

/// Where a turn lay at a moment, `known` being one at which it is the next.
fn lay(book: &Book, place: &Place, turn: &Standing, known: Timestamp, until: (Timestamp, Seq)) -> Hand {
    let slot = Slot::of(book, &place.zone, turn, known);
    hand_until(book, &slot, Some(&turn.turn), Limits::of(turn), until)
}

impl Count {
    fn done(&mut self, book: &Book, place: &Place, turn: &Standing, done: &Done) {
        let before = second_before(done.at);
        let right_before = (done.at, done.seq);
        let hand = |at: Timestamp| lay(book, place, turn, before, (at, Seq::MAX).min(right_before));
        let due = hand(turn.due);
        if due.settled && due.carer.is_none() {
            self.unowned += 1;
        }
        self.hazards += u32::from(turn.hazard.is_some_and(|at| done.at >= at));
        let late = done.at >= turn.overdue;
        let had = if late { hand(turn.overdue) } else { hand(done.at) };
        // What nobody has is of whoever does it in time; late, it is of nobody.
        if let Some(carer) = had.carer.or_else(|| (!late).then_some(done.by)) {
            self.add(carer, late);
        }
    }

    /// Occurrences of a calendar that the next one superseded after one moment and up to another, between which nothing
    /// was done. What was held back then is not missed.
    fn missed(
        &mut self,
        book: &Book,
        (duty, target): (Duty, Target),
        (after, until): (Timestamp, Timestamp),
    ) {
        let before = second_before(until);
        let place = book.place_at(before);
        let Some(end) = standing(book, &place, duty, target, before) else {
            return;
        };
        let Pace::Calendar(schedule) = &end.cadence.pace else {
            return;
        };
        let mut one = first_uncovered(&place, schedule, &end.cadence, &end.anchor);
        while let Some(next) = one.and_then(|on| schedule.next(&place, on)) {
            one = Some(next);
            let superseded = place.zone.instant(next);
            if superseded > until {
                break;
            }
            let last = second_before(superseded);
            let place = book.place_at(last);
            let turn = standing(book, &place, duty, target, last);
            let is_missed = |turn: &Standing| turn.held.is_none() && turn.due <= last;
            if let Some(turn) = turn.filter(|turn| superseded > after && is_missed(turn)) {
                self.open(book, &place, &turn, last);
            }
        }
    }

    /// A turn that was not done up to a moment, past its grace or superseded.
    fn open(&mut self, book: &Book, place: &Place, turn: &Standing, to: Timestamp) {
        let hand = |at: Timestamp| lay(book, place, turn, to, (at, Seq::MAX));
        let due = hand(turn.due);
        if due.settled && due.carer.is_none() {
            self.unowned += 1;
        }
        if let Some(carer) = hand(turn.overdue).carer {
            self.add(carer, true);
        }
    }

    fn add(&mut self, carer: CarerId, late: bool) {
        let turns = self.people.entry(carer).or_default();
        turns.all += 1;
        turns.late += u32::from(late);
    }
}
