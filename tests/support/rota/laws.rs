//! What has to hold whenever turns are shared out.

use std::collections::{BTreeMap, BTreeSet};

use jiff::{Timestamp, civil};
use wrackline_core::care::board;
use wrackline_core::civil::plus_minutes;
use wrackline_core::journal::{Book, Entry};
use wrackline_core::place::{CarerId, Place};
use wrackline_core::rota::{
    Able, HORIZON_DAYS, SharedOut, Turn, able, credit_start, credits, gave_up, hand_of, share_out,
};

use super::days::Life;

/// Nothing is moved for evenness that comes within so many minutes, no more than one turn in so many, and no more than so
/// many at a round.
const NOTICE_MIN: i64 = 24 * 60;
const ONE_IN: usize = 10;
const MOVES_MAX: usize = 6;

/// What broke a law, in words; `is_round`: turns may be moved for evenness.
#[must_use]
pub fn broken(
    book: &Book,
    place: &Place,
    shared: &SharedOut,
    (now, is_round): (Timestamp, bool),
) -> Vec<String> {
    let mut minutes: BTreeMap<(CarerId, civil::Date), f64> = BTreeMap::new();
    for turn in &shared.turns {
        if let Some(carer) = turn.carer {
            let day = (carer, turn.expected.when.date);
            *minutes.entry(day).or_default() += turn.expected.work.minutes;
        }
    }
    let judge = Judge {
        book,
        place,
        minutes,
        published: published(shared),
        shared,
        now,
    };
    let mut all = Vec::new();
    let moved = judge.moved_freely(shared).saturating_sub(judge.exchanged(shared));
    let owned = shared.turns.iter().filter(|turn| turn.was.is_some()).count();
    let most = if is_round {
        owned.div_ceil(ONE_IN).min(MOVES_MAX)
    } else {
        0
    };
    if moved > most {
        all.push(format!("{now}: {moved} of {owned} moved for evenness"));
    }
    let mut seen = BTreeSet::new();
    for turn in &shared.turns {
        // Of turns with one slot the first decides.
        if seen.insert(turn.expected.slot) {
            all.extend(judge.broken(turn).map(|what| format!("{now}: {what}: {turn:?}")));
        }
    }
    all
}

/// Minutes of each day as they were published, as far as turns come on that day now.
fn published(shared: &SharedOut) -> BTreeMap<(CarerId, civil::Date), f64> {
    let mut all = BTreeMap::new();
    for turn in shared.turns.iter().filter(|turn| !turn.follows) {
        if let Some(was) = turn.was {
            *all.entry((was, turn.expected.when.date)).or_default() += turn.expected.work.minutes;
        }
    }
    all
}

struct Judge<'a> {
    book: &'a Book,
    place: &'a Place,
    minutes: BTreeMap<(CarerId, civil::Date), f64>,
    published: BTreeMap<(CarerId, civil::Date), f64>,
    shared: &'a SharedOut,
    now: Timestamp,
}

impl Judge<'_> {
    fn broken(&self, turn: &Turn) -> Option<&'static str> {
        if let Some(carer) = turn.carer {
            let able = self.able(carer, turn);
            let is_late = turn.expected.due <= self.now;
            let keeps =
                turn.was == Some(carer) && (able == Able::NoShare || able == Able::NotThere && is_late);
            if able != Able::Yes && !keeps {
                return Some("someone has it who cannot");
            }
            if turn.is_new() && !self.has_room(carer, turn, 0.0) {
                return Some("more than their minutes of the day");
            }
        } else if !self.is_called(turn) && self.anyone(turn) {
            return Some("nobody has it though someone can");
        }
        if !self.is_moved_freely(turn) {
            return None;
        }
        if self.is_spoken_for(turn) {
            return Some("moved though somebody said they do it, or it is offered");
        }
        let is_soon = turn.expected.when.at < plus_minutes(self.now, NOTICE_MIN);
        is_soon.then_some("moved though its owner can, and it comes soon")
    }

    /// Whether somebody said of a turn that they do it, or it is offered and nobody has answered yet.
    fn is_spoken_for(&self, turn: &Turn) -> bool {
        let hand = hand_of(self.book, &turn.expected, self.now);
        hand.said || hand.offered.is_some()
    }

    /// How many turns were moved that their owners could have done. Of a day that had become too full as it was published, as
    /// few moved turns as make it fit are not counted: these had to go, whatever room was made beside them afterwards.
    fn moved_freely(&self, shared: &SharedOut) -> usize {
        let mut days: BTreeMap<(CarerId, civil::Date), Vec<f64>> = BTreeMap::new();
        for turn in shared.turns.iter().filter(|turn| turn.moves()) {
            if let Some(was) = turn.was.filter(|was| self.could_keep(*was, turn)) {
                let day = days.entry((was, turn.expected.when.date)).or_default();
                day.push(turn.expected.work.minutes);
            }
        }
        let freely = days.into_iter().map(|((was, date), mut moved)| {
            let mut over = self.over(was, date);
            moved.sort_by(f64::total_cmp);
            while over > 1e-6
                && let Some(longest) = moved.pop()
            {
                over -= longest;
            }
            moved.len()
        });
        freely.sum()
    }

    /// How many turns were given in return for another of that duty, whose owner is not there any more when it is to be done
    /// now, or has no time left that day: one for each. Of two whose days are full either may have been the one.
    fn exchanged(&self, shared: &SharedOut) -> usize {
        let mut given: BTreeMap<_, usize> = BTreeMap::new();
        let mut returned: BTreeMap<_, usize> = BTreeMap::new();
        for turn in shared.turns.iter().filter(|turn| turn.moves()) {
            let (Some(was), Some(carer)) = (turn.was, turn.carer) else {
                continue;
            };
            let able = self.able(was, turn);
            let is_full = self.over(was, turn.expected.when.date) > 1e-6;
            let slot = turn.expected.slot;
            let key = (slot.duty, slot.target, was, carer);
            if able == Able::NotThere || able == Able::Yes && is_full {
                *given.entry(key).or_default() += 1;
            }
            if able == Able::Yes {
                *returned.entry(key).or_default() += 1;
            }
        }
        let each = returned.iter().map(|((duty, target, was, carer), count)| {
            let key = (*duty, *target, *carer, *was);
            (*count).min(given.get(&key).copied().unwrap_or(0))
        });
        each.sum()
    }

    /// By how many minutes someone's day was too full as it was published.
    fn over(&self, carer: CarerId, date: civil::Date) -> f64 {
        let most = self.place.carers.get(&carer).and_then(|carer| carer.minutes_max);
        let published = self.published.get(&(carer, date)).copied().unwrap_or(0.0);
        published - most.map_or(f64::INFINITY, f64::from)
    }

    /// Whether a turn was moved that its owner could have done on a day that was not too full.
    fn is_moved_freely(&self, turn: &Turn) -> bool {
        let was = turn.was.filter(|_| turn.moves());
        was.is_some_and(|was| self.could_keep(was, turn) && self.over(was, turn.expected.when.date) <= 1e-6)
    }

    /// Whether somebody can do a turn and need not part with it for another one of its slot.
    fn could_keep(&self, carer: CarerId, turn: &Turn) -> bool {
        let of_slot = |other: &&Turn| other.follows && other.expected.slot == turn.expected.slot;
        let mut others = self.shared.turns.iter().filter(of_slot);
        self.able(carer, turn) == Able::Yes
            && others.all(|other| matches!(self.able(carer, other), Able::Yes | Able::NoShare))
    }

    fn able(&self, carer: CarerId, turn: &Turn) -> Able {
        let expected = &turn.expected;
        self.place.carers.get(&carer).map_or(Able::OutsideSpan, |carer| {
            able(self.book, carer, &expected.work.needs, &expected.when, self.now)
        })
    }

    fn has_room(&self, carer: CarerId, turn: &Turn, more: f64) -> bool {
        let most = self.place.carers.get(&carer).and_then(|carer| carer.minutes_max);
        let used = self.minutes.get(&(carer, turn.expected.when.date)).copied();
        most.is_none_or(|most| used.unwrap_or(0.0) + more <= f64::from(most) + 1e-9)
    }

    /// Whether it was called and is free for anyone.
    fn is_called(&self, turn: &Turn) -> bool {
        turn.expected.due <= self.now && turn.was_published
    }

    fn anyone(&self, turn: &Turn) -> bool {
        self.place.carers.keys().any(|carer| {
            self.able(*carer, turn) == Able::Yes
                && !gave_up(self.book, &turn.expected, *carer, self.now)
                && self.has_room(*carer, turn, turn.expected.work.minutes)
        })
    }
}

/// The same entries in another order of arrival: the same plan and credits, to the last bit.
pub(super) fn same_in_any_order(life: &mut Life, now: Timestamp) {
    let mut entries: Vec<Entry> = life.book.entries().cloned().collect();
    for last in (1..entries.len()).rev() {
        let other = life.dice.between(0, u32::try_from(last).expect("few"));
        entries.swap(last, other as usize);
    }
    let other = Book::of(entries);
    let told = |book: &Book| {
        let place = book.place_at(now);
        let shared = share_out(book, &place, &board(book, &place, now), now, HORIZON_DAYS);
        (shared, credits(book, &place, credit_start(now), now))
    };
    if told(&life.book) != told(&other) {
        life.broken
            .push("another order of arrival, another plan".to_owned());
    }
}
