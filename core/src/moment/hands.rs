//! What changes of hands call for: an offer is told to the one it is made to, a turn that was taken over to the one who
//! had it, and what is left uncovered to the keepers.

use jiff::{SignedDuration, Timestamp};

use super::{CATCH_UP_MAX_H, Item, What};
use crate::care::{Standing, standing};
use crate::civil::waking;
use crate::journal::{Book, Entry, Event, Say, Seq};
use crate::place::{CarerId, Place};
use crate::rota::{Expected, HORIZON_DAYS, Hand, Slot, hand_of, lay_out};

/// What is posted of changes of hands.
pub(super) fn items(book: &Book, place: &Place, board: &[Standing], now: Timestamp, all: &mut Vec<Item>) {
    let mut put = |entry: &Entry, key: String, what: What| {
        let at = waking(&place.zone, place.quiet, entry.at);
        if at <= now {
            all.push(Item { key, at, what });
        }
    };
    let from = now
        .saturating_sub(SignedDuration::from_hours(CATCH_UP_MAX_H))
        .unwrap_or(now);
    let said: Vec<Seq> = book.said_of_turns(from, now).collect();
    if !said.is_empty() {
        let coming = lay_out(book, place, board, now, HORIZON_DAYS);
        for entry in said.iter().filter_map(|seq| book.entry(*seq)) {
            match entry.event {
                Event::Coming(slot, Say::Offered(_)) if stands(book, &coming, &slot, entry, now) => {
                    put(entry, format!("offer.{}", entry.seq), What::Offered(entry.seq));
                }
                Event::Coming(_, Say::Taken) if taken_from(book, place, entry).is_some() => {
                    put(entry, format!("moved.{}", entry.seq), What::Moved(entry.seq));
                }
                _ => {}
            }
        }
    }
    for entry in book.shared_since(from, now).filter_map(|seq| book.entry(seq)) {
        // What the house shares out by itself, round by round, leaves nobody without what they knew before.
        let is_of_line = entry.said_by != entry.by;
        let Event::Shared(turns) = &entry.event else {
            continue;
        };
        if is_of_line && turns.iter().any(|(_, carer)| carer.is_none()) {
            put(
                entry,
                format!("uncovered.{}", entry.seq),
                What::Uncovered(entry.seq),
            );
        }
    }
}

/// Whether an offer still stands.
fn stands(book: &Book, coming: &[Expected], slot: &Slot, entry: &Entry, now: Timestamp) -> bool {
    let found = coming.iter().find(|one| one.slot == *slot);
    found.is_some_and(|one| {
        let hand = hand_of(book, slot, one.turn.as_ref(), one.due, now);
        hand.offered.is_some_and(|offer| offer.by == entry.by)
    })
}

/// From whom a turn was taken over by an entry that takes it, where they had not offered it.
#[must_use]
pub fn taken_from(book: &Book, place: &Place, entry: &Entry) -> Option<CarerId> {
    let Event::Coming(slot, Say::Taken) = entry.event else {
        return None;
    };
    let hand = hand_before(book, place, &slot, entry);
    let owner = hand.carer.filter(|owner| *owner != entry.by)?;
    let offered = hand.offered.is_some_and(|offer| offer.to == entry.by);
    (!offered).then_some(owner)
}

/// Where a turn lay right before an entry of it.
fn hand_before(book: &Book, place: &Place, slot: &Slot, entry: &Entry) -> Hand {
    let next = standing(book, place, slot.duty, slot.target, entry.at);
    let next = next.filter(|next| Slot::of(book, &place.zone, next, entry.at) == *slot);
    let due = next.as_ref().map_or(Timestamp::MAX, |next| next.due);
    let turn = next.map(|next| next.turn);
    crate::rota::hand_until(book, slot, turn.as_ref(), due, (entry.at, entry.seq))
}
