//! With nothing changed the journal comes out again; whatever is changed, sums are sums.

use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;
use wrackline_core::care::{Duty, Every, Numbers, Rule, Standing, board, standing};
use wrackline_core::civil::{Week, plus_minutes};
use wrackline_core::journal::{Book, Entry, Event, Part};
use wrackline_core::place::{CarerId, Gear};
use wrackline_core::rehearse::{Change, Plan, Rehearsal, Water, differences, rehearse};
use wrackline_core::week::week;
use wrackline_tests::journal::{NORTH_SALT, SALT, Script};

use crate::care::order::{SPAN_MIN, config, journals};

fn plan(start: Timestamp, changes: Vec<Change>) -> Plan {
    Plan {
        changes,
        pools: Vec::new(),
        from: start,
        to: plus_minutes(start, SPAN_MIN),
    }
}

fn marks(book: &Book, now: Timestamp) -> Vec<Standing> {
    board(book, &book.place_at(now), now)
}

/// Every entry's moment, the second before it, and every seventh hour.
fn moments(entries: &[Entry], start: Timestamp) -> Vec<Timestamp> {
    let hours = (0..SPAN_MIN / 420).map(|step| start + SignedDuration::from_hours(step * 7));
    let told = entries.iter().filter(|entry| entry.at >= start);
    let told = told.flat_map(|entry| [entry.at, entry.at - SignedDuration::from_secs(1)]);
    hours.chain(told).collect()
}

fn changes() -> impl Strategy<Value = Change> {
    let gear = proptest::sample::select(vec![Gear::Air, Gear::Filter]);
    let rule = proptest::sample::select(vec![
        Rule::ChangeStill,
        Rule::ChangeAerated,
        Rule::TopUp,
        Rule::Test,
        Rule::TestCycling,
        Rule::Reading,
    ]);
    prop_oneof![
        (gear.clone(), any::<bool>()).prop_map(|(gear, proven)| Change::With {
            pool: SALT,
            gear,
            proven
        }),
        gear.prop_map(|gear| Change::Without { pool: SALT, gear }),
        (rule, 1_u16..12).prop_map(|(rule, days)| {
            let numbers = Numbers {
                every: Some(Every::Days(days)),
                grace_h: None,
                hazard_h: None,
            };
            Change::Numbers(rule, numbers)
        }),
        (2.0..30.0).prop_map(|litres| Change::Litres(SALT, litres)),
    ]
}

/// What holds of every rehearsal.
fn adds_up(found: &Rehearsal) {
    for kept in [&found.was, &found.stays, &found.would] {
        let people: f64 = kept.minutes_of().values().sum();
        assert!(
            (people - kept.minutes()).abs() < 1e-9,
            "{people} {}",
            kept.minutes()
        );
        assert!(
            kept.turns.iter().all(|turn| turn.minutes >= 0.0),
            "{:?}",
            kept.turns
        );
        let all: Water = [kept.water_of(SALT)].into_iter().sum();
        assert_eq!(all, kept.water());
        assert!(all.litres >= 0.0 && all.salt_g >= 0.0, "{all:?}");
        assert!(kept.turns.is_sorted_by_key(|turn| turn.at));
        for margin in &kept.margins {
            assert!(margin.hazards <= margin.overdue, "{margin:?}");
        }
        for cut in &kept.cuts {
            assert!(
                cut.within[0] <= cut.within[1] && cut.within[1] <= cut.rounds,
                "{cut:?}"
            );
        }
    }
    // The same deeds take the same time under either keeping, but for what a change is called.
    assert_eq!(found.was.turns.len(), found.stays.turns.len());
}

proptest! {
    #![proptest_config(config(32))]

    #[test]
    fn with_nothing_changed_the_journal_comes_out_again((entries, start) in journals()) {
        let book = Book::of(entries.iter().cloned());
        let plan = plan(start, Vec::new());
        let found = rehearse(&book, &plan, plan.to).expect("a span of forty days");
        for kept in [&found.was, &found.stays, &found.would] {
            for now in moments(&entries, start) {
                let (one, other) = (marks(&book, now), marks(&kept.book, now));
                prop_assert_eq!(format!("{:?}", one), format!("{:?}", other));
            }
            for step in 0..6 {
                let day = book.place_at(plan.to).zone.date(plus_minutes(start, step * 7 * 24 * 60));
                prop_assert_eq!(week(&book, Week::of(day), plan.to), week(&kept.book, Week::of(day), plan.to));
            }
            prop_assert!(book.entries().eq(kept.book.entries()));
        }
        prop_assert!(found.is_same());
        prop_assert_eq!(&found.was.margins, &found.would.margins);
        prop_assert_eq!(&found.was.cuts, &found.would.cuts);
        prop_assert_eq!(differences(&book, &found.would.book, &plan).1, 0);
        adds_up(&found);
    }

    #[test]
    fn whatever_is_changed_sums_are_sums(
        (entries, start) in journals(),
        changed in proptest::collection::vec(changes(), 1..3),
    ) {
        let book = Book::of(entries);
        let plan = plan(start, changed);
        // What cannot be rehearsed is another test's.
        if let Ok(found) = rehearse(&book, &plan, plan.to) {
            adds_up(&found);
            let again = rehearse(&book, &plan, plan.to).expect("what was rehearsed before");
            prop_assert_eq!(&found.would.turns, &again.would.turns);
        }
    }
}

/// The moments of changes, each so many minutes after the one before.
fn still_pool(gaps: &[i64]) -> (Book, Timestamp, Vec<Timestamp>) {
    let mut script = Script::place("Europe/London", "08:00 20:00");
    let start = script.at("2026-03-01 00:00");
    let mut at = start;
    let mut all = Vec::new();
    for gap in gaps {
        at = plus_minutes(at, *gap);
        script.add(
            "2026-03-01 00:00",
            Event::Did(Duty::Change, NORTH_SALT, Part::Whole),
        );
        script.entries.last_mut().expect("the change just added").at = at;
        all.push(at);
    }
    (script.book(), start, all)
}

proptest! {
    #![proptest_config(config(32))]

    #[test]
    fn air_never_shortens_an_interval(gaps in proptest::collection::vec(600_i64..6_000, 4..18)) {
        let (book, start, deeds) = still_pool(&gaps);
        let air = Change::With { pool: SALT, gear: Gear::Air, proven: false };
        let plan = plan(start, vec![air]);
        let found = rehearse(&book, &plan, plan.to).expect("a pool without air");
        for now in deeds.into_iter().filter(|at| *at <= plan.to) {
            let due = |book: &Book| {
                let found = standing(book, &book.place_at(now), Duty::Change, NORTH_SALT, now).expect("a pool in use");
                (found.due, found.hazard)
            };
            prop_assert!(due(&found.stays.book) >= due(&book));
        }
        prop_assert!(found.would.changes() <= found.was.changes());
        let changes: Vec<Timestamp> = found.would.turns.iter().filter(|turn| turn.duty == Duty::Change).map(|turn| turn.at).collect();
        // Nobody does it more than half an interval early.
        for pair in changes.windows(2) {
            prop_assert!(pair[1] - pair[0] >= SignedDuration::from_hours(3 * 24), "{:?}", changes);
        }
        let people: Vec<CarerId> = found.would.minutes_of().into_keys().collect();
        prop_assert!(people.iter().all(|who| *who == CarerId(1)), "{:?}", people);
    }
}
