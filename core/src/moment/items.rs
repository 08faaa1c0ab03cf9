//! All that calls for a post at a moment.

use jiff::{SignedDuration, Timestamp, civil};

use super::handover::handovers;
use super::steps::step_key;
use super::{CATCH_UP_MAX_H, Step, awake, call_times, hands, is_recent, looks, round_key, untreated, woken};
use crate::air::{GAP_MAX_H, Side, Spell, spells};
use crate::care::board::is_folded;
use crate::care::{Mark, Pace, Standing, TurnKey};
use crate::civil::{
    Held, Week, hold, is_quiet, next_round, plus_days, plus_minutes, seconds_between, waking,
};
use crate::journal::{Book, Matter, Seq};
use crate::people::Span;
use crate::place::{CarerId, EnclosureId, Place, RoundId, Target};
use crate::quantity::{Kind, Measured};
use crate::rota;

/// Something that calls for a post.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Its key: what has this key was posted, or is not to be posted any more.
    pub key: String,
    /// When it was wanted from.
    pub at: Timestamp,
    /// What it is.
    pub what: What,
}

/// What calls for a post.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// A round is held.
    Round {
        /// The round.
        round: RoundId,
        /// Its civil date.
        date: civil::Date,
        /// When it was to be held.
        held: Timestamp,
    },
    /// A turn is late.
    Late(TurnKey, Step),
    /// A step of a late turn left someone out who slept, and is awake now.
    Woken(TurnKey, Step, CarerId),
    /// A turn that was put off comes back.
    Back(TurnKey),
    /// An open matter is to be looked at.
    Look {
        /// The entry that opened it.
        matter: Seq,
        /// When it was to be looked at.
        due: Timestamp,
        /// Whether that is late by now.
        late: bool,
    },
    /// A danger was seen, or untreated water reached a pool in use.
    Seen(Seq),
    /// A danger was measured.
    Spell(EnclosureId, Spell),
    /// A danger that was seen has ended.
    SeenSettled(Seq),
    /// A danger that was measured has ended.
    SpellSettled(EnclosureId, Spell),
    /// A week is over.
    Week(Week),
    /// A sitter's span begins, or has ended.
    Handover {
        /// Whose.
        carer: CarerId,
        /// Its days.
        span: Span,
        /// Whether it begins.
        begins: bool,
    },
    /// A turn was offered to someone.
    Offered(Seq),
    /// An offer lapsed by itself: nobody is told anew, its post shows it.
    Lapsed(Seq),
    /// A turn was taken over from whoever had it.
    Moved(Seq),
    /// Turns were left that nobody can do, by what somebody said.
    Uncovered(Seq),
}

/// All that calls for a post at a moment, `board` being the place's marks then and `seen` up to when the place
/// was dealt with before (see [`seen_after`]). In the quiet hours that is danger alone; a hush holds back what calls
/// people to their turns, as long as none of these is a hazard.
#[must_use]
pub fn items(book: &Book, place: &Place, board: &[Standing], seen: Timestamp, now: Timestamp) -> Vec<Item> {
    let mut all = rounds(place, seen, now);
    for standing in board.iter().filter(|standing| !is_folded(board, standing)) {
        turn_items(book, place, standing, now, &mut all);
    }
    matters(book, place, now, &mut all);
    looks::items(book, place, now, &mut all);
    all.extend(
        untreated::lines(book, place, now)
            .into_iter()
            .map(|(seq, at)| Item {
                key: format!("untreated.{seq}"),
                at,
                what: What::Seen(seq),
            }),
    );
    for id in place.enclosures.keys() {
        spell_items(book, place, *id, now, &mut all);
    }
    week(place, seen, now, &mut all);
    all.extend(handovers(place, seen, now));
    hands::items(book, place, board, now, &mut all);
    if is_quiet(&place.zone, place.quiet, now) {
        all.retain(|item| matches!(item.what, What::Seen(_) | What::Spell(..)));
    }
    if place.hushed_until(now).is_some() {
        all.retain(|item| !is_hushed(&item.what));
    }
    all
}

/// What a hush holds back: calls to turns. A look at a danger that was seen is none of them.
fn is_hushed(what: &What) -> bool {
    match what {
        What::Round { .. } | What::Back(_) => true,
        What::Late(_, step) | What::Woken(_, step, _) => *step < Step::Hazard,
        _ => false,
    }
}

/// Up to when the place counts as dealt with, after it was dealt with at a moment: what the quiet hours held back
/// is still to be dealt with.
#[must_use]
pub fn seen_after(place: &Place, seen: Timestamp, now: Timestamp) -> Timestamp {
    if is_quiet(&place.zone, place.quiet, now) {
        seen
    } else {
        now
    }
}

/// The holdings of rounds whose call is wanted after one moment and up to another.
fn rounds(place: &Place, seen: Timestamp, now: Timestamp) -> Vec<Item> {
    let oldest = now
        .saturating_sub(SignedDuration::from_hours(CATCH_UP_MAX_H))
        .unwrap_or(now);
    let from = seen.max(oldest);
    let first = plus_days(place.zone.date(from), -2);
    let days = seconds_between(from, now) / 86_400 + 5;
    let mut all: Vec<Item> = (0..days)
        .flat_map(|day| {
            place
                .rounds
                .iter()
                .map(move |round| (round, plus_days(first, day)))
        })
        .map(|(round, date)| hold(&place.zone, round, date))
        .filter_map(|held| {
            let at = waking(&place.zone, place.quiet, held.at);
            (from < at && at <= now).then(|| round_item(&held, at))
        })
        .collect();
    all.sort_by_key(|item| item.at);
    all
}

fn round_item(held: &Held<'_>, at: Timestamp) -> Item {
    let what = What::Round {
        round: held.round.id,
        date: held.date,
        held: held.at,
    };
    Item {
        key: round_key(held.round.id, held.date),
        at,
        what,
    }
}

/// When a late turn is passed on, step by step: spaced evenly up to its hazard limit, or by days without one.
/// A time that the quiet hours hold back is the waking one.
#[must_use]
pub fn step_times(place: &Place, standing: &Standing) -> Vec<(Step, Timestamp)> {
    let span_min = standing.hazard.map_or(3 * 24 * 60, |hazard| {
        (seconds_between(standing.overdue, hazard) / 60).max(0)
    });
    Step::ALL
        .into_iter()
        .zip(0..)
        .filter_map(|(step, index)| {
            let at = match step {
                Step::Hazard => standing.hazard?,
                _ => plus_minutes(standing.overdue, span_min * index / 3),
            };
            Some((step, waking(&place.zone, place.quiet, at)))
        })
        .collect()
}

fn turn_items(book: &Book, place: &Place, standing: &Standing, now: Timestamp, all: &mut Vec<Item>) {
    if standing.held.is_some() || standing.mark == Mark::Calm {
        return;
    }
    let turn = standing.turn;
    let hand = rota::hand(book, place, standing, now);
    let waits = |step| woken::waits(book, place, (standing, &hand), step, now);
    let put_off = last_put_off(book, standing, now);
    let mut back = None;
    if let Some(until) = put_off {
        let at = comes_back(book, place, standing, until, now);
        if at > now {
            return;
        }
        let key = format!("back.{turn}.{}", until.as_second());
        back = Some((key.clone(), (Step::Carer, at)));
        if !waits(Step::Carer) {
            let what = What::Back(turn);
            all.push(Item { key, at, what });
        }
    }
    let past: Vec<(Step, Timestamp)> = call_times(book, place, standing, &hand, now)
        .into_iter()
        .filter(|(_, at)| *at <= now)
        .collect();
    // A step that passed while the turn was put off is done with once a later one is reached: taking the putting off
    // back calls nobody for it any more.
    let after_put_off = |(_, at): &&(Step, Timestamp)| put_off.is_none_or(|until| *at > until);
    let reached = past
        .iter()
        .filter(after_put_off)
        .max_by_key(|(step, _)| *step)
        .copied();
    let last = reached.map(|step| (step_key(standing, &hand, step.0), step));
    if let Some((key, step)) = last.or(back) {
        all.extend(woken::items(book, place, (standing, &hand), &key, step, now));
    }
    let reached = reached.map(|(step, _)| step);
    let past = past.into_iter().filter(|(step, _)| Some(*step) <= reached);
    for (step, at) in past.filter(|(step, _)| !waits(*step)) {
        let key = step_key(standing, &hand, step);
        all.push(Item {
            key,
            at,
            what: What::Late(turn, step),
        });
    }
}

/// Until when a turn was put off last, past or not.
fn last_put_off(book: &Book, standing: &Standing, now: Timestamp) -> Option<Timestamp> {
    use crate::journal::TurnEvent;
    let mut until = None;
    for event in book.turn_events(&standing.turn, now) {
        match event {
            TurnEvent::Later(at) => until = Some(at),
            TurnEvent::Took(_) | TurnEvent::Cannot(_) => until = None,
            TurnEvent::Published(_)
            | TurnEvent::Open
            | TurnEvent::Offered { .. }
            | TurnEvent::Declined(_) => {}
        }
    }
    until
}

/// When a turn that was put off is called again: neither in the place's quiet hours nor in its carer's.
fn comes_back(
    book: &Book,
    place: &Place,
    standing: &Standing,
    until: Timestamp,
    now: Timestamp,
) -> Timestamp {
    let carer = rota::hand(book, place, standing, now).carer;
    let at = waking(&place.zone, place.quiet, until);
    carer.map_or(at, |carer| awake(place, carer, at))
}

fn matters(book: &Book, place: &Place, now: Timestamp, all: &mut Vec<Item>) {
    let danger = |matter: &Matter| matter.sighting.is_danger();
    for matter in book.matters(now).filter(danger) {
        if is_recent(matter.at, now) {
            let what = What::Seen(matter.seq);
            all.push(Item {
                key: format!("seen.{}", matter.seq),
                at: matter.at,
                what,
            });
        }
        if let Some(closed) = matter.closed.filter(|closed| is_recent(*closed, now)) {
            let at = waking(&place.zone, place.quiet, closed);
            if at <= now {
                let what = What::SeenSettled(matter.seq);
                all.push(Item {
                    key: format!("settled.seen.{}", matter.seq),
                    at,
                    what,
                });
            }
        }
    }
}

/// How far back readings are looked at first for a spell that still goes on.
const SPELL_BACK_H: i64 = 24 * 21;

/// The spells of an enclosure's humidity that still go on or ended lately, each from its own first reading.
#[must_use]
pub(crate) fn humidity_spells(book: &Book, id: EnclosureId, now: Timestamp) -> Vec<Spell> {
    let before = |at: Timestamp, hours| at.saturating_sub(SignedDuration::from_hours(hours)).unwrap_or(at);
    let readings = |from, to| {
        book.readings(Target::Enclosure(id), Kind::Humidity, from, to)
            .filter_map(|(at, measured)| match measured {
                Measured::Humidity(percent) => Some((at, percent)),
                _ => None,
            })
    };
    let mut hours = SPELL_BACK_H;
    loop {
        let from = before(now, hours);
        let all = spells(readings(from, now));
        // A spell that may have begun before is followed further back, for its first reading names it.
        let is_cut = all.first().is_some_and(|spell| {
            readings(from, now).next().is_some_and(|(at, _)| at == spell.from)
                && readings(before(spell.from, GAP_MAX_H), from).any(|(at, _)| at < from)
        });
        if !is_cut {
            return all;
        }
        hours *= 2;
    }
}

fn spell_items(book: &Book, place: &Place, id: EnclosureId, now: Timestamp, all: &mut Vec<Item>) {
    for spell in humidity_spells(book, id, now) {
        let Some(alarm) = spell.alarm else { continue };
        let side = if spell.side == Side::Low { "low" } else { "high" };
        let key = format!("spell.{}.{side}.{}", id.0, spell.from.as_second());
        if let Some(ended) = spell.ended.filter(|ended| is_recent(*ended, now)) {
            let at = waking(&place.zone, place.quiet, ended);
            if at <= now {
                let what = What::SpellSettled(id, spell);
                all.push(Item {
                    key: format!("settled.{key}"),
                    at,
                    what,
                });
            }
        }
        if is_recent(alarm, now) || (spell.ended.is_none() && is_recent(spell.to, now)) {
            all.push(Item {
                key,
                at: alarm,
                what: What::Spell(id, spell),
            });
        }
    }
}

/// A week is summed up at the first round of the Monday after it.
fn week(place: &Place, seen: Timestamp, now: Timestamp, all: &mut Vec<Item>) {
    let this = Week::of(place.zone.date(now));
    let at = week_moment(place, this);
    let last = this.previous();
    // A place that was only set up at its end or since has no such week to sum up.
    let (_, end) = last.span(&place.zone);
    let was_kept = place
        .enclosures
        .values()
        .any(|one| seconds_between(one.since, end) > 24 * 3600);
    if seen < at && at <= now && is_recent(at, now) && was_kept {
        all.push(Item {
            key: format!("week.{}", last.name()),
            at,
            what: What::Week(last),
        });
    }
}

fn week_moment(place: &Place, week: Week) -> Timestamp {
    first_call(place, week.monday)
}

/// When the first round of a civil day is called.
pub(super) fn first_call(place: &Place, date: civil::Date) -> Timestamp {
    let held = hold(&place.zone, &place.rounds[0], date).at;
    waking(&place.zone, place.quiet, held)
}

/// The next moment after this one at which the place may call for a post, as long as nothing happens.
#[must_use]
pub fn next_moment(book: &Book, place: &Place, board: &[Standing], now: Timestamp) -> Timestamp {
    // A round in the quiet hours is called when they end, which may be after a later round: look at several.
    let mut round = next_round(&place.zone, &place.rounds, plus_minutes(now, -26 * 60));
    let mut calls = Vec::new();
    while calls.len() < 2 {
        let at = waking(&place.zone, place.quiet, round.at);
        if at > now {
            calls.push(at);
        }
        round = next_round(&place.zone, &place.rounds, round.at);
    }
    let turns = board
        .iter()
        .filter(|standing| standing.held.is_none())
        .flat_map(|standing| {
            let put_off = last_put_off(book, standing, now);
            let back = put_off.map(|until| comes_back(book, place, standing, until, now));
            // When an occurrence supersedes the one before, its steps begin anew.
            let superseded = match &standing.cadence.pace {
                Pace::Calendar(schedule) => schedule.next(place, place.zone.civil(now)),
                Pace::Interval { .. } => None,
            };
            let superseded = superseded.map(|on| place.zone.instant(on));
            // Nobody is called for what is not due.
            let (times, woken) = if standing.mark == Mark::Calm {
                (step_times(place, standing), Vec::new())
            } else {
                let hand = rota::hand(book, place, standing, now);
                let times = call_times(book, place, standing, &hand, now);
                let back = put_off.filter(|until| *until <= now).map(|_| Step::Carer);
                let reached = times.iter().filter(|(_, at)| *at <= now).map(|(step, _)| *step);
                let called = reached.chain(back);
                let woken = woken::moments(book, place, (standing, &hand), called, now);
                (times, woken)
            };
            let times = times.into_iter().map(|(_, at)| at).chain(woken);
            times.chain(back).chain(superseded)
        });
    let settled = book
        .matters(now)
        .filter_map(|matter| matter.closed)
        .chain(
            place
                .enclosures
                .keys()
                .flat_map(|id| humidity_spells(book, *id, now))
                .filter_map(|s| s.ended),
        )
        .map(|at| waking(&place.zone, place.quiet, at));
    let awake = waking(&place.zone, place.quiet, now);
    let next = calls
        .into_iter()
        .chain(turns)
        .chain(settled)
        .chain(looks::all_moments(book, place, now))
        .chain(hands::moments(book, place, board, now))
        .chain(place.hush)
        .chain([awake])
        .filter(|at| *at > now)
        .min();
    next.unwrap_or_else(|| plus_minutes(now, 24 * 60))
}
