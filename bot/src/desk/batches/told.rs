//! How batches are told.

use jiff::Timestamp;
use wrackline_core::place::{PoolId, Prepared, Water};
use wrackline_core::quantity::{GravityConvention, Litres, Measured, Salinity, show};
use wrackline_core::water::batch::{Batch, BatchId};
use wrackline_core::water::instruments::gravity_from_salinity;

use super::{DREGS_L, known, left, stock_of};
use crate::chat::blocks::{Answer, Block};
use crate::desk::Desk;
use crate::desk::tell::Tell;
use crate::msg;

/// A salinity, with what the place's gravity instrument shows of it where the place has stated its convention.
pub(super) fn salt(tell: &Tell<'_>, salinity: Salinity) -> String {
    let text = show(&Measured::Salinity(salinity.0), tell.place.units);
    let gravity = |convention: GravityConvention| {
        let value = gravity_from_salinity(salinity, convention).ok()?.0;
        Some(show(&Measured::Gravity { value, convention }, tell.place.units))
    };
    match tell.place.gravity.and_then(gravity) {
        Some(gravity) => format!("{text}, {gravity}"),
        None => text,
    }
}

/// The day up to which a batch is used.
pub(super) fn use_by(tell: &Tell<'_>, batch: &Batch) -> String {
    tell.date(tell.place.zone.date(batch.use_by))
}

/// Some litres of a water.
pub(super) fn amount(tell: &Tell<'_>, litres: f64, water: Water) -> String {
    tell.say(&msg!(
        "batch-amount",
        amount = tell.litres(litres),
        water = tell.water(water)
    ))
}

/// What is still to be done before a batch is used, or why it is not; nothing where it is ready.
fn wants(tell: &Tell<'_>, batch: &Batch) -> Vec<String> {
    let unmeasured = batch.water == Water::Salt && batch.measured.is_none();
    let past = tell.now > batch.use_by;
    [
        (batch.condemned, "batch-set-aside"),
        (is_off(tell, batch), "batch-off"),
        (past, "batch-past"),
        (!batch.conditioned, "batch-unconditioned"),
        (unmeasured, "batch-unmeasured"),
    ]
    .into_iter()
    .filter(|(is, _)| *is)
    .map(|(_, id)| tell.word(id))
    .collect()
}

/// Whether a batch is salt water of another salinity than the place's pools are to hold.
pub(super) fn is_off(tell: &Tell<'_>, batch: &Batch) -> bool {
    batch.is_off(tell.place.supplies.wanted())
}

/// Whether a batch may be poured as it is; one that is only to be measured first counts.
fn ready(tell: &Tell<'_>, batch: &Batch) -> bool {
    !batch.condemned
        && !is_off(tell, batch)
        && batch.conditioned
        && tell.now <= batch.use_by
        && left(batch).0 >= DREGS_L
}

/// A batch in one line.
fn line(tell: &Tell<'_>, prepared: &Prepared, batch: &Batch) -> String {
    let of_salt = (batch.water == Water::Salt).then(|| salt(tell, batch.salinity));
    let parts = [
        Some(amount(tell, left(batch).0, batch.water)),
        of_salt,
        Some(tell.say(&msg!("batch-use-by", date = use_by(tell, batch)))),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().chain(wants(tell, batch)).collect();
    tell.say(&msg!(
        "batch-line",
        vessel = prepared.vessel.as_str(),
        parts = parts.join(" · ")
    ))
}

/// The title of an answer about one batch, then what it still wants.
fn about(desk: &Desk<'_>, id: BatchId, title: &'static str) -> Answer {
    let tell = &desk.tell;
    let Ok((prepared, batch)) = known(desk, &stock_of(tell), id) else {
        return desk.done(&msg!("batch-gone"));
    };
    let of_salt = match batch.water {
        Water::Salt => format!(", {}", salt(tell, batch.salinity)),
        Water::Fresh => String::new(),
    };
    let mut answer = desk.done(&msg!(
        title,
        vessel = prepared.vessel.as_str(),
        amount = amount(tell, left(&batch).0, batch.water),
        salt = of_salt,
        date = use_by(tell, &batch)
    ));
    let wants = wants(tell, &batch);
    if !wants.is_empty() {
        let text = desk.say(&msg!("batch-wants", what = tell.list(&wants)));
        answer.blocks.push(Block::Text { text });
    }
    answer
}

pub(super) fn made(desk: &Desk<'_>, id: BatchId) -> Answer {
    about(desk, id, "batch-made")
}

pub(super) fn set(desk: &Desk<'_>, id: BatchId) -> Answer {
    about(desk, id, "batch-now")
}

/// `/batch list`: what is left, what to use first, and what is not ready.
pub(super) fn list(desk: &Desk<'_>) -> Answer {
    let tell = &desk.tell;
    let all = all(tell);
    if all.is_empty() {
        return desk.done(&msg!("batch-none"));
    }
    let first = |water: Water| {
        let found = all
            .iter()
            .find(|(_, batch)| batch.water == water && ready(tell, batch))?;
        let (prepared, batch) = found;
        Some(tell.say(&msg!(
            "batch-first",
            vessel = prepared.vessel.as_str(),
            amount = amount(tell, left(batch).0, water)
        )))
    };
    let firsts: Vec<String> = [Water::Fresh, Water::Salt]
        .into_iter()
        .filter_map(first)
        .collect();
    let title = if firsts.is_empty() {
        msg!("batch-list-unready")
    } else {
        msg!("batch-list", what = tell.list(&firsts))
    };
    let mut answer = desk.done(&title);
    let items = all
        .iter()
        .map(|(prepared, batch)| desk.item(line(tell, prepared, batch)))
        .collect();
    answer.blocks.push(Block::Items { items });
    answer
}

/// What is left in the vessels, a line for each.
pub(in crate::desk) fn lines(tell: &Tell<'_>) -> Vec<String> {
    all(tell)
        .iter()
        .map(|(prepared, batch)| line(tell, prepared, batch))
        .collect()
}

/// The batches of which there is something left, what is ready first.
fn all<'a>(tell: &Tell<'a>) -> Vec<(&'a Prepared, Batch)> {
    let stock = stock_of(tell);
    let mut all: Vec<(&Prepared, Batch)> = tell
        .place
        .batches
        .values()
        .filter(|prepared| prepared.retired.is_none())
        .filter_map(|prepared| Some((prepared, *stock.ledger.batch(prepared.id)?)))
        .filter(|(_, batch)| left(batch).0 >= DREGS_L)
        .collect();
    all.sort_by_key(|(prepared, batch)| (!ready(tell, batch), prepared.made_at, prepared.id));
    all
}

/// What is prepared, a sentence for each vessel, with what does not keep until a moment.
pub(in crate::desk) fn over(tell: &Tell<'_>, until: Timestamp) -> Vec<String> {
    if tell.place.batches.is_empty() {
        return Vec::new();
    }
    let stock = stock_of(tell);
    let one = |prepared: &Prepared| {
        let batch = stock.ledger.batch(prepared.id)?;
        let some = prepared.retired.is_none() && left(batch).0 >= DREGS_L;
        some.then(|| {
            tell.say(&msg!(
                "alone-batch",
                vessel = prepared.vessel.as_str(),
                amount = amount(tell, left(batch).0, batch.water),
                date = use_by(tell, batch),
                past = if batch.use_by < until { "yes" } else { "no" }
            ))
        })
    };
    tell.place.batches.values().filter_map(one).collect()
}

/// A pool whose water is to be conditioned: how much it is, and the dose where the place entered the label.
pub fn to_condition(tell: &Tell<'_>, pool: PoolId, litres: Litres) -> String {
    let (target, amount) = (tell.pool(pool), tell.litres(litres.0));
    match crate::desk::water::dose(tell.place, litres) {
        Some(dose) => tell.say(&msg!(
            "trail-pool-dose",
            target = target,
            amount = amount,
            dose = dose
        )),
        None => tell.say(&msg!("trail-pool", target = target, amount = amount)),
    }
}
