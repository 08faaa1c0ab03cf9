//! What a `/did` takes from a batch.

use jiff::Timestamp;
use wrackline_core::care::Duty;
use wrackline_core::care::catalogue::part_fraction;
use wrackline_core::journal::{Event, Part};
use wrackline_core::place::{PoolId, Target, Water};
use wrackline_core::quantity::Litres;
use wrackline_core::water::batch::{Batch, BatchId, Warning, litres};
use wrackline_core::water::stock::stock;

use super::{known, left, stock_of, told};
use crate::chat::blocks::{Answer, Block};
use crate::desk::water::units;
use crate::desk::{Desk, Refused};
use crate::lines::ask::Did;
use crate::msg;

/// What rounding of litres said in another unit may come to.
const ROUNDING_L: f64 = 0.01;

/// The litres that a duty takes from a batch at one pool.
///
/// # Errors
/// A duty that takes no water, or a top-up without an amount.
pub fn litres_for(desk: &Desk<'_>, did: &Did, target: Target, part: Part) -> Result<f64, Refused> {
    let is_change = did.duty.family() == Duty::Change;
    let Target::Pool(pool) = target else {
        return Err(msg!("draw-no-water", duty = desk.tell.duty(did.duty)));
    };
    if !is_change && did.duty != Duty::TopUp {
        return Err(msg!("draw-no-water", duty = desk.tell.duty(did.duty)));
    }
    if let Some(litres) = did.litres {
        return Ok(litres);
    }
    let Some(holds) = desk.place().pools.get(&pool).map(|pool| pool.litres) else {
        return Err(msg!("draw-no-water", duty = desk.tell.duty(did.duty)));
    };
    match part {
        _ if !is_change => Err(msg!(
            "draw-how-much",
            target = desk.tell.target(target),
            units = units(desk.place())
        )),
        Part::Fraction(share) => Ok(holds * share),
        Part::Whole if did.duty == Duty::PartChange => Ok(holds * part_fraction(holds)),
        Part::Whole | Part::Steps(_) => Ok(holds),
    }
}

/// Holds that a batch can give this water to these pools.
///
/// # Errors
/// It was made later, holds less, or holds the other water and nobody insists.
pub fn check(
    desk: &Desk<'_>,
    batch: BatchId,
    did: &Did,
    at: Timestamp,
    draws: &[(PoolId, f64)],
) -> Result<(), Refused> {
    let now = stock_of(&desk.tell);
    let (prepared, found) = known(desk, &now, batch)?;
    let vessel = prepared.vessel.as_str();
    if prepared.made_at > at {
        return Err(msg!(
            "draw-made-later",
            vessel = vessel,
            at = desk.tell.near(prepared.made_at)
        ));
    }
    let odd = draws.iter().find(|(pool, _)| {
        let water = desk.place().pools.get(pool).map(|pool| pool.water);
        // A top-up makes up for what evaporated, which took no salt with it: it is of fresh water in any pool.
        let fits = if did.duty == Duty::TopUp {
            found.water == Water::Fresh
        } else {
            water == Some(found.water)
        };
        !fits
    });
    if let Some((pool, _)) = odd.filter(|_| !did.again) {
        return Err(msg!(
            if did.duty == Duty::TopUp {
                "draw-salt-top-up"
            } else {
                "draw-other-water"
            },
            vessel = vessel,
            water = desk.tell.water(found.water),
            target = desk.tell.pool(*pool)
        ));
    }
    let then = if at < desk.now() {
        stock(desk.book(), desk.place(), at).ledger.batch(batch).map(left)
    } else {
        None
    };
    let held = then.map_or(left(&found), |then| Litres(then.0.min(left(&found).0)));
    let wanted: f64 = draws.iter().map(|(_, litres)| litres).sum();
    if wanted > held.0 + ROUNDING_L {
        return Err(msg!(
            "draw-too-much",
            vessel = vessel,
            amount = desk.tell.litres(held.0),
            wanted = desk.tell.litres(wanted)
        ));
    }
    Ok(())
}

/// Puts into a receipt what its entries took from a batch: what is left, and what is wrong with it. Untreated water in
/// a pool is a danger at once, so that what to do stands first.
pub fn told_in(desk: &Desk<'_>, numbers: &[u64], answer: &mut Answer) {
    let draws: Vec<(u64, BatchId, PoolId)> = numbers
        .iter()
        .filter_map(|seq| {
            let (batch, _) = desk.book().drawn(*seq)?;
            match desk.book().entry(*seq)?.event {
                Event::Did(_, Target::Pool(pool), _) | Event::Waits(_, Target::Pool(pool), _) => {
                    Some((*seq, batch, pool))
                }
                _ => None,
            }
        })
        .collect();
    let Some((first, id, _)) = draws.first().copied() else {
        return;
    };
    let stock = stock_of(&desk.tell);
    let Ok((prepared, batch)) = known(desk, &stock, id) else {
        return;
    };
    let vessel = prepared.vessel.as_str();
    let mut texts = vec![desk.say(&msg!(
        "draw-left",
        vessel = vessel,
        amount = desk.tell.litres(left(&batch).0)
    ))];
    for warning in stock.warnings(first) {
        texts.extend(match warning {
            Warning::PastUseBy { .. } => Some(desk.say(&msg!(
                "draw-past",
                vessel = vessel,
                date = told::use_by(&desk.tell, &batch)
            ))),
            Warning::Unmeasured { .. } => Some(desk.say(&msg!("draw-unmeasured", vessel = vessel))),
            Warning::Condemned { .. } => Some(desk.say(&msg!("draw-condemned", vessel = vessel))),
            Warning::Unconditioned { .. } => None,
        });
    }
    if told::is_off(&desk.tell, &batch) {
        texts.push(desk.say(&msg!(
            "draw-off",
            vessel = vessel,
            salt = told::salt(&desk.tell, batch.salinity),
            target = told::salt(&desk.tell, desk.place().supplies.wanted())
        )));
    }
    let texts = texts.into_iter().map(|text| Block::Text { text });
    // Behind the receipt itself, before what can be pressed.
    let end = answer
        .blocks
        .iter()
        .position(|block| matches!(block, Block::Answers { .. }))
        .unwrap_or(answer.blocks.len());
    answer.blocks.splice(end..end, texts);
    let untreated = |warning: &Warning| matches!(warning, Warning::Unconditioned { .. });
    if stock.warnings(first).iter().any(untreated) {
        untreated_first(desk, vessel, &draws, answer);
    }
    salt_first(desk, &batch, &draws, answer);
}

/// Puts first what to do about salt water in fresh pools.
fn salt_first(desk: &Desk<'_>, batch: &Batch, draws: &[(u64, BatchId, PoolId)], answer: &mut Answer) {
    let is_fresh = |pool: &PoolId| {
        let pool = desk.place().pools.get(pool);
        pool.is_some_and(|pool| pool.water == Water::Fresh)
    };
    let pools: Vec<String> = draws
        .iter()
        .map(|(_, _, pool)| *pool)
        .filter(|pool| batch.water == Water::Salt && is_fresh(pool))
        .map(|pool| desk.tell.pool(pool))
        .collect();
    if !pools.is_empty() {
        answer.put_first(desk.say(&msg!("draw-salt-in-fresh", pools = desk.tell.list(&pools))));
    }
}

/// Puts first what to do about untreated water in pools.
fn untreated_first(desk: &Desk<'_>, vessel: &str, draws: &[(u64, BatchId, PoolId)], answer: &mut Answer) {
    let stock = stock_of(&desk.tell);
    let pools: Vec<String> = draws
        .iter()
        .map(|(_, _, pool)| {
            let held = stock
                .ledger
                .pool(*pool)
                .and_then(|found| litres(found.mass, found.salinity).ok());
            told::to_condition(&desk.tell, *pool, held.unwrap_or_default())
        })
        .collect();
    let text = desk.say(&msg!(
        "draw-untreated",
        pools = desk.tell.list(&pools),
        vessel = vessel
    ));
    answer.put_first(text);
    let text = desk.tell.word("caution-vet");
    answer.blocks.insert(1, Block::Caution { text });
}
