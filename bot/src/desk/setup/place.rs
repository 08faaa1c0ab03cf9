//! `/place`: the place itself.

use wrackline_core::civil::Zone;
use wrackline_core::journal::{Event, PlaceChange};
use wrackline_core::place::QuietHours;
use wrackline_core::quantity::Units;

use super::{check, hush, made_told, receipt, rounds};
use crate::chat::blocks::{Answer, Block};
use crate::desk::tell::clock;
use crate::desk::{Desk, Outcome, Refused};
use crate::lines::ask::PlaceField;
use crate::msg;
use crate::words::Message;

/// `/place set`
pub(super) fn set(desk: &Desk<'_>, fields: Vec<PlaceField>) -> Result<Outcome, Refused> {
    if fields.is_empty() {
        return Err(msg!("setup-nothing"));
    }
    let changes = fields.into_iter().map(change).collect::<Result<Vec<_>, _>>()?;
    let drafts = changes
        .iter()
        .map(|change| desk.draft(Event::Place(change.clone())))
        .collect();
    Ok(Outcome::write(drafts, move |desk, _| {
        let mut lines = changes.iter().flat_map(|change| told(desk, change));
        let title = lines.next().unwrap_or_default();
        receipt::answer(desk, title, lines)
    }))
}

fn change(field: PlaceField) -> Result<PlaceChange, Refused> {
    Ok(match field {
        PlaceField::Name(name) => PlaceChange::Name(check::name(&name)?),
        PlaceField::Zone(name) => {
            let zone = Zone::get(&name).ok_or(msg!("setup-zone-unknown", zone = name))?;
            PlaceChange::Zone(zone.name().to_owned())
        }
        PlaceField::Quiet(Some(QuietHours { from, to })) if from == to => {
            return Err(msg!("setup-quiet-empty", time = clock(from)));
        }
        PlaceField::Quiet(quiet) => PlaceChange::Quiet(quiet),
        PlaceField::Units(units) => PlaceChange::Units(units),
        PlaceField::Gravity(convention) => PlaceChange::Gravity(convention),
        PlaceField::Winter(air) => PlaceChange::Winter(air),
        PlaceField::Summer(air) => PlaceChange::Summer(air),
    })
}

/// What a change comes to; the place has it already.
fn told(desk: &Desk<'_>, change: &PlaceChange) -> Vec<String> {
    match change {
        PlaceChange::Name(name) => vec![desk.say(&msg!("setup-place-name", name = name.as_str()))],
        PlaceChange::Zone(name) => vec![desk.say(&msg!(
            "setup-place-zone",
            zone = name.as_str(),
            time = desk.tell.time(desk.now()),
            rounds = rounds::times(desk)
        ))],
        PlaceChange::Quiet(quiet) => {
            let first = desk.say(&quiet_hours(*quiet));
            let called_later = desk
                .place()
                .rounds
                .iter()
                .filter_map(|round| rounds::quiet_note(desk, round));
            std::iter::once(first).chain(called_later).collect()
        }
        PlaceChange::Units(units) => vec![desk.tell.word(units_id(*units))],
        PlaceChange::Gravity(convention) => {
            vec![desk.say(&msg!("setup-place-gravity", convention = convention.as_str()))]
        }
        PlaceChange::Hush(_) => hush::text(desk).into_iter().collect(),
        PlaceChange::Winter(air) => {
            vec![desk.say(&msg!("made-winter", air = made_told::room_air(desk, *air)))]
        }
        PlaceChange::Summer(air) => {
            vec![desk.say(&msg!("made-summer", air = made_told::room_air(desk, *air)))]
        }
    }
}

fn quiet_hours(quiet: Option<QuietHours>) -> Message {
    match quiet {
        Some(QuietHours { from, to }) => {
            msg!("setup-quiet-hours", from = clock(from), to = clock(to))
        }
        None => msg!("setup-quiet-hours-none"),
    }
}

fn units_id(units: Units) -> String {
    format!("setup-units-{}", units.as_str())
}

/// `/place list`
pub(super) fn show(desk: &Desk<'_>) -> Answer {
    let place = desk.place();
    let name = if place.name.is_empty() {
        desk.tell.word("setup-place-unnamed")
    } else {
        place.name.clone()
    };
    let gravity = match place.gravity {
        Some(convention) => msg!("setup-place-gravity", convention = convention.as_str()),
        None => msg!("setup-place-gravity-none"),
    };
    let [winter, summer] = wrackline_core::particulars::rooms(place).map(|(air, told)| {
        let air = made_told::room_air(desk, air);
        if told {
            air
        } else {
            desk.say(&msg!("made-air-assumed", air = air))
        }
    });
    let has = msg!(
        "setup-place-has",
        enclosures = place.enclosures.len(),
        pools = place.pools.len(),
        carers = place.carers.len()
    );
    let lines = [
        desk.say(&msg!(
            "setup-place-clock",
            zone = place.zone.name(),
            time = desk.tell.time(desk.now())
        )),
        desk.say(&msg!("setup-place-rounds", rounds = rounds::times(desk))),
        desk.say(&quiet_hours(place.quiet)),
        // The place's own: whoever asks may read in others.
        desk.tell.word(units_id(desk.book().place_at(desk.now()).units)),
        desk.say(&gravity),
        desk.say(&msg!("made-winter", air = winter)),
        desk.say(&msg!("made-summer", air = summer)),
    ];
    let mut answer = desk.done_text(desk.say(&msg!("setup-place-title", name = name, has = desk.say(&has))));
    let items = lines.into_iter().map(|line| desk.item(line)).collect();
    answer.blocks.push(Block::Items { items });
    answer
}
