//! Pump, airline and stone.

use wrackline_core::particulars::{PUMP_UNTOLD, TubeGap, safe_route};
use wrackline_core::pool::airline::{
    AirlineError, CheckValve, Fit, Part, STONE, Slack, air_flow, cuts, pressure, pump_fits, shallower,
};
use wrackline_core::quantity::{Centimetres, Litres, Pascals, litres_per_minute, pascals, plain};

use super::{Piece, density, depth};
use crate::desk::fit::{Gaps, Seen};
use crate::desk::setup::made_told::length;
use crate::desk::tell::capital;
use crate::desk::{Desk, Refused};
use crate::msg;

/// What there is to say of the air of a pool.
pub(super) fn piece(desk: &Desk<'_>, seen: &Seen<'_>, gaps: &mut Gaps) -> Result<Piece, Refused> {
    if seen.pool.air.is_none() {
        return Ok(Piece {
            title: None,
            lines: vec![desk.tell.word("plumb-no-air")],
        });
    }
    let mut piece = airline(desk, seen, gaps)?;
    let pump = pump(desk, seen, gaps)?;
    piece.lines.extend(pump.lines);
    // A pump that cannot do it stands before the cuts.
    let titles: Vec<String> = pump.title.into_iter().chain(piece.title).collect();
    piece.title = (!titles.is_empty()).then(|| titles.join("; "));
    let (flow, _) = air_flow(Litres(seen.pool.litres)).map_err(|error| refuse(desk, seen, &error))?;
    piece.lines.push(desk.say(&msg!(
        "plumb-air-flow",
        flow = litres_per_minute(flow.0, desk.place().units)
    )));
    match seen.pool.made.air.weighted {
        Some(true) => {}
        Some(false) => piece.lines.push(desk.tell.word("plumb-stone-loose")),
        None => gaps.of_gear(
            desk,
            seen.pool,
            "air",
            "fit-gap-weighted",
            ("weighted yes", "weighted yes"),
        ),
    }
    Ok(piece)
}

/// The cut list: two lengths with the valve between.
fn airline(desk: &Desk<'_>, seen: &Seen<'_>, gaps: &mut Gaps) -> Result<Piece, Refused> {
    let (way, assumed) = match safe_route(&seen.pool.made.air, depth(seen)) {
        Ok(found) => found,
        Err(missing) => {
            gaps.airline(desk, seen.pool, &missing);
            return Ok(Piece::default());
        }
    };
    let slack = Slack::USUAL;
    let found = cuts(way, slack).map_err(|error| refuse(desk, seen, &error))?;
    let (first, second) = (
        length(desk, found.stone_to_valve.0),
        length(desk, found.valve_to_pump.0),
    );
    let valve = match found.check_valve {
        _ if assumed => {
            gaps.airline(desk, seen.pool, &[TubeGap::Pump]);
            let below = length(desk, -PUMP_UNTOLD.0);
            desk.say(&msg!("plumb-valve-assumed", below = below))
        }
        CheckValve::Needed => desk.say(&msg!("plumb-valve-needed", below = length(desk, -way.pump.0))),
        CheckValve::Optional => desk.tell.word("plumb-valve-optional"),
    };
    let cut = desk.say(&msg!(
        "plumb-cuts",
        first = first.as_str(),
        second = second.as_str(),
        slack = plain(slack.share * 100.0),
        drip = length(desk, slack.drip_loop.0)
    ));
    Ok(Piece {
        title: Some(desk.say(&msg!("plumb-title-air", first = first, second = second))),
        lines: vec![cut, valve],
    })
}

/// What the pump has to overcome, and whether it does.
fn pump(desk: &Desk<'_>, seen: &Seen<'_>, gaps: &mut Gaps) -> Result<Piece, Refused> {
    let made = &seen.pool.made.air;
    let Some(stone) = made.stone_cm.or(depth(seen).map(|depth| depth.0)) else {
        gaps.shape(desk, seen.pool);
        return Ok(Piece::default());
    };
    let told_of = |title: Option<String>, line: String| Piece {
        title,
        lines: vec![line],
    };
    let units = desk.place().units;
    let needed =
        pressure(Centimetres(stone), density(seen.pool)).map_err(|error| refuse(desk, seen, &error))?;
    let first = desk.say(&msg!(
        "plumb-pressure",
        depth = length(desk, stone),
        likely = pascals(needed.likely.0, units),
        low = pascals(needed.low.0, units),
        high = pascals(needed.high.0, units)
    ));
    let Some(rated) = made.pressure_pa else {
        gaps.of_gear(
            desk,
            seen.pool,
            "air",
            "fit-gap-pressure",
            ("pressure 12 kPa", "pressure 1.7 psi"),
        );
        return Ok(told_of(None, first));
    };
    let told = pascals(rated, units);
    let second = match pump_fits(needed, Pascals(rated)) {
        Ok(fit) => {
            let id = match fit {
                Fit::Surely => "plumb-pump-surely",
                Fit::Likely => "plumb-pump-likely",
                Fit::Perhaps => "plumb-pump-perhaps",
            };
            desk.say(&msg!(id, rated = told))
        }
        Err(AirlineError::Weak { missing, .. }) => {
            let lacks = pascals(missing.0, units);
            let title = desk.say(&msg!("plumb-title-weak", missing = lacks.as_str()));
            let second = weak(desk, seen, (Centimetres(stone), missing), (told, lacks))?;
            return Ok(told_of(Some(title), format!("{first} {second}")));
        }
        Err(error) => return Err(refuse(desk, seen, &error)),
    };
    Ok(told_of(None, format!("{first} {second}")))
}

/// What helps a pump that is too weak, with what is there already.
fn weak(
    desk: &Desk<'_>,
    seen: &Seen<'_>,
    (stone, missing): (Centimetres, Pascals),
    (rated, lacks): (String, String),
) -> Result<String, Refused> {
    let units = desk.place().units;
    let less = shallower(missing, density(seen.pool)).map_err(|error| refuse(desk, seen, &error))?;
    let depth = if less < stone {
        desk.say(&msg!("plumb-weak-shallower", less = length(desk, less.0)))
    } else {
        desk.tell.word("plumb-weak-too-much")
    };
    Ok(desk.say(&msg!(
        "plumb-pump-weak",
        rated = rated,
        missing = lacks,
        low = pascals(STONE.low.0, units),
        high = pascals(STONE.high.0, units),
        depth = depth
    )))
}

fn refuse(desk: &Desk<'_>, seen: &Seen<'_>, error: &AirlineError) -> Refused {
    match error {
        AirlineError::NoCheckValve { below } => msg!(
            "made-no-check-valve",
            pool = desk.tell.pool(seen.pool.id),
            below = length(desk, below.0)
        ),
        AirlineError::Range { part, value, range } => {
            let what = match part {
                Part::StoneDepth => "fit-gap-stone",
                Part::Across => "fit-gap-across",
                Part::Rim => "fit-gap-rim",
                Part::ValveBelowRim => "fit-gap-valve",
                Part::ToPump => "fit-gap-run",
                Part::Pump => "fit-gap-pump",
                Part::Rated => "fit-gap-pressure",
                _ => "fit-what-airline",
            };
            let told = |value: f64| match part {
                Part::Rated => pascals(value, desk.place().units),
                _ if what == "fit-what-airline" => plain(value),
                _ => length(desk, value),
            };
            msg!(
                "fit-outside",
                what = capital(&desk.tell.word(what)),
                value = told(*value),
                low = told(range.low),
                high = told(range.high)
            )
        }
        AirlineError::Weak { missing, .. } => msg!(
            "plumb-no-pump",
            pool = desk.tell.pool(seen.pool.id),
            missing = pascals(missing.0, desk.place().units)
        ),
    }
}
