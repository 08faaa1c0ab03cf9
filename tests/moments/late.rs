//! Late turns: passed on step by step, put off, freed, and called only when people are awake.

use wrackline_core::care::{Duty, board};
use wrackline_core::journal::{CarerChange, Event};
use wrackline_core::moment::{Step, called_at, items, step_times};
use wrackline_core::place::{CarerId, Role};
use wrackline_core::rota::{Hand, hand, stand_in};
use wrackline_tests::journal::{NORTH_SALT, Script};

use super::{script, tale};

#[test]
fn a_late_change_is_passed_on_step_by_step() {
    let expected = [
        "03-04 08:00 round: change",
        "03-04 20:00 late: change, carer",
        "03-05 08:00 round: change, stand-in",
        "03-05 20:00 late: change, keeper",
        "03-06 08:00 round: change, hazard",
    ];
    // Overdue 03-04 20:00, hazard 03-06 08:00: a third of the 36 h between them from step to step.
    for is_quiet in [false, true] {
        let script = script("08:00", is_quiet, "03-02 08:00 change");
        assert_eq!(tale(&script, "03-03 12:00", "03-06 12:00", "change"), expected);
    }
}

/// When the change is passed on, as it stands at a moment.
fn steps(script: &Script, moment: &str, duty: Duty) -> Vec<String> {
    let (book, now) = (script.book(), script.at(&format!("2026-{moment}")));
    let standing = script
        .standing(&format!("2026-{moment}"), duty, NORTH_SALT)
        .expect("a duty");
    step_times(&book.place_at(now), &standing)
        .into_iter()
        .map(|(_, at)| script.local(at))
        .collect()
}

#[test]
fn the_steps_are_spaced_up_to_the_hazard_and_wait_for_the_morning() {
    let check = |is_quiet, duty, expected: &[&str]| {
        let script = script("12:00", is_quiet, "03-02 12:00 change; 03-02 12:00 scrub");
        assert_eq!(steps(&script, "03-02 13:00", duty), expected, "{duty:?}");
    };
    // Overdue at midnight, hazard at 12:00 a day and a half later.
    check(
        false,
        Duty::Change,
        &["03-05 00:00", "03-05 12:00", "03-06 00:00", "03-06 12:00"],
    );
    check(
        true,
        Duty::Change,
        &["03-05 07:00", "03-05 12:00", "03-06 07:00", "03-06 12:00"],
    );
    // What is never a hazard is passed on day by day, three times.
    check(false, Duty::Scrub, &["03-23 12:00", "03-24 12:00", "03-25 12:00"]);
    check(
        false,
        Duty::Condition,
        &["03-05 00:00", "03-06 00:00", "03-07 00:00"],
    );
}

#[test]
fn what_is_put_off_comes_back_once() {
    let lines = "03-02 08:00 change; 03-04 09:00 later change 03-04 15:00";
    let script = script("08:00", false, lines);
    let found = tale(&script, "03-03 12:00", "03-05 12:00", "change");
    let expected = [
        "03-04 08:00 round: change",
        "03-04 15:00 late: change",
        "03-04 20:00 late: change, carer",
        "03-05 08:00 round: change, stand-in",
    ];
    assert_eq!(found, expected);
}

#[test]
fn while_it_is_put_off_no_call_names_it() {
    let lines = "03-02 08:00 change; 03-04 09:00 later change 03-05 09:30";
    let found = tale(
        &script("08:00", false, lines),
        "03-03 12:00",
        "03-05 20:00",
        "change",
    );
    let expected = [
        "03-04 08:00 round: change",
        "03-05 09:30 late: change, stand-in",
        "03-05 20:00 late: change, keeper",
    ];
    assert_eq!(found, expected);
    // Done meanwhile, it does not come back.
    let done = &format!("{lines}; 03-04 12:00 change");
    let found = tale(
        &script("08:00", false, done),
        "03-03 12:00",
        "03-05 20:00",
        "change",
    );
    assert_eq!(found, ["03-04 08:00 round: change"]);
    // Put off into the night, it comes back in the morning.
    let night = "03-02 08:00 change; 03-04 09:00 later change 03-04 23:30";
    let found = tale(
        &script("20:00", true, night),
        "03-04 12:00",
        "03-05 10:00",
        "change",
    );
    assert_eq!(
        found,
        ["03-05 07:00 late: change", "03-05 08:00 late: change, carer"]
    );
}

#[test]
fn whose_turn_it_is() {
    let check = |lines: &str, moment: &str, carer: Option<u32>, settled: bool| {
        let mut script = Script::place("UTC", "08:00 20:00");
        let start = "2026-01-01 00:00";
        script.add(start, Event::Carer(CarerId(2), CarerChange::Added(Role::Regular)));
        script.add(start, Event::Carer(CarerId(3), CarerChange::Added(Role::Helper)));
        script.tell("03-02 08:00 change");
        script.tell(lines);
        let (book, now) = (script.book(), script.at(&format!("2026-{moment}")));
        let standing = script
            .standing(&format!("2026-{moment}"), Duty::Change, NORTH_SALT)
            .expect("a change");
        let found = hand(&book, &book.place_at(now), &standing, now);
        assert_eq!(
            (found.carer, found.settled),
            (carer.map(CarerId), settled),
            "{lines} at {moment}"
        );
    };
    // 4 March is day 739,678 after 1 January of the year 1, and the enclosure is the first one: an odd sum.
    check("", "03-04 09:00", Some(2), false);
    check("03-04 09:00 took change", "03-04 10:00", Some(1), true);
    check("03-04 09:00 took change", "03-04 08:30", Some(2), false);
    check("03-04 09:00 cannot change", "03-04 10:00", None, true);
    check(
        "03-04 09:00 cannot change; 03-04 11:00 took change",
        "03-04 12:00",
        Some(1),
        true,
    );
    // What was freed is freed for that turn alone.
    check(
        "03-04 09:00 cannot change; 03-04 12:00 change",
        "03-04 13:00",
        Some(2),
        false,
    );
}

#[test]
fn who_is_asked_instead() {
    let mut script = Script::place("UTC", "08:00");
    let start = "2026-01-01 00:00";
    for (number, role) in [(2, Role::Regular), (3, Role::Helper), (4, Role::Sitter)] {
        script.add(start, Event::Carer(CarerId(number), CarerChange::Added(role)));
    }
    script.add(
        start,
        Event::Carer(CarerId(1), CarerChange::StandIn(Some(CarerId(4)))),
    );
    let now = script.at("2026-02-01 00:00");
    let book = script.book();
    let place = book.place_at(now);
    let change = script
        .standing("2026-02-01 00:00", Duty::Change, NORTH_SALT)
        .expect("a change");
    let check = |carer: Option<u32>, expected: u32| {
        assert_eq!(
            stand_in(&book, &place, &change, carer.map(CarerId), now),
            Some(CarerId(expected)),
            "{carer:?}"
        );
    };
    check(Some(1), 4);
    check(Some(2), 4);
    check(Some(4), 1);
    check(None, 1);
}

#[test]
fn freeing_a_turn_that_was_put_off_brings_it_back_at_once() {
    let lines = "03-02 08:00 change; 03-04 21:00 later change 03-06 09:00; 03-04 22:00 cannot change";
    let script = script("08:00", false, lines);
    let (book, now) = (script.book(), script.at("2026-03-04 22:30"));
    let place = book.place_at(now);
    let wanted = |now| {
        let all = items(&book, &place, &board(&book, &place, now), now, now);
        all.into_iter()
            .filter(|item| {
                ["late.change", "freed.change"]
                    .iter()
                    .any(|start| item.key.starts_with(start))
            })
            .count()
    };
    assert_eq!(wanted(script.at("2026-03-04 20:30")), 1);
    assert_eq!(wanted(script.at("2026-03-04 21:30")), 0);
    assert_eq!(wanted(now), 1);
}

#[test]
fn after_the_hazard_nobody_is_called_for_a_step_before_it() {
    // The keeper's step, 03-05 20:00, passes while the change is put off; it is given up right after the hazard.
    let lines = "03-02 08:00 change; 03-05 19:00 later change 03-06 07:30; 03-06 08:01 cannot change";
    let all = super::posts(&script("08:00", false, lines), "03-05 18:00", "03-06 12:00");
    let named: Vec<_> = all
        .iter()
        .flat_map(|(_, post)| post.subject.turns())
        .filter(|called| called.turn.duty == Duty::Change)
        .filter_map(|called| called.names)
        .collect();
    assert!(named.contains(&Step::Hazard), "{named:?}");
    assert!(!named.contains(&Step::Keeper), "{named:?}");
}

#[test]
fn for_a_helpers_turn_whoever_stands_in_is_called_at_once() {
    let mut script = Script::place("UTC", "08:00");
    let start = "2026-01-01 00:00";
    for (number, role) in [(2, Role::Regular), (3, Role::Helper), (4, Role::Sitter)] {
        script.add(start, Event::Carer(CarerId(number), CarerChange::Added(role)));
    }
    let change = script
        .standing("2026-02-01 00:00", Duty::Change, NORTH_SALT)
        .expect("a change");
    let check = |script: &Script, step: Step, expected: &[u32]| {
        let (book, now) = (script.book(), script.at("2026-02-01 00:00"));
        let place = book.place_at(now);
        let hand = Hand {
            carer: Some(CarerId(3)),
            settled: true,
            ..Hand::default()
        };
        let called = called_at(&book, &place, &change, &hand, step, now);
        let expected: Vec<CarerId> = expected.iter().copied().map(CarerId).collect();
        assert_eq!(called, expected, "{step:?}");
    };
    // The next one who shares the work, until somebody is named.
    check(&script, Step::Carer, &[4]);
    script.add(
        start,
        Event::Carer(CarerId(3), CarerChange::StandIn(Some(CarerId(2)))),
    );
    check(&script, Step::Carer, &[2]);
    check(&script, Step::Keeper, &[1]);
    // With nobody to stand in the keeper hears of it.
    for number in [1, 2, 4] {
        let none = Event::Carer(CarerId(number), CarerChange::Share(0.0));
        script.add(start, none);
    }
    script.add(start, Event::Carer(CarerId(3), CarerChange::StandIn(None)));
    check(&script, Step::Carer, &[1]);
}
