//! Which prepared water to use before more is mixed.

use wrackline_core::care::catalogue::part_fraction;
use wrackline_core::care::{Duty, Standing};
use wrackline_core::journal::{Event, Part};
use wrackline_core::place::{PoolId, Target, Water};
use wrackline_core::quantity::Litres;
use wrackline_core::water::batch::{Aside, BatchId};

use super::{DREGS_L, stock_of, told};
use crate::chat::blocks::Block;
use crate::desk::tell::Tell;
use crate::msg;

/// What to use for some litres of a water, as sentences: of what is prepared the oldest that is still good, what is to be
/// mixed beside it, and what would do once it is conditioned. `None` where there is nothing of it.
#[must_use]
pub fn offer(tell: &Tell<'_>, water: Water, litres: f64) -> Option<String> {
    if tell.place.batches.is_empty() {
        return None;
    }
    let offer = stock_of(tell)
        .ledger
        .offer(
            water,
            Litres(litres),
            Some(tell.place.supplies.wanted()),
            tell.now,
        )
        .ok()?;
    let vessel = |id: &BatchId| tell.place.batches.get(id).map(|batch| batch.vessel.clone());
    let parts: Vec<String> = offer
        .parts
        .iter()
        .filter_map(|part| {
            let id = if part.measure_first {
                "offer-part-unmeasured"
            } else {
                "offer-part"
            };
            Some(tell.say(&msg!(
                id,
                amount = tell.litres(part.litres.0),
                vessel = vessel(&part.batch)?,
                date = tell.date(tell.place.zone.date(part.use_by))
            )))
        })
        .collect();
    let mut said = Vec::new();
    if !parts.is_empty() {
        said.push(tell.say(&msg!(
            "offer-prepared",
            water = tell.water(water),
            parts = tell.list(&parts)
        )));
        if offer.short.0 >= DREGS_L {
            said.push(tell.say(&msg!("offer-short", amount = tell.litres(offer.short.0))));
        }
    }
    if parts.is_empty() || offer.short.0 >= DREGS_L {
        let untreated = offer.aside.iter().filter_map(|(batch, litres, why)| {
            let fits = *why == Aside::Unconditioned && litres.0 >= DREGS_L;
            let vessel = vessel(batch).filter(|_| fits)?;
            let amount = told::amount(tell, litres.0, water);
            Some(tell.say(&msg!("offer-condition-first", vessel = vessel, amount = amount)))
        });
        said.extend(untreated);
    }
    (!said.is_empty()).then(|| said.join(" "))
}

/// So many of some litres of a water are prepared already.
#[must_use]
pub fn at_hand(tell: &Tell<'_>, water: Water, litres: f64) -> f64 {
    if tell.place.batches.is_empty() {
        return 0.0;
    }
    let target = Some(tell.place.supplies.wanted());
    let offer = stock_of(tell)
        .ledger
        .offer(water, Litres(litres), target, tell.now);
    offer.map_or(0.0, |offer| offer.parts.iter().map(|part| part.litres.0).sum())
}

/// What to use for the changes among some turns, a paragraph for each water.
pub fn for_turns<'s>(tell: &Tell<'_>, turns: impl Iterator<Item = &'s Standing>) -> Vec<Block> {
    let changes = turns.filter_map(|standing| match (standing.duty(), standing.turn.target) {
        (duty, Target::Pool(pool)) if duty.family() == Duty::Change => asked(tell, duty, pool, Part::Whole),
        _ => None,
    });
    sums(tell, changes)
        .into_iter()
        .map(|text| Block::Text { text })
        .collect()
}

/// What could have been used for the changes that entries logged without naming where their water came from.
pub(in crate::desk) fn for_logged(tell: &Tell<'_>, numbers: &[u64]) -> Vec<Block> {
    let changes = numbers
        .iter()
        .filter_map(|seq| match tell.book.entry(*seq)?.event {
            Event::Did(duty, Target::Pool(pool), part)
                if duty.family() == Duty::Change && tell.book.drawn(*seq).is_none() =>
            {
                asked(tell, duty, pool, part)
            }
            _ => None,
        });
    let offered = sums(tell, changes);
    let ask = (!offered.is_empty()).then(|| tell.word("offer-was-it"));
    let texts = offered.into_iter().chain(ask);
    texts.map(|text| Block::Text { text }).collect()
}

/// The litres that a change takes.
fn asked(tell: &Tell<'_>, duty: Duty, pool: PoolId, part: Part) -> Option<(Water, f64)> {
    let pool = tell.place.pools.get(&pool)?;
    let share = match part {
        Part::Fraction(share) => share,
        Part::Whole if duty == Duty::PartChange => part_fraction(pool.litres),
        Part::Whole => 1.0,
        Part::Steps(_) => return None,
    };
    Some((pool.water, pool.litres * share))
}

/// An offer for each water.
fn sums(tell: &Tell<'_>, changes: impl Iterator<Item = (Water, f64)>) -> Vec<String> {
    if tell.place.batches.is_empty() {
        return Vec::new();
    }
    let mut sums = [(Water::Fresh, 0.0), (Water::Salt, 0.0)];
    for (water, litres) in changes {
        sums.iter_mut()
            .filter(|(of, _)| *of == water)
            .for_each(|(_, sum)| *sum += litres);
    }
    sums.into_iter()
        .filter(|(_, litres)| *litres > 0.0)
        .filter_map(|(water, litres)| offer(tell, water, litres))
        .collect()
}
