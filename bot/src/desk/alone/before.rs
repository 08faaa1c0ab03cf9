//! What is seen to before leaving: turns, water, levels, air, batches.

use wrackline_core::alone::{Alone, Bared, Level, Power, Turn};
use wrackline_core::place::{PoolId, Target, Water};
use wrackline_core::quantity::{grams, plain};

use super::{hour, limit, walk};
use crate::chat::blocks::Block;
use crate::desk::Desk;
use crate::desk::batches;
use crate::desk::water::prepare;
use crate::msg;

/// Seconds of a day.
const DAY_S: f64 = 86_400.0;

/// All of it.
pub(super) fn blocks(desk: &Desk<'_>, found: &Alone) -> Vec<Block> {
    let mut blocks = Vec::new();
    let leave = desk.tell.moment(found.span.leave);
    let text = |text: String| Block::Text { text };
    if found.before.is_empty() {
        blocks.push(text(desk.say(&msg!("alone-before-none", leave = leave))));
    } else {
        blocks.push(text(desk.say(&msg!("alone-before", leave = leave))));
        let water = found.before.iter().filter_map(|turn| water_of(desk, turn));
        blocks.extend(prepare(&desk.tell, &water.collect::<Vec<_>>(), true).map(text));
        blocks.push(walk(desk, &found.before, |_, _| None));
    }
    if let Some(first) = found.as_it_stands.first() {
        blocks.push(text(desk.say(&msg!(
            "alone-as-it-stands",
            what = limit(desk, first),
            when = desk.tell.moment(first.at),
            past = if first.at <= desk.now() { "yes" } else { "no" },
            hour = hour(found, first.at).max(0)
        ))));
    }
    let seen = [Some(fill(desk, found)), untold(desk, found), power(desk, found)];
    blocks.extend(seen.into_iter().flatten().map(text));
    blocks.extend(batches::over(&desk.tell, found.span.back).into_iter().map(text));
    blocks
}

/// The pool and the litres of a change.
pub(super) fn water_of(desk: &Desk<'_>, turn: &Turn) -> Option<(Water, f64)> {
    let Target::Pool(id) = turn.target else {
        return None;
    };
    Some((desk.place().pools.get(&id)?.water, turn.litres?))
}

/// How far the levels fall and the salt rises.
fn fill(desk: &Desk<'_>, found: &Alone) -> String {
    let days = (found.span.back.as_second() - found.span.leave.as_second()) as f64 / DAY_S;
    let mut all = vec![desk.tell.word("alone-fill")];
    all.extend(found.levels.known.iter().map(|level| falls(desk, level, days)));
    if !found.levels.known.is_empty() {
        all.push(desk.tell.word("alone-fill-rests"));
    }
    all.join(" ")
}

fn falls(desk: &Desk<'_>, level: &Level, days: f64) -> String {
    let place = desk.place();
    let mass = |grams_a_day: f64| grams(grams_a_day, place.units);
    let pool = desk.tell.pool(level.pool);
    let mut all = vec![desk.say(&msg!(
        "alone-loses",
        pool = pool.as_str(),
        likely = mass(level.loss.likely),
        low = mass(level.loss.low),
        high = mass(level.loss.high)
    ))];
    for (what, bared) in &level.bares {
        let day = |days: Option<f64>| days.map_or_else(|| desk.tell.word("fit-no-end"), short);
        if let Some(low) = bared.low {
            all.push(desk.say(&msg!(
                "alone-bared",
                what = bared_word(desk, *what),
                low = short(low),
                likely = day(bared.likely),
                high = day(bared.high)
            )));
        }
    }
    for what in &level.bare {
        let what = bared_word(desk, *what);
        all.push(desk.say(&msg!("alone-bare-now", pool = pool.as_str(), what = what)));
    }
    let full = place.supplies.wanted();
    let then = place
        .pools
        .get(&level.pool)
        .and_then(|pool| level.salinity(pool, full, days));
    if let Some(then) = then {
        all.push(desk.say(&msg!(
            "alone-salt",
            full = plain(full.0),
            likely = short(then.likely),
            low = short(then.low),
            high = short(then.high)
        )));
    }
    all.join(" ")
}

/// A number with one digit behind the point.
fn short(value: f64) -> String {
    plain((value * 10.0).round() / 10.0)
}

fn bared_word(desk: &Desk<'_>, what: Bared) -> String {
    desk.tell.word(match what {
        Bared::FillLine => "alone-what-fill-line",
        Bared::Shell => "alone-what-shell",
        Bared::Stone => "alone-what-stone",
    })
}

/// Pools of which no shape was told.
fn untold(desk: &Desk<'_>, found: &Alone) -> Option<String> {
    let pools: Vec<String> = found.levels.untold.iter().map(|id| desk.tell.pool(*id)).collect();
    let first = pools.first()?;
    Some(desk.say(&msg!(
        "alone-untold",
        pools = desk.tell.list(&pools),
        pool = first.to_lowercase()
    )))
}

/// What hangs on air and filters.
fn power(desk: &Desk<'_>, found: &Alone) -> Option<String> {
    let first = found.power.iter().map(|one| one.still).min()?;
    let pools = |all: &mut dyn Iterator<Item = &Power>| {
        let names: Vec<String> = all.map(|one| desk.tell.pool(one.pool)).collect();
        desk.tell.list(&names)
    };
    let place = desk.place();
    let filtered = |id: PoolId| place.pools.get(&id).is_some_and(|pool| pool.filter.is_some());
    let mut all = vec![desk.say(&msg!(
        "alone-power",
        pools = pools(&mut found.power.iter()),
        when = desk.tell.moment(first)
    ))];
    if place.pools.values().any(|pool| pool.air.is_some()) {
        all.push(desk.tell.word("alone-power-air"));
    }
    if found.power.iter().any(|one| filtered(one.pool)) {
        all.push(desk.tell.word("alone-power-filter"));
    }
    Some(all.join(" "))
}
