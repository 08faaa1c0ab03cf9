//! A carer's coming turns as a calendar tells them: which, when, and how often each was changed.
//!
//! Dates are those that were planned, and owners those that were published, so that what is told stays the same to the
//! byte while nothing changes. How it is written as RFC 5545 is the desk's.

use std::collections::BTreeMap;

use jiff::{Timestamp, civil};

use crate::care::{Duty, Standing, TurnKey, board};
use crate::civil::plus_minutes;
use crate::journal::{Book, Event, Say, Seq, TurnEvent};
use crate::place::{CarerId, Place, Target};
use crate::rota::{Expected, HORIZON_DAYS, Slot, Which, planned};

/// For how many days a turn that passed into other hands is told as cancelled to whoever had it: long enough for every
/// calendar that asks once a day to have heard of it. It ends earlier with the turn itself.
pub const CANCELLED_DAYS: i64 = 14;

/// A carer's turns.
#[derive(Clone, Debug, PartialEq)]
pub struct Feed {
    /// Whose.
    pub carer: CarerId,
    /// The turns, in order of the moment, then of the walk.
    pub turns: Vec<FeedTurn>,
}

/// One turn of a carer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FeedTurn {
    /// What the turn is known by, whoever holds it and whenever it is due. Never shown: it is hashed into the UID.
    pub code: String,
    /// How often it was changed since it was first published: it passed into other hands, or something was written by
    /// which its date may have moved. It never falls, for the journal only grows.
    pub sequence: u32,
    /// The duty as people call it.
    pub duty: Duty,
    /// What it is about.
    pub target: Target,
    /// When it is due.
    pub due: Timestamp,
    /// The civil time at which a calendar rule holds it; `None` for a turn that was computed.
    pub on: Option<civil::DateTime>,
    /// How long it takes, in minutes, at least one.
    pub minutes: u32,
    /// Whether it is no longer this carer's.
    pub is_cancelled: bool,
    /// When it was last changed, by the journal.
    pub changed_at: Timestamp,
}

/// The turns of a carer at a moment: theirs, and those that were theirs lately. `place` must be the book's place at that
/// moment.
#[must_use]
pub fn feed(book: &Book, place: &Place, carer: CarerId, now: Timestamp) -> Feed {
    let board: Vec<Standing> = board(book, place, now);
    let cancelled_since = plus_minutes(now, -CANCELLED_DAYS * 24 * 60);
    let mut told: BTreeMap<Slot, u32> = BTreeMap::new();
    let mut turns = Vec::new();
    for expected in planned(book, place, &board, now, HORIZON_DAYS) {
        let hands = hands(book, &expected.slot, expected.turn.as_ref(), now);
        let Some(first) = hands.first() else {
            continue;
        };
        // A duty that is done more than once a day has turns that one slot stands for.
        let nth = told.entry(expected.slot).or_insert(0);
        *nth += 1;
        let mine = |(_, holder): &(Seq, Option<CarerId>)| *holder == Some(carer);
        let lost = hands.iter().rposition(mine).and_then(|held| hands.get(held + 1));
        let is_cancelled = !hands.last().is_some_and(mine);
        let lately = |(seq, _): &&(Seq, Option<CarerId>)| logged_at(book, *seq) >= cancelled_since;
        if is_cancelled && lost.filter(lately).is_none() {
            continue;
        }
        let mut changes = hands.len() - 1;
        let mut last = hands.iter().map(|(seq, _)| *seq).max();
        for entry in book.entries_after(first.0) {
            let counts = counts(book, place, &entry.event, &expected);
            changes += counts;
            last = last.max((counts > 0).then_some(entry.seq));
        }
        turns.push(FeedTurn {
            sequence: u32::try_from(changes).unwrap_or(u32::MAX),
            is_cancelled,
            changed_at: last.map_or(Timestamp::UNIX_EPOCH, |seq| logged_at(book, seq)),
            ..turn(place, &expected, *nth)
        });
    }
    Feed { carer, turns }
}

/// A turn of which nothing is known but what was laid out; `nth` of those that its slot stands for, from 1.
fn turn(place: &Place, expected: &Expected, nth: u32) -> FeedTurn {
    let on = match expected.slot.which {
        Which::On(on) => Some(on),
        Which::After(_) => None,
    };
    FeedTurn {
        code: match nth {
            1 => expected.slot.to_string(),
            _ => format!("{}/{nth}", expected.slot),
        },
        sequence: 0,
        duty: expected.duty,
        target: expected.target,
        due: expected.due,
        // One that a quiet zone holds back is due at another time than its rule says.
        on: on.filter(|on| place.zone.instant(*on) == expected.due),
        minutes: expected.work.minutes.ceil().max(1.0) as u32,
        is_cancelled: false,
        changed_at: Timestamp::UNIX_EPOCH,
    }
}

/// Through whose hands a turn went up to a moment, each with the entry by which it came there; `None` for nobody's.
fn hands(book: &Book, slot: &Slot, turn: Option<&TurnKey>, now: Timestamp) -> Vec<(Seq, Option<CarerId>)> {
    let of_turn = turn
        .into_iter()
        .flat_map(|turn| book.keyed_turn_events(turn, now));
    let mut all: Vec<_> = book.slot_events(slot, now).chain(of_turn).collect();
    all.sort_by_key(|(key, _)| *key);
    let mut hands: Vec<(Seq, Option<CarerId>)> = Vec::new();
    for ((_, seq), event) in all {
        let holder = match event {
            TurnEvent::Published(carer) | TurnEvent::Took(carer) => Some(carer),
            TurnEvent::Open | TurnEvent::Cannot(_) => None,
            TurnEvent::Later(_) | TurnEvent::Offered { .. } | TurnEvent::Declined(_) => continue,
        };
        if hands.last().is_none_or(|(_, before)| *before != holder) {
            hands.push((seq, holder));
        }
    }
    hands
}

fn logged_at(book: &Book, seq: Seq) -> Timestamp {
    book.entry(seq)
        .map_or(Timestamp::UNIX_EPOCH, |entry| entry.logged_at)
}

/// How many changes of a turn an entry counts for, beside the hands that it went through. A retraction takes one pair of
/// hands out of those, and is a change itself.
fn counts(book: &Book, place: &Place, event: &Event, expected: &Expected) -> usize {
    let (slot, key) = (&expected.slot, expected.turn.as_ref());
    let retracted = match event {
        Event::Retract(of) => book.entry(*of).map(|entry| &entry.event),
        _ => None,
    };
    match retracted {
        Some(Event::Coming(of, Say::Taken | Say::Freed)) => 2 * usize::from(of == slot),
        Some(Event::Took { turn } | Event::Cannot { turn }) => 2 * usize::from(Some(turn) == key),
        _ => usize::from(may_move(book, place, event, slot)),
    }
}

/// Whether an entry may move the date of a turn, or change how long it takes.
fn may_move(book: &Book, place: &Place, event: &Event, slot: &Slot) -> bool {
    let of_pool = |pool| slot.target == Target::Pool(pool);
    match event {
        Event::Did(duty, target, _) | Event::Waits(duty, target, _) => {
            let renewed = duty.family() == slot.duty || duty.renews().contains(&slot.duty);
            renewed && *target == slot.target
        }
        Event::NotNeeded { turn, .. } => (turn.duty, turn.target) == (slot.duty, slot.target),
        Event::Retract(of) | Event::Nodded(of) => book
            .entry(*of)
            .is_some_and(|entry| may_move(book, place, &entry.event, slot)),
        Event::Place(_) | Event::Round(..) | Event::Numbers(..) | Event::Supplies(_) => true,
        Event::Enclosure(id, _) => place.enclosure_of(slot.target).is_some_and(|one| one.id == *id),
        Event::Pool(id, _) | Event::Gear(id, ..) | Event::GearFact(id, ..) | Event::Input(id, _) => {
            of_pool(*id)
        }
        Event::OwnDuty(id, _) => slot.duty == Duty::Own(*id),
        // A reading is a duty done, and tests of a filter's water prove it.
        Event::Read(target, _) => *target == slot.target,
        _ => false,
    }
}
