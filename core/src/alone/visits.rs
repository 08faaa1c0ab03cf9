//! The fewest visits that keep every duty away from its limit.
//!
//! Each visit is made as late as the limits allow. That is the fewest: whatever can be done at a visit reaches its limit
//! no sooner the later it is done, and what a quiet zone holds back is touched by no visit before its review date. So of
//! two plans that are alike up to a visit, the one that makes the next visit later can do all that the other one can.

use std::collections::BTreeSet;

use jiff::{Timestamp, ToSpan};

use super::imagined::Imagined;
use super::levels::Levels;
use super::limits::{self, Cause, Limit};
use super::{Span, Turn};
use crate::care::{Duty, Standing, board};
use crate::civil::{last_round, plus_minutes};
use crate::journal::Book;
use crate::place::{Place, Target};

/// How many hours before a limit a visit is at the latest: whoever comes may be late by half a day. Common practice, no
/// published source.
pub const MARGIN_H: i64 = 12;

/// When visits are made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Times {
    /// At the rounds of the place.
    Rounds,
    /// At whole hours of the clock, since some limit is shorter than the rounds are apart.
    Hours,
}

/// One visit.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    /// When.
    pub at: Timestamp,
    /// What to do, in walking order: all that falls due, or comes near its limit, before the next visit or the return.
    pub turns: Vec<Turn>,
}

/// A limit that no visit can keep away from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    /// The limit as it stands after the visit before.
    pub limit: Limit,
    /// The latest visit before it.
    pub after: Timestamp,
}

/// The fewest visits.
#[derive(Clone, Debug, PartialEq)]
pub struct Visits {
    /// They, in order.
    pub visits: Vec<Visit>,
    /// When they are made.
    pub times: Times,
    /// Limits that are reached all the same, or that no margin can be kept from.
    pub gaps: Vec<Gap>,
}

/// Which limit it is, whenever it is reached.
type Key = (Duty, Target, Cause);

fn key(limit: &Limit) -> Key {
    (limit.duty.family(), limit.target, limit.cause)
}

/// By when a visit has to be made for a limit.
fn deadline(limit: &Limit) -> Timestamp {
    plus_minutes(limit.at, -MARGIN_H * 60)
}

/// What is to be done at a moment so that nothing falls due, or comes near its limit, before the next one, as far as no
/// quiet zone holds it back; in walking order.
pub(super) fn wanted(book: &Book, levels: &Levels, at: Timestamp, next: Timestamp) -> Vec<Turn> {
    let place = book.place_at(at);
    let near = |one: &Standing| {
        let limits = limits::of(&place, one, levels, at);
        limits.first().is_some_and(|limit| deadline(limit) < next)
    };
    let mut all: Vec<Turn> = board(book, &place, at)
        .iter()
        .filter(|one| one.held.is_none() && (one.due <= next || near(one)))
        .map(|one| turn(&place, one))
        .collect();
    // Whoever changes the water conditions it and tops it up with that.
    let renewed: BTreeSet<(Duty, Target)> = all
        .iter()
        .flat_map(|turn| turn.duty.renews().iter().map(|duty| (*duty, turn.target)))
        .collect();
    all.retain(|turn| !renewed.contains(&(turn.duty, turn.target)));
    all
}

fn turn(place: &Place, standing: &Standing) -> Turn {
    let pool = match standing.turn.target {
        Target::Pool(id) if standing.turn.duty == Duty::Change => place.pools.get(&id),
        _ => None,
    };
    Turn {
        duty: standing.duty(),
        target: standing.turn.target,
        litres: pool.map(|pool| pool.litres * standing.cadence.fraction),
    }
}

/// The fewest visits in a span whose first day is prepared: at rounds, else at whole hours.
pub(super) fn fewest(prepared: &Imagined, levels: &Levels, span: Span) -> Visits {
    let mut gaps: Vec<Gap> = Vec::new();
    let (times, moments) = loop {
        let left_out: BTreeSet<Key> = gaps.iter().map(|gap| key(&gap.limit)).collect();
        let moments = |times| moments(prepared, levels, span, times, &left_out);
        if let Ok(moments) = moments(Times::Rounds) {
            break (Times::Rounds, moments);
        }
        match moments(Times::Hours) {
            Ok(moments) => break (Times::Hours, moments),
            Err(gap) => gaps.push(gap),
        }
    };
    let mut imagined = prepared.clone();
    let next = moments.iter().skip(1).copied().chain([span.back]);
    let visit = |(at, next): (&Timestamp, Timestamp)| {
        let turns = wanted(&imagined.book, levels, *at, next);
        imagined.does(&turns, *at);
        Visit { at: *at, turns }
    };
    Visits {
        visits: moments.iter().zip(next).map(visit).collect(),
        times,
        gaps,
    }
}

/// The moments of the fewest visits, all that can be done being done at each; the first limit that none can keep.
fn moments(
    prepared: &Imagined,
    levels: &Levels,
    span: Span,
    times: Times,
    left_out: &BTreeSet<Key>,
) -> Result<Vec<Timestamp>, Gap> {
    let mut imagined = prepared.clone();
    let (mut all, mut at) = (Vec::new(), span.leave);
    loop {
        let limits = limits::limits(&imagined.book, levels, at);
        let first = limits.iter().find(|limit| !left_out.contains(&key(limit)));
        let Some(limit) = first.filter(|limit| deadline(limit) < span.back) else {
            return Ok(all);
        };
        let place = imagined.book.place_at(at);
        let next = latest(&place, times, deadline(limit));
        let too_early = limit.held.is_some_and(|review| next < review);
        if next <= at || too_early {
            return Err(Gap {
                limit: *limit,
                after: at,
            });
        }
        imagined.does(&renewable(&imagined.book, next), next);
        all.push(next);
        at = next;
    }
}

/// Everything with a hazard limit that can be done at a moment.
fn renewable(book: &Book, at: Timestamp) -> Vec<Turn> {
    let place = book.place_at(at);
    let all = board(book, &place, at);
    let can = all
        .iter()
        .filter(|one| one.held.is_none() && one.hazard.is_some());
    can.map(|one| turn(&place, one)).collect()
}

/// The latest moment for a visit that is no later than this.
fn latest(place: &Place, times: Times, until: Timestamp) -> Timestamp {
    match times {
        Times::Rounds => last_round(&place.zone, &place.rounds, until).at,
        Times::Hours => {
            let civil = place.zone.civil(until);
            let whole = civil.date().at(civil.hour(), 0, 0, 0);
            let at = place.zone.instant(whole);
            // An hour that a clock change cut short starts later than it says.
            if at <= until {
                at
            } else {
                place.zone.instant(whole.saturating_sub(1.hour()))
            }
        }
    }
}
