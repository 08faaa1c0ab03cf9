//! Turns that go into one hand: those of one enclosure in one round.

use std::collections::BTreeMap;

use jiff::{Timestamp, civil};

use super::{SharedOut, stays_free};
use crate::journal::Book;
use crate::place::{CarerId, EnclosureId, Place, RoundId};
use crate::rota::{Able, Needs, able, hand_of};

/// Which turns belong together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Together {
    pub(super) date: civil::Date,
    pub(super) round: RoundId,
    pub(super) enclosure: Option<EnclosureId>,
}

/// Turns that nobody has yet and that one person is to do.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub(super) key: Together,
    /// Their places in the list.
    pub(super) turns: Vec<usize>,
    pub(super) minutes: f64,
    /// Who can do all of them.
    pub(super) can: Vec<CarerId>,
}

/// The key of a turn.
pub(super) fn key(shared: &SharedOut, index: usize) -> Together {
    let expected = &shared.turns[index].expected;
    Together {
        date: expected.when.date,
        round: expected.when.round,
        enclosure: expected.enclosure,
    }
}

/// The turns that are to be given out, in groups: where nobody can do all of a group, by what each turn asks for.
pub(super) fn groups(book: &Book, place: &Place, now: Timestamp, shared: &SharedOut) -> Vec<Group> {
    let mut by_key: BTreeMap<Together, Vec<usize>> = BTreeMap::new();
    for (index, turn) in shared.turns.iter().enumerate() {
        let expected = &turn.expected;
        if turn.carer.is_some() {
            continue;
        }
        let hand = hand_of(book, &expected.slot, expected.turn.as_ref(), expected.due, now);
        if !stays_free(&hand, expected, now) {
            by_key.entry(key(shared, index)).or_default().push(index);
        }
    }
    let mut all = Vec::new();
    for (key, turns) in by_key {
        let whole = group(book, place, now, shared, key, turns);
        if whole.can.is_empty() && whole.turns.len() > 1 {
            let single = |index: &usize| group(book, place, now, shared, key, vec![*index]);
            all.extend(merged(whole.turns.iter().map(single).collect()));
        } else {
            all.push(whole);
        }
    }
    all
}

/// Groups of the same people as one.
fn merged(parts: Vec<Group>) -> Vec<Group> {
    let mut all: Vec<Group> = Vec::new();
    for part in parts {
        match all.iter_mut().find(|one| one.can == part.can) {
            Some(one) => {
                one.turns.extend(part.turns);
                one.minutes += part.minutes;
            }
            None => all.push(part),
        }
    }
    all
}

fn group(
    book: &Book,
    place: &Place,
    now: Timestamp,
    shared: &SharedOut,
    key: Together,
    turns: Vec<usize>,
) -> Group {
    let of = |index: &usize| &shared.turns[*index].expected;
    let needs = turns
        .iter()
        .fold(Needs::default(), |all, index| all.and(of(index).work.needs));
    let when = &of(&turns[0]).when;
    let gave_up = |carer: &CarerId| {
        turns.iter().any(|index| {
            let expected = of(index);
            book.slot_events(&expected.slot, now)
                .any(|(_, event)| event == crate::journal::TurnEvent::Cannot(*carer))
        })
    };
    let can = place
        .carers
        .values()
        .filter(|carer| able(book, carer, &needs, when, now) == Able::Yes)
        .map(|carer| carer.id)
        .filter(|carer| !gave_up(carer));
    Group {
        key,
        minutes: turns.iter().map(|index| of(index).work.minutes).sum(),
        can: can.collect(),
        turns,
    }
}
