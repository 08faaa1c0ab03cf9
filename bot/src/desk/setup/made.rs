//! What cannot be, of how things are made: each combination that is refused, in one sentence.

use wrackline_core::particulars::{EnclosureMade, FillLine, Vessel, fill_line, volumes};
use wrackline_core::place::{Enclosure, Gear, Life, Pool};
use wrackline_core::pool::contents::ContentsError;
use wrackline_core::pool::shape::ShapeError;
use wrackline_core::quantity::{Centimetres, centimetres, square_centimetres};

use crate::desk::{Desk, Refused};
use crate::msg;

fn length(desk: &Desk<'_>, cm: f64) -> String {
    centimetres(cm, desk.place().units)
}

/// Whether an enclosure can be made so, with the pools that stand in it.
pub(in crate::desk) fn enclosure(
    desk: &Desk<'_>,
    name: &str,
    litres: f64,
    made: &EnclosureMade,
    pools: &[&Pool],
) -> Result<(), Refused> {
    if let (Some(size), Some(substrate)) = (made.size, made.substrate_cm)
        && substrate >= size.height
    {
        return Err(msg!(
            "made-substrate-deep",
            substrate = length(desk, substrate),
            enclosure = name,
            height = length(desk, size.height)
        ));
    }
    let gross = volumes(litres, made).gross.0;
    let stands = |pool: &&&Pool| matches!(pool.life, Life::InUse | Life::Cycling);
    let water: f64 = pools.iter().filter(stands).map(|pool| pool.litres).sum();
    if water > gross {
        return Err(msg!(
            "made-enclosure-small",
            enclosure = name,
            litres = desk.tell.litres(gross),
            water = desk.tell.litres(water)
        ));
    }
    for pool in pools {
        stands_in(desk, pool, name, made)?;
    }
    Ok(())
}

/// Whether a pool can be made so: its water in its container, and the container in its enclosure.
pub(in crate::desk) fn pool(desk: &Desk<'_>, pool: &Pool, enclosure: &Enclosure) -> Result<(), Refused> {
    let vessel = Vessel::of(pool).map_err(|error| contents(desk, pool, &error))?;
    if let Some(vessel) = &vessel {
        // A container that is told with its water line still has to hold what is said to be in it, filled to the rim.
        let full = vessel.shape().full().map_err(|error| shape(desk, pool, &error))?;
        if pool.litres > full.0 * (1.0 + 1e-9) {
            return Err(too_much(desk, pool.litres, full.0));
        }
    }
    stands_in(desk, pool, &enclosure.name, &enclosure.made)
}

/// A container stands inside its enclosure: no higher than it, no wider than its floor.
fn stands_in(desk: &Desk<'_>, pool: &Pool, name: &str, made: &EnclosureMade) -> Result<(), Refused> {
    let (Some(shape), Some(size)) = (&pool.made.shape, made.size) else {
        return Ok(());
    };
    let Ok(rim) = shape.height() else {
        return Ok(());
    };
    let widest = shape.surface_at(rim).map_or(0.0, |surface| surface.0);
    if rim.0 > size.height {
        return Err(msg!(
            "made-pool-high",
            rim = length(desk, rim.0),
            enclosure = name,
            height = length(desk, size.height)
        ));
    }
    if widest > size.floor() {
        let area = |cm2| square_centimetres(cm2, desk.place().units);
        return Err(msg!(
            "made-pool-wide",
            surface = area(widest),
            enclosure = name,
            floor = area(size.floor())
        ));
    }
    Ok(())
}

/// Where the water of a pool stands, as far as that is known.
pub(in crate::desk) fn level(pool: &Pool) -> Option<Centimetres> {
    let computed = || {
        Vessel::of(pool)
            .ok()
            .flatten()
            .map(|vessel| vessel.inside().level)
    };
    pool.made.depth_cm.map(Centimetres).or_else(computed)
}

/// A filter whose minimum fill line lies above the water is wrong for its pool.
pub(in crate::desk) fn filter(desk: &Desk<'_>, pool: &Pool) -> Result<(), Refused> {
    let (Some(line), Some(level)) = (pool.made.filter.fill_line_cm, level(pool)) else {
        return Ok(());
    };
    let FillLine::Above(missing) = fill_line(Centimetres(line), level) else {
        return Ok(());
    };
    Err(msg!(
        "made-fill-line",
        pool = desk.tell.pool(pool.id),
        line = length(desk, line),
        missing = length(desk, missing.0),
        level = length(desk, level.0)
    ))
}

/// A pump below the water line without a check valve drains its pool when it stops.
pub(in crate::desk) fn pump(desk: &Desk<'_>, pool: &Pool) -> Result<(), Refused> {
    match (pool.made.air.pump_cm, pool.made.air.check_valve) {
        (Some(height), Some(false)) if height < 0.0 => Err(msg!(
            "made-no-check-valve",
            pool = desk.tell.pool(pool.id),
            below = length(desk, -height)
        )),
        _ => Ok(()),
    }
}

/// What is refused of one piece of gear.
pub(in crate::desk) fn gear(desk: &Desk<'_>, pool: &Pool, gear: Gear) -> Result<(), Refused> {
    match gear {
        Gear::Air => pump(desk, pool),
        Gear::Filter => filter(desk, pool),
    }
}

fn too_much(desk: &Desk<'_>, water: f64, full: f64) -> Refused {
    msg!(
        "made-water-much",
        litres = desk.tell.litres(water),
        full = desk.tell.litres(full)
    )
}

/// Why there is no amount of water, as a sentence.
pub(in crate::desk) fn contents(desk: &Desk<'_>, pool: &Pool, error: &ContentsError) -> Refused {
    let litres = |litres| desk.tell.litres(litres);
    match error {
        ContentsError::Shape(error) => shape(desk, pool, error),
        ContentsError::GravelDepth { depth, rim } => msg!(
            "made-gravel-deep",
            depth = length(desk, depth.0),
            rim = length(desk, rim.0)
        ),
        ContentsError::Porosity { .. } | ContentsError::Densities { .. } => msg!("made-porosity"),
        ContentsError::Displaced {
            litres: takes, full, ..
        } => msg!(
            "made-things-large",
            litres = litres(takes.0),
            full = litres(full.0)
        ),
        ContentsError::NoRoom { solid, gross } => {
            msg!("made-no-room", solid = litres(solid.0), gross = litres(gross.0))
        }
        ContentsError::TooMuch { water, solid, full } => msg!(
            "made-water-beside",
            litres = litres(water.0),
            solid = litres(solid.0),
            full = litres(full.0)
        ),
    }
}

fn shape(desk: &Desk<'_>, pool: &Pool, error: &ShapeError) -> Refused {
    match error {
        ShapeError::Size { value, .. } => msg!("made-measure-odd", value = length(desk, value.0)),
        ShapeError::FewPoints { .. } => msg!("made-table-short"),
        ShapeError::NotRising { point } => msg!("made-table-falls", point = *point),
        ShapeError::Level { level, rim } => msg!(
            "made-water-deep",
            pool = desk.tell.pool(pool.id),
            level = length(desk, level.0),
            rim = length(desk, rim.0)
        ),
        ShapeError::Volume { volume, full } => too_much(desk, volume.0, full.0),
    }
}
