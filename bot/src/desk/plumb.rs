//! `/plumb`: what is laid to a pool: airline and pump, filter, siphon. The first line has the measures.
//!
//! A file a piece in `plumb/`.

mod air;
pub(super) mod filter;
mod siphon;

use wrackline_core::care::catalogue::part_fraction;
use wrackline_core::place::{Pool, Water};
use wrackline_core::pool::depth::weight;
use wrackline_core::quantity::{Centimetres, Density, Kilograms, Litres, grams};

pub(super) use self::siphon::minutes;
use super::fit::{Gaps, Looked, Seen};
use super::setup::made;
use super::{Desk, Refused};
use crate::chat::blocks::{Answer, Block};
use crate::lines::ask::{Fit, Plumb};
use crate::msg;

/// What one piece comes to.
#[derive(Default)]
struct Piece {
    /// What of it stands in the first line.
    title: Option<String>,
    /// Its lines.
    lines: Vec<String>,
}

/// The density of a pool's water at 25 °C in kg/m³: EOS-80 at 0 and at 35 g/kg (UNESCO Technical Papers in Marine Science
/// 44). What hangs on it here is known to a few percent at best.
fn density(pool: &Pool) -> Density {
    Density(match pool.water {
        Water::Fresh => 997.05,
        Water::Salt => 1023.34,
    })
}

/// The water above the bed, where it is known.
fn depth(seen: &Seen<'_>) -> Option<Centimetres> {
    let bed = seen.pool.made.gravel.map_or(0.0, |gravel| gravel.depth.0);
    made::level(seen.pool).map(|level| Centimetres((level.0 - bed).max(0.0)))
}

/// `/plumb`
///
/// # Errors
/// A refusal where something cannot be: a pump below the water line without a check valve, a fill line above the water, a
/// siphon without head.
pub(super) fn plumb(desk: &Desk<'_>, ask: &Plumb) -> Result<Answer, Refused> {
    let pool = desk.place().pools.get(&ask.pool).ok_or(msg!("setup-pool-gone"))?;
    made::pump(desk, pool)?;
    made::filter(desk, pool)?;
    let looked = Looked::of(
        desk,
        &Fit {
            enclosure: pool.enclosure,
            pool: Some(pool.id),
            winter: None,
            summer: None,
        },
    )?;
    let Some(seen) = looked.pools.iter().find(|seen| seen.pool.id == pool.id) else {
        return Err(msg!("setup-pool-gone"));
    };
    let mut gaps = Gaps::default();
    let pieces = [
        air::piece(desk, seen, &mut gaps)?,
        filter::piece(desk, &looked, seen, &mut gaps),
        siphon::piece(desk, seen, ask)?,
    ];
    let titles: Vec<String> = pieces.iter().filter_map(|piece| piece.title.clone()).collect();
    let mut answer = desk.done(&msg!(
        "plumb-title",
        pool = desk.tell.pool(pool.id),
        parts = titles.join("; ")
    ));
    let blocks = &mut answer.blocks;
    blocks.push(Block::Caution {
        text: desk.tell.word("plumb-mains"),
    });
    let items = pieces.iter().flat_map(|piece| &piece.lines);
    blocks.push(Block::Items {
        items: items.map(|text| desk.item(text.clone())).collect(),
    });
    let texts = [
        pool.air.map(|_| desk.tell.word("plumb-checks-air")),
        pool.filter.map(|_| desk.tell.word("plumb-checks-filter")),
        Some(desk.tell.word("plumb-checks-siphon")),
        gaps.say(desk),
    ];
    blocks.extend(texts.into_iter().flatten().map(|text| Block::Text { text }));
    blocks.push(Block::Caution {
        text: lifting(desk, seen),
    });
    Ok(answer)
}

/// What a pool weighs for whoever lifts it, without its container.
fn lifting(desk: &Desk<'_>, seen: &Seen<'_>) -> String {
    let density = density(seen.pool);
    let known = seen
        .vessel
        .as_ref()
        .and_then(|vessel| weight(vessel.inside(), density, Kilograms(0.0)).ok());
    let kilograms = known.map_or(seen.pool.litres * density.0 / 1000.0, |(found, _)| found.0);
    desk.say(&msg!(
        "plumb-lift",
        pool = desk.tell.pool(seen.pool.id),
        mass = mass(desk, kilograms)
    ))
}

/// A mass as a back needs to know it: to a tenth of a kilogram.
fn mass(desk: &Desk<'_>, kilograms: f64) -> String {
    grams((kilograms * 10.0).round() * 100.0, desk.place().units)
}

/// What is drawn for a change: the part of a filtered pool, else all.
fn drawn(pool: &Pool) -> Litres {
    let share = if pool.filter.is_some() {
        part_fraction(pool.litres)
    } else {
        1.0
    };
    Litres(pool.litres * share)
}
