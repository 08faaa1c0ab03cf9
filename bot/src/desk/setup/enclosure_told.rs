//! How enclosures and their changes are told.

use jiff::Timestamp;
use wrackline_core::care::Standing;
use wrackline_core::journal::EnclosureChange;
use wrackline_core::place::{Enclosure, EnclosureId, QuietZone, Target};
use wrackline_core::quantity::centimetres;

use super::{made_told, receipt, spoken};
use crate::chat::blocks::Answer;
use crate::desk::Desk;
use crate::desk::tell::capital;
use crate::msg;

/// The receipt of a new enclosure.
pub(super) fn added(desk: &Desk<'_>, id: EnclosureId, at: Timestamp) -> Answer {
    let Some(one) = desk.place().enclosures.get(&id) else {
        return desk.done_text(String::new());
    };
    let title = desk.say(&msg!(
        "setup-enclosure-added",
        name = one.name.as_str(),
        litres = desk.tell.litres(one.litres),
        at = desk.tell.near(at)
    ));
    let coming = receipt::coming(desk, &receipt::within(desk, id));
    let besides = besides(desk, one);
    let room = (!one.room.is_empty()).then(|| {
        desk.say(&msg!(
            "setup-enclosure-room",
            name = one.name.as_str(),
            room = one.room.as_str()
        ))
    });
    let besides = (besides != "–").then(|| desk.say(&msg!("setup-enclosure-besides", besides = besides)));
    let quiet = one.quiet.as_ref().map(|zone| quiet_zone(desk, one, zone));
    let pools = desk.say(&msg!("setup-enclosure-pools", name = one.name.to_lowercase()));
    let title = receipt::sentences([Some(title), coming.next]);
    let volumes = made_told::enclosure_volumes(desk, one);
    let further = [room, besides, volumes, quiet, coming.also, Some(pools)];
    receipt::answer(desk, title, further.into_iter().flatten())
}

/// What else is known of an enclosure, in a few words.
pub(super) fn besides(desk: &Desk<'_>, one: &Enclosure) -> String {
    let length = |cm| centimetres(cm, desk.place().units);
    let carer = one.carer.filter(|carer| desk.place().carers.contains_key(carer));
    let today = desk.place().zone.date(desk.now());
    let quiet = one.quiet.as_ref().filter(|zone| zone.until > today);
    let parts = [
        (one.crabs > 0).then(|| desk.say(&msg!("setup-crabs", count = one.crabs))),
        one.smallest_cm
            .map(|cm| desk.say(&msg!("setup-smallest", length = length(cm)))),
        one.largest_cm
            .map(|cm| desk.say(&msg!("setup-largest", length = length(cm)))),
        carer.map(|carer| desk.say(&msg!("setup-habit", name = desk.tell.carer(carer)))),
        one.sensor.then(|| desk.tell.word("setup-has-sensor")),
        one.quarantine.then(|| desk.tell.word("setup-in-quarantine")),
        quiet.map(|zone| desk.say(&msg!("setup-quiet-short", until = desk.tell.date(zone.until)))),
    ];
    let made = made_told::enclosure(desk, &one.made);
    let parts: Vec<String> = parts.into_iter().flatten().chain(made).collect();
    if parts.is_empty() {
        "–".to_owned()
    } else {
        parts.join(", ")
    }
}

/// What a change of an enclosure comes to; the place has it already.
pub(super) fn changed(desk: &Desk<'_>, before: &Enclosure, change: &EnclosureChange) -> Vec<String> {
    let Some(one) = desk.place().enclosures.get(&before.id) else {
        return Vec::new();
    };
    let name = one.name.as_str();
    let length = |cm: f64| centimetres(cm, desk.place().units);
    let message = match change {
        EnclosureChange::Added { .. } | EnclosureChange::Retired => return Vec::new(),
        EnclosureChange::Name(new) => {
            msg!(
                "setup-enclosure-renamed",
                before = before.name.as_str(),
                name = new.as_str()
            )
        }
        EnclosureChange::Litres(litres) => msg!(
            "setup-enclosure-litres",
            name = name,
            litres = desk.tell.litres(*litres),
            before = desk.tell.litres(before.litres)
        ),
        EnclosureChange::Room(room) if room.is_empty() => msg!("setup-enclosure-room-none", name = name),
        EnclosureChange::Room(room) => msg!("setup-enclosure-room", name = name, room = room.as_str()),
        EnclosureChange::Order(_) => {
            let walk: Vec<&str> = desk.place().walk().iter().map(|one| one.name.as_str()).collect();
            msg!("setup-enclosure-order", walk = walk.join(", "))
        }
        EnclosureChange::Crabs(count) => msg!("setup-enclosure-crabs", name = name, count = *count),
        EnclosureChange::Smallest(cm) => msg!("setup-enclosure-smallest", name = name, length = length(*cm)),
        EnclosureChange::Largest(cm) => msg!("setup-enclosure-largest", name = name, length = length(*cm)),
        EnclosureChange::Carer(Some(carer)) => {
            msg!(
                "setup-enclosure-habit",
                name = name,
                carer = desk.tell.carer(*carer)
            )
        }
        EnclosureChange::Carer(None) => msg!("setup-enclosure-habit-none", name = name),
        EnclosureChange::Quarantine(true) => msg!("setup-quarantine", name = name),
        EnclosureChange::Quarantine(false) => msg!("setup-quarantine-none", name = name),
        EnclosureChange::Sensor(true) => msg!("setup-sensor", name = name),
        EnclosureChange::Sensor(false) => return vec![sensor_gone(desk, one)],
        EnclosureChange::Quiet(Some(zone)) => return vec![quiet_zone(desk, one, zone)],
        EnclosureChange::Quiet(None) => msg!("setup-quiet-none", name = name),
        EnclosureChange::Size(size) => msg!("made-told", what = name, made = made_told::size(desk, *size)),
        EnclosureChange::Substrate(cm) => {
            msg!("made-told", what = name, made = made_told::substrate(desk, *cm))
        }
        EnclosureChange::Glazing(glazing) => {
            msg!(
                "made-told",
                what = name,
                made = made_told::glazing(desk, *glazing)
            )
        }
        EnclosureChange::Lid(lid) => msg!("made-told", what = name, made = made_told::lid(desk, *lid)),
        EnclosureChange::Heated(celsius) => {
            let temperature = wrackline_core::quantity::celsius(*celsius, desk.place().units);
            let made = desk.say(&msg!("made-heated", temperature = temperature));
            msg!("made-told", what = name, made = made)
        }
    };
    vec![desk.say(&message)]
}

/// The volumes, where a change was about them.
pub(super) fn volumes(desk: &Desk<'_>, id: EnclosureId, changes: &[EnclosureChange]) -> Option<String> {
    let about = |change: &EnclosureChange| {
        matches!(
            change,
            EnclosureChange::Size(_) | EnclosureChange::Substrate(_) | EnclosureChange::Litres(_)
        )
    };
    let one = desk
        .place()
        .enclosures
        .get(&id)
        .filter(|_| changes.iter().any(about))?;
    made_told::enclosure_volumes(desk, one)
}

/// Without a sensor somebody reads the instruments.
fn sensor_gone(desk: &Desk<'_>, one: &Enclosure) -> String {
    let all = receipt::standings(desk, &[Target::Enclosure(one.id)]);
    let reading = all
        .iter()
        .find(|standing| standing.turn.duty == wrackline_core::care::Duty::Reading);
    let next = reading.map_or_else(String::new, |standing| receipt::due(desk, standing.due));
    desk.say(&msg!("setup-sensor-none", name = one.name.as_str(), next = next))
}

/// Which duties a quiet zone holds back, and until when.
fn quiet_zone(desk: &Desk<'_>, one: &Enclosure, zone: &QuietZone) -> String {
    let held = receipt::standings(desk, &receipt::within(desk, one.id));
    let held: Vec<_> = held
        .iter()
        .filter(|standing| standing.held.is_some())
        .map(Standing::duty)
        .collect();
    let first = msg!(
        "setup-quiet",
        name = one.name.as_str(),
        spot = zone.spot.as_str(),
        until = desk.tell.date(zone.until)
    );
    let waits = if held.is_empty() {
        msg!("setup-quiet-nothing-waits")
    } else {
        let names = spoken::duty_names(desk, &held);
        msg!(
            "setup-quiet-waits",
            duties = capital(&desk.tell.list(&names)),
            count = names.len()
        )
    };
    receipt::sentences([Some(desk.say(&first)), Some(desk.say(&waits))])
}
