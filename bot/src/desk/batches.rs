//! Batches of prepared water: made, measured, conditioned, used up.
//!
//! `draw` is what a `/did` takes from one, `offer` what to use before more is mixed, `trail` where one went that proved
//! wrong, `told` how all of it is told.

pub mod draw;
pub mod offer;
mod told;
mod trail;

use jiff::Timestamp;
use wrackline_core::journal::{BatchChange, Event};
use wrackline_core::place::{PoolId, Prepared, Water};
use wrackline_core::quantity::{Litres, Measured, Salinity};
use wrackline_core::water::batch::{Batch, BatchId, NEAR_ENOUGH, litres};
use wrackline_core::water::instruments::salinity_of;
use wrackline_core::water::stock::{Stock, stock};

use super::cycle::free::last_salinity;
use super::tell::Tell;
use super::{Desk, Draft, Outcome, Refused};
use crate::chat::blocks::{Answer, Block};
use crate::lines::ask::{BatchAsk, Suspect};
use crate::msg;

pub use self::offer::offer;
pub(super) use self::told::lines;
pub(super) use self::told::over;
pub use self::told::to_condition;

/// The fresh pools that hold salt water by their last reading, in words; `None` where none does.
#[must_use]
pub fn salted_fresh(desk: &Desk<'_>, among: impl Fn(PoolId) -> bool) -> Option<String> {
    let pools: Vec<String> = desk
        .place()
        .pools
        .values()
        .filter(|pool| pool.water == Water::Fresh && among(pool.id))
        .filter(|pool| last_salinity(&desk.tell, pool.id).is_some_and(|(_, now)| now.0 > FRESH_MAX))
        .map(|pool| desk.tell.pool(pool.id))
        .collect();
    (!pools.is_empty()).then(|| desk.say(&msg!("draw-salt-in-fresh", pools = desk.tell.list(&pools))))
}

/// Fresh water with more salt than this, in g/kg, is not fresh: more than any drinking water holds (common practice, no
/// published source).
const FRESH_MAX: f64 = 3.0;

/// The salt of a batch was read this far, in g/kg, from what it was made for: the pools that it reached are told. A
/// hobby instrument shows no less (common practice, no published source).
const TOLD_FROM: f64 = 0.5;

/// What is left of less than this, in litres, is a wet vessel.
pub(super) const DREGS_L: f64 = 0.05;

/// `/batch` and `/trail`.
///
/// # Errors
/// A refusal, as one sentence.
pub fn batch(desk: &Desk<'_>, ask: BatchAsk) -> Result<Outcome, Refused> {
    match ask {
        BatchAsk::Add {
            vessel,
            litres,
            water,
            salt,
            conditioned,
            from,
        } => add(desk, &vessel, (litres, water), salt, conditioned, from),
        BatchAsk::Set {
            batch,
            measured,
            conditioned,
            use_by,
        } => set(desk, batch, measured, conditioned, use_by),
        BatchAsk::List => Ok(Outcome::answer(told::list(desk))),
        BatchAsk::Retire { batch } => retire(desk, batch),
        BatchAsk::Trail { batch, wrong } => trail::trail(desk, batch, wrong),
    }
}

/// All prepared water at the moment of which is told.
#[must_use]
pub fn stock_of(tell: &Tell<'_>) -> Stock {
    stock(tell.book, tell.place, tell.now)
}

/// What is known of a batch, with its vessel.
fn known<'a>(desk: &Desk<'a>, stock: &Stock, id: BatchId) -> Result<(&'a Prepared, Batch), Refused> {
    let prepared = desk.place().batches.get(&id);
    let batch = stock.ledger.batch(id);
    prepared.zip(batch.copied()).ok_or(msg!("batch-gone"))
}

/// The litres that are left of a batch.
fn left(batch: &Batch) -> Litres {
    litres(batch.left, batch.salinity).unwrap_or(Litres(0.0))
}

/// How a batch was made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Making {
    /// How many litres, more than 0.
    pub litres: f64,
    /// Which water.
    pub water: Water,
    /// The salinity that it was made for: 0 for fresh water.
    pub salinity: Salinity,
    /// Whether it was conditioned.
    pub conditioned: bool,
    /// With how many millilitres of the bottle; 0 where that is not known.
    pub dosed_ml: f64,
    /// When it was made.
    pub at: Timestamp,
}

/// The entry of a batch that was made in a vessel: `/batch add` writes it, and whoever mixes into a vessel may.
///
/// # Errors
/// The vessel still holds water, or the moment is still to come.
pub fn made(desk: &Desk<'_>, vessel: &str, making: Making) -> Result<Draft, Refused> {
    if making.at > desk.now() {
        return Err(msg!("setup-from-future", at = desk.tell.near(making.at)));
    }
    let low = vessel.to_lowercase();
    let stock = stock_of(&desk.tell);
    let same = |batch: &&Prepared| batch.retired.is_none() && batch.vessel.to_lowercase() == low;
    for prepared in desk.place().batches.values().filter(same) {
        let Some(held) = stock.ledger.batch(prepared.id).map(left) else {
            continue;
        };
        if held.0 >= DREGS_L {
            return Err(msg!(
                "batch-vessel-full",
                vessel = prepared.vessel.as_str(),
                amount = desk.tell.litres(held.0),
                water = desk.tell.water(prepared.water)
            ));
        }
    }
    let batch = BatchId(next_number(desk));
    let event = Event::Batch(
        batch,
        BatchChange::Made {
            vessel: vessel.to_owned(),
            water: making.water,
            litres: making.litres,
            salinity: making.salinity.0,
            conditioned: making.conditioned,
            dosed_ml: making.dosed_ml,
        },
    );
    Ok(Draft {
        at: making.at,
        ..desk.draft(event)
    })
}

/// One past the highest number that the journal ever used.
fn next_number(desk: &Desk<'_>) -> u32 {
    let numbers = desk.book().entries().filter_map(|entry| match &entry.event {
        Event::Batch(id, _) => Some(id.0),
        _ => None,
    });
    numbers.max().unwrap_or(0) + 1
}

fn add(
    desk: &Desk<'_>,
    vessel: &str,
    (litres, water): (f64, Water),
    salt: Option<Measured>,
    conditioned: bool,
    from: Option<Timestamp>,
) -> Result<Outcome, Refused> {
    let salinity = match (salt.as_ref().map(salinity_of), water) {
        (Some(found), _) => found.map_err(|_| msg!("batch-salt-unreadable"))?.salinity,
        (None, Water::Fresh) => Salinity(0.0),
        (None, Water::Salt) => return Err(msg!("batch-salt-unsaid", vessel = vessel)),
    };
    if water == Water::Fresh && salinity.0 > FRESH_MAX {
        return Err(msg!(
            "batch-salt-in-fresh",
            salt = told::salt(&desk.tell, salinity)
        ));
    }
    if water == Water::Salt && salinity.0 <= 0.0 {
        return Err(msg!("batch-no-salt"));
    }
    let at = from.unwrap_or(desk.now());
    let making = Making {
        litres,
        water,
        salinity,
        conditioned,
        dosed_ml: 0.0,
        at,
    };
    let draft = made(desk, vessel, making)?;
    let Event::Batch(id, _) = draft.event else {
        return Err(msg!("batch-gone"));
    };
    let mut drafts = vec![draft];
    // A salinity is what it was made for; an instrument's own figure was read.
    if let Some(read) = salt.filter(|read| !matches!(read, Measured::Salinity(_))) {
        drafts.push(Draft {
            at,
            ..desk.draft(Event::Batch(id, BatchChange::Measured(read)))
        });
    }
    Ok(Outcome::write(drafts, move |desk, numbers| {
        with_undo(desk, numbers, told::made(desk, id))
    }))
}

fn set(
    desk: &Desk<'_>,
    id: BatchId,
    measured: Option<Measured>,
    conditioned: bool,
    use_by: Option<jiff::civil::Date>,
) -> Result<Outcome, Refused> {
    let before = stock_of(&desk.tell);
    let (_, batch) = known(desk, &before, id)?;
    let read = measured
        .map(|read| salinity_of(&read).map_err(|_| msg!("batch-salt-unreadable")))
        .transpose()?;
    let off = read
        .as_ref()
        .is_some_and(|read| (read.salinity.0 - batch.salinity.0).abs() >= TOLD_FROM.max(NEAR_ENOUGH.0));
    let changes = [
        measured.map(BatchChange::Measured),
        conditioned.then_some(BatchChange::Conditioned { dosed_ml: 0.0 }),
        use_by.map(BatchChange::UseBy),
    ];
    let drafts = changes
        .into_iter()
        .flatten()
        .map(|change| desk.draft(Event::Batch(id, change)))
        .collect();
    // The trail is followed with what was believed before: afterwards there is nothing left to be corrected.
    let reached = measured
        .filter(|_| off)
        .map(|read| trail::reached(desk, &before, id, Suspect::Salinity(read)))
        .transpose()?
        .unwrap_or_default();
    Ok(Outcome::write(drafts, move |desk, numbers| {
        let mut answer = told::set(desk, id);
        answer.blocks.extend(reached.iter().cloned());
        with_undo(desk, numbers, answer)
    }))
}

fn retire(desk: &Desk<'_>, id: BatchId) -> Result<Outcome, Refused> {
    let (prepared, batch) = known(desk, &stock_of(&desk.tell), id)?;
    let title = msg!(
        "batch-retired",
        vessel = prepared.vessel.as_str(),
        amount = desk.tell.litres(left(&batch).0)
    );
    let drafts = vec![desk.draft(Event::Batch(id, BatchChange::Retired))];
    Ok(Outcome::write(drafts, move |desk, numbers| {
        with_undo(desk, numbers, desk.done(&title))
    }))
}

/// What is told of a batch that was just made.
#[must_use]
pub fn receipt(desk: &Desk<'_>, id: BatchId) -> Vec<Block> {
    let blocks = told::made(desk, id).blocks.into_iter();
    blocks
        .map(|block| match block {
            Block::Title { text } => Block::Text { text },
            other => other,
        })
        .collect()
}

/// An answer with the press that takes its line back.
pub(super) fn with_undo(desk: &Desk<'_>, numbers: &[u64], mut answer: Answer) -> Answer {
    let first = numbers.first().copied().unwrap_or(0);
    let answers = vec![desk.press(&msg!("press-take-back"), format!("undo.{first}"))];
    answer.blocks.push(Block::Answers { answers });
    answer
}

/// A batch's entry in a few words, where it was taken back.
#[must_use]
pub fn named(tell: &Tell<'_>, book_id: BatchId, change: &BatchChange) -> String {
    let vessel = match change {
        BatchChange::Made { vessel, .. } => Some(vessel.clone()),
        _ => tell.place.batches.get(&book_id).map(|batch| batch.vessel.clone()),
    };
    let id = match change {
        BatchChange::Made { .. } => "batch-change-made",
        BatchChange::Measured(_) => "batch-change-measured",
        BatchChange::Conditioned { .. } => "batch-change-conditioned",
        BatchChange::UseBy(_) => "batch-change-use-by",
        BatchChange::Wrong(_) => "batch-change-wrong",
        BatchChange::Retired => "batch-change-retired",
    };
    let vessel = vessel.unwrap_or_else(|| tell.word("batch-vessel"));
    format!("{vessel}: {}", tell.word(id))
}
