//! The visits: when, what, and a labelled portion of salt and conditioner for each pool.

use wrackline_core::alone::{Alone, MARGIN_H, Times, Turn};
use wrackline_core::care::Duty;
use wrackline_core::place::{PoolId, Target, Water};
use wrackline_core::quantity::Litres;

use super::before::water_of;
use super::walk;
use crate::chat::blocks::Block;
use crate::desk::water::{Portion, dose, dose_ml, in_all, portion, prepare};
use crate::desk::{Desk, Refused};
use crate::msg;

/// How many visits there are, and when, in a phrase.
pub(super) fn summary(desk: &Desk<'_>, found: &Alone) -> String {
    let times: Vec<String> = found
        .visits
        .visits
        .iter()
        .map(|visit| desk.tell.turn_moment(visit.at))
        .collect();
    let holds = if found.visits.gaps.is_empty() { "yes" } else { "no" };
    desk.say(&msg!(
        "alone-visits-short",
        count = times.len(),
        times = times.join("; "),
        holds = holds
    ))
}

/// Each visit with its turns and portions, then all portions together.
pub(super) fn blocks(desk: &Desk<'_>, found: &Alone) -> Result<Vec<Block>, Refused> {
    let mut blocks = Vec::new();
    let mut all: Vec<Portion> = Vec::new();
    let mut doses = 0.0;
    for (number, visit) in (1..).zip(&found.visits.visits) {
        let text = desk.say(&msg!(
            "alone-visit",
            number = number,
            when = desk.tell.turn_moment(visit.at)
        ));
        blocks.push(Block::Text { text });
        let water: Vec<(Water, f64)> = visit
            .turns
            .iter()
            .filter_map(|turn| water_of(desk, turn))
            .collect();
        blocks.extend(prepare(&desk.tell, &water, false).map(|text| Block::Text { text }));
        for (water, litres) in water {
            all.push(portion(desk.place(), water, litres)?);
        }
        doses += visit
            .turns
            .iter()
            .filter_map(|turn| conditioned(desk, turn))
            .sum::<f64>();
        let label = |target: Target, turns: &[Turn]| match target {
            Target::Pool(pool) => label(desk, number, pool, turns),
            _ => None,
        };
        blocks.push(walk(desk, &visit.turns, label));
    }
    let grounds = msg!(
        "alone-grounds",
        times = match found.visits.times {
            Times::Rounds => "rounds",
            Times::Hours => "hours",
        },
        margin = MARGIN_H
    );
    let sum = in_all(&desk.tell, &all, doses).map(|sum| desk.say(&msg!("alone-portions", sum = sum)));
    let texts = sum.into_iter().chain([desk.say(&grounds)]);
    blocks.extend(texts.map(|text| Block::Text { text }));
    Ok(blocks)
}

/// The conditioner in mL of a turn that does not change the water.
fn conditioned(desk: &Desk<'_>, turn: &Turn) -> Option<f64> {
    let Target::Pool(pool) = turn.target else {
        return None;
    };
    let holds = desk
        .place()
        .pools
        .get(&pool)
        .filter(|_| turn.duty == Duty::Condition)?;
    dose_ml(desk.place(), Litres(holds.litres))
}

/// The portions of a pool's turns at a visit, labelled.
fn label(desk: &Desk<'_>, number: usize, pool: PoolId, turns: &[Turn]) -> Option<String> {
    let place = desk.place();
    let holds = place.pools.get(&pool)?;
    let what = turns.iter().find_map(|turn| match (turn.duty, turn.litres) {
        (_, Some(litres)) => portion(place, holds.water, litres)
            .ok()
            .map(|one| one.told(&desk.tell)),
        (Duty::Condition, None) => Some(dose(place, Litres(holds.litres)).map_or_else(
            || desk.tell.word("alone-dose-label"),
            |ml| desk.say(&msg!("prepare-dose", dose = ml)),
        )),
        _ => None,
    })?;
    Some(desk.say(&msg!(
        "alone-portion",
        number = number,
        pool = desk.tell.pool(pool),
        what = what
    )))
}
