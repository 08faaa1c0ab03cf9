//! `/mix` of an amount: the salt, what comes out, the reading to expect, the steps.

use wrackline_core::journal::Event;
use wrackline_core::place::Water;
use wrackline_core::quantity::{Celsius, Litres, Salinity, celsius, plain};

use super::made::{Made, ROOM, Wish, grounds, make, of_conditioner, salinity, steps, temperature};
use super::{Sheet, changes, said};
use crate::chat::blocks::Answer;
use crate::desk::{Desk, Outcome, Refused, batches};
use crate::lines::ask::MixAmount;
use crate::msg;
use crate::words::Message;

/// An amount of water.
///
/// # Errors
/// One sentence about what cannot be mixed.
pub(super) fn amount(desk: &Desk<'_>, ask: &MixAmount) -> Result<Outcome, Refused> {
    let place = desk.place();
    let wanted = ask.salinity.as_ref().map(salinity).transpose()?;
    let water = match (ask.water, wanted) {
        (Some(Water::Fresh), Some(_)) => return Err(msg!("mix-no-fresh-salinity")),
        (Some(water), _) => water,
        (None, Some(_)) => Water::Salt,
        (None, None) => Water::Fresh,
    };
    let pool = ask.pool.and_then(|id| place.pools.get(&id));
    let read = pool
        .and_then(|pool| temperature(desk, pool))
        .map(|(celsius, _)| celsius);
    let made = make(
        place,
        &Wish {
            water,
            litres: Litres(ask.litres),
            finished: ask.finished,
            salinity: wanted,
            at: ask.at_c.or(read).map_or(ROOM, Celsius),
        },
    )?;
    let mut sheet = Sheet::new(desk, &title(desk, &made));
    if let Some(expected) = &made.expected {
        sheet.text(&said::expectation(&desk.tell, expected));
    }
    let doses: Vec<_> = made.dose.into_iter().collect();
    for message in of_conditioner(&desk.tell, &doses) {
        sheet.text(&message);
    }
    let split = made.split(place)?;
    // One bucket that is a little fuller than usual is no reason for two, unless the place knows its buckets.
    let known = place.supplies.bucket.is_some();
    let room = place.supplies.bucket().0 * if known { 1.0 } else { 1.5 };
    let several = split.buckets > 1 && made.finished.0 > room;
    sheet.steps(&steps(desk, &[(&made, several.then_some(&split))]));
    if several {
        changes::buckets(&mut sheet, &[(&made, split)]);
    }
    sheet.caution(&msg!("mix-caution"));
    sheet.text(&msg!("mix-at", at = celsius(made.at.0, place.units)));
    if let Some(kept) = kept(desk, &made).filter(|_| ask.into.is_none()) {
        sheet.text(&kept);
    }
    for message in grounds(desk, &made) {
        sheet.text(&message);
    }
    match &ask.into {
        Some(vessel) => into(desk, vessel, ask.conditioned, &made, sheet.answer),
        None if ask.conditioned => Err(msg!("no-mix-into")),
        None => Ok(Outcome::answer(sheet.answer)),
    }
}

/// The first line: what goes in, and what comes out.
fn title(desk: &Desk<'_>, made: &Made) -> Message {
    let place = desk.place();
    let source = said::volume(place, made.source);
    match made.water {
        Water::Salt => {
            let id = match made.dose {
                Some(_) => "mix-title-salt-dose",
                None => "mix-title-salt",
            };
            let title = msg!(
                id,
                salt = said::mass(place, made.product()),
                name = place
                    .supplies
                    .salt
                    .clone()
                    .unwrap_or_else(|| desk.tell.word("mix-dry-salt")),
                source = source,
                finished = said::volume(place, made.finished),
                salinity = said::salinity(made.salinity())
            );
            match made.dose {
                Some(dose) => title.with("dose", said::dose(dose.amount)),
                None => title,
            }
        }
        Water::Fresh => match made.dose {
            Some(dose) => msg!("mix-title-fresh", source = source, dose = said::dose(dose.amount)),
            None => msg!("mix-title-fresh-label", source = source),
        },
    }
}

/// What is mixed into a vessel is a batch: its entry, told right under the first line of the recipe.
fn into(
    desk: &Desk<'_>,
    vessel: &str,
    conditioned: bool,
    made: &Made,
    recipe: Answer,
) -> Result<Outcome, Refused> {
    let making = batches::Making {
        litres: made.finished.0,
        water: made.water,
        salinity: match made.water {
            Water::Salt => made.salinity(),
            Water::Fresh => Salinity(0.0),
        },
        conditioned,
        dosed_ml: made
            .dose
            .filter(|_| conditioned)
            .map_or(0.0, |dose| dose.amount.0),
        at: desk.now(),
    };
    let draft = batches::made(desk, vessel, making)?;
    let Event::Batch(id, _) = draft.event else {
        return Err(msg!("batch-gone"));
    };
    Ok(Outcome::write(vec![draft], move |desk, numbers| {
        let mut answer = recipe.clone();
        // Its first line stays the recipe's.
        answer.blocks.splice(1..1, batches::receipt(desk, id));
        batches::with_undo(desk, numbers, answer)
    }))
}

/// How to keep it in a vessel for later; `None` where nothing is set up, so there is nothing to keep it in.
fn kept(desk: &Desk<'_>, made: &Made) -> Option<Message> {
    let place = desk.place();
    let finished = said::volume(place, made.finished);
    (!place.carers.is_empty()).then(|| match made.water {
        Water::Salt => msg!(
            "mix-keep-salt",
            finished = finished,
            salinity = plain(made.salinity().0)
        ),
        Water::Fresh => msg!("mix-keep-fresh", finished = finished),
    })
}
