//! The catalogue's numbers, and those that a place sets.

use wrackline_core::care::{Basis, CATALOGUE, Duty, Every, Grace, Numbers, Rule};
use wrackline_core::journal::Event;

use super::{check, two_rounds};
use wrackline_tests::journal::NORTH_SALT;

/// The table of the project's catalogue of duties, in words: every, grace, hazard, guard in hours.
const TABLE: [(&str, &str, &str, &str, u32); 14] = [
    ("still", "2 days", "12 h", "96 h", 12),
    ("aerated", "7 days", "24 h", "240 h", 12),
    ("part-change", "7 days", "48 h", "504 h", 12),
    ("condition", "48 h", "12 h", "never", 24),
    ("top-up", "1 days", "24 h", "96 h", 2),
    ("test-cycling", "2 days", "48 h", "never", 1),
    ("test", "7 days", "48 h", "never", 1),
    ("rinse", "30 days", "168 h", "never", 24),
    ("air-check", "30 days", "168 h", "never", 1),
    ("look", "1 days, first round", "next round", "never", 0),
    ("reading", "1 days, first round", "12 h", "never", 0),
    ("leak-check", "7 days", "48 h", "never", 1),
    ("scrub", "14 days", "168 h", "never", 24),
    ("hygrometer", "180 days", "720 h", "never", 24),
];

#[test]
fn the_catalogue_holds_these_numbers() {
    assert_eq!(CATALOGUE.len(), TABLE.len());
    for (row, (code, every, grace, hazard, guard_h)) in CATALOGUE.iter().zip(TABLE) {
        let found_every = match row.every {
            Every::Days(days) => format!("{days} days"),
            Every::Hours(hours) => format!("{hours} h"),
        };
        let first = if row.first_round { ", first round" } else { "" };
        let found_grace = match row.grace {
            Grace::Hours(hours) => format!("{hours} h"),
            Grace::NextRound => "next round".to_owned(),
        };
        let found_hazard = row
            .hazard_h
            .map_or("never".to_owned(), |hours| format!("{hours} h"));
        let found = (
            row.rule.code(),
            format!("{found_every}{first}"),
            found_grace,
            found_hazard,
        );
        assert_eq!(
            found,
            (code, every.to_owned(), grace.to_owned(), hazard.to_owned())
        );
        assert_eq!(row.guard_min, guard_h * 60, "{code}");
    }
}

#[test]
fn old_water_is_a_hazard_and_a_late_scrub_never() {
    let check = |duty, moment: &str, expected: &str| {
        check(
            duty,
            "03-01 07:00 nested; 03-02 08:00 change; 03-02 08:00 scrub; 03-02 08:00 leak",
            moment,
            expected,
        );
    };
    check(
        Duty::Change,
        "03-06 07:59",
        "still, 03-04 08:00, 03-04 20:00, 03-06 08:00, overdue",
    );
    check(
        Duty::Change,
        "03-06 08:00",
        "still, 03-04 08:00, 03-04 20:00, 03-06 08:00, hazard",
    );
    check(
        Duty::TopUp,
        "03-06 08:00",
        "top-up, 03-03 08:00, 03-04 08:00, 03-06 08:00, hazard",
    );
    for moment in ["03-30 08:00", "12-31 08:00"] {
        check(
            Duty::Scrub,
            moment,
            "scrub, 03-16 08:00, 03-23 08:00, never, overdue",
        );
        check(
            Duty::LeakCheck,
            moment,
            "leak-check, 03-09 08:00, 03-11 08:00, never, overdue",
        );
        check(
            Duty::Condition,
            moment,
            "condition, 03-04 08:00, 03-04 20:00, never, overdue",
        );
    }
}

#[test]
fn the_enclosures_duties_keep_the_first_round() {
    let done = "03-02 21:00 look; 03-02 21:00 reading; 03-02 21:00 hygrometer";
    let check = |duty, expected: &str| check(duty, done, "03-02 22:00", expected);
    check(Duty::Look, "look, 03-03 08:00, 03-03 20:00, never, calm");
    check(Duty::Reading, "reading, 03-03 08:00, 03-03 20:00, never, calm");
    // The others keep the round at which they were done.
    check(
        Duty::Hygrometer,
        "hygrometer, 08-29 20:00, 09-28 20:00, never, calm",
    );
}

/// The change of the salt pool, done on 2 March 08:00, at a moment after numbers were set at another.
fn with_numbers(set: &str, numbers: Numbers, moment: &str, expected: &str) {
    let mut script = two_rounds("03-02 08:00 change");
    script.add(&format!("2026-{set}"), Event::Numbers(Rule::ChangeStill, numbers));
    assert_eq!(
        script.line(moment, Duty::Change, NORTH_SALT),
        expected,
        "{numbers:?} set at {set}"
    );
}

#[test]
fn a_place_sets_its_own_numbers() {
    let every = |every| Numbers {
        every: Some(every),
        ..Numbers::default()
    };
    let all = Numbers {
        every: Some(Every::Days(3)),
        grace_h: Some(6),
        hazard_h: Some(120),
    };
    with_numbers(
        "03-02 12:00",
        all,
        "03-02 13:00",
        "still, 03-05 08:00, 03-05 14:00, 03-07 08:00, calm",
    );
    // Each one alone leaves the others as they were.
    let three = "still, 03-05 08:00, 03-05 20:00, 03-06 08:00, calm";
    with_numbers("03-02 12:00", every(Every::Days(3)), "03-02 13:00", three);
    let grace = Numbers {
        grace_h: Some(2),
        ..Numbers::default()
    };
    with_numbers(
        "03-02 12:00",
        grace,
        "03-02 13:00",
        "still, 03-04 08:00, 03-04 10:00, 03-06 08:00, calm",
    );
    let hazard = Numbers {
        hazard_h: Some(72),
        ..Numbers::default()
    };
    with_numbers(
        "03-02 12:00",
        hazard,
        "03-02 13:00",
        "still, 03-04 08:00, 03-04 20:00, 03-05 08:00, calm",
    );
    // By hours: the last round that is at most two hours after the limit.
    let hours = "still, 03-03 20:00, 03-04 08:00, 03-06 08:00, calm";
    with_numbers("03-02 12:00", every(Every::Hours(36)), "03-02 13:00", hours);
    with_numbers("03-02 12:00", every(Every::Hours(46)), "03-02 13:00", STILL);
    with_numbers("03-02 12:00", every(Every::Hours(45)), "03-02 13:00", hours);
    // A stricter one that is over at once falls due at the next round.
    let stricter = "still, 03-03 20:00, 03-04 08:00, 03-06 08:00, calm";
    with_numbers("03-03 10:00", every(Every::Days(1)), "03-03 11:00", stricter);
    // Before it was set, the old ones held.
    with_numbers("03-03 10:00", every(Every::Days(1)), "03-03 09:00", STILL);
}

const STILL: &str = "still, 03-04 08:00, 03-04 20:00, 03-06 08:00, calm";

#[test]
fn every_answer_says_what_its_numbers_rest_on() {
    let mut script = two_rounds("03-02 08:00 change");
    let basis = |script: &wrackline_tests::journal::Script, duty| {
        script
            .standing("2026-03-02 13:00", duty, NORTH_SALT)
            .expect("a duty")
            .cadence
            .basis
    };
    assert_eq!(basis(&script, Duty::Change), Basis::CommonPractice);
    assert_eq!(basis(&script, Duty::Condition), Basis::Label);
    let numbers = Numbers {
        grace_h: Some(6),
        ..Numbers::default()
    };
    script.add("2026-03-02 12:00", Event::Numbers(Rule::ChangeStill, numbers));
    assert_eq!(basis(&script, Duty::Change), Basis::Place);
    assert_eq!(basis(&script, Duty::Condition), Basis::Label);
}
