//! The law of ids and counts: a turn keeps its id in whoever's calendar it is, and every change counts one more.

use wrackline_core::calendar::{Feed, FeedTurn, feed};
use wrackline_core::care::{Duty, board};
use wrackline_core::journal::{CarerChange, Event, GearChange, Part, Say};
use wrackline_core::place::{CarerId, Gear, Role};
use wrackline_core::rota::{HORIZON_DAYS, Slot, share_out};
use wrackline_tests::journal::{NORTH_SALT, SALT, Script};

const ADA: CarerId = CarerId(1);
const BEA: CarerId = CarerId(2);
const NOON: &str = "2026-03-01 12:00";

/// Two people, one salt pool, its turns published at noon of 1 March.
fn published() -> Script {
    let mut script = Script::place("Europe/Berlin", "08:00 19:00");
    script.add(
        "2026-01-01 00:00",
        Event::Carer(BEA, CarerChange::Added(Role::Regular)),
    );
    script.did("2026-03-01 08:00", Duty::Change);
    share(&mut script, NOON);
    script
}

fn share(script: &mut Script, local: &str) {
    let (book, now) = (script.book(), script.at(local));
    let place = book.place_at(now);
    let board = board(&book, &place, now);
    let changes = share_out(&book, &place, &board, now, HORIZON_DAYS).changes();
    script.add(local, Event::Shared(changes));
}

fn told(script: &Script, carer: CarerId, local: &str) -> Feed {
    let (book, now) = (script.book(), script.at(local));
    feed(&book, &book.place_at(now), carer, now)
}

fn find<'a>(feed: &'a Feed, code: &str) -> Option<&'a FeedTurn> {
    feed.turns.iter().find(|turn| turn.code == code)
}

/// The change of the salt pool that is Ada's and comes first.
fn change_of(script: &Script, carer: CarerId) -> String {
    let feed = told(script, carer, NOON);
    let change = feed.turns.iter().find(|turn| turn.duty == Duty::Change);
    change.expect("a change").code.clone()
}

fn slot(code: &str) -> Slot {
    code.parse().expect("a slot")
}

#[test]
fn every_published_turn_is_in_one_calendar() {
    let script = published();
    let (ada, bea) = (told(&script, ADA, NOON), told(&script, BEA, NOON));
    let mut codes: Vec<&str> = ada
        .turns
        .iter()
        .chain(&bea.turns)
        .map(|turn| turn.code.as_str())
        .collect();
    let count = codes.len();
    codes.sort_unstable();
    codes.dedup();
    assert_eq!(codes.len(), count, "an id twice");
    let (book, now) = (script.book(), script.at(NOON));
    let place = book.place_at(now);
    let laid_out =
        wrackline_core::rota::lay_out(&book, &place, &board(&book, &place, now), now, HORIZON_DAYS);
    assert_eq!(count, laid_out.len());
    assert!(
        ada.turns.len() > 10 && bea.turns.len() > 10,
        "{} {}",
        ada.turns.len(),
        bea.turns.len()
    );
    for turn in ada.turns.iter().chain(&bea.turns) {
        assert_eq!((turn.sequence, turn.is_cancelled), (0, false), "{turn:?}");
        assert_eq!(turn.changed_at, script.at(NOON), "{turn:?}");
    }
}

#[test]
fn an_offer_that_was_taken_moves_the_turn_and_counts_one() {
    let mut script = published();
    let code = change_of(&script, ADA);
    let before = told(&script, ADA, NOON);
    script.add_by(
        ADA,
        "2026-03-01 13:00",
        Event::Coming(slot(&code), Say::Offered(BEA)),
    );
    assert_eq!(
        told(&script, ADA, "2026-03-01 13:30"),
        before,
        "an offer alone changes nothing"
    );
    script.add_by(BEA, "2026-03-01 14:00", Event::Coming(slot(&code), Say::Taken));
    let (ada, bea) = (
        told(&script, ADA, "2026-03-01 15:00"),
        told(&script, BEA, "2026-03-01 15:00"),
    );
    let (gone, got) = (
        find(&ada, &code).expect("cancelled"),
        find(&bea, &code).expect("got"),
    );
    assert_eq!((gone.sequence, gone.is_cancelled), (1, true));
    assert_eq!((got.sequence, got.is_cancelled), (1, false));
    assert_eq!(
        (gone.due, gone.changed_at),
        (got.due, script.at("2026-03-01 14:00"))
    );
    // Nothing else changed.
    let others = |feed: &Feed| {
        feed.turns
            .iter()
            .filter(|turn| turn.code != code)
            .cloned()
            .collect::<Vec<_>>()
    };
    assert_eq!(others(&ada), others(&before));
    // Taken back, it counts on: no calendar takes a lower count for news.
    let seq = script.entries.last().expect("an entry").seq;
    script.add_by(BEA, "2026-03-01 16:00", Event::Retract(seq));
    let back = told(&script, ADA, "2026-03-01 17:00");
    let back = find(&back, &code).expect("back");
    assert_eq!((back.sequence, back.is_cancelled), (2, false));
}

#[test]
fn whoever_cannot_sees_it_cancelled_until_it_is_over() {
    let mut script = published();
    let code = change_of(&script, BEA);
    script.add_by(BEA, "2026-03-01 13:00", Event::Coming(slot(&code), Say::Freed));
    let bea = told(&script, BEA, "2026-03-01 14:00");
    assert!(find(&bea, &code).expect("cancelled").is_cancelled);
    assert_eq!(
        find(&told(&script, ADA, "2026-03-01 14:00"), &code),
        None,
        "nobody's yet"
    );
    script.add_by(ADA, "2026-03-02 08:00", Event::Coming(slot(&code), Say::Taken));
    assert_eq!(
        find(&told(&script, ADA, "2026-03-02 09:00"), &code)
            .expect("got")
            .sequence,
        2
    );
    let changes = told(&script, BEA, "2026-03-02 09:00");
    assert_eq!(find(&changes, &code).expect("still cancelled").sequence, 2);
    for day in 3..=16 {
        script.add_by(
            ADA,
            &format!("2026-03-{day:02} 08:00"),
            Event::Did(Duty::Change, NORTH_SALT, Part::Whole),
        );
    }
    assert_eq!(find(&told(&script, BEA, "2026-03-16 12:00"), &code), None);
}

#[test]
fn what_is_told_changes_with_the_journal_alone() {
    let mut script = published();
    let told_at = |script: &Script, local: &str| {
        let feed = told(script, ADA, local);
        // A day on, turns of one day more are known; all that was known stays.
        feed.turns
    };
    let before = told_at(&script, "2026-03-01 12:00");
    for later in ["2026-03-01 12:01", "2026-03-01 18:59", "2026-03-01 23:59"] {
        assert_eq!(told_at(&script, later), before, "{later}");
    }
    // Late, those behind it stay where they were planned until it is done.
    let late = told_at(&script, "2026-03-04 07:00");
    let changes = |turns: &[FeedTurn]| -> Vec<(String, u32, String)> {
        let changes = turns.iter().filter(|turn| turn.duty == Duty::Change);
        changes
            .map(|turn| (turn.code.clone(), turn.sequence, script_time(turn)))
            .collect()
    };
    assert!(
        changes(&late).iter().all(|one| changes(&before).contains(one)),
        "{late:?}"
    );
    script.did("2026-03-04 08:10", Duty::Change);
    let after = changes(&told_at(&script, "2026-03-04 09:00"));
    assert!(!after.is_empty());
    for (code, sequence, due) in after {
        let was = changes(&before).into_iter().find(|(one, ..)| *one == code);
        if let Some((_, count, planned)) = was {
            assert!(
                sequence > count && due != planned,
                "{code}: {planned} {count}, {due} {sequence}"
            );
        }
    }
}

fn script_time(turn: &FeedTurn) -> String {
    turn.due.to_string()
}

#[test]
fn counts_never_fall() {
    let mut script = published();
    let taken = slot(&change_of(&script, ADA));
    let mut counts = std::collections::BTreeMap::new();
    let mut hold = |script: &Script, local: &str| {
        for carer in [ADA, BEA] {
            for turn in told(script, carer, local).turns {
                let count = counts.entry(turn.code.clone()).or_insert(0);
                assert!(turn.sequence >= *count, "{local}: {turn:?} after {count}");
                *count = turn.sequence;
            }
        }
        counts.values().copied().max().unwrap_or(0)
    };
    let whole = Event::Did(Duty::Change, NORTH_SALT, Part::Whole);
    let air = Event::Gear(SALT, Gear::Air, GearChange::Added { proven: true });
    let mut last = 0;
    let mut written = Vec::new();
    for (local, event) in [
        ("2026-03-01 13:00", Event::Coming(taken, Say::Taken)),
        ("2026-03-02 20:00", whole.clone()),
        ("2026-03-03 10:00", air),
        ("2026-03-03 11:00", whole),
        (
            "2026-03-03 12:00",
            Event::Carer(ADA, CarerChange::StandIn(Some(BEA))),
        ),
    ] {
        written.push(script.add_by(BEA, local, event));
        last = hold(&script, local);
        share(&mut script, local);
        last = last.max(hold(&script, local));
    }
    // All of it taken back, the latest first.
    for (hour, seq) in (13..).zip(written.into_iter().rev()) {
        let local = format!("2026-03-03 {hour}:00");
        script.add_by(BEA, &local, Event::Retract(seq));
        let most = hold(&script, &local);
        assert!(most >= last, "{local}");
        last = most;
        share(&mut script, &local);
        last = last.max(hold(&script, &local));
    }
    assert!(last >= 4, "{last}");
}
