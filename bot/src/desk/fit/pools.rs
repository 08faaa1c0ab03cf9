//! What `/fit` says of each pool: depth, way out, what it spills, what it loses, its filter.

use wrackline_core::particulars::{Vessel, Way};
use wrackline_core::pool::depth::{
    DepthError, LYING, MARGIN, REACH, Route, STEEPEST, Shell, Substrate, spill, submersion, way_out,
};
use wrackline_core::quantity::{Centimetres, SquareCentimetres, grams, plain};

use super::{Looked, Seen};
use crate::desk::plumb::filter;
use crate::desk::setup::made_told::length;
use crate::desk::{Desk, Refused, setup::made, setup::made_told};
use crate::msg;

/// The share of damp substrate that water can still fill: sand's gaps, half of them wet already. Common practice, no
/// published source.
const OPEN: f64 = 0.2;

/// The lines of all pools.
pub(super) fn lines(desk: &Desk<'_>, looked: &Looked<'_>) -> Result<Vec<String>, Refused> {
    let mut all = Vec::new();
    for seen in &looked.pools {
        all.extend(of(desk, looked, seen)?);
    }
    Ok(all)
}

fn of(desk: &Desk<'_>, looked: &Looked<'_>, seen: &Seen<'_>) -> Result<Vec<String>, Refused> {
    let mut all = Vec::new();
    if let Some(vessel) = &seen.vessel {
        all.extend(submerges(desk, looked, seen, vessel)?);
        all.extend(leaves(desk, looked, seen, vessel)?);
        all.extend(spills(desk, looked, seen, vessel)?);
    }
    all.extend(loses(desk, looked, seen));
    if seen.pool.filter.is_some() {
        all.extend(filter::lines(desk, looked, seen));
    }
    Ok(all)
}

fn refuse(desk: &Desk<'_>, seen: &Seen<'_>, error: DepthError) -> Refused {
    match error {
        DepthError::Contents(error) => made::contents(desk, seen.pool, &error),
        DepthError::Range { value, range, .. } => msg!(
            "fit-outside",
            what = desk.tell.word("fit-what-other"),
            value = plain(value),
            low = plain(range.low),
            high = plain(range.high)
        ),
    }
}

/// Whether the largest crab submerges.
fn submerges(
    desk: &Desk<'_>,
    looked: &Looked<'_>,
    seen: &Seen<'_>,
    vessel: &Vessel,
) -> Result<Option<String>, Refused> {
    let Some(largest) = looked.enclosure.largest_cm else {
        return Ok(None);
    };
    let shell = Shell::Length {
        length: Centimetres(largest),
        ratio: LYING,
    };
    let found = submersion(vessel.inside(), shell, MARGIN).map_err(|error| refuse(desk, seen, error))?;
    let (pool, largest) = (desk.tell.pool(seen.pool.id), length(desk, largest));
    let (depth, wanted) = (length(desk, found.depth.0), length(desk, found.needed.0));
    let text = match found.missing {
        None => msg!(
            "fit-submerges",
            pool = pool,
            depth = depth,
            largest = largest,
            wanted = wanted
        ),
        Some(missing) => msg!(
            if found.above_rim {
                "fit-submerges-never"
            } else {
                "fit-submerges-not"
            },
            pool = pool,
            depth = depth,
            largest = largest,
            wanted = wanted,
            missing = length(desk, missing.0),
            level = length(desk, found.level.0)
        ),
    };
    Ok(Some(desk.say(&text)))
}

/// Whether the smallest crab gets out.
fn leaves(
    desk: &Desk<'_>,
    looked: &Looked<'_>,
    seen: &Seen<'_>,
    vessel: &Vessel,
) -> Result<Option<String>, Refused> {
    let (Some(smallest), Some(way)) = (looked.enclosure.smallest_cm, seen.pool.made.way_out) else {
        return Ok(None);
    };
    let route = match way {
        Way::Ramp { rise, run } => Route::Ramp {
            rise: Centimetres(rise),
            run: Centimetres(run),
        },
        Way::Steps { highest, rise } => Route::Steps {
            highest: Centimetres(highest),
            rise: Centimetres(rise),
        },
        Way::Wall => Route::Wall,
    };
    let found = way_out(vessel.inside(), route, Centimetres(smallest), REACH, STEEPEST)
        .map_err(|error| refuse(desk, seen, error))?;
    let pool = desk.tell.pool(seen.pool.id);
    let text = match (found.too_high, found.too_steep) {
        (None, None) => msg!(
            "fit-leaves",
            pool = pool,
            smallest = length(desk, smallest),
            step = length(desk, found.step.0),
            reach = length(desk, found.reach.0)
        ),
        (Some(more), _) => msg!(
            "fit-leaves-high",
            pool = pool,
            smallest = length(desk, smallest),
            step = length(desk, found.step.0),
            reach = length(desk, found.reach.0),
            more = length(desk, more.0)
        ),
        (None, Some(more)) => msg!(
            "fit-leaves-steep",
            pool = pool,
            slope = format!("{:.0}", found.slope.unwrap_or_default()),
            steepest = format!("{STEEPEST:.0}"),
            more = format!("{:.0}", more.max(1.0))
        ),
    };
    Ok(Some(desk.say(&text)))
}

/// What a tipped pool puts into the substrate.
fn spills(
    desk: &Desk<'_>,
    looked: &Looked<'_>,
    seen: &Seen<'_>,
    vessel: &Vessel,
) -> Result<Option<String>, Refused> {
    let pool = desk.tell.pool(seen.pool.id);
    let made = &looked.enclosure.made;
    let litres = seen.filled.map_or(0.0, |filled| filled.water.likely.0);
    let (Some(size), Some(depth)) = (made.size, made.substrate_cm) else {
        let text = msg!("fit-spill", pool = pool, litres = desk.tell.litres(litres));
        return Ok(Some(desk.say(&text)));
    };
    let under = Substrate {
        floor: SquareCentimetres(size.floor()),
        depth: Centimetres(depth),
        open: OPEN,
    };
    let found = spill(vessel.inside(), under).map_err(|error| refuse(desk, seen, error))?;
    let litres = desk.tell.litres(found.litres.0);
    let text = if depth <= 0.0 {
        msg!("fit-spill-bare", pool = pool, litres = litres)
    } else if found.standing.0 > 0.0 {
        msg!(
            "fit-spill-over",
            pool = pool,
            litres = litres,
            depth = length(desk, found.depth.0),
            standing = desk.tell.litres(found.standing.0)
        )
    } else {
        msg!(
            "fit-spill-into",
            pool = pool,
            litres = litres,
            depth = length(desk, found.depth.0),
            open = plain(OPEN * 100.0)
        )
    };
    Ok(Some(desk.say(&text)))
}

/// What a pool loses in a day, and how much its water is.
fn loses(desk: &Desk<'_>, looked: &Looked<'_>, seen: &Seen<'_>) -> Vec<String> {
    let water = made_told::water(desk, seen.pool);
    let water = water.map(|water| {
        desk.say(&msg!(
            "made-told",
            what = desk.tell.pool(seen.pool.id),
            made = water.trim_end_matches('.')
        ))
    });
    let loss = looked.loss(seen.pool.id).map(|loss| {
        let mass = |mass: f64| grams(mass, desk.place().units);
        desk.say(&msg!(
            "fit-loses",
            pool = desk.tell.pool(seen.pool.id),
            likely = mass(loss.likely),
            low = mass(loss.low),
            high = mass(loss.high)
        ))
    });
    water.into_iter().chain(loss).collect()
}
