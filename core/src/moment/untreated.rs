//! Untreated water that reached pools with crabs in them, as the journal tells it.

use std::collections::BTreeMap;

use jiff::Timestamp;

use super::is_recent;
use crate::care::Duty;
use crate::journal::{BatchChange, Book, Entry, Event, Fault, Seq};
use crate::place::{Life, Place, PoolId, Target};
use crate::quantity::{Litres, MilligramsPerLitre};
use crate::water::batch::{BatchId, Found, Means, Warning, Wrong};
use crate::water::stock::{Stock, stock};

/// The pools in use that untreated water reached by the line of an entry, each with its litres: where water was drawn from
/// a batch that is not known to be conditioned, or where a batch proved to be unconditioned. One that was conditioned since
/// is none of them.
#[must_use]
pub fn untreated(book: &Book, place: &Place, seq: Seq, now: Timestamp) -> BTreeMap<PoolId, Litres> {
    let Some(first) = book.entry(seq) else {
        return BTreeMap::new();
    };
    let stock = stock(book, place, now);
    let line = book.entries().filter(|entry| entry.logged_at == first.logged_at);
    line.flat_map(|entry| reached(book, place, &stock, entry, now))
        .collect()
}

/// The first entry of each line of late by which untreated water reached pools in use, and when it counts from.
pub(super) fn lines(book: &Book, place: &Place, now: Timestamp) -> Vec<(Seq, Timestamp)> {
    let drew = book.draws().filter_map(|(seq, _)| book.entry(seq));
    // An entry is never logged before it counts, so what was logged long ago is no news either.
    let proved = book
        .entries()
        .rev()
        .take_while(|entry| is_recent(entry.logged_at, now))
        .filter(|entry| proves(entry).is_some());
    let recent = |entry: &&Entry| entry.at <= now && is_recent(entry.at, now) && !book.is_void(entry.seq);
    let all: Vec<&Entry> = drew.chain(proved).filter(recent).collect();
    if all.is_empty() {
        return Vec::new();
    }
    let stock = stock(book, place, now);
    let mut lines: BTreeMap<Timestamp, (Seq, Timestamp)> = BTreeMap::new();
    for entry in all {
        if !reached(book, place, &stock, entry, now).is_empty() {
            let line = lines.entry(entry.logged_at).or_insert((entry.seq, entry.at));
            *line = (*line).min((entry.seq, entry.at));
        }
    }
    lines.into_values().collect()
}

/// The batch that an entry proves to be unconditioned.
fn proves(entry: &Entry) -> Option<BatchId> {
    match entry.event {
        Event::Batch(id, BatchChange::Wrong(Fault::Unconditioned)) => Some(id),
        _ => None,
    }
}

fn reached(
    book: &Book,
    place: &Place,
    stock: &Stock,
    entry: &Entry,
    now: Timestamp,
) -> Vec<(PoolId, Litres)> {
    if book.is_void(entry.seq) {
        return Vec::new();
    }
    let is_raw = |warning: &Warning| matches!(warning, Warning::Unconditioned { .. });
    // Of a change it is the one pool, of a batch each that it reached.
    let (batch, of) = match (&entry.event, proves(entry), book.drawn(entry.seq)) {
        (
            Event::Did(_, Target::Pool(pool), _) | Event::Waits(_, Target::Pool(pool), _),
            _,
            Some((batch, _)),
        ) if stock.warnings(entry.seq).iter().any(is_raw) => (batch, Some(*pool)),
        (_, Some(batch), _) => (batch, None),
        _ => return Vec::new(),
    };
    let wrong = Wrong::Chlorine(MilligramsPerLitre(1.0));
    let Ok(trail) = stock.ledger.trail(batch, wrong, &Means::default()) else {
        return Vec::new();
    };
    let in_use = |pool: PoolId| {
        place
            .pools
            .get(&pool)
            .is_some_and(|pool| pool.life == Life::InUse)
    };
    let conditioned = |pool: PoolId, since: Timestamp| {
        book.done_until(Duty::Condition, Target::Pool(pool), now)
            .any(|done| done.duty == Duty::Condition && done.at >= since)
    };
    let all = trail.pools.into_iter();
    all.filter(|one| of.is_none_or(|pool| pool == one.pool) && one.found != Found::Gone)
        .filter(|one| {
            in_use(one.pool) && !conditioned(one.pool, if of.is_some() { entry.at } else { one.first })
        })
        .map(|one| (one.pool, one.litres))
        .collect()
}
