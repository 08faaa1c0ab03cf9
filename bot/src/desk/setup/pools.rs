//! `/pool`: the waters of the place.

use jiff::Timestamp;
use wrackline_core::care::{Duty, Standing};
use wrackline_core::journal::{Event, PoolChange};
use wrackline_core::place::{EnclosureId, Gear, Life, Pool, PoolId, Target, Water};

use super::{check, enclosures, gear, receipt, spoken};
use crate::chat::blocks::{Answer, Block};
use crate::desk::{Desk, Outcome, Refused};
use crate::lines::ask::PoolField;
use crate::msg;

fn known<'a>(desk: &Desk<'a>, id: PoolId) -> Result<&'a Pool, Refused> {
    desk.place().pools.get(&id).ok_or(msg!("setup-pool-gone"))
}

/// When a pool was set up.
pub(super) fn added_at(desk: &Desk<'_>, id: PoolId) -> Timestamp {
    let is = |event: &Event| matches!(event, Event::Pool(of, PoolChange::Added { .. }) if *of == id);
    check::last_change(desk, is).unwrap_or(Timestamp::MIN)
}

/// A volume that the enclosure can hold.
fn fits(desk: &Desk<'_>, enclosure: EnclosureId, litres: f64) -> Result<f64, Refused> {
    let litres = check::litres(litres)?;
    let one = enclosures::known(desk, enclosure)?;
    if litres > one.litres {
        return Err(msg!(
            "setup-pool-large",
            litres = desk.tell.litres(litres),
            enclosure = one.name.as_str(),
            all = desk.tell.litres(one.litres)
        ));
    }
    Ok(litres)
}

/// `/pool add ENCLOSURE fresh|salt VOLUME …`
pub(super) fn add(
    desk: &Desk<'_>,
    enclosure: EnclosureId,
    water: Water,
    litres: f64,
    fields: &[PoolField],
    from: Option<Timestamp>,
) -> Result<Outcome, Refused> {
    let at = check::from(desk, from)?;
    let (mut litres, mut life) = (fits(desk, enclosure, litres)?, Life::InUse);
    let mut further = Vec::new();
    for field in fields {
        match *field {
            PoolField::Litres(other) => litres = fits(desk, enclosure, other)?,
            PoolField::Life(said) => life = said,
            PoolField::Removable(is) => further.push(PoolChange::Removable(is)),
            PoolField::Nested(is) => further.push(PoolChange::Nested(is)),
        }
    }
    // Two pools in use of one water could not be told apart by name; one may be made ready beside the other.
    let used = |life: Life| matches!(life, Life::InUse | Life::Cycling);
    if used(life)
        && desk
            .place()
            .pools_of(enclosure)
            .iter()
            .any(|other| other.water == water && used(other.life))
    {
        return Err(msg!(
            "setup-pool-second",
            enclosure = enclosures::known(desk, enclosure)?.name.as_str(),
            water = desk.tell.water(water)
        ));
    }
    let id = PoolId(check::next_number(desk, |event| match event {
        Event::Pool(id, _) => Some(id.0),
        _ => None,
    }));
    let added = PoolChange::Added {
        enclosure,
        water,
        litres,
        life,
    };
    let all = std::iter::once(added).chain(further);
    let drafts = all
        .map(|change| check::draft(desk, at, Event::Pool(id, change)))
        .collect();
    Ok(Outcome::write(drafts, move |desk, _| {
        let title = desk.say(&msg!(
            "setup-pool-added",
            pool = desk.tell.pool(id),
            litres = desk.tell.litres(litres),
            water = desk.tell.water(water),
            life = spoken::life(desk, life),
            at = desk.tell.near(at)
        ));
        told(desk, id, title, [])
    }))
}

/// A first line with what falls due next, then what has to be known of the pool.
fn told(desk: &Desk<'_>, id: PoolId, title: String, further: impl IntoIterator<Item = String>) -> Answer {
    let coming = receipt::coming(desk, &[Target::Pool(id)]);
    let title = receipt::sentences([Some(title), coming.next]);
    let known = receipt::life_note(desk, id)
        .into_iter()
        .chain(receipt::cadence_notes(desk, id));
    receipt::answer(desk, title, further.into_iter().chain(known).chain(coming.also))
}

/// `/pool set SPOT …`
pub(super) fn set(
    desk: &Desk<'_>,
    id: PoolId,
    fields: &[PoolField],
    from: Option<Timestamp>,
) -> Result<Outcome, Refused> {
    let before = known(desk, id)?.clone();
    let at = check::from(desk, from)?;
    if fields.is_empty() {
        return Err(msg!("setup-nothing"));
    }
    let set_up = added_at(desk, id);
    if at < set_up {
        return Err(msg!(
            "setup-before",
            what = desk.tell.pool(id),
            since = desk.tell.near(set_up)
        ));
    }
    let all = fields
        .iter()
        .map(|field| change(desk, &before, *field))
        .collect::<Result<Vec<_>, _>>()?;
    for change in &all {
        // A change that counts from before an earlier one of its kind would come to nothing.
        let kind = std::mem::discriminant(change);
        let same = |event: &Event| matches!(event, Event::Pool(of, one) if *of == id && std::mem::discriminant(one) == kind);
        if let Some(last) = check::last_change(desk, same).filter(|last| at < *last) {
            return Err(msg!(
                "setup-earlier",
                what = desk.tell.pool(id),
                last = desk.tell.near(last)
            ));
        }
    }
    let called = duties(desk, id);
    let drafts = all
        .iter()
        .map(|change| check::draft(desk, at, Event::Pool(id, change.clone())))
        .collect();
    Ok(Outcome::write(drafts, move |desk, _| {
        let mut lines = all.iter().map(|change| changed(desk, &before, change, at));
        let title = lines.next().unwrap_or_default();
        let still = duties(desk, id);
        let gone: Vec<Duty> = called
            .iter()
            .copied()
            .filter(|duty| !still.contains(duty))
            .collect();
        let gone = (!gone.is_empty()).then(|| {
            desk.say(&msg!(
                "setup-no-longer-called",
                duties = spoken::duties(desk, &gone)
            ))
        });
        told(desk, id, title, lines.chain(gone))
    }))
}

fn duties(desk: &Desk<'_>, id: PoolId) -> Vec<Duty> {
    receipt::standings(desk, &[Target::Pool(id)])
        .iter()
        .map(Standing::duty)
        .collect()
}

fn change(desk: &Desk<'_>, pool: &Pool, field: PoolField) -> Result<PoolChange, Refused> {
    Ok(match field {
        PoolField::Litres(litres) => PoolChange::Litres(fits(desk, pool.enclosure, litres)?),
        PoolField::Removable(is) => PoolChange::Removable(is),
        PoolField::Nested(is) => PoolChange::Nested(is),
        PoolField::Life(life) if life == pool.life => {
            let life = spoken::life(desk, life);
            return Err(msg!(
                "setup-life-already",
                pool = desk.tell.pool(pool.id),
                life = life
            ));
        }
        PoolField::Life(life) => PoolChange::Life(life),
    })
}

fn changed(desk: &Desk<'_>, before: &Pool, change: &PoolChange, at: Timestamp) -> String {
    let pool = desk.tell.pool(before.id);
    let at = desk.tell.near(at);
    let message = match change {
        PoolChange::Litres(litres) => {
            let (litres, before) = (desk.tell.litres(*litres), desk.tell.litres(before.litres));
            msg!(
                "setup-pool-litres",
                pool = pool,
                litres = litres,
                before = before,
                at = at
            )
        }
        PoolChange::Removable(true) => msg!("setup-pool-removable", pool = pool),
        PoolChange::Removable(false) => msg!("setup-pool-stationary", pool = pool),
        PoolChange::Nested(true) => msg!("setup-pool-nested", pool = pool),
        PoolChange::Nested(false) => msg!("setup-pool-single", pool = pool),
        PoolChange::Life(life) => {
            msg!(
                "setup-pool-life",
                pool = pool,
                life = spoken::life(desk, *life),
                at = at
            )
        }
        PoolChange::Added { .. } | PoolChange::Retired => return String::new(),
    };
    desk.say(&message)
}

/// `/pool retire SPOT`
pub(super) fn retire(desk: &Desk<'_>, id: PoolId) -> Result<Outcome, Refused> {
    known(desk, id)?;
    let pool = desk.tell.pool(id);
    let called = duties(desk, id);
    let called = (!called.is_empty()).then(|| {
        desk.say(&msg!(
            "setup-no-longer-called",
            duties = spoken::duties(desk, &called)
        ))
    });
    let drafts = vec![desk.draft(Event::Pool(id, PoolChange::Retired))];
    Ok(Outcome::write(drafts, move |desk, _| {
        let title = desk.say(&msg!("setup-retired", what = pool.as_str()));
        let keeps = desk.tell.word("setup-journal-keeps");
        receipt::answer(desk, title, called.clone().into_iter().chain([keeps]))
    }))
}

/// `/pool list`
pub(super) fn list(desk: &Desk<'_>) -> Answer {
    let walk = desk.place().walk();
    let pools: Vec<&Pool> = walk
        .iter()
        .flat_map(|one| desk.place().pools_of(one.id))
        .collect();
    if pools.is_empty() {
        return desk.done(&msg!("setup-pools-none"));
    }
    let head = [
        "setup-head-pool",
        "setup-head-volume",
        "setup-head-life",
        "setup-head-besides",
    ];
    let rows = pools.iter().map(|pool| {
        let besides = [
            pool.air.map(|fitted| gear::state(desk, Gear::Air, fitted)),
            pool.filter.map(|fitted| gear::state(desk, Gear::Filter, fitted)),
            pool.nested.then(|| desk.tell.word("setup-is-nested")),
            (!pool.removable).then(|| desk.tell.word("setup-is-stationary")),
        ];
        let besides: Vec<String> = besides.into_iter().flatten().collect();
        let besides = if besides.is_empty() {
            "–".to_owned()
        } else {
            besides.join(", ")
        };
        let life = spoken::life(desk, pool.life);
        vec![
            desk.tell.pool(pool.id),
            desk.tell.litres(pool.litres),
            life,
            besides,
        ]
    });
    let mut answer = desk.done(&msg!("setup-pools-title", count = pools.len()));
    let head = head.map(|id| desk.tell.word(id)).to_vec();
    answer.blocks.push(Block::Table {
        head,
        rows: rows.collect(),
    });
    answer
}
