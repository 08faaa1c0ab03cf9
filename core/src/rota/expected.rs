//! The turns that come, as long as every one before is done when it is due.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use jiff::{Timestamp, civil};

use super::{Limits, Slot, Which, Work, days_done, work};
use crate::care::standing::after;
use crate::care::{Duty, Standing, TurnKey};
use crate::civil::plus_days;
use crate::journal::{Book, When};
use crate::place::{EnclosureId, Place, Target};

/// For how many civil days turns are laid out and shared out, today included.
pub const HORIZON_DAYS: i64 = 14;

/// A turn that comes.
#[derive(Clone, Debug, PartialEq)]
pub struct Expected {
    /// Which it is.
    pub slot: Slot,
    /// Its key, where it is the duty's next or due one: the key of a later one is known once the one before is done.
    pub turn: Option<TurnKey>,
    /// The duty as people call it.
    pub duty: Duty,
    /// What it is about.
    pub target: Target,
    /// The enclosure that it lies in.
    pub enclosure: Option<EnclosureId>,
    /// When it is due; in the past where it is late.
    pub due: Timestamp,
    /// When it becomes a hazard, where it is the duty's next or due one.
    pub hazard: Option<Timestamp>,
    /// When it is to be done: at the round of its due time, one that is late now.
    pub when: When,
    /// What it takes.
    pub work: Work,
}

impl Expected {
    /// What an offer of it must not outlive.
    #[must_use]
    pub fn limits(&self) -> Limits {
        Limits {
            due: self.due,
            hazard: self.hazard,
        }
    }
}

/// One duty on its way through the days.
struct Track<'a> {
    standing: &'a Standing,
    slot: Slot,
    /// When the next turn is due, and its occurrence where it keeps a calendar.
    due: Timestamp,
    /// On how many days it was done, and the last of them.
    days: u32,
    done_on: Option<civil::Date>,
    is_first: bool,
    work: Work,
    /// Those that doing it renews too.
    renews: Vec<usize>,
}

/// How many turns are laid out at most.
const TURNS_MAX: usize = 20_000;

/// How many turns that would have been due before now are passed over one by one; a duty that is late by more is laid out
/// as if done now.
const PASSED_MAX: usize = 1_000;

/// All turns that are to be done before the end of some civil days, today being the first, in order of the moment and
/// then of the walk. `board` is the place's at that moment. A turn that another one renews at the same time is left
/// out, since whoever changes water tops it up with that.
#[must_use]
pub fn lay_out(book: &Book, place: &Place, board: &[Standing], now: Timestamp, days: i64) -> Vec<Expected> {
    lay_out_from(book, place, board, (now, now), days)
}

/// The same as it was planned: a turn that is late moves those behind it only once it is done, so that their dates do not
/// go on with the clock. Those that would have been due before now are passed over.
#[must_use]
pub fn planned(book: &Book, place: &Place, board: &[Standing], now: Timestamp, days: i64) -> Vec<Expected> {
    lay_out_from(book, place, board, (now, Timestamp::MIN), days)
}

/// Lays out turns of which none is done before `earliest`.
fn lay_out_from(
    book: &Book,
    place: &Place,
    board: &[Standing],
    (now, earliest): (Timestamp, Timestamp),
    days: i64,
) -> Vec<Expected> {
    let end = place.zone.day_start(plus_days(place.zone.date(now), days));
    let mut tracks = tracks(book, place, board, now);
    // What renews others goes first, so that those are left out.
    let rank = |track: &Track<'_>, index: usize| (track.due.max(earliest), track.renews.is_empty(), index);
    let mut heap: BinaryHeap<Reverse<(Timestamp, bool, usize)>> = BinaryHeap::new();
    for (index, track) in tracks.iter().enumerate() {
        heap.push(Reverse(rank(track, index)));
    }
    let mut all: Vec<(usize, Expected)> = Vec::new();
    while let Some(Reverse(entry)) = heap.pop() {
        let (at, _, index) = entry;
        if at >= end || all.len() >= TURNS_MAX {
            break;
        }
        // An entry that a renewal made stale.
        if entry != rank(&tracks[index], index) {
            continue;
        }
        all.push((index, tracks[index].expected(place, at)));
        let mut touched = tracks[index].renews.clone();
        touched.push(index);
        for other in touched {
            if tracks[other].go_on(place, at, now) {
                heap.push(Reverse(rank(&tracks[other], other)));
            }
        }
    }
    all.sort_by_key(|(index, one)| (one.when.at, *index));
    all.into_iter().map(|(_, one)| one).collect()
}

fn tracks<'a>(book: &Book, place: &Place, board: &'a [Standing], now: Timestamp) -> Vec<Track<'a>> {
    let at: BTreeMap<(Duty, Target), usize> = board
        .iter()
        .enumerate()
        .map(|(index, standing)| ((standing.turn.duty, standing.turn.target), index))
        .collect();
    let track = |standing: &'a Standing| {
        let TurnKey { duty, target, .. } = standing.turn;
        let renewed = standing.duty().renews().iter();
        let last = book.done_until(duty, target, now).next_back();
        Track {
            standing,
            slot: Slot::of(book, &place.zone, standing, now),
            due: standing.due,
            days: days_done(book, &place.zone, duty, target, now),
            done_on: last.map(|done| place.zone.date(done.at)),
            is_first: true,
            work: work(place, standing.duty(), target),
            renews: renewed
                .filter_map(|duty| at.get(&(*duty, target)).copied())
                .collect(),
        }
    };
    board.iter().map(track).collect()
}

impl Track<'_> {
    fn expected(&self, place: &Place, at: Timestamp) -> Expected {
        let target = self.standing.turn.target;
        Expected {
            slot: self.slot,
            turn: self.is_first.then_some(self.standing.turn),
            duty: self.standing.duty(),
            target,
            enclosure: place.enclosure_of(target).map(|enclosure| enclosure.id),
            due: self.due,
            hazard: self.standing.hazard.filter(|_| self.is_first),
            when: When::of(place, at),
            work: self.work,
        }
    }

    /// Goes on to the turn after one that was done at a moment, which does not come before `now`; whether there is one.
    fn go_on(&mut self, place: &Place, done: Timestamp, now: Timestamp) -> bool {
        let next =
            |done: Timestamp| after(place, &self.standing.cadence, done).filter(|(due, _)| *due > done);
        let mut found = next(done);
        for passed in 0.. {
            match found {
                Some((due, _)) if due < now => found = next(if passed < PASSED_MAX { due } else { now }),
                _ => break,
            }
        }
        let Some((due, on)) = found else {
            self.due = Timestamp::MAX;
            return false;
        };
        (self.due, self.is_first) = (due, false);
        let date = place.zone.date(done);
        self.days += u32::from(self.done_on != Some(date));
        self.done_on = Some(date);
        self.slot.which = on.map_or_else(
            || Which::after(self.days, self.done_on, place.zone.date(due)),
            Which::On,
        );
        true
    }
}
