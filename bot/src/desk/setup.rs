//! Setting a place up and changing it: one file per family of lines.
//!
//! `check` holds what every family asks before it writes, `spoken` how numbers and schedules are told,
//! `receipt` what follows from a change.

pub(super) mod carer_told;
mod carers;
mod check;
pub(super) mod duties;
mod enclosure_told;
mod enclosures;
mod gear;
pub(super) mod hush;
pub mod linking;
pub(super) mod made;
pub(super) mod made_told;
mod own;
mod person;
mod place;
mod pools;
mod receipt;
mod rounds;
pub(super) mod spoken;

pub(super) use spoken::schedule;

use super::{Desk, Outcome, Refused};
use crate::lines::ask::SetUp;

/// What comes of a set-up line. Who may say it was asked before.
///
/// # Errors
/// The refusal, as one sentence; nothing is written then.
pub fn set_up(desk: &Desk<'_>, ask: SetUp) -> Result<Outcome, Refused> {
    let asks_otherwise = matches!(
        ask,
        SetUp::PoolAdd { .. }
            | SetUp::PoolSet { .. }
            | SetUp::Gear { .. }
            | SetUp::GearSet { .. }
            | SetUp::DutyAdd { .. }
            | SetUp::DutySet { .. }
    );
    let outcome = outcome(desk, ask)?;
    Ok(if asks_otherwise {
        person::telling_more_with_nobody(desk, outcome)
    } else {
        outcome
    })
}

fn outcome(desk: &Desk<'_>, ask: SetUp) -> Result<Outcome, Refused> {
    match ask {
        SetUp::PlaceShow => Ok(Outcome::answer(place::show(desk))),
        SetUp::PlaceLink { channel, zone, code } => linking::ask_for_code(desk, (channel, zone, code)),
        SetUp::PlaceSet(fields) => place::set(desk, fields),
        SetUp::SuppliesList => Ok(Outcome::answer(super::water::supplies::list(desk))),
        SetUp::SuppliesSet(fields) => super::water::supplies::set(desk, fields),
        SetUp::RoundList => Ok(Outcome::answer(rounds::list(desk))),
        SetUp::RoundAdd { name, time } => rounds::add(desk, &name, time),
        SetUp::RoundSet { round, time } => rounds::set(desk, round, time),
        SetUp::RoundRetire { round } => rounds::retire(desk, round),
        SetUp::RoundHush(ask) => hush::hush(desk, ask),
        SetUp::CarerList => Ok(Outcome::answer(carer_told::list(desk))),
        SetUp::CarerShow { carer } => carer_told::show(desk, carer).map(Outcome::answer),
        SetUp::CarerAdd {
            name,
            role,
            account,
            span,
        } => carers::add(desk, &name, role, account, span),
        SetUp::CarerSet { carer, fields } => carers::set(desk, carer, &fields),
        SetUp::CarerRetire { carer } => carers::retire(desk, carer),
        SetUp::EnclosureList => Ok(Outcome::answer(enclosures::list(desk))),
        SetUp::EnclosureAdd {
            name,
            litres,
            fields,
            from,
        } => enclosures::add(desk, &name, litres, fields, from),
        SetUp::EnclosureSet {
            enclosure,
            fields,
            from,
        } => enclosures::set(desk, enclosure, fields, from),
        SetUp::EnclosureRetire { enclosure } => enclosures::retire(desk, enclosure),
        SetUp::PoolList => Ok(Outcome::answer(pools::list(desk))),
        SetUp::PoolAdd {
            enclosure,
            water,
            litres,
            fields,
            from,
        } => pools::add(desk, enclosure, water, litres, &fields, from),
        SetUp::PoolSet { pool, fields, from } => pools::set(desk, pool, &fields, from),
        SetUp::PoolRetire { pool } => pools::retire(desk, pool),
        SetUp::GearList => Ok(Outcome::answer(gear::list(desk))),
        SetUp::Gear {
            spot,
            gear,
            verb,
            from,
        } => gear::change(desk, &spot, gear, verb, from),
        SetUp::GearSet {
            spot,
            gear,
            proven,
            facts,
            from,
        } => gear::tell(desk, &spot, gear, proven, facts, from),
        SetUp::DutyList => Ok(Outcome::answer(duties::list(desk))),
        SetUp::DutySet { rule, numbers, nod } => duties::set(desk, rule, numbers, nod),
        SetUp::DutyNod { duty, nod } => super::nods::mark(desk, duty, nod),
        SetUp::DutyAdd {
            name,
            spot,
            schedule,
            grace_h,
            disturbs,
        } => own::add(desk, &name, spot.as_ref(), schedule, grace_h, disturbs),
        SetUp::DutyRetire { duty } => own::retire(desk, duty),
    }
}
