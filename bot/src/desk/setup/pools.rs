//! `/pool`: the waters of the place.

use jiff::Timestamp;
use wrackline_core::care::{Duty, Standing};
use wrackline_core::journal::{Event, PoolChange};
use wrackline_core::place::{EnclosureId, Gear, Life, Pool, PoolId, Target, Water};

use super::{check, enclosures, made, made_told, receipt, spoken};
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
        match field {
            PoolField::Litres(other) => litres = fits(desk, enclosure, *other)?,
            PoolField::Life(said) => life = *said,
            other => further.extend(particular(other)),
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
    let mut as_made = blank(id, enclosure, water, litres);
    further.iter().for_each(|change| as_made.made.take(change));
    made::pool(desk, &as_made, enclosures::known(desk, enclosure)?)?;
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
        let pool = desk.place().pools.get(&id);
        told(
            desk,
            id,
            title,
            pool.and_then(|pool| made_told::water(desk, pool)),
        )
    }))
}

/// A pool before any of it is known, to be looked at before it is written.
fn blank(id: PoolId, enclosure: EnclosureId, water: Water, litres: f64) -> Pool {
    Pool {
        id,
        enclosure,
        water,
        litres,
        removable: true,
        nested: false,
        life: Life::Planned,
        since: Timestamp::MIN,
        returned: false,
        air: None,
        filter: None,
        bared: None,
        made: wrackline_core::particulars::PoolMade::default(),
    }
}

/// The change that a field asks for, where it needs no look at the pool.
fn particular(field: &PoolField) -> Option<PoolChange> {
    Some(match field {
        PoolField::Litres(_) | PoolField::Life(_) => return None,
        PoolField::Removable(is) => PoolChange::Removable(*is),
        PoolField::Nested(is) => PoolChange::Nested(*is),
        PoolField::Shape(shape) => PoolChange::Shape(shape.clone()),
        PoolField::Depth(cm) => PoolChange::Depth(*cm),
        PoolField::Gravel(gravel) => PoolChange::Gravel(*gravel),
        PoolField::Stones(litres) => PoolChange::Stones(*litres),
        PoolField::WayOut(way) => PoolChange::WayOut(*way),
    })
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
        .map(|field| change(desk, &before, field))
        .collect::<Result<Vec<_>, _>>()?;
    let mut after = before.clone();
    for change in &all {
        after.made.take(change);
        if let PoolChange::Litres(litres) = change {
            after.litres = *litres;
        }
    }
    let is_of_it = all.iter().any(is_of_vessel);
    if is_of_it {
        made::pool(desk, &after, enclosures::known(desk, before.enclosure)?)?;
    }
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
        let pool = desk.place().pools.get(&id).filter(|_| is_of_it);
        let water = pool.and_then(|pool| made_told::water(desk, pool));
        let mut answer = told(desk, id, title, lines.chain(water).chain(gone));
        // The water may stand lower than the filter that was fitted before: that is the truth, and a trouble.
        if let Some(Err(refused)) = pool.map(|pool| made::filter(desk, pool)) {
            let text = desk.say(&refused);
            answer.blocks.push(Block::Caution { text });
        }
        answer
    }))
}

fn duties(desk: &Desk<'_>, id: PoolId) -> Vec<Duty> {
    receipt::standings(desk, &[Target::Pool(id)])
        .iter()
        .map(Standing::duty)
        .collect()
}

/// Whether a change is about the water in the container.
fn is_of_vessel(change: &PoolChange) -> bool {
    matches!(
        change,
        PoolChange::Litres(_)
            | PoolChange::Shape(_)
            | PoolChange::Depth(_)
            | PoolChange::Gravel(_)
            | PoolChange::Stones(_)
    )
}

fn change(desk: &Desk<'_>, pool: &Pool, field: &PoolField) -> Result<PoolChange, Refused> {
    Ok(match field {
        PoolField::Litres(litres) => PoolChange::Litres(fits(desk, pool.enclosure, *litres)?),
        PoolField::Life(life) if *life == pool.life => {
            let life = spoken::life(desk, *life);
            return Err(msg!(
                "setup-life-already",
                pool = desk.tell.pool(pool.id),
                life = life
            ));
        }
        PoolField::Life(life) => PoolChange::Life(*life),
        other => particular(other).ok_or(msg!("setup-nothing"))?,
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
        PoolChange::Shape(shape) => msg!("made-told", what = pool, made = made_told::shape(desk, shape)),
        PoolChange::Depth(cm) => {
            let made = desk.say(&msg!("made-depth", depth = made_told::length(desk, *cm)));
            msg!("made-told", what = pool, made = made)
        }
        PoolChange::Gravel(None) => msg!("made-gravel-none", pool = pool),
        PoolChange::Gravel(Some(gravel)) => {
            msg!("made-told", what = pool, made = made_told::gravel(desk, gravel))
        }
        PoolChange::Stones(litres) => {
            let made = desk.say(&msg!("made-stones", litres = desk.tell.litres(*litres)));
            msg!("made-told", what = pool, made = made)
        }
        PoolChange::WayOut(way) => msg!("made-told", what = pool, made = made_told::way_out(desk, *way)),
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
            pool.air
                .map(|fitted| made_told::state(desk, pool, Gear::Air, fitted)),
            pool.filter
                .map(|fitted| made_told::state(desk, pool, Gear::Filter, fitted)),
            pool.nested.then(|| desk.tell.word("setup-is-nested")),
            (!pool.removable).then(|| desk.tell.word("setup-is-stationary")),
        ];
        let made = made_told::pool(desk, pool);
        let besides: Vec<String> = besides.into_iter().flatten().chain(made).collect();
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
