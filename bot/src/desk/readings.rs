//! Logging what was read.

use jiff::Timestamp;
use wrackline_core::journal::{Entry, Event};
use wrackline_core::place::{CarerId, Target, Water};
use wrackline_core::quantity::{Kind, Measured, show};

use super::{Desk, Draft, Outcome, Refused, cycle};
use crate::chat::blocks::Block;
use crate::lines::ask::{Grain, Spot};
use crate::msg;

/// `/read`: logs readings, each at the pool or enclosure that it is of.
///
/// # Errors
/// A refusal when a reading has no one pool or enclosure to be of.
pub fn read(
    desk: &Desk<'_>,
    spot: &Spot,
    readings: &[Measured],
    at: Option<Timestamp>,
    by: Option<CarerId>,
    note: Option<String>,
) -> Result<Outcome, Refused> {
    let at = at.unwrap_or(desk.now());
    let by = by.unwrap_or(desk.me);
    let mut drafts = Vec::new();
    for measured in readings {
        let event = Event::Read(reading_target(desk, spot, measured)?, *measured);
        drafts.push(Draft {
            at,
            by,
            event,
            note: note.clone().filter(|_| drafts.is_empty()),
        });
    }
    Ok(Outcome::write(drafts, |desk, numbers| {
        let mut answer = desk.done_text(reading_lines(desk, numbers).join("\n"));
        answer
            .blocks
            .extend(numbers.iter().filter_map(|seq| outside_line(desk, *seq)));
        answer.blocks.extend(of_the_filter(desk, numbers));
        // Salt water in a fresh pool is a danger, so that what to do stands first.
        if let Some(text) = salt_in_fresh(desk, numbers) {
            answer.put_first(text);
        }
        let first = numbers.first().copied().unwrap_or(0);
        let answers = vec![desk.press(&msg!("press-take-back"), format!("undo.{first}"))];
        answer.blocks.push(Block::Answers { answers });
        answer
    }))
}

/// What to do about the fresh pools that now read as salt water.
fn salt_in_fresh(desk: &Desk<'_>, numbers: &[u64]) -> Option<String> {
    let read = |pool| {
        numbers.iter().any(|seq| {
            let event = desk.book().entry(*seq).map(|entry| &entry.event);
            matches!(event, Some(Event::Read(Target::Pool(of), measured)) if *of == pool
                && matches!(measured.kind(), Kind::Gravity | Kind::Salinity | Kind::Conductivity))
        })
    };
    super::batches::salted_fresh(desk, read)
}

/// What a water test says of the pool's filter and of its ammonia.
fn of_the_filter(desk: &Desk<'_>, numbers: &[u64]) -> Vec<Block> {
    let tested = numbers
        .iter()
        .find_map(|seq| match desk.book().entry(*seq)?.event {
            Event::Read(
                Target::Pool(pool),
                Measured::Ammonia { .. } | Measured::Nitrite { .. } | Measured::Nitrate { .. },
            ) => Some(pool),
            _ => None,
        });
    tested.map_or_else(Vec::new, |pool| cycle::short(&desk.tell, pool))
}

/// Air quantities are of an enclosure, water quantities of a pool; a temperature is of whatever was named.
fn reading_target(desk: &Desk<'_>, spot: &Spot, measured: &Measured) -> Result<Target, Refused> {
    let enclosure = match spot.enclosures.as_slice() {
        [one] => Some(Target::Enclosure(*one)),
        _ => None,
    };
    let of_air = msg!(
        "refuse-which-enclosure",
        reading = show(measured, desk.place().units)
    );
    let of_water = msg!("refuse-which-pool", reading = show(measured, desk.place().units));
    match measured.kind() {
        Kind::Humidity => enclosure.ok_or(of_air),
        Kind::Temperature if spot.grain == Grain::Enclosure => enclosure.ok_or(of_air),
        kind => {
            let saline = matches!(kind, Kind::Gravity | Kind::Salinity | Kind::Conductivity);
            let fits = |id: &&wrackline_core::place::PoolId| {
                spot.grain == Grain::Pool
                    || !saline
                    || desk
                        .place()
                        .pools
                        .get(id)
                        .is_some_and(|pool| pool.water == Water::Salt)
            };
            let pools: Vec<_> = spot.pools.iter().filter(fits).collect();
            match pools.as_slice() {
                [one] => Ok(Target::Pool(**one)),
                _ => Err(of_water),
            }
        }
    }
}

/// What was read, a line for each pool or enclosure.
fn reading_lines(desk: &Desk<'_>, numbers: &[u64]) -> Vec<String> {
    let mut of: Vec<(Target, &Entry, Vec<String>)> = Vec::new();
    for entry in numbers.iter().filter_map(|seq| desk.book().entry(*seq)) {
        let Event::Read(target, measured) = &entry.event else {
            continue;
        };
        let shown = show(measured, desk.place().units);
        match of.iter_mut().find(|(other, ..)| other == target) {
            Some((.., readings)) => readings.push(shown),
            None => of.push((*target, entry, vec![shown])),
        }
    }
    let line = |(target, entry, readings): &(Target, &Entry, Vec<String>)| {
        let (target, reading) = (desk.tell.target(*target), readings.join(", "));
        let at = desk.tell.near(entry.at);
        if entry.by == desk.me {
            return desk.say(&msg!("read-line", target = target, reading = reading, at = at));
        }
        let by = desk.tell.carer(entry.by);
        desk.say(&msg!(
            "read-line-by",
            target = target,
            reading = reading,
            at = at,
            by = by
        ))
    };
    of.iter().map(line).collect()
}

/// A word on a reading that lies outside its band.
fn outside_line(desk: &Desk<'_>, seq: u64) -> Option<Block> {
    let Event::Read(_, measured) = &desk.book().entry(seq)?.event else {
        return None;
    };
    let (id, low, high) = outside(measured)?;
    let units = desk.place().units;
    let bound = |value: f64| match measured {
        Measured::Temperature(_) => wrackline_core::quantity::celsius(value, units),
        _ => format!("{value:.0} %"),
    };
    let text = desk.say(&msg!(
        id,
        reading = show(measured, units),
        low = bound(low),
        high = bound(high)
    ));
    Some(Block::Text { text })
}

/// The message and the band, where a reading lies outside its band.
fn outside(measured: &Measured) -> Option<(&'static str, f64, f64)> {
    use wrackline_core::air::{BAND_CELSIUS, BAND_PERCENT};
    let (value, (low, high)) = match measured {
        Measured::Humidity(percent) => (*percent, BAND_PERCENT),
        Measured::Temperature(celsius) => (*celsius, BAND_CELSIUS),
        _ => return None,
    };
    if value < low {
        Some(("read-under", low, high))
    } else if value > high {
        Some(("read-over", low, high))
    } else {
        None
    }
}
