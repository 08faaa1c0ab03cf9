//! `/offer` and `/take`: a turn goes from hand to hand.

use wrackline_core::care::Duty;
use wrackline_core::journal::{Event, Say, Seq};
use wrackline_core::place::{CarerId, Role, Target};
use wrackline_core::rota::{self, Able, Expected, SharedOut, Slot, Turn, able};

use super::{hand, minutes, named, shared, skills};
use crate::chat::blocks::{Block, Press};
use crate::desk::posts::press;
use crate::desk::presses::with_take_back;
use crate::desk::tell::Tell;
use crate::desk::{Desk, Outcome, Refused};
use crate::lines::ask::TurnAsk;
use crate::lines::turn_as_typed;
use crate::msg;

/// `/offer`: an own turn is offered to someone, who is told.
///
/// # Errors
/// A refusal when it is not one's own, or the other cannot do it.
pub fn offer(desk: &Desk<'_>, ask: &TurnAsk, to: CarerId) -> Result<Outcome, Refused> {
    let shared = shared(&desk.tell);
    let turn = pick(desk, &shared, ask, &[&|turn| turn.carer == Some(desk.me)])?;
    let expected = &turn.expected;
    let name = named(&desk.tell, expected);
    match turn.carer {
        Some(owner) if owner != desk.me => {
            return Err(msg!(
                "refuse-offer-not-yours",
                turn = name,
                who = desk.tell.carer(owner)
            ));
        }
        None => return Err(msg!("refuse-offer-nobodys", turn = name)),
        Some(_) => {}
    }
    if to == desk.me {
        return Err(msg!("refuse-offer-yourself"));
    }
    can(desk, to, expected)?;
    let stands = hand(&desk.tell, expected).offered;
    if stands.is_some_and(|offer| offer.to == to) {
        return Err(msg!(
            "refuse-offer-stands",
            turn = name,
            who = desk.tell.carer(to)
        ));
    }
    let until = rota::lapses(desk.now(), expected.limits());
    let drafts = vec![desk.draft(Event::Coming(expected.slot, Say::Offered(to)))];
    Ok(Outcome::write(drafts, move |desk, numbers| {
        let (who, until) = (desk.tell.carer(to), desk.tell.near(until));
        let turn = name.as_str();
        let answer = desk.done(&match stands {
            Some(before) => {
                let before = desk.tell.carer(before.to);
                msg!(
                    "offer-receipt-instead",
                    turn = turn,
                    before = before,
                    who = who,
                    until = until
                )
            }
            None => msg!("offer-receipt", turn = turn, who = who, until = until),
        });
        with_take_back(desk, answer, numbers)
    }))
}

/// `/take`: an open or offered turn at once; somebody else's is shown first.
///
/// # Errors
/// A refusal when it is one's own already, or the speaker cannot do it.
pub fn take(desk: &Desk<'_>, ask: &TurnAsk, sure: bool) -> Result<Outcome, Refused> {
    let shared = shared(&desk.tell);
    let to_me = |turn: &Turn| is_offered(desk, turn, desk.me);
    let free = |turn: &Turn| turn.carer.is_none();
    let theirs = |turn: &Turn| turn.carer != Some(desk.me);
    let turn = pick(desk, &shared, ask, &[&to_me, &free, &theirs])?;
    let expected = &turn.expected;
    let name = named(&desk.tell, expected);
    can(desk, desk.me, expected)?;
    let Some(owner) = turn.carer.filter(|_| !to_me(turn)) else {
        return Ok(taken(desk, expected));
    };
    if owner == desk.me {
        return Err(msg!("refuse-take-yours", turn = name));
    }
    if sure {
        return Ok(taken(desk, expected));
    }
    Ok(preview(desk, expected, owner))
}

/// What taking somebody else's turn would move, before it is taken.
fn preview(desk: &Desk<'_>, expected: &Expected, owner: CarerId) -> Outcome {
    let said = (desk.me, &[Event::Coming(expected.slot, Say::Taken)][..]);
    let moves = rota::moves(desk.book(), desk.place(), &desk.board(), said, desk.now());
    let mut answer = desk.done(&msg!(
        "take-preview",
        turn = named(&desk.tell, expected),
        who = desk.tell.carer(owner),
        minutes = minutes(expected.work.minutes),
        moved = moves.moved.len()
    ));
    let code = format!("takefrom.{}.{}", owner.0, expected.slot);
    let answers = vec![
        desk.press(&msg!("press-take"), code)
            .typed(desk.tell.word("typed-sure")),
        desk.press(&msg!("press-leave"), "leave.take".to_owned()),
    ];
    answer.blocks.push(Block::Answers { answers });
    Outcome::answer(answer)
}

/// `I'll do it` on a coming turn.
///
/// # Errors
/// A refusal when it is done or gone, or one's own, or the one who presses cannot do it.
pub fn take_over(desk: &Desk<'_>, about: &str) -> Result<Outcome, Refused> {
    take_slot(desk, &about.parse().map_err(|_| msg!("refuse-press"))?, None)
}

/// `I'll do it` once it was shown whose turn that is: the code has their number and the slot.
///
/// # Errors
/// Those of [`take_over`].
pub fn take_from(desk: &Desk<'_>, about: &str) -> Result<Outcome, Refused> {
    let (owner, slot) = about.split_once('.').ok_or_else(|| msg!("refuse-press"))?;
    let owner = owner.parse().map_err(|_| msg!("refuse-press"))?;
    let slot = slot.parse().map_err(|_| msg!("refuse-press"))?;
    take_slot(desk, &slot, Some(CarerId(owner)))
}

/// Takes a coming turn over. Whoever took it themselves meanwhile is shown first, but where the one who presses saw it
/// as theirs.
///
/// # Errors
/// Those of [`take_over`].
pub fn take_slot(desk: &Desk<'_>, slot: &Slot, seen: Option<CarerId>) -> Result<Outcome, Refused> {
    let shared = shared(&desk.tell);
    let turn = of_slot(desk, &shared, slot)?;
    if turn.carer == Some(desk.me) {
        let turn = named(&desk.tell, &turn.expected);
        return Err(msg!("refuse-take-yours", turn = turn));
    }
    can(desk, desk.me, &turn.expected)?;
    let is_said = hand(&desk.tell, &turn.expected).said;
    match turn.carer {
        Some(owner) if seen != Some(owner) && (is_said || seen.is_some()) => {
            Ok(preview(desk, &turn.expected, owner))
        }
        _ => Ok(taken(desk, &turn.expected)),
    }
}

/// An answer to an offer: the code has the offer's slot.
///
/// # Errors
/// A refusal when the offer stands no longer or is made to somebody else.
pub fn answered(desk: &Desk<'_>, about: &str, accepts: bool) -> Result<Outcome, Refused> {
    let slot: Slot = about.parse().map_err(|_| msg!("refuse-press"))?;
    let shared = shared(&desk.tell);
    let turn = of_slot(desk, &shared, &slot)?;
    answer(desk, turn, accepts)
}

/// `/offer no`: an offer is refused, the only one where none is named.
///
/// # Errors
/// A refusal when nothing, or more than one turn, is offered to the speaker, or none that fits the words.
pub fn decline(desk: &Desk<'_>, ask: Option<&TurnAsk>) -> Result<Outcome, Refused> {
    let shared = shared(&desk.tell);
    let to_me = |turn: &Turn| is_offered(desk, turn, desk.me);
    if let Some(ask) = ask {
        let turn = pick(desk, &shared, ask, &[&to_me])?;
        if hand(&desk.tell, &turn.expected).offered.is_none() {
            let name = named(&desk.tell, &turn.expected);
            return Err(msg!("refuse-offer-none-of-it", turn = name));
        }
        return answer(desk, turn, false);
    }
    let mine: Vec<&Turn> = shared.turns.iter().filter(|turn| to_me(turn)).collect();
    match mine.as_slice() {
        [] => Err(msg!("refuse-offer-none")),
        [turn] => answer(desk, turn, false),
        all => {
            let names: Vec<String> = all
                .iter()
                .map(|turn| turn_as_typed(&turn.expected, &desk.tell.context()))
                .collect();
            Err(msg!("refuse-offer-which", names = desk.tell.either(&names)))
        }
    }
}

fn answer(desk: &Desk<'_>, turn: &Turn, accepts: bool) -> Result<Outcome, Refused> {
    let expected = &turn.expected;
    let slot = expected.slot;
    let name = named(&desk.tell, expected);
    let Some(offer) = hand(&desk.tell, expected).offered else {
        let who = desk.tell.carer_or_anyone(turn.carer);
        return Err(msg!("refuse-offer-over", turn = name, who = who));
    };
    if offer.to != desk.me {
        let who = desk.tell.carer(offer.to);
        return Err(msg!("refuse-offer-other", turn = name, who = who));
    }
    if accepts {
        can(desk, desk.me, expected)?;
        return Ok(taken(desk, expected));
    }
    let drafts = vec![desk.draft(Event::Coming(slot, Say::Declined))];
    Ok(Outcome::write(drafts, move |desk, numbers| {
        let answer = desk.done(&msg!(
            "decline-receipt",
            turn = name.as_str(),
            who = desk.tell.carer(desk.me),
            owner = desk.tell.carer(offer.by)
        ));
        with_take_back(desk, answer, numbers)
    }))
}

/// The answers to an offer.
#[must_use]
pub fn presses(tell: &Tell<'_>, expected: &Expected) -> Vec<Press> {
    let slot = expected.slot;
    let turn = turn_as_typed(expected, &tell.context());
    vec![
        press(tell, "press-take", format!("accept.{slot}")).typed(format!("/take {turn}")),
        press(tell, "press-decline", format!("decline.{slot}")).typed(format!("/offer no {turn}")),
    ]
}

/// Who offers a turn to whom by an entry.
pub(super) fn offered_by(tell: &Tell<'_>, seq: Seq) -> Option<(Slot, CarerId, CarerId)> {
    let entry = tell.book.entry(seq)?;
    match entry.event {
        Event::Coming(slot, Say::Offered(to)) => Some((slot, entry.by, to)),
        _ => None,
    }
}

fn taken(desk: &Desk<'_>, expected: &Expected) -> Outcome {
    let name = named(&desk.tell, expected);
    let took = expected.work.minutes;
    let drafts = vec![desk.draft(Event::Coming(expected.slot, Say::Taken))];
    Outcome::write(drafts, move |desk, numbers| {
        let answer = desk.done(&msg!(
            "taken-receipt",
            turn = name.as_str(),
            who = desk.tell.carer(desk.me),
            minutes = minutes(took)
        ));
        with_take_back(desk, answer, numbers)
    })
}

fn is_offered(desk: &Desk<'_>, turn: &Turn, to: CarerId) -> bool {
    let offer = hand(&desk.tell, &turn.expected).offered;
    offer.is_some_and(|offer| offer.to == to)
}

fn of_slot<'a>(desk: &Desk<'_>, shared: &'a SharedOut, slot: &Slot) -> Result<&'a Turn, Refused> {
    let found = shared.turns.iter().find(|turn| turn.expected.slot == *slot);
    found.ok_or_else(|| {
        msg!(
            "refuse-closed",
            target = desk.tell.target(slot.target),
            duty = desk.tell.duty(slot.duty)
        )
    })
}

/// A condition that a turn keeps.
type Fits<'f> = &'f dyn Fn(&Turn) -> bool;

/// The turn that is meant: of those that fit the words, the next that keeps the first condition that any keeps.
fn pick<'a>(
    desk: &Desk<'_>,
    shared: &'a SharedOut,
    ask: &TurnAsk,
    first: &[Fits<'_>],
) -> Result<&'a Turn, Refused> {
    let duty = ask.duty.family();
    let of_duty: Vec<&Turn> = shared
        .turns
        .iter()
        .filter(|turn| turn.expected.slot.duty == duty && is_there(ask, turn.expected.target))
        .collect();
    let mut targets: Vec<Target> = of_duty.iter().map(|turn| turn.expected.target).collect();
    targets.sort();
    targets.dedup();
    if targets.len() > 1 {
        let names: Vec<String> = targets.iter().map(|target| desk.tell.target(*target)).collect();
        return Err(msg!(
            "refuse-turn-which",
            duty = desk.tell.duty(ask.duty),
            names = desk.tell.either(&names)
        ));
    }
    let fits = |turn: &&&Turn| {
        let when = &turn.expected.when;
        ask.date.is_none_or(|date| date == when.date) && ask.round.is_none_or(|round| round == when.round)
    };
    let all: Vec<&Turn> = of_duty.iter().filter(fits).copied().collect();
    // A round without a day is the next such one, whoever has that.
    let chosen = if ask.date.is_none() && ask.round.is_some() {
        all.iter().find(|turn| first.iter().any(|wanted| wanted(turn)))
    } else {
        first
            .iter()
            .find_map(|wanted| all.iter().find(|turn| wanted(turn)))
    };
    chosen
        .or(all.first())
        .copied()
        .ok_or_else(|| no_such(desk, ask, of_duty.first().copied()))
}

/// Whether a turn's target is one of those that were said.
pub(super) fn is_there(ask: &TurnAsk, target: Target) -> bool {
    match (ask.duty, target) {
        (Duty::Own(_), _) => true,
        (_, Target::Pool(id)) => ask.spot.pools.contains(&id),
        (_, Target::Enclosure(id)) => ask.spot.enclosures.contains(&id),
        (_, Target::Place) => true,
    }
}

/// That there is no such turn, with the next that there is.
fn no_such(desk: &Desk<'_>, ask: &TurnAsk, next: Option<&Turn>) -> Refused {
    let duty = desk.tell.duty(ask.duty);
    match next {
        Some(next) => msg!(
            "refuse-turn-not-then",
            duty = duty,
            next = named(&desk.tell, &next.expected)
        ),
        None => msg!("refuse-turn-none", duty = duty, days = rota::HORIZON_DAYS),
    }
}

/// Holds that someone can do a turn then, and has an account to say so.
fn can(desk: &Desk<'_>, who: CarerId, expected: &Expected) -> Result<(), Refused> {
    let name = desk.tell.carer(who);
    let Some(carer) = desk.place().carers.get(&who) else {
        return Err(msg!("refuse-turn-gone", who = name));
    };
    if carer.role == Role::Helper {
        return Err(msg!("refuse-turn-helper", who = name));
    }
    let turn = named(&desk.tell, expected);
    let needs = &expected.work.needs;
    Err(
        match able(desk.book(), carer, needs, &expected.when, desk.now()) {
            Able::Yes | Able::NoShare => return Ok(()),
            Able::Away => msg!("refuse-turn-away", who = name, turn = turn),
            Able::OutsideSpan => msg!("refuse-turn-span", who = name, turn = turn),
            Able::NotThere => msg!("refuse-turn-not-there", who = name, turn = turn),
            Able::Unskilled => msg!(
                "refuse-turn-unskilled",
                who = name,
                turn = turn,
                what = skills(&desk.tell, &needs.beyond(&carer.can()))
            ),
        },
    )
}
