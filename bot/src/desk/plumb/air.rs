//! Pump, airline and stone.

use wrackline_core::particulars::route;
use wrackline_core::pool::airline::{
    AirlineError, CheckValve, Fit, Slack, air_flow, cuts, pressure, pump_fits,
};
use wrackline_core::quantity::{Litres, Pascals, litres_per_minute, pascals, plain};

use super::{Piece, density, depth};
use crate::desk::fit::{Gaps, Seen};
use crate::desk::setup::made_told::length;
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
    piece.lines.extend(pump(desk, seen, gaps)?);
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
    let way = match route(&seen.pool.made.air, depth(seen)) {
        Ok(way) => way,
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
fn pump(desk: &Desk<'_>, seen: &Seen<'_>, gaps: &mut Gaps) -> Result<Option<String>, Refused> {
    let made = &seen.pool.made.air;
    let Some(stone) = made.stone_cm.or(depth(seen).map(|depth| depth.0)) else {
        gaps.shape(desk, seen.pool);
        return Ok(None);
    };
    let units = desk.place().units;
    let needed = pressure(wrackline_core::quantity::Centimetres(stone), density(seen.pool))
        .map_err(|error| refuse(desk, seen, &error))?;
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
        return Ok(Some(first));
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
        Err(AirlineError::Weak { missing, .. }) => desk.say(&msg!(
            "plumb-pump-weak",
            rated = told,
            missing = pascals(missing.0, units)
        )),
        Err(error) => return Err(refuse(desk, seen, &error)),
    };
    Ok(Some(format!("{first} {second}")))
}

fn refuse(desk: &Desk<'_>, seen: &Seen<'_>, error: &AirlineError) -> Refused {
    match error {
        AirlineError::NoCheckValve { below } => msg!(
            "made-no-check-valve",
            pool = desk.tell.pool(seen.pool.id),
            below = length(desk, below.0)
        ),
        AirlineError::Range { value, range, .. } => msg!(
            "fit-outside",
            what = desk.tell.word("fit-what-airline"),
            value = plain(*value),
            low = plain(range.low),
            high = plain(range.high)
        ),
        AirlineError::Weak { missing, rated, .. } => msg!(
            "plumb-pump-weak",
            rated = pascals(rated.0, desk.place().units),
            missing = pascals(missing.0, desk.place().units)
        ),
    }
}
