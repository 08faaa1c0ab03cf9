//! Filters: the rated range, the minimum fill line, the days until evaporation bares it, the turnover.

use wrackline_core::particulars::{FillLine, fill_line};
use wrackline_core::pool::filter::{
    FilterError, Loss, RatedRange, TURNOVER, days_until_bare, range_for, turnover, usual_ranges,
};
use wrackline_core::quantity::{Centimetres, Kilograms, Litres, LitresPerMinute, litres_per_minute, plain};

use super::{Piece, density};
use crate::desk::Desk;
use crate::desk::fit::{Gaps, Looked, Seen};
use crate::desk::setup::made;
use crate::desk::setup::made_told::{length, range};
use crate::msg;

/// What there is to say of the filter of a pool, or of the one that it could have.
pub(super) fn piece(desk: &Desk<'_>, looked: &Looked<'_>, seen: &Seen<'_>, gaps: &mut Gaps) -> Piece {
    let title = rule(desk, seen).map(|range| desk.say(&msg!("plumb-title-filter", range = range)));
    if seen.pool.filter.is_none() {
        let none = desk.tell.word("plumb-no-filter");
        return Piece {
            title: None,
            lines: rated(desk, seen).into_iter().chain([none]).collect(),
        };
    }
    let filter = &seen.pool.made.filter;
    if filter.rated.is_none() {
        gaps.of_gear(
            desk,
            seen.pool,
            "filter",
            "fit-gap-rated",
            ("rated 5-10 gal", "rated 5-10 gal"),
        );
    }
    if filter.fill_line_cm.is_none() {
        gaps.of_gear(
            desk,
            seen.pool,
            "filter",
            "fit-gap-fill-line",
            ("fill line 7 cm", "fill line 3 in"),
        );
    }
    gaps.shape(desk, seen.pool);
    Piece {
        title,
        lines: lines(desk, looked, seen),
    }
}

/// The lines of a filter: range, fill line, turnover. A fill line above the water is refused elsewhere.
pub(in crate::desk) fn lines(desk: &Desk<'_>, looked: &Looked<'_>, seen: &Seen<'_>) -> Vec<String> {
    let all = [rated(desk, seen), line(desk, looked, seen), turns(desk, seen)];
    all.into_iter().flatten().collect()
}

/// The range that the rule of thumb asks for.
fn rule(desk: &Desk<'_>, seen: &Seen<'_>) -> Option<String> {
    let choice = range_for(Litres(seen.pool.litres), &usual_ranges()).ok()?;
    Some(range(desk, choice.range.from.0, choice.range.to.0))
}

fn rated(desk: &Desk<'_>, seen: &Seen<'_>) -> Option<String> {
    let water = desk.tell.litres(seen.pool.litres);
    let asked = range_for(Litres(seen.pool.litres), &usual_ranges());
    let asked = match &asked {
        Ok(choice) => range(desk, choice.range.from.0, choice.range.to.0),
        Err(FilterError::NoRange { last, .. }) => {
            let last = desk.tell.litres(last.map_or(0.0, |last| last.0));
            return Some(desk.say(&msg!("plumb-range-none", water = water, last = last)));
        }
        Err(_) => return None,
    };
    let Some((from, to)) = seen.pool.made.filter.rated else {
        return Some(desk.say(&msg!("plumb-range", water = water, range = asked)));
    };
    let own = [RatedRange {
        from: Litres(from),
        to: Litres(to),
    }];
    let told = range(desk, from, to);
    let text = match range_for(Litres(seen.pool.litres), &own) {
        Ok(_) => msg!("plumb-range-fits", water = water, told = told),
        Err(_) => msg!("plumb-range-low", water = water, told = told, range = asked),
    };
    Some(desk.say(&text))
}

/// How far the minimum fill line lies under the water, and how long it stays there.
fn line(desk: &Desk<'_>, looked: &Looked<'_>, seen: &Seen<'_>) -> Option<String> {
    let line = seen.pool.made.filter.fill_line_cm?;
    let level = made::level(seen.pool)?;
    let FillLine::Under(margin) = fill_line(Centimetres(line), level) else {
        return None;
    };
    let first = desk.say(&msg!(
        "plumb-line",
        pool = desk.tell.pool(seen.pool.id),
        line = length(desk, line),
        margin = length(desk, margin.0),
        level = length(desk, level.0)
    ));
    let days = days(looked, seen, Centimetres(line));
    let second = match days {
        Some([Some(least), Some(likely), most]) => desk.say(&msg!(
            "plumb-days",
            likely = plain(likely),
            low = plain(least),
            high = most.map_or_else(|| desk.tell.word("fit-no-end"), plain)
        )),
        Some(_) => desk.tell.word("plumb-days-many"),
        None => desk.tell.word("plumb-days-unknown"),
    };
    Some(format!("{first} {second}"))
}

/// Days until evaporation has bared the line: at the fastest, likely, at the slowest. `None` where the surface is not known;
/// each `None` where nothing evaporates.
fn days(looked: &Looked<'_>, seen: &Seen<'_>, line: Centimetres) -> Option<[Option<f64>; 3]> {
    let (vessel, filled) = (seen.vessel.as_ref()?, seen.filled?);
    let loss = looked.loss(seen.pool.id)?;
    let of = |grams_a_day: f64| {
        let loss = Loss {
            hourly: Kilograms(grams_a_day / 24_000.0),
            surface: filled.surface,
        };
        let found = days_until_bare(vessel.inside(), line, loss, density(seen.pool));
        found.ok().flatten().map(|days| days.0)
    };
    Some([of(loss.high), of(loss.likely), of(loss.low)])
}

/// How often the water goes through the filter.
fn turns(desk: &Desk<'_>, seen: &Seen<'_>) -> Option<String> {
    let flow = seen.pool.made.filter.flow?;
    let found = turnover(Litres(seen.pool.litres), LitresPerMinute(flow)).ok()?;
    Some(desk.say(&msg!(
        "plumb-turnover",
        flow = litres_per_minute(flow, desk.place().units),
        rated = plain(found.rated),
        low = plain(found.in_use.low),
        high = plain(found.in_use.high),
        least = plain(TURNOVER.low),
        most = plain(TURNOVER.high)
    )))
}
