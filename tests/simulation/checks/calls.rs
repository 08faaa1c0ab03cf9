//! Calls: none before its time, one at a time, and none left out once the faults have ended.

use std::collections::{BTreeMap, BTreeSet};

use jiff::{Timestamp, civil};
use serde_json::Value;
use wrackline::desk::posts::open_turns;
use wrackline::desk::tell::Tell;
use wrackline::shelf;
use wrackline::store::{EntryRow, NewPost, PostRow};
use wrackline_core::care::{TurnKey, standing};
use wrackline_core::civil::plus_days;
use wrackline_core::moment::Subject;
use wrackline_core::rota::hand;

use super::{book_of, instant};
use crate::simulation::storm::{CALM_DAYS, Storm};

/// A call is kept up to date for so long, in milliseconds.
const EDIT_BACK_MS: i64 = 48 * 3_600_000;

/// A call that comes so soon after all began anew belongs to the catching up, in milliseconds.
const CATCH_UP_MS: i64 = 5_000;

/// Checks all calls.
pub(super) async fn all(storm: &Storm) {
    let mut known: Vec<EntryRow> = Vec::new();
    let mut called: Vec<(i64, usize)> = Vec::new();
    let mut lines = 0;
    for commit in storm.world.ledger.commits() {
        let posts = &commit.change.posts;
        // What goes to one person alone stands beside the call of all.
        let to_all = |post: &&NewPost| post.destination == "chat" && is_call(&post.body);
        let calls: Vec<&NewPost> = posts.iter().filter(to_all).collect();
        assert!(calls.len() <= 1, "several calls at once: {calls:?}");
        for call in calls {
            called.push((call.at_ms, lines));
            timely(storm, call, &known);
        }
        known.extend(commit.change.entries.iter().cloned());
        lines += usize::from(commit.change.inbound.is_some());
    }
    for restart in &storm.restarts {
        let from = restart.as_millisecond();
        let caught_up = called
            .iter()
            .filter(|(at, _)| (from..from + CATCH_UP_MS).contains(at));
        let caught_up: Vec<usize> = caught_up.map(|(_, lines)| *lines).collect();
        // What someone says meanwhile may call for something more: a turn that is opened anew may be late at once.
        let each: BTreeSet<&usize> = caught_up.iter().collect();
        assert_eq!(
            each.len(),
            caught_up.len(),
            "a burst of calls after the stop that ended at {restart}"
        );
    }
    none_left_out(storm, &known);
}

fn is_call(body: &str) -> bool {
    let body: Value = serde_json::from_str(body).expect("a subject");
    body.get("round").is_some() || body.get("late").is_some()
}

/// A call comes at or after the time of each of its keys.
fn timely(storm: &Storm, call: &NewPost, known: &[EntryRow]) {
    let at = shelf::instant(call.at_ms);
    let zone = storm.world.zone.name();
    for key in &call.keys {
        let mut parts: Vec<&str> = key.split('.').collect();
        // Behind a step's key may stand whom it called by name.
        if matches!(parts[0], "late" | "freed") {
            parts.pop_if(|last| last.starts_with('p'));
        }
        match parts.as_slice() {
            ["round", round, date] => {
                let rounds = round_times(known, call.at_ms);
                let time = rounds
                    .get(*round)
                    .unwrap_or_else(|| panic!("{key} calls a round that is not held"));
                let date: civil::Date = date.parse().expect("a date");
                let held = instant(zone, date.to_datetime(*time));
                assert!(held <= at, "{key} came at {at}, but the round is held at {held}");
            }
            ["late", turn @ .., step] => late(&turn.join("."), step, known, at),
            ["freed", .., seq] => {
                let seq: i64 = seq.parse().expect("the number of an entry");
                let freed = known.iter().find(|row| row.seq == seq).expect("who gave it up");
                assert!(freed.at_ms <= call.at_ms, "{key} came at {at}");
            }
            ["back", .., until] => {
                let until: i64 = until.parse().expect("a second");
                assert!(until <= at.as_second(), "{key} came back at {at}");
            }
            // Of an open matter, to all or to one of the keepers; a late look has a step behind its time.
            ["look", _, due, ..] => {
                let due: i64 = due.parse().expect("a second");
                assert!(due <= at.as_second(), "{key} came at {at}");
            }
            _ => panic!("{key} is no key of a call"),
        }
    }
}

/// The times of the rounds that are held at a moment, by their numbers.
fn round_times(known: &[EntryRow], at_ms: i64) -> BTreeMap<String, civil::Time> {
    let mut rows: Vec<&EntryRow> = known.iter().filter(|row| row.at_ms <= at_ms).collect();
    rows.sort_by_key(|row| (row.at_ms, row.seq));
    let mut times = BTreeMap::new();
    for row in rows {
        let body: Value = serde_json::from_str(&row.body).expect("an event");
        let Some([round, change]) = body.get("round").and_then(Value::as_array).map(Vec::as_slice) else {
            continue;
        };
        let time = change
            .get("time")
            .or_else(|| change.pointer("/added/time"))
            .and_then(Value::as_str);
        match time {
            Some(time) => times.insert(round.to_string(), time.parse().expect("a time of day")),
            None => times.remove(&round.to_string()),
        };
    }
    times
}

/// A late turn is passed on when it is overdue, and step by step up to its hazard limit.
fn late(turn: &str, step: &str, known: &[EntryRow], at: Timestamp) {
    let turn: TurnKey = turn.parse().expect("a turn");
    let step: i64 = step.parse().expect("a step");
    let book = book_of(known);
    let place = book.place_at(at);
    let standing = standing(&book, &place, turn.duty, turn.target, at).expect("a turn that is late");
    assert_eq!(standing.turn, turn, "another turn is late");
    // A hazard may come before the grace is over.
    if step == 3 {
        assert!(
            standing.hazard.is_some_and(|hazard| hazard <= at),
            "{turn} was a hazard at {at} too early"
        );
        return;
    }
    let span = standing.hazard.map_or(3 * 86_400, |hazard| {
        hazard.as_second() - standing.overdue.as_second()
    });
    let freed = hand(&book, &place, &standing, at).freed;
    let wanted = match freed.filter(|_| step == 2) {
        // What somebody gave up before it was late reaches the keeper half-way to its hazard, else after two thirds of
        // the time that was left.
        Some(freed) => {
            let given = freed.at.max(standing.due).as_second();
            let overdue = standing.overdue.as_second();
            let from = given.max(overdue);
            let end = standing.hazard.map_or(from + 3 * 86_400, Timestamp::as_second);
            let (part, of) = if given < overdue { (1, 2) } else { (2, 3) };
            from + (end - from).max(0) / 60 * part / of * 60
        }
        None => standing.overdue.as_second() + span.max(0) / 60 * step / 3 * 60,
    };
    assert!(
        wanted <= at.as_second(),
        "{turn} was passed on at {at}, before its step {step}"
    );
}

/// Every round is called, alone or with a later one, or there was nothing to call: once the faults have ended, and before
/// too unless the clock leapt further than is caught up.
fn none_left_out(storm: &Storm, known: &[EntryRow]) {
    let commits = storm.world.ledger.commits();
    let keys: BTreeSet<&String> = commits
        .iter()
        .flat_map(|commit| {
            commit
                .change
                .posts
                .iter()
                .flat_map(|post| &post.keys)
                .chain(&commit.change.covered)
        })
        .collect();
    let first = storm.world.zone.date(storm.calm_from);
    for round in round_times(known, i64::MAX).keys() {
        for day in 1..CALM_DAYS {
            let key = format!("round.{round}.{}", plus_days(first, day));
            assert!(keys.contains(&key), "{key} was left out");
        }
    }
    if storm.swarm.rates_drawn.leap > 0.0 {
        return;
    }
    // On a day on which a round moves it may be held twice, or not at all.
    let moves = known.iter().filter(|row| row.body.starts_with("{\"round\""));
    let moved: BTreeSet<civil::Date> = moves
        .map(|row| storm.world.zone.date(shelf::instant(row.logged_at_ms)))
        .collect();
    let mut day = plus_days(storm.swarm.first_day, 1);
    while day < first {
        for round in [1, 2].iter().filter(|_| !moved.contains(&day)) {
            let key = format!("round.{round}.{day}");
            assert!(keys.contains(&key), "{key} was left out");
        }
        day = plus_days(day, 1);
    }
}

/// The numbers of the turns of a call that are open by the journal as it ends; `None` where the call is too old to be
/// kept up to date.
pub(super) fn open_at_end(storm: &Storm, row: &PostRow, subject: &Subject) -> Option<BTreeSet<usize>> {
    if subject.turns().is_empty() {
        return None;
    }
    let commits = storm.world.ledger.commits();
    let entries: Vec<EntryRow> = commits
        .into_iter()
        .flat_map(|commit| commit.change.entries)
        .collect();
    let is_said = |entry: &&EntryRow| entry.said_by != 0;
    let last_ms = entries
        .iter()
        .filter(is_said)
        .map(|entry| entry.logged_at_ms)
        .max()?;
    if row.at_ms < last_ms - EDIT_BACK_MS {
        return None;
    }
    let book = book_of(&entries);
    let now = shelf::instant(last_ms.max(row.at_ms));
    let place = book.place_at(now);
    let words = wrackline::words::Words::english();
    let tell = Tell {
        words: &words,
        book: &book,
        place: &place,
        now,
        zone: None,
    };
    Some(
        open_turns(&tell, subject.turns())
            .into_iter()
            .map(|(number, _)| number)
            .collect(),
    )
}
