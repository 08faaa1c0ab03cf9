//! What is set of a person: who may, what it changes, and what stands against it.

use std::collections::BTreeMap;

use wrackline_core::civil::Zone;
use wrackline_core::journal::CarerChange;
use wrackline_core::people::{Skills, Span};
use wrackline_core::place::{Carer, CarerId, Role};
use wrackline_core::rota::{self, left_undone};

use super::carers::known;
use crate::chat::blocks::Block;
use crate::desk::tell::clock;
use crate::desk::{Desk, Outcome, Refused, Reply};
use crate::lines::ask::{CarerField, DaysSaid};
use crate::msg;

/// What each person sets for themselves; the rest is a keeper's alone.
fn is_ones_own(field: &CarerField) -> bool {
    match field {
        CarerField::Account(_)
        | CarerField::Role(_)
        | CarerField::StandIn(_)
        | CarerField::Days(_)
        | CarerField::Skill(_)
        | CarerField::Lifts(_) => false,
        CarerField::Zone(_)
        | CarerField::Units(_)
        | CarerField::Language(_)
        | CarerField::Free(_)
        | CarerField::Quiet(_)
        | CarerField::Share(_)
        | CarerField::Minutes(_)
        | CarerField::Private(_) => true,
    }
}

/// Whether whoever speaks may set this of someone.
pub(super) fn may_set(desk: &Desk<'_>, id: CarerId, fields: &[CarerField]) -> Result<(), Refused> {
    if desk.role == Role::Keeper {
        Ok(())
    } else if id != desk.me {
        Err(msg!(
            "setup-carer-others",
            name = desk.tell.carer(id),
            keepers = desk.keepers()
        ))
    } else if !fields.iter().all(is_ones_own) {
        Err(msg!("setup-carer-keepers", keepers = desk.keepers()))
    } else {
        Ok(())
    }
}

/// The role that someone has once these are set.
pub(super) fn role_after(carer: &Carer, fields: &[CarerField]) -> Role {
    let said = fields.iter().find_map(|field| match field {
        CarerField::Role(role) => Some(*role),
        _ => None,
    });
    said.unwrap_or(carer.role)
}

/// What is changed of someone.
pub(super) fn changes(
    desk: &Desk<'_>,
    carer: &Carer,
    fields: &[CarerField],
) -> Result<Vec<CarerChange>, Refused> {
    let role = role_after(carer, fields);
    let mut changes = Vec::new();
    let mut skills: Option<Skills> = None;
    let as_it_will_be = Carer {
        role,
        ..carer.clone()
    };
    for field in fields {
        let change = match field.clone() {
            // The house keeps it, beside the journal.
            CarerField::Account(_) => continue,
            CarerField::Role(role) => CarerChange::Role(role),
            CarerField::StandIn(other) => {
                if let Some(other) = other {
                    can_stand_in(desk, carer.id, other)?;
                }
                CarerChange::StandIn(other)
            }
            CarerField::Days(said) => CarerChange::Span(span(desk, carer, role, said)?),
            CarerField::Zone(name) => {
                if let Some(name) = name.as_deref().filter(|name| Zone::get(name).is_none()) {
                    return Err(msg!("setup-zone-unknown", zone = name));
                }
                CarerChange::Zone(name)
            }
            CarerField::Units(units) => CarerChange::Units(units),
            CarerField::Language(code) => CarerChange::Language(code),
            CarerField::Free(free) => CarerChange::Free(free),
            CarerField::Quiet(Some(hours)) if hours.from == hours.to => {
                return Err(msg!("setup-quiet-empty", time = clock(hours.from)));
            }
            CarerField::Quiet(quiet) => CarerChange::Quiet(quiet),
            CarerField::Skill(said) => {
                let all = skills.get_or_insert_with(|| as_it_will_be.can());
                (all.siphon, all.salt) = (said.siphon, said.salt);
                continue;
            }
            CarerField::Lifts(kg) => {
                skills.get_or_insert_with(|| as_it_will_be.can()).lift_kg = kg;
                continue;
            }
            CarerField::Share(share) => CarerChange::Share(share),
            CarerField::Minutes(most) => CarerChange::MinutesMax(most),
            CarerField::Private(is) => CarerChange::Private(is),
        };
        changes.push(change);
    }
    changes.extend(skills.map(CarerChange::Skills));
    let days_said = fields.iter().any(|field| matches!(field, CarerField::Days(_)));
    // Only a sitter comes for a span: whoever is something else from now on stays. One whose span is over is brought back
    // in so many words alone.
    let runs = carer.span.is_some() && desk.place().carers.contains_key(&carer.id);
    if role != Role::Sitter && runs && !days_said {
        changes.push(CarerChange::Span(None));
    }
    Ok(changes)
}

fn can_stand_in(desk: &Desk<'_>, id: CarerId, other: CarerId) -> Result<(), Refused> {
    let name = desk.tell.carer(other);
    if other == id {
        return Err(msg!("setup-stand-in-self", name = name));
    }
    if known(desk, other)?.role == Role::Helper {
        return Err(msg!("setup-stand-in-helper", name = name));
    }
    Ok(())
}

/// The span that was said; what was not said of it stays as it was, and it begins today where it had no beginning.
fn span(desk: &Desk<'_>, carer: &Carer, role: Role, said: DaysSaid) -> Result<Option<Span>, Refused> {
    let DaysSaid::Days { from, to } = said else {
        return Ok(None);
    };
    let runs = carer.span.filter(|_| desk.place().carers.contains_key(&carer.id));
    let today = desk.place().zone.date(desk.now());
    let from = from.or(runs.map(|span| span.from)).unwrap_or(today);
    let to = to.or(runs.map(|span| span.to)).ok_or(msg!("setup-span-end"))?;
    checked(desk, role, Span { from, to }).map(Some)
}

/// A span that someone of a role may have: a sitter's, of at least one day that is not over.
pub(super) fn checked(desk: &Desk<'_>, role: Role, span: Span) -> Result<Span, Refused> {
    let (from, to) = (desk.tell.date(span.from), desk.tell.date(span.to));
    if role == Role::Keeper {
        Err(msg!("setup-span-keeper"))
    } else if role != Role::Sitter {
        Err(msg!("setup-span-role"))
    } else if span.to < span.from {
        Err(msg!("setup-span-order", from = from, to = to))
    } else if span.to < desk.place().zone.date(desk.now()) {
        Err(msg!("setup-span-over", to = to))
    } else {
        Ok(span)
    }
}

/// Whoever's span is over has to get a new one before anything else of them makes sense.
pub(super) fn brought_back(desk: &Desk<'_>, carer: &Carer, changes: &[CarerChange]) -> Result<(), Refused> {
    let Some(over) = desk.place().ended.get(&carer.id).and_then(|ended| ended.span) else {
        return Ok(());
    };
    if changes
        .iter()
        .any(|change| matches!(change, CarerChange::Span(_)))
    {
        return Ok(());
    }
    Err(msg!(
        "setup-span-ended",
        name = desk.tell.carer(carer.id),
        ended = desk.tell.date(over.to)
    ))
}

/// A change of the people after which nobody could do a duty that somebody can do now is refused.
pub(super) fn nothing_left_undone(desk: &Desk<'_>, after: &BTreeMap<CarerId, Carer>) -> Result<(), Refused> {
    let board = desk.board();
    match left_undone(desk.place(), &board, after) {
        Some((standing, needs)) => Err(msg!(
            "setup-nobody-able",
            target = desk.tell.target(standing.turn.target),
            duty = desk.tell.duty(standing.duty()),
            asks = crate::desk::turns::skills(&desk.tell, &needs)
        )),
        None => Ok(()),
    }
}

/// How many turns of the days that are shared out nobody can do.
fn open_turns(desk: &Desk<'_>) -> usize {
    let (book, place, now) = (desk.book(), desk.place(), desk.now());
    let shared = rota::share_out(book, place, &desk.board(), now, rota::HORIZON_DAYS);
    let open = |turn: &&rota::Turn| turn.carer.is_none() && turn.expected.when.at >= now;
    shared.turns.iter().filter(open).count()
}

/// How many turns nobody can do, once someone was set otherwise.
pub(super) fn with_nobody(desk: &Desk<'_>) -> Option<String> {
    let count = open_turns(desk);
    (count > 0).then(|| desk.say(&msg!("setup-carer-nobody", count = count)))
}

/// A change of what there is to do, with how many turns nobody can do once it is written, where it made them more.
/// Where nobody shares the work at all, it goes without saying.
pub(super) fn telling_more_with_nobody(desk: &Desk<'_>, outcome: Outcome) -> Outcome {
    let reply = match outcome.reply {
        Reply::After(reply) if desk.place().carers.values().any(|carer| carer.wants() > 0.0) => reply,
        _ => return outcome,
    };
    let before = open_turns(desk);
    let with_open = move |desk: &Desk<'_>, numbers: &[u64]| {
        let mut answer = reply(desk, numbers);
        let more = open_turns(desk) > before;
        let told = more.then(|| with_nobody(desk)).flatten();
        answer.blocks.extend(told.map(|text| Block::Text { text }));
        answer
    };
    Outcome {
        reply: Reply::After(Box::new(with_open)),
        ..outcome
    }
}
