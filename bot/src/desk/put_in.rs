//! Logging what went into a pool that a test of its water does not tell: ammonia that was dosed, what tap water holds.

use jiff::Timestamp;
use wrackline_core::journal::{Event, Input};
use wrackline_core::place::{CarerId, Life, PoolId};
use wrackline_core::quantity::{Measured, show};

use super::tell::Tell;
use super::{Desk, Draft, Outcome, Refused, cycle};
use crate::chat::blocks::Block;
use crate::lines::ask::Spot;
use crate::msg;

/// `/read SPOT dosed [ammonia 2 mg/L]`, `/read SPOT tap nitrate 5 mg/L`.
///
/// # Errors
/// A refusal when it is not clear in which pool, or what was put in tells nothing about its filter.
pub fn put_in(
    desk: &Desk<'_>,
    spot: &Spot,
    inputs: &[Input],
    (at, by): (Option<Timestamp>, Option<CarerId>),
    note: Option<String>,
) -> Result<Outcome, Refused> {
    let [pool] = spot.pools.as_slice() else {
        return Err(msg!("refuse-put-in-where"));
    };
    let in_use = desk
        .place()
        .pools
        .get(pool)
        .is_some_and(|pool| pool.life == Life::InUse);
    for input in inputs {
        match input {
            // Crabs would sit in it.
            Input::Fed(Some(_)) if in_use => {
                return Err(msg!("refuse-dosed-in-use", pool = desk.tell.pool(*pool)));
            }
            Input::Fed(None) | Input::Tap(Measured::Nitrate { .. }) => {}
            Input::Fed(Some(Measured::Ammonia { mg_l, .. })) if *mg_l > 0.0 => {}
            Input::Fed(_) => return Err(msg!("refuse-dosed")),
            Input::Tap(_) => return Err(msg!("refuse-tap")),
        }
    }
    let (at, by) = (at.unwrap_or(desk.now()), by.unwrap_or(desk.me));
    let mut drafts: Vec<Draft> = Vec::new();
    for input in inputs {
        drafts.push(Draft {
            at,
            by,
            event: Event::Input(*pool, *input),
            note: note.clone().filter(|_| drafts.is_empty()),
        });
    }
    let pool = *pool;
    let fed = inputs.iter().any(|input| matches!(input, Input::Fed(_)));
    Ok(Outcome::write(drafts, move |desk, numbers| {
        let tell = &desk.tell;
        let entries = numbers.iter().filter_map(|seq| tell.book.entry(*seq));
        let lines = entries.filter_map(|entry| match &entry.event {
            Event::Input(pool, input) => Some(desk.say(&msg!(
                "put-in-line",
                what = told(tell, *pool, input),
                at = tell.near(entry.at)
            ))),
            _ => None,
        });
        let mut answer = desk.done_text(lines.collect::<Vec<_>>().join("\n"));
        answer.blocks.extend(cycle::short(tell, pool));
        let of_dose = fed.then(|| cycle::of_a_dose(tell, pool)).flatten();
        answer.blocks.extend(of_dose.map(|text| Block::Text { text }));
        let first = numbers.first().copied().unwrap_or(0);
        let answers = vec![desk.press(&msg!("press-take-back"), format!("undo.{first}"))];
        answer.blocks.push(Block::Answers { answers });
        answer
    }))
}

/// What was put in, in a few words.
pub(super) fn told(tell: &Tell<'_>, pool: PoolId, input: &Input) -> String {
    let pool = tell.pool(pool);
    tell.say(&match input {
        Input::Fed(None) => msg!("put-in-fed", pool = pool),
        Input::Fed(Some(dose)) => msg!("put-in-dosed", pool = pool, dose = show(dose, tell.place.units)),
        Input::Tap(read) => msg!("put-in-tap", pool = pool, reading = show(read, tell.place.units)),
    })
}
