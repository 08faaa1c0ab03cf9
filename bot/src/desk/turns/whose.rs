//! Why a turn lies where it does.

use wrackline_core::care::Standing;
use wrackline_core::journal::When;
use wrackline_core::place::{Carer, Role};
use wrackline_core::rota::{self, Able, Credit, Decided, Slot, able, credit_start, credits, reasons, work};

use super::{Lies, minutes, skills};
use crate::desk::tell::Tell;
use crate::msg;

/// Why a turn lies where it does: how it came there, who else could do it, what everyone did beyond their part.
#[must_use]
pub fn text(tell: &Tell<'_>, standing: &Standing) -> String {
    let hand = Lies::new(tell).hand(standing);
    let who = tell.carer_or_anyone(hand.carer);
    let mut lines = vec![tell.say(&match (hand.freed, hand.carer, hand.settled) {
        (Some(freed), ..) => msg!("whose-freed", who = tell.carer(freed.by)),
        (None, Some(_), true) if hand.said => msg!("whose-taken", who = who),
        (None, Some(_), true) => msg!("whose-shared", who = who),
        (None, Some(_), false) => msg!("whose-expected", who = who),
        (None, None, _) => msg!("whose-nobody"),
    })];
    if hand.freed.is_none() && hand.settled {
        lines.extend(because(tell, standing));
    }
    let at = standing.due.max(tell.now);
    let when = When::of(tell.place, at);
    let balances = credits(tell.book, tell.place, credit_start(tell.now), tell.now);
    let each = tell.place.carers.values().map(|carer| {
        let credit = balances.get(&carer.id).copied().unwrap_or_default();
        one(tell, standing, carer, credit, &when)
    });
    lines.push(tell.say(&msg!("whose-each", people = each.collect::<Vec<_>>().join(" · "))));
    let enclosure = tell.place.enclosure_of(standing.turn.target);
    if let Some((name, habit)) = enclosure.and_then(|one| Some((one.name.as_str(), one.carer?))) {
        lines.push(tell.say(&msg!("whose-habit", enclosure = name, who = tell.carer(habit))));
    }
    lines.join("\n")
}

/// What decided where a turn lies when it was shared out, or that it was offered before it was taken.
fn because(tell: &Tell<'_>, standing: &Standing) -> Option<String> {
    let slot = Slot::of(tell.book, &tell.place.zone, standing, tell.now);
    let laid = rota::laid(tell.book, &slot, Some(&standing.turn), tell.now)?;
    let who = tell.carer(laid.carer?);
    if let Some(Decided::Took { offered_by }) = laid.said {
        return Some(tell.say(&msg!("whose-offered", who = tell.carer(offered_by?))));
    }
    // What a call alone gave out, before turns were shared out, was weighed by nobody.
    if tell.book.shared_at(laid.at) != Some(laid.at) {
        return None;
    }
    let why = reasons(tell.book, &slot, Some(&standing.turn), tell.now)?;
    let message = match why.decided {
        Decided::Only => msg!("whose-only"),
        Decided::Least => msg!("whose-least", who = who),
        Decided::Habit => msg!("whose-by-habit", who = who),
        Decided::Together => msg!("whose-together", who = who),
        Decided::Exchanged(with) => msg!("whose-exchanged", with = tell.carer(with)),
        Decided::Evenest => msg!("whose-evenest"),
        Decided::Took { .. } | Decided::GaveUp(_) | Decided::Nobody => return None,
    };
    Some(tell.say(&message))
}

/// One person: whether they can, and the minutes that they did beyond their part or fell short of it.
fn one(tell: &Tell<'_>, standing: &Standing, carer: &Carer, credit: Credit, when: &When) -> String {
    let needs = work(tell.place, standing.duty(), standing.turn.target).needs;
    let who = tell.carer(carer.id);
    let balance = minutes(credit.balance());
    let can = able(tell.book, carer, &needs, when, tell.now);
    tell.say(&match can {
        Able::Yes if balance < 0 => msg!("whose-short", who = who, minutes = -balance),
        Able::Yes => msg!("whose-beyond", who = who, minutes = balance),
        Able::Away => msg!("whose-away", who = who),
        Able::OutsideSpan | Able::NotThere => msg!("whose-not-there", who = who),
        Able::Unskilled => {
            let lacks = needs.beyond(&carer.can());
            msg!("whose-unskilled", who = who, what = skills(tell, &lacks))
        }
        Able::NoShare if carer.role == Role::Helper => msg!("whose-helper", who = who),
        Able::NoShare => msg!("whose-no-share", who = who),
    })
}
