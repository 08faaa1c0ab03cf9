//! A span of days summed up, as a sitter hands it over: what was done, what was seen, how much water was changed.

use std::collections::BTreeMap;

use jiff::Timestamp;

use super::{DutyWeek, ReadingWeek, duties, readings};
use crate::care::Duty;
use crate::care::catalogue::part_fraction;
use crate::civil::{plus_days, second_before};
use crate::journal::{Book, Done, DoneKind, Matter, Part};
use crate::people::Span;
use crate::place::{CarerId, Place, Target, Water};
use crate::rota::done_in;

/// What one person did of a duty in a span.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Own {
    /// How often, parts included.
    pub count: u32,
    /// Minutes by what such a turn takes.
    pub minutes: f64,
}

/// A span of days of a place.
#[derive(Clone, Debug, PartialEq)]
pub struct SpanSummary {
    /// Every duty that the place had, whoever did it, in walking order.
    pub duties: Vec<DutyWeek>,
    /// Readings in and out of their bands.
    pub readings: Vec<ReadingWeek>,
    /// Matters that were open in the span.
    pub matters: Vec<Matter>,
    /// What the person whose span it is did.
    pub own: BTreeMap<Duty, Own>,
    /// Litres that were changed by whomever, by water.
    pub changed: BTreeMap<Water, f64>,
}

/// A span summed up as far as it is over at a moment, for the person whose it is.
#[must_use]
pub fn span(book: &Book, carer: CarerId, span: Span, now: Timestamp) -> SpanSummary {
    let zone = book.place_at(now).zone;
    let from = second_before(zone.day_start(span.from));
    let last = second_before(zone.day_start(plus_days(span.to, 1))).min(now);
    let place = book.place_at(last);
    let mut own: BTreeMap<Duty, Own> = BTreeMap::new();
    let mut changed = BTreeMap::new();
    for (done, target, minutes) in done_in(book, &place, from, last) {
        if matches!(done.kind, DoneKind::NotNeeded { .. }) {
            continue;
        }
        let others = book.together(done.seq);
        if done.by == carer || others == Some(carer) {
            let doers = 1.0 + f64::from(u8::from(others.is_some()));
            let sum = own.entry(done.duty).or_default();
            sum.count += 1;
            sum.minutes += minutes / doers;
        }
        if let Some((water, litres)) = litres(book, &place, &done, target) {
            *changed.entry(water).or_insert(0.0) += litres;
        }
    }
    let matters = book
        .matters(last)
        .filter(|matter| matter.closed.is_none_or(|closed| closed > from))
        .collect();
    SpanSummary {
        duties: duties::all(book, from, last),
        readings: readings::all(book, &place, from, last),
        matters,
        own,
        changed,
    }
}

/// The litres that a change took: those that were said, else as much of the pool as was changed.
fn litres(book: &Book, place: &Place, done: &Done, target: Target) -> Option<(Water, f64)> {
    let Target::Pool(id) = target else { return None };
    let pool = place.pools.get(&id)?;
    let share = match (done.duty, done.kind) {
        (Duty::Change | Duty::PartChange, DoneKind::Did(Part::Fraction(share))) => share,
        (Duty::PartChange, DoneKind::Did(Part::Whole)) => part_fraction(pool.litres),
        (Duty::Change, DoneKind::Did(Part::Whole)) => 1.0,
        _ => return None,
    };
    Some((pool.water, book.amount(done.seq).unwrap_or(pool.litres * share)))
}
