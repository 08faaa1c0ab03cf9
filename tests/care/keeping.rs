//! What renews what, what a quiet zone holds back, and which duties a pool has at each point of its life.
//! The rows follow from the project's own catalogue of duties.

use wrackline_core::care::{Duty, board};
use wrackline_core::place::Target;

use super::{check, target_of, two_rounds};
use wrackline_tests::journal::{NORTH_ITSELF, NORTH_SALT, Script};

/// A pool that has every duty that a pool can have at once.
const ALL_DUTIES: &str = "03-01 07:00 gear air added; 03-01 07:00 gear filter added; 03-01 07:00 nested";

#[test]
fn doing_one_duty_renews_these() {
    let check = |done: &str, renewed: &[Duty]| {
        let script = two_rounds(&format!("{ALL_DUTIES}; 03-10 08:00 {done}"));
        let found: Vec<Duty> = [
            Duty::Change,
            Duty::Condition,
            Duty::TopUp,
            Duty::Test,
            Duty::Rinse,
        ]
        .into_iter()
        .chain([
            Duty::AirCheck,
            Duty::LeakCheck,
            Duty::Scrub,
            Duty::Look,
            Duty::Reading,
            Duty::Hygrometer,
        ])
        .filter(|duty| {
            let standing = script.standing("2026-03-10 09:00", *duty, target_of(*duty));
            standing
                .unwrap_or_else(|| panic!("{duty:?}"))
                .anchor
                .last
                .is_some()
        })
        .collect();
        assert_eq!(found, renewed, "{done}");
    };
    check(
        "change",
        &[Duty::Change, Duty::Condition, Duty::TopUp, Duty::Test],
    );
    check("part", &[Duty::Change, Duty::Condition, Duty::TopUp]);
    check("condition", &[Duty::Condition]);
    check("topup", &[Duty::TopUp]);
    check("test", &[Duty::Test]);
    check("rinse", &[Duty::Rinse]);
    check("air", &[Duty::AirCheck]);
    check("leak", &[Duty::LeakCheck]);
    check("scrub", &[Duty::Scrub]);
    check("look", &[Duty::Look]);
    check("reading", &[Duty::Reading]);
    check("hygrometer", &[Duty::Hygrometer]);
    check("humidity 80", &[Duty::Reading]);
    check("temperature 25", &[Duty::Reading]);
}

#[test]
fn a_change_dates_what_it_renews() {
    let lines = &format!("{ALL_DUTIES}; 03-04 08:00 change");
    let check = |duty, expected: &str| check(duty, lines, "03-04 09:00", expected);
    check(
        Duty::Condition,
        "condition, 03-06 08:00, 03-06 20:00, never, calm",
    );
    check(Duty::TopUp, "top-up, 03-05 08:00, 03-06 08:00, 03-08 08:00, calm");
    check(Duty::Test, "test-cycling, 03-06 08:00, 03-08 08:00, never, calm");
}

#[test]
fn a_quiet_zone_holds_back_what_disturbs_and_nothing_else() {
    let before = "03-01 07:00 nested; 03-02 08:00 leak; 03-02 08:00 scrub; 03-02 08:00 change";
    let quiet = &format!("{before}; 03-05 10:00 quiet 04-02");
    check(
        Duty::LeakCheck,
        before,
        "03-12 09:00",
        "leak-check, 03-09 08:00, 03-11 08:00, never, overdue",
    );
    check(
        Duty::LeakCheck,
        quiet,
        "03-12 09:00",
        "leak-check, 04-02 08:00, 04-04 08:00, never, calm",
    );
    check(
        Duty::Scrub,
        quiet,
        "03-30 09:00",
        "scrub, 04-02 08:00, 04-09 08:00, never, calm",
    );
    check(
        Duty::Change,
        quiet,
        "03-12 09:00",
        "still, 03-04 08:00, 03-04 20:00, 03-06 08:00, hazard",
    );
    // Before the zone was set up nothing was held, for ever.
    check(
        Duty::LeakCheck,
        quiet,
        "03-05 09:00",
        "leak-check, 03-09 08:00, 03-11 08:00, never, calm",
    );
    // On its review date it falls due at the first round, and is not late from its midnight on.
    check(
        Duty::LeakCheck,
        quiet,
        "04-02 00:00",
        "leak-check, 04-02 08:00, 04-04 08:00, never, calm",
    );
    check(
        Duty::LeakCheck,
        quiet,
        "04-02 09:00",
        "leak-check, 04-02 08:00, 04-04 08:00, never, due",
    );
    check(
        Duty::LeakCheck,
        quiet,
        "04-05 09:00",
        "leak-check, 04-02 08:00, 04-04 08:00, never, overdue",
    );
    let done = &format!("{quiet}; 04-02 08:00 leak");
    check(
        Duty::LeakCheck,
        done,
        "04-02 09:00",
        "leak-check, 04-09 08:00, 04-11 08:00, never, calm",
    );
    // One that ends early holds no more.
    let ended = &format!("{quiet}; 03-10 10:00 quiet none");
    check(
        Duty::LeakCheck,
        ended,
        "03-12 09:00",
        "leak-check, 03-09 08:00, 03-11 08:00, never, overdue",
    );
}

#[test]
fn what_is_held_says_so() {
    let script = two_rounds("03-01 07:00 nested; 03-05 10:00 quiet 04-02");
    let held = |moment: &str, duty| {
        script
            .standing(moment, duty, NORTH_SALT)
            .expect("a duty")
            .held
            .map(|zone| zone.spot)
    };
    for duty in [Duty::LeakCheck, Duty::Scrub] {
        assert_eq!(
            held("2026-04-01 23:59", duty).as_deref(),
            Some("left back"),
            "{duty:?}"
        );
        assert_eq!(held("2026-04-02 00:00", duty), None, "{duty:?}");
    }
    for duty in [Duty::Change, Duty::Condition, Duty::TopUp] {
        assert_eq!(held("2026-04-01 12:00", duty), None, "{duty:?}");
    }
}

fn duties(script: &Script, moment: &str, target: Target) -> Vec<Duty> {
    let (book, now) = (script.book(), script.at(moment));
    let all = board(&book, &book.place_at(now), now);
    all.iter()
        .filter(|standing| standing.turn.target == target)
        .map(|standing| standing.turn.duty)
        .collect()
}

#[test]
fn a_pools_life_says_which_duties_it_has() {
    let check = |life: &str, gear: &str, expected: &[Duty]| {
        let script = two_rounds(&format!("03-01 07:00 {life}; {gear}"));
        assert_eq!(
            duties(&script, "2026-03-05 12:00", NORTH_SALT),
            expected,
            "{life} {gear}"
        );
        // The enclosure keeps its own whatever its pools do.
        let enclosure = [Duty::Look, Duty::Reading, Duty::Hygrometer];
        assert_eq!(
            duties(&script, "2026-03-05 12:00", NORTH_ITSELF),
            enclosure,
            "{life}"
        );
    };
    let still = [Duty::Change, Duty::Condition, Duty::TopUp, Duty::Scrub];
    for life in ["life planned", "life leak-test", "life out-of-use"] {
        check(life, "03-01 08:00 gear filter added", &[]);
    }
    check("life cycling", "", &[Duty::TopUp]);
    check("life cycling", ALL_DUTIES, &[Duty::TopUp, Duty::Test]);
    check("life in-use", "", &still);
    let all = [
        Duty::Change,
        Duty::Condition,
        Duty::TopUp,
        Duty::Test,
        Duty::Rinse,
        Duty::AirCheck,
    ];
    check(
        "life in-use",
        ALL_DUTIES,
        &[&all[..], &[Duty::LeakCheck, Duty::Scrub]].concat(),
    );
    // A filter that runs makes conditioning needless.
    let filtered = "03-01 07:00 gear filter added-proven; 03-02 08:00 change";
    check(
        "life in-use",
        filtered,
        &[Duty::Change, Duty::TopUp, Duty::Test, Duty::Rinse, Duty::Scrub],
    );
}

#[test]
fn a_filter_is_tested_more_often_until_it_is_proven() {
    let check = |lines: &str, expected: &str| check(Duty::Test, lines, "03-03 12:00", expected);
    let cycling = "03-01 08:00 life cycling; 03-01 08:00 gear filter added; 03-02 08:00 test";
    check(cycling, "test-cycling, 03-04 08:00, 03-06 08:00, never, calm");
    let unproven = "03-01 08:00 gear filter added; 03-02 08:00 test";
    check(unproven, "test-cycling, 03-04 08:00, 03-06 08:00, never, calm");
    let proven = "03-01 08:00 gear filter added; 03-02 08:00 test; 03-03 09:00 gear filter proven";
    check(proven, "test, 03-09 08:00, 03-11 08:00, never, calm");
    check("03-02 08:00 change", "none");
}

#[test]
fn a_pool_that_comes_back_into_use_starts_anew() {
    let lines = "03-02 08:00 change; 03-03 09:00 life out-of-use; 03-20 09:00 life in-use";
    let check = |moment: &str, expected: &str| check(Duty::Change, lines, moment, expected);
    check(
        "03-02 09:00",
        "still, 03-04 08:00, 03-04 20:00, 03-06 08:00, calm",
    );
    check("03-10 09:00", "none");
    check(
        "03-20 10:00",
        "still, 03-22 08:00, 03-22 20:00, 03-24 09:00, calm",
    );
}
