//! What is posted of changes of hands, as it stands when it is sent.

use wrackline_core::journal::{Event, Say, Seq, TurnEvent};
use wrackline_core::moment::taken_from;
use wrackline_core::place::CarerId;
use wrackline_core::rota::{self, SharedOut, Slot, Turn};

use super::offer::{offered_by, presses};
use super::{hand, lack, named, plain, shared, take_press};
use crate::chat::blocks::{Block, Item};
use crate::desk::tell::Tell;
use crate::msg;
use crate::words::Message;

/// The most turns that one post names.
const NAMED_MAX: usize = 20;

/// A post as blocks, and whether it is still open.
pub type Told = (Vec<Block>, bool);

fn title(tell: &Tell<'_>, message: &Message) -> Told {
    let text = tell.say(message);
    (vec![Block::Title { text }], false)
}

fn of_slot<'a>(shared: &'a SharedOut, slot: &Slot) -> Option<&'a Turn> {
    shared.turns.iter().find(|turn| turn.expected.slot == *slot)
}

/// What a turn that is laid out no longer was: where and what.
fn gone(tell: &Tell<'_>, slot: &Slot) -> String {
    format!("{}: {}", tell.target(slot.target), tell.duty(slot.duty))
}

/// An offer: to whom, of what, until when; or what came of it.
#[must_use]
pub fn offered(tell: &Tell<'_>, seq: Seq) -> Told {
    let Some((slot, by, to)) = offered_by(tell, seq) else {
        return title(tell, &msg!("said-undone"));
    };
    let (by_name, to_name) = (tell.carer(by), tell.carer(to));
    let shared = shared(tell);
    let found = of_slot(&shared, &slot);
    let name = found.map_or_else(|| gone(tell, &slot), |turn| named(tell, &turn.expected));
    if tell.book.is_void(seq) {
        return title(tell, &msg!("offer-undone", turn = name, who = by_name));
    }
    let Some(turn) = found else {
        return title(tell, &msg!("offer-gone", turn = name));
    };
    let hand = hand(tell, &turn.expected);
    if let Some(offer) = hand.offered.filter(|offer| offer.to == to) {
        let text = tell.say(&msg!(
            "offer-post",
            to = to_name,
            by = by_name,
            turn = name,
            until = tell.moment(offer.until)
        ));
        let blocks = vec![
            Block::Title { text },
            Block::For { carers: vec![to.0] },
            Block::Answers {
                answers: presses(tell, &turn.expected),
            },
        ];
        return (blocks, true);
    }
    let since = |(key, event): ((jiff::Timestamp, Seq), TurnEvent)| (key.1 > seq).then_some(event);
    let mut after = tell.book.slot_events(&slot, tell.now).filter_map(since);
    let first = after.find(|event| matches!(event, TurnEvent::Took(_) | TurnEvent::Declined(_)));
    let (turn, who) = (name, by_name);
    title(
        tell,
        &match first {
            Some(TurnEvent::Took(carer)) => msg!("offer-taken", turn = turn, who = tell.carer(carer)),
            Some(_) => msg!("offer-declined", turn = turn, to = to_name, who = who),
            None if hand.offered.is_some() => {
                let other = hand
                    .offered
                    .map_or_else(String::new, |offer| tell.carer(offer.to));
                msg!(
                    "offer-instead",
                    turn = turn,
                    to = to_name,
                    who = who,
                    other = other
                )
            }
            None => match hand.carer {
                Some(carer) if carer == by => msg!("offer-lapsed", turn = turn, to = to_name, who = who),
                // It went to somebody else before anybody answered.
                Some(carer) => msg!("offer-moved", turn = turn, to = to_name, who = tell.carer(carer)),
                None => msg!("offer-open", turn = turn, to = to_name),
            },
        },
    )
}

/// A turn that was taken over, told to the one who had it.
#[must_use]
pub fn moved(tell: &Tell<'_>, seq: Seq) -> Told {
    let entry = tell.book.entry(seq);
    let Some((entry, slot)) = entry.and_then(|entry| match entry.event {
        Event::Coming(slot, Say::Taken) => Some((entry, slot)),
        _ => None,
    }) else {
        return title(tell, &msg!("said-undone"));
    };
    let shared = shared(tell);
    let found = of_slot(&shared, &slot);
    let name = found.map_or_else(|| gone(tell, &slot), |turn| named(tell, &turn.expected));
    if tell.book.is_void(seq) {
        return title(tell, &msg!("moved-undone", turn = name));
    }
    let owner = taken_from(tell.book, tell.place, entry);
    let text = tell.say(&msg!(
        "moved-post",
        owner = tell.carer_or_anyone(owner),
        turn = name,
        who = tell.carer(entry.by)
    ));
    let carers = owner.iter().map(|owner| owner.0).collect();
    (vec![Block::Title { text }, Block::For { carers }], false)
}

/// Turns that were left uncovered, told to the keepers.
#[must_use]
pub fn uncovered(tell: &Tell<'_>, seq: Seq) -> Told {
    let slots: Vec<Slot> = match tell.book.entry(seq).map(|entry| &entry.event) {
        Some(Event::Shared(all)) if !tell.book.is_void(seq) => {
            let open = all.iter().filter(|(_, carer)| carer.is_none());
            open.map(|(slot, _)| *slot).collect()
        }
        _ => return title(tell, &msg!("said-undone")),
    };
    let shared = shared(tell);
    let open: Vec<&Turn> = slots
        .iter()
        .filter_map(|slot| of_slot(&shared, slot).filter(|turn| turn.carer.is_none()))
        .collect();
    if open.is_empty() {
        return title(tell, &msg!("uncovered-none"));
    }
    let keepers: Vec<CarerId> = tell.place.keepers().collect();
    let names: Vec<String> = keepers.iter().map(|id| tell.carer(*id)).collect();
    let text = tell.say(&msg!(
        "uncovered-post",
        keepers = tell.list(&names),
        count = open.len()
    ));
    let mut blocks = vec![Block::Title { text }];
    blocks.push(Block::For {
        carers: keepers.iter().map(|id| id.0).collect(),
    });
    let items = open.iter().take(NAMED_MAX).map(|turn| open_item(tell, turn));
    blocks.push(Block::Items {
        items: items.collect(),
    });
    if open.len() > NAMED_MAX {
        let more = msg!("week-unknown-more", count = open.len() - NAMED_MAX);
        blocks.push(Block::Text {
            text: tell.say(&more),
        });
    }
    (blocks, true)
}

fn open_item(tell: &Tell<'_>, turn: &Turn) -> Item {
    let why = rota::lack(tell.book, tell.place, &turn.expected, tell.now);
    let text = msg!(
        "turn-uncovered",
        turn = named(tell, &turn.expected),
        why = lack(tell, why)
    );
    plain(tell.say(&text), vec![take_press(tell, &turn.expected)])
}
