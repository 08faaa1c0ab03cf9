//! Eight weeks of a still pool of 8 L, changed every second morning by two people in turn, under other keepings.

use std::collections::BTreeMap;

use jiff::SignedDuration;
use wrackline_core::care::{Duty, Every, Numbers, Rule};
use wrackline_core::journal::{CarerChange, Event, Part};
use wrackline_core::place::{CarerId, Gear, Role};
use wrackline_core::rehearse::{Change, Cut, Kept, Plan, Problem, Rehearsal, rehearse, rule_of_changes};
use wrackline_core::rota::work;
use wrackline_tests::journal::{NORTH_SALT, SALT, Script};

const AIR: Change = Change::With {
    pool: SALT,
    gear: Gear::Air,
    proven: false,
};

/// Changes ten minutes after the morning round of 27 February and of every second day, by carers 2 and 1 in turn.
fn eight_weeks() -> Script {
    let mut script = Script::place("UTC", "08:00 20:00");
    script.add(
        "2000-01-01 00:00",
        Event::Carer(CarerId(2), CarerChange::Added(Role::Regular)),
    );
    let first = script.at("2026-02-27 08:10");
    for turn in 0..30_u32 {
        let who = CarerId(1 + turn % 2);
        script.add_by(
            who,
            "2026-02-27 08:10",
            Event::Did(Duty::Change, NORTH_SALT, Part::Whole),
        );
        let entry = script.entries.last_mut().expect("the change just added");
        entry.at = first + SignedDuration::from_hours(48 * i64::from(turn));
    }
    script
}

fn plan(script: &Script, changes: &[Change]) -> Plan {
    Plan {
        changes: changes.to_vec(),
        pools: vec![SALT],
        from: script.at("2026-03-01 00:00"),
        to: script.at("2026-04-26 00:00"),
    }
}

fn found(script: &Script, changes: &[Change]) -> Result<Rehearsal, Problem> {
    rehearse(
        &script.book(),
        &plan(script, changes),
        script.at("2026-05-01 00:00"),
    )
}

/// Days on which a duty was done.
fn days(script: &Script, kept: &Kept, duty: Duty) -> String {
    let of = kept.turns.iter().filter(|turn| turn.duty == duty);
    let all: Vec<String> = of.map(|turn| script.local(turn.at)).collect();
    all.join(", ")
}

fn count(kept: &Kept, duty: Duty) -> usize {
    kept.turns.iter().filter(|turn| turn.duty == duty).count()
}

/// The least that was left before a change was a hazard, in hours.
fn least_h(kept: &Kept) -> i64 {
    let change = kept.margins.iter().find(|one| one.duty.family() == Duty::Change);
    change.and_then(|one| one.least).expect("a margin of changes").0 / 60
}

#[test]
fn air_makes_changes_rarer_and_leaves_the_rest_to_be_done() {
    let script = eight_weeks();
    let found = found(&script, &[AIR]).expect("a pool without air");
    assert_eq!(
        (found.was.changes(), found.stays.changes(), found.would.changes()),
        (28, 28, 8)
    );
    // The first change comes at its old time: until it is made the stricter cadence holds.
    assert_eq!(
        days(&script, &found.would, Duty::Change),
        "03-01 08:10, 03-08 08:10, 03-15 08:10, 03-22 08:10, 03-29 08:10, 04-05 08:10, 04-12 08:10, 04-19 08:10"
    );
    assert_eq!(
        (found.was.water().litres, found.would.water().litres),
        (224.0, 64.0)
    );
    // Conditioner holds for 48 h whatever moves the water, and each change renews it.
    assert_eq!(
        (
            count(&found.was, Duty::Condition),
            count(&found.would, Duty::Condition)
        ),
        (0, 24)
    );
    // Topped up as late as the changes did it: on every second day.
    assert_eq!(count(&found.would, Duty::TopUp), 24);
    assert_eq!(days(&script, &found.would, Duty::AirCheck), "03-31 08:10");
    let place = found.would.book.place_at(script.at("2026-04-01 00:00"));
    let minutes = |duty: Duty| work(&place, duty, NORTH_SALT).minutes;
    let rest = 24.0 * (minutes(Duty::Condition) + minutes(Duty::TopUp)) + minutes(Duty::AirCheck);
    assert!((found.was.minutes() - 28.0 * minutes(Duty::Change)).abs() < 1e-9);
    assert!((found.would.minutes() - 8.0 * minutes(Duty::Change) - rest).abs() < 1e-9);
    assert_eq!((found.weekly(56.0), found.days), (7.0, 56.0));
    assert!(!found.is_small() && !found.is_same());
}

#[test]
fn both_go_on_to_share_the_turns() {
    let script = eight_weeks();
    let found = found(&script, &[AIR]).expect("a pool without air");
    let shares = |kept: &Kept| -> BTreeMap<u32, usize> {
        let mut all = BTreeMap::new();
        for turn in kept.turns.iter().filter(|turn| turn.duty == Duty::Change) {
            *all.entry(turn.by.0).or_insert(0) += 1;
        }
        all
    };
    assert_eq!(shares(&found.was), BTreeMap::from([(1, 14), (2, 14)]));
    assert_eq!(shares(&found.would), BTreeMap::from([(1, 4), (2, 4)]));
}

#[test]
fn hazards_are_further_off_and_a_power_cut_is_nearer() {
    let script = eight_weeks();
    let found = found(&script, &[AIR]).expect("a pool without air");
    // 4 days less 2 as it was; 10 less 2 with the same deeds; 10 less 7 replayed.
    assert_eq!(
        (least_h(&found.was), least_h(&found.stays), least_h(&found.would)),
        (48, 192, 72)
    );
    assert_eq!((found.was.hazards(), found.would.hazards()), (0, 0));
    let cut = |kept: &Kept| -> Cut { *kept.cuts.first().expect("the cuts of a pool") };
    let (was, would) = (cut(&found.was), cut(&found.would));
    // Nothing runs in a still pool. The morning round lies ten minutes before the change: 96 h less 47 h 50 min.
    assert_eq!((was.stopped, was.rounds, was.within), (0, 112, [0, 0]));
    assert_eq!(was.worst.minutes, 48 * 60 + 10);
    // A pool of seven days without air is a still one: 96 h less 167 h 50 min.
    assert_eq!((would.stopped, would.rounds), (112, 112));
    assert_eq!(would.worst.minutes, -(71 * 60 + 50));
    assert_eq!(script.local(would.worst.at), "03-08 08:00");
    // Rounds lie ten minutes less than 12, 24, … 168 h behind a change: the last seven of the fourteen of a week have at most
    // 12 h left of 96, the last eight at most 24 h. The span ends before the last round of its eighth week.
    assert_eq!(would.within, [7 * 7 + 6, 7 * 8 + 7]);
}

#[test]
fn a_filter_counts_once_it_is_proven() {
    let script = eight_weeks();
    let filter = |proven| Change::With {
        pool: SALT,
        gear: Gear::Filter,
        proven,
    };
    let unproven = found(&script, &[filter(false)]).expect("a pool without a filter");
    assert_eq!(unproven.would.changes(), 28);
    // Tests of a filter that is not proven, and rinsing, come on top.
    assert!(unproven.would.minutes() > unproven.was.minutes());
    let proven = found(&script, &[filter(true)]).expect("a pool without a filter");
    assert_eq!(count(&proven.would, Duty::PartChange), 7);
    assert_eq!(
        (count(&proven.would, Duty::Change), proven.would.changes()),
        (1, 8)
    );
    // 8 L are over 2 US gal: half of it goes.
    assert_eq!(proven.would.water().litres, 8.0 + 7.0 * 4.0);
}

#[test]
fn numbers_and_volumes_are_rehearsed() {
    let script = eight_weeks();
    let numbers = Numbers {
        every: Some(Every::Days(3)),
        ..Numbers::default()
    };
    let every = found(&script, &[Change::Numbers(Rule::ChangeStill, numbers)]).expect("other numbers");
    // From 27 February on, every third day.
    assert_eq!(every.would.changes(), 19);
    assert_eq!(least_h(&every.would), 24);
    let volume = found(&script, &[Change::Litres(SALT, 20.0)]).expect("another volume");
    assert_eq!((volume.would.changes(), volume.would.water().litres), (28, 560.0));
    let place = script.book().place_at(script.at("2026-03-01 00:00"));
    let rule = |changes: &[Change]| rule_of_changes(&place.pools[&SALT], changes);
    assert_eq!(
        (rule(&[]), rule(&[AIR])),
        (Rule::ChangeStill, Rule::ChangeAerated)
    );
}

#[test]
fn what_stood_still_in_truth_runs_in_rehearsal() {
    let mut script = eight_weeks();
    script.tell("02-20 08:00 gear air added; 03-20 09:00 gear air stopped; 04-02 09:00 gear air started");
    let through = found(&script, &[AIR]).expect("air that stood for a while");
    let place = through.would.book.place_at(script.at("2026-03-25 00:00"));
    assert_eq!(place.pools[&SALT].air.expect("air").stopped, None);
    let without = Change::Without {
        pool: SALT,
        gear: Gear::Air,
    };
    let found = found(&script, &[without]).expect("a pool with air");
    let place = found.would.book.place_at(script.at("2026-03-25 00:00"));
    assert_eq!(place.pools[&SALT].air, None);
    // They changed it every second day whatever the cadence was, five days early: half an interval is the most.
    assert!(found.would.changes() >= 28, "{}", found.would.changes());
}

#[test]
fn what_cannot_be_rehearsed_is_said() {
    let script = eight_weeks();
    let check = |changes: &[Change], from: &str, to: &str, now: &str, expected: Problem| {
        let [from, to, now] = [from, to, now].map(|day| script.at(&format!("2026-{day} 00:00")));
        let plan = Plan {
            changes: changes.to_vec(),
            pools: vec![SALT],
            from,
            to,
        };
        assert_eq!(rehearse(&script.book(), &plan, now).map(drop), Err(expected));
    };
    check(&[], "05-02", "05-20", "05-01", Problem::ToCome);
    check(&[], "04-02", "05-20", "05-01", Problem::EndToCome);
    check(&[], "04-02", "03-20", "05-01", Problem::Backwards);
    check(&[], "04-02", "04-08", "05-01", Problem::Short);
    let without = Change::Without {
        pool: SALT,
        gear: Gear::Air,
    };
    let never = Problem::NeverThere {
        pool: SALT,
        gear: Gear::Air,
    };
    check(&[without], "04-02", "04-20", "05-01", never);
    check(
        &[Change::Litres(SALT, 8.0)],
        "04-02",
        "04-20",
        "05-01",
        Problem::SameLitres(SALT),
    );
    let same = Change::Numbers(Rule::ChangeStill, Numbers::default());
    check(
        &[same],
        "04-02",
        "04-20",
        "05-01",
        Problem::SameNumbers(Rule::ChangeStill),
    );
}
