//! What was known of a turn when it was settled: a day before it was to be done.

use std::cell::RefCell;
use std::collections::BTreeMap;

use jiff::Timestamp;

use crate::care::board;
use crate::civil::plus_minutes;
use crate::journal::{Book, When};
use crate::rota::share_out::SETTLED_MIN;
use crate::rota::{Slot, lay_out};

/// For how many civil days a plan is made again: a turn that is to come in a day, seen from any hour.
const DAYS: i64 = 3;

/// The plans of the rounds of a span of time, each made when it is asked for.
pub(super) struct Ahead<'a> {
    book: &'a Book,
    /// The rounds, in order.
    held: Vec<When>,
    plans: RefCell<BTreeMap<usize, BTreeMap<Slot, When>>>,
}

impl<'a> Ahead<'a> {
    pub(super) fn new(book: &'a Book, held: Vec<When>) -> Self {
        Self {
            book,
            held,
            plans: RefCell::default(),
        }
    }

    /// When a turn was settled that was due at a moment, and the round in which it was then expected; `None` where it
    /// was not expected at all a day before.
    pub(super) fn settled(&self, slot: &Slot, due: Timestamp) -> Option<(Timestamp, When)> {
        let rounds = self
            .held
            .partition_point(|when| plus_minutes(when.at, SETTLED_MIN) <= due);
        let mut settled = None;
        for round in (0..rounds).rev() {
            let Some(when) = self.expected(round, slot) else {
                break;
            };
            let at = self.held[round].at;
            settled = Some((at, when));
            if plus_minutes(at, SETTLED_MIN) <= when.at {
                break;
            }
        }
        settled
    }

    /// The round in which a turn is expected, as far as is known at another.
    fn expected(&self, round: usize, slot: &Slot) -> Option<When> {
        let mut plans = self.plans.borrow_mut();
        let plan = plans
            .entry(round)
            .or_insert_with(|| self.plan(self.held[round].at));
        plan.get(slot).copied()
    }

    fn plan(&self, now: Timestamp) -> BTreeMap<Slot, When> {
        let place = self.book.place_at(now);
        let all = lay_out(self.book, &place, &board(self.book, &place, now), now, DAYS);
        // Of several turns of a slot the first tells where it lies.
        all.iter().rev().map(|one| (one.slot, one.when)).collect()
    }
}
