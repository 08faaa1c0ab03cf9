//! `/enclosure`: the tanks of the place.

use jiff::Timestamp;
use wrackline_core::journal::{EnclosureChange, Event};
use wrackline_core::particulars::EnclosureMade;
use wrackline_core::place::{CarerId, Enclosure, EnclosureId, QuietZone, Role, Target};
use wrackline_core::quantity::centimetres;

use super::{check, enclosure_told as told, made, receipt, spoken};
use crate::chat::blocks::{Answer, Block};
use crate::desk::{Desk, Outcome, Refused};
use crate::lines::ask::EnclosureField;
use crate::msg;

/// An enclosure that is kept now.
pub(super) fn known<'a>(desk: &Desk<'a>, id: EnclosureId) -> Result<&'a Enclosure, Refused> {
    desk.place()
        .enclosures
        .get(&id)
        .ok_or(msg!("setup-enclosure-gone"))
}

/// Names are told apart without regard to case.
fn free_name(desk: &Desk<'_>, name: &str, but: Option<EnclosureId>) -> Result<(), Refused> {
    let others = desk.place().enclosures.values().filter(|one| Some(one.id) != but);
    check::free(name, others.map(|one| one.name.as_str()), "setup-enclosure-name")
}

/// The changes that fields ask for. `id`: the enclosure, once it is set up.
fn changes(
    desk: &Desk<'_>,
    id: Option<EnclosureId>,
    fields: Vec<EnclosureField>,
) -> Result<Vec<EnclosureChange>, Refused> {
    let changes = fields
        .into_iter()
        .map(|field| change(desk, id, field))
        .collect::<Result<Vec<_>, _>>()?;
    let now = id.and_then(|id| desk.place().enclosures.get(&id));
    let mut smallest = now.and_then(|one| one.smallest_cm);
    let mut largest = now.and_then(|one| one.largest_cm);
    for change in &changes {
        match change {
            EnclosureChange::Smallest(cm) => smallest = Some(*cm),
            EnclosureChange::Largest(cm) => largest = Some(*cm),
            _ => {}
        }
    }
    if let (Some(small), Some(large)) = (smallest, largest)
        && small > large
    {
        let told = |cm| centimetres(cm, desk.place().units);
        return Err(msg!(
            "setup-crabs-size",
            smallest = told(small),
            largest = told(large)
        ));
    }
    Ok(changes)
}

/// Whether an enclosure can be made as these changes say.
fn can_be_made(desk: &Desk<'_>, before: &Enclosure, changes: &[EnclosureChange]) -> Result<(), Refused> {
    let (mut after, mut litres) = (before.made, before.litres);
    for change in changes {
        after.take(change);
        if let EnclosureChange::Litres(said) = change {
            litres = *said;
        }
    }
    let is_of_it = |change: &EnclosureChange| {
        matches!(
            change,
            EnclosureChange::Size(_) | EnclosureChange::Substrate(_) | EnclosureChange::Litres(_)
        )
    };
    if !changes.iter().any(is_of_it) {
        return Ok(());
    }
    let pools = desk.place().pools_of(before.id);
    made::enclosure(desk, &before.name, litres, &after, &pools)
}

fn change(
    desk: &Desk<'_>,
    id: Option<EnclosureId>,
    field: EnclosureField,
) -> Result<EnclosureChange, Refused> {
    Ok(match field {
        EnclosureField::Name(name) => {
            let name = check::name(&name)?;
            free_name(desk, &name, id)?;
            EnclosureChange::Name(name)
        }
        EnclosureField::Litres(litres) => {
            let litres = check::litres(litres)?;
            holds_its_pools(desk, id, litres)?;
            EnclosureChange::Litres(litres)
        }
        EnclosureField::Room(room) => EnclosureChange::Room(room.trim().to_owned()),
        EnclosureField::Order(order) => EnclosureChange::Order(order),
        EnclosureField::Crabs(crabs) => EnclosureChange::Crabs(crabs),
        EnclosureField::Smallest(cm) => EnclosureChange::Smallest(length(cm)?),
        EnclosureField::Largest(cm) => EnclosureChange::Largest(length(cm)?),
        EnclosureField::Carer(carer) => {
            carer.map_or(Ok(()), |carer| can_have_turns(desk, carer))?;
            EnclosureChange::Carer(carer)
        }
        EnclosureField::Quarantine(is) => EnclosureChange::Quarantine(is),
        EnclosureField::Sensor(is) => EnclosureChange::Sensor(is),
        EnclosureField::Quiet(quiet) => {
            EnclosureChange::Quiet(quiet.map(|zone| later(desk, zone)).transpose()?)
        }
        EnclosureField::Size(size) => EnclosureChange::Size(size),
        EnclosureField::Substrate(cm) => EnclosureChange::Substrate(cm),
        EnclosureField::Glazing(glazing) => EnclosureChange::Glazing(glazing),
        EnclosureField::Lid(lid) => EnclosureChange::Lid(lid),
        EnclosureField::Heated(celsius) => EnclosureChange::Heated(celsius),
    })
}

fn holds_its_pools(desk: &Desk<'_>, id: Option<EnclosureId>, litres: f64) -> Result<(), Refused> {
    let pools = id.map_or_else(Vec::new, |id| desk.place().pools_of(id));
    match pools.into_iter().find(|pool| pool.litres > litres) {
        Some(pool) => Err(msg!(
            "setup-enclosure-small",
            litres = desk.tell.litres(litres),
            pool = desk.tell.pool(pool.id),
            water = desk.tell.litres(pool.litres)
        )),
        None => Ok(()),
    }
}

fn length(cm: f64) -> Result<f64, Refused> {
    if cm > 0.0 && cm.is_finite() {
        Ok(cm)
    } else {
        Err(msg!("setup-length-none"))
    }
}

/// A helper has no account, so no turns can be called to them.
fn can_have_turns(desk: &Desk<'_>, carer: CarerId) -> Result<(), Refused> {
    match desk.place().carers.get(&carer).map(|one| one.role) {
        None => Err(msg!("setup-carer-gone")),
        Some(Role::Helper) => Err(msg!("setup-habit-helper", name = desk.tell.carer(carer))),
        Some(_) => Ok(()),
    }
}

/// A quiet zone is looked at again on a day that is still to come.
fn later(desk: &Desk<'_>, zone: QuietZone) -> Result<QuietZone, Refused> {
    let spot = check::name(&zone.spot)?;
    if zone.until <= desk.place().zone.date(desk.now()) {
        return Err(msg!("setup-quiet-past", date = desk.tell.date(zone.until)));
    }
    Ok(QuietZone {
        spot,
        until: zone.until,
    })
}

/// `/enclosure add NAME VOLUME …`
pub(super) fn add(
    desk: &Desk<'_>,
    name: &str,
    litres: f64,
    fields: Vec<EnclosureField>,
    from: Option<Timestamp>,
) -> Result<Outcome, Refused> {
    let at = check::from(desk, from)?;
    let name = check::name(name)?;
    free_name(desk, &name, None)?;
    let litres = check::litres(litres)?;
    let mut all = vec![EnclosureChange::Added {
        name: name.clone(),
        litres,
    }];
    all.extend(changes(desk, None, fields)?);
    let mut as_made = EnclosureMade::default();
    all.iter().for_each(|change| as_made.take(change));
    made::enclosure(desk, &name, litres, &as_made, &[])?;
    let id = EnclosureId(check::next_number(desk, |event| match event {
        Event::Enclosure(id, _) => Some(id.0),
        _ => None,
    }));
    let draft = |change| check::draft(desk, at, Event::Enclosure(id, change));
    Ok(Outcome::write(
        all.into_iter().map(draft).collect(),
        move |desk, _| told::added(desk, id, at),
    ))
}

/// `/enclosure set SPOT …`
pub(super) fn set(
    desk: &Desk<'_>,
    id: EnclosureId,
    fields: Vec<EnclosureField>,
    from: Option<Timestamp>,
) -> Result<Outcome, Refused> {
    let before = known(desk, id)?.clone();
    let at = check::from(desk, from)?;
    if fields.is_empty() {
        return Err(msg!("setup-nothing"));
    }
    if at < before.since {
        let since = desk.tell.near(before.since);
        return Err(msg!("setup-before", what = before.name, since = since));
    }
    let all = changes(desk, Some(id), fields)?;
    can_be_made(desk, &before, &all)?;
    for change in &all {
        // A change that counts from before an earlier one of its kind would come to nothing.
        let kind = std::mem::discriminant(change);
        let same = |event: &Event| matches!(event, Event::Enclosure(of, one) if *of == id && std::mem::discriminant(one) == kind);
        if let Some(last) = check::last_change(desk, same).filter(|last| at < *last) {
            return Err(msg!(
                "setup-earlier",
                what = before.name,
                last = desk.tell.near(last)
            ));
        }
    }
    let drafts = all
        .iter()
        .map(|change| check::draft(desk, at, Event::Enclosure(id, change.clone())))
        .collect();
    Ok(Outcome::write(drafts, move |desk, _| {
        let mut lines = all.iter().flat_map(|change| told::changed(desk, &before, change));
        let title = lines.next().unwrap_or_default();
        let volumes = told::volumes(desk, before.id, &all);
        receipt::answer(desk, title, lines.chain(volumes))
    }))
}

/// `/enclosure retire SPOT`
pub(super) fn retire(desk: &Desk<'_>, id: EnclosureId) -> Result<Outcome, Refused> {
    let name = known(desk, id)?.name.clone();
    let targets = receipt::within(desk, id);
    let pools: Vec<String> = targets
        .iter()
        .filter(|target| matches!(target, Target::Pool(_)))
        .map(|target| desk.tell.target(*target))
        .collect();
    let duties: Vec<_> = receipt::standings(desk, &targets)
        .iter()
        .map(wrackline_core::care::Standing::duty)
        .collect();
    let (pools, duties) = (desk.tell.list(&pools), spoken::duties(desk, &duties));
    let drafts = vec![desk.draft(Event::Enclosure(id, EnclosureChange::Retired))];
    Ok(Outcome::write(drafts, move |desk, _| {
        let title = if pools.is_empty() {
            msg!("setup-retired", what = name.as_str())
        } else {
            msg!(
                "setup-enclosure-retired",
                enclosure = name.as_str(),
                pools = pools.as_str()
            )
        };
        let called = desk.say(&msg!("setup-no-longer-called", duties = duties.as_str()));
        receipt::answer(
            desk,
            desk.say(&title),
            [called, desk.tell.word("setup-journal-keeps")],
        )
    }))
}

/// `/enclosure list`
pub(super) fn list(desk: &Desk<'_>) -> Answer {
    let walk = desk.place().walk();
    if walk.is_empty() {
        return desk.done(&msg!("setup-enclosures-none"));
    }
    let head = [
        "setup-head-enclosure",
        "setup-head-room",
        "setup-head-volume",
        "setup-head-besides",
    ];
    let rows = walk.iter().map(|one| {
        let room = if one.room.is_empty() {
            "–".to_owned()
        } else {
            one.room.clone()
        };
        vec![
            one.name.clone(),
            room,
            desk.tell.litres(one.litres),
            told::besides(desk, one),
        ]
    });
    let mut answer = desk.done(&msg!("setup-enclosures-title", count = walk.len()));
    let head = head.map(|id| desk.tell.word(id)).to_vec();
    answer.blocks.push(Block::Table {
        head,
        rows: rows.collect(),
    });
    answer
}
