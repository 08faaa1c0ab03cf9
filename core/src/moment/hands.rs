//! What changes of hands call for: an offer is told to the one it is made to, a turn that was taken over to the one who
//! had it, and what is left uncovered to the keepers.

use jiff::{SignedDuration, Timestamp};

use super::{CATCH_UP_MAX_H, Item, What};
use crate::care::{Standing, standing};
use crate::civil::{plus_minutes, waking};
use crate::journal::{Book, Entry, Event, Say, Seq};
use crate::place::{CarerId, Place};
use crate::rota::{
    Expected, HORIZON_DAYS, Hand, Limits, OFFER_MIN, Slot, hand_of, hand_until, lapses, lay_out,
};

/// Over so many civil days, today included, lies all before which an offer may lapse.
const OFFER_DAYS: i64 = 3;

/// What is posted of changes of hands.
pub(super) fn items(book: &Book, place: &Place, board: &[Standing], now: Timestamp, all: &mut Vec<Item>) {
    let put = |entry: &Entry, key: String, what: What, all: &mut Vec<Item>| {
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
            if let Some(until) = lapse(book, &coming, entry).filter(|until| *until <= now) {
                let key = format!("lapsed.{}.{}", entry.seq, until.as_second());
                let at = waking(&place.zone, place.quiet, until);
                let what = What::Lapsed(entry.seq);
                all.extend((at <= now).then_some(Item { key, at, what }));
            }
            match entry.event {
                Event::Coming(slot, Say::Offered(_)) if stands(book, &coming, &slot, entry, now) => {
                    put(
                        entry,
                        format!("offer.{}", entry.seq),
                        What::Offered(entry.seq),
                        all,
                    );
                }
                Event::Coming(_, Say::Taken) if taken_from(book, place, entry).is_some() => {
                    put(entry, format!("moved.{}", entry.seq), What::Moved(entry.seq), all);
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
                all,
            );
        }
    }
}

/// When an offer lapses that nobody answers until then; `None` for any other entry.
fn lapse(book: &Book, coming: &[Expected], entry: &Entry) -> Option<Timestamp> {
    let Event::Coming(slot, Say::Offered(to)) = entry.event else {
        return None;
    };
    let one = coming.iter().find(|one| one.slot == slot)?;
    let until = lapses(entry.at, one.limits());
    let last = until.saturating_sub(SignedDuration::from_secs(1)).ok()?;
    let hand = hand_until(book, &slot, one.turn.as_ref(), one.limits(), (last, Seq::MAX));
    let stood = hand
        .offered
        .is_some_and(|offer| offer.by == entry.by && offer.to == to);
    stood.then_some(until)
}

/// When offers lapse of which nobody has said anything by now.
pub(super) fn moments(book: &Book, place: &Place, board: &[Standing], now: Timestamp) -> Vec<Timestamp> {
    let from = plus_minutes(now, -OFFER_MIN);
    let is_offer = |entry: &&Entry| matches!(entry.event, Event::Coming(_, Say::Offered(_)));
    let offers: Vec<&Entry> = book
        .said_of_turns(from, now)
        .filter_map(|seq| book.entry(seq))
        .filter(is_offer)
        .collect();
    if offers.is_empty() {
        return Vec::new();
    }
    // What comes later than a day from now, when every offer is over, ends none earlier.
    let coming = lay_out(book, place, board, now, OFFER_DAYS);
    let until = offers.into_iter().filter_map(|entry| {
        let Event::Coming(slot, _) = entry.event else {
            return None;
        };
        let is_near = coming.iter().any(|one| one.slot == slot);
        match is_near {
            true => lapse(book, &coming, entry),
            false => Some(plus_minutes(entry.at, OFFER_MIN)),
        }
    });
    until
        .map(|until| waking(&place.zone, place.quiet, until))
        .collect()
}

/// Whether an offer still stands.
fn stands(book: &Book, coming: &[Expected], slot: &Slot, entry: &Entry, now: Timestamp) -> bool {
    let found = coming.iter().find(|one| one.slot == *slot);
    found.is_some_and(|one| {
        let hand = hand_of(book, one, now);
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
    let unknown = Limits {
        due: Timestamp::MAX,
        hazard: None,
    };
    let limits = next.as_ref().map_or(unknown, Limits::of);
    let turn = next.map(|next| next.turn);
    hand_until(book, slot, turn.as_ref(), limits, (entry.at, entry.seq))
}
