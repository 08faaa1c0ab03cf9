//! Which enclosure cools first without power, and about when.

use wrackline_core::air::BAND_CELSIUS;
use wrackline_core::air::cooling::{Cooling, ROOM_DEFAULT, cooling};
use wrackline_core::place::{Enclosure, Place, Target};
use wrackline_core::quantity::{Celsius, Kind, Litres, Measured, celsius, plain};

use crate::desk::Desk;
use crate::msg;

/// How warm an enclosure is taken to be where nobody read it: common practice, the middle of the band.
const WARM: Celsius = Celsius(26.5);

/// The temperature that is waited for: the lower end of the band.
const FLOOR: Celsius = Celsius(BAND_CELSIUS.0);

/// How long a reading is taken to hold, in days: common practice, no published source.
const HOLDS_DAYS: i64 = 2;

/// How warm the rooms are, and whether the place told it: the colder of its winter and summer air.
fn room(place: &Place) -> (Celsius, bool) {
    let told = [place.winter, place.summer].into_iter().flatten();
    let coldest = told.map(|air| air.celsius).min_by(f64::total_cmp);
    coldest.map_or((ROOM_DEFAULT, false), |celsius| (Celsius(celsius), true))
}

/// The enclosures in the order in which they cool, with about when.
pub(super) fn cools(desk: &Desk<'_>) -> Vec<String> {
    let place = desk.place();
    let (air, told) = room(place);
    let mut all: Vec<(&Enclosure, Celsius, bool, Cooling)> = Vec::new();
    for enclosure in place.walk() {
        let read = warmth(desk, enclosure);
        let from = read.unwrap_or(WARM);
        let pools: f64 = place.pools_of(enclosure.id).iter().map(|pool| pool.litres).sum();
        let found = cooling(
            Litres(enclosure.litres),
            Litres(pools.min(enclosure.litres)),
            (from, FLOOR),
            air,
        );
        if let Ok(Some(found)) = found {
            all.push((enclosure, from, read.is_some(), found));
        }
    }
    all.sort_by(|(_, _, _, one), (_, _, _, other)| one.likely.0.total_cmp(&other.likely.0));
    if all.is_empty() {
        return Vec::new();
    }
    let several = all.len() > 1;
    let mut lines: Vec<String> = Vec::new();
    for (at, (enclosure, from, read, found)) in all.iter().enumerate() {
        lines.push(line(desk, enclosure, (*from, *read), found, several && at == 0));
    }
    lines.push(desk.say(&msg!(
        "emergency-cools-rests",
        room = celsius(air.0, place.units),
        stated = if told { "yes" } else { "no" }
    )));
    lines
}

fn line(
    desk: &Desk<'_>,
    enclosure: &Enclosure,
    (from, read): (Celsius, bool),
    found: &Cooling,
    first: bool,
) -> String {
    let units = desk.place().units;
    let (name, floor, warm) = (
        enclosure.name.as_str(),
        celsius(FLOOR.0, units),
        celsius(from.0, units),
    );
    if from <= FLOOR {
        return desk.say(&msg!("emergency-cold", name = name, from = warm, floor = floor));
    }
    let id = if first {
        "emergency-cools-first"
    } else {
        "emergency-cools"
    };
    desk.say(&msg!(
        id,
        name = name,
        floor = floor,
        likely = about(found.likely.0),
        low = about(found.low.0),
        high = about(found.high.0),
        from = warm,
        read = if read { "yes" } else { "no" }
    ))
}

/// Hours that are not surer than a half of one.
fn about(hours: f64) -> String {
    plain((hours * 2.0).round().max(1.0) / 2.0)
}

/// How warm an enclosure was read lately.
fn warmth(desk: &Desk<'_>, enclosure: &Enclosure) -> Option<Celsius> {
    let target = Target::Enclosure(enclosure.id);
    let (at, _, measured) = desk.book().last_reading(target, Kind::Temperature, desk.now())?;
    let fresh = wrackline_core::civil::seconds_between(at, desk.now()) <= HOLDS_DAYS * 86_400;
    match measured {
        Measured::Temperature(celsius) if fresh => Some(Celsius(celsius)),
        _ => None,
    }
}
