//! Conditioner that was given: a further dose inside the guard time is called out with the total.

use wrackline_core::care::{Dosed, Duty, dosed};
use wrackline_core::journal::Event;
use wrackline_core::place::Target;
use wrackline_core::quantity::{Litres, plain};

use super::{Desk, Refused};
use crate::lines::ask::Did;
use crate::msg;

/// Millilitres in a litre.
const ML: f64 = 1000.0;

/// A dose beyond this share of a pool's water is a slip: labels ask for a few millilitres in some litres (common practice,
/// no published source).
const DOSE_MAX: f64 = 0.02;

/// The millilitres that an amount of a `/did` means at a pool: what went in of the bottle.
///
/// # Errors
/// An amount that is no dose.
pub(super) fn said(desk: &Desk<'_>, litres: f64, holds: f64) -> Result<f64, Refused> {
    if litres > holds * DOSE_MAX {
        return Err(msg!(
            "dose-too-much",
            amount = desk.tell.litres(litres),
            all = desk.tell.litres(holds)
        ));
    }
    Ok(litres * ML)
}

/// Millilitres of conditioner, in whatever units the place reads: bottles are measured out in them.
#[must_use]
pub(super) fn ml(desk: &Desk<'_>, ml: f64) -> String {
    desk.say(&msg!("dose-ml", ml = plain(ml)))
}

/// The millilitres that an entry gave to a pool, as told; those of old entries stand as litres beside it.
#[must_use]
pub(super) fn told_of(desk: &Desk<'_>, seq: u64) -> Option<String> {
    let book = desk.book();
    let given = book
        .dosed_ml(seq)
        .or_else(|| book.amount(seq).map(|litres| litres * ML))?;
    Some(ml(desk, given))
}

/// What a pool had lately and would have with this dose, where a further one was not logged.
#[must_use]
pub(super) fn would_be(desk: &Desk<'_>, did: &Did, target: Target) -> Option<String> {
    if did.duty != Duty::Condition {
        return None;
    }
    let at = did.at.unwrap_or(desk.now());
    let had = dosed(desk.book(), desk.place(), target, at).filter(|had| had.doses > 0)?;
    let with = Dosed {
        doses: had.doses + 1,
        said: had.said + usize::from(did.litres.is_some()),
        ml: had.ml + did.litres.map_or(0.0, |litres| litres * ML),
        ..had
    };
    Some(desk.say(&msg!(
        "doses-would-be",
        target = desk.tell.target(target),
        had = total(desk, &had),
        with = total(desk, &with),
        span = desk.tell.span(i64::from(had.guard_min))
    )))
}

/// What a pool had with doses that were logged although there was one lately; nothing where each was the first.
#[must_use]
pub(super) fn beside(desk: &Desk<'_>, numbers: &[u64]) -> Vec<String> {
    let one = |seq: &u64| {
        let entry = desk.book().entry(*seq)?;
        let Event::Did(Duty::Condition, target, _) = entry.event else {
            return None;
        };
        let had = dosed(desk.book(), desk.place(), target, entry.at).filter(|had| had.doses > 1)?;
        Some(desk.say(&msg!(
            "doses-are",
            target = desk.tell.target(target),
            had = total(desk, &had),
            span = desk.tell.span(i64::from(had.guard_min))
        )))
    };
    numbers.iter().filter_map(one).collect()
}

/// More than this many times the label's dose is called out before the receipt: less is how a cap is read (common practice,
/// no published source).
const OVER: f64 = 1.5;

/// The pools that were given far more than the place's label says, told once; `None` where none was, or no label is known.
#[must_use]
pub(super) fn overdosed(desk: &Desk<'_>, numbers: &[u64]) -> Option<String> {
    let place = desk.place();
    numbers.iter().find_map(|seq| {
        let entry = desk.book().entry(*seq)?;
        let Event::Did(Duty::Condition, Target::Pool(id), _) = entry.event else {
            return None;
        };
        let had = dosed(desk.book(), place, Target::Pool(id), entry.at)?;
        let label = super::water::dose_ml(place, Litres(place.pools.get(&id)?.litres))?;
        (had.ml > OVER * label).then(|| {
            desk.say(&msg!(
                "doses-over",
                target = desk.tell.pool(id),
                ml = plain(had.ml),
                times = plain((had.ml / label * 10.0).round() / 10.0),
                label = plain(label)
            ))
        })
    })
}

/// Doses with their millilitres, as far as those were said.
fn total(desk: &Desk<'_>, had: &Dosed) -> String {
    let id = match had.said {
        0 => "doses-unsaid",
        said if said == had.doses => "doses-total",
        _ => "doses-partly-said",
    };
    desk.say(&msg!(
        id,
        count = had.doses,
        amount = ml(desk, had.ml),
        said = had.said
    ))
}
