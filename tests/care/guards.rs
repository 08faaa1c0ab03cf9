//! Guard times: a second log of the same work is kept apart from new work.
//! The hours are those of the project's own catalogue of duties.

use wrackline_core::care::{Duty, guard};
use wrackline_core::journal::Part;

use super::{target_of, two_rounds};

/// The entry in whose guard time a further log falls, by its own moment.
fn guarded_by(lines: &str, duty: Duty, part: Part, moment: &str) -> Option<(String, u32)> {
    let script = two_rounds(lines);
    let (book, at) = (script.book(), script.at(&format!("2026-{moment}")));
    let found = guard(&book, &book.place_at(at), duty, target_of(duty), part, at)?;
    Some((script.local(found.done.at), found.guard_min / 60))
}

#[test]
fn each_duty_has_its_guard_time() {
    let gear = "03-01 07:00 gear air added; 03-01 07:00 gear filter added; 03-01 07:00 nested";
    let check = |duty: Duty, hours: u32, last_inside: &str, first_outside: &str| {
        let lines = format!("{gear}; 03-10 08:00 {}", duty.code());
        let found = guarded_by(&lines, duty, Part::Whole, last_inside);
        assert_eq!(
            found,
            Some(("03-10 08:00".to_owned(), hours)),
            "{duty:?} at {last_inside}"
        );
        assert_eq!(
            guarded_by(&lines, duty, Part::Whole, first_outside),
            None,
            "{duty:?} at {first_outside}"
        );
    };
    check(Duty::Change, 12, "03-10 19:59", "03-10 20:00");
    check(Duty::PartChange, 12, "03-10 19:59", "03-10 20:00");
    check(Duty::Condition, 24, "03-11 07:59", "03-11 08:00");
    check(Duty::TopUp, 2, "03-10 09:59", "03-10 10:00");
    check(Duty::Test, 1, "03-10 08:59", "03-10 09:00");
    check(Duty::Rinse, 24, "03-11 07:59", "03-11 08:00");
    check(Duty::AirCheck, 1, "03-10 08:59", "03-10 09:00");
    check(Duty::LeakCheck, 1, "03-10 08:59", "03-10 09:00");
    check(Duty::Scrub, 24, "03-11 07:59", "03-11 08:00");
    check(Duty::Hygrometer, 24, "03-11 07:59", "03-11 08:00");
    // A back-dated log is guarded by what follows it.
    check(Duty::Change, 12, "03-09 20:01", "03-09 20:00");
    check(Duty::TopUp, 2, "03-10 06:01", "03-10 06:00");
}

#[test]
fn looks_and_readings_are_never_asked_about() {
    let lines = "03-10 08:00 look; 03-10 08:00 reading";
    for duty in [Duty::Look, Duty::Reading] {
        assert_eq!(
            guarded_by(lines, duty, Part::Whole, "03-10 08:00"),
            None,
            "{duty:?}"
        );
    }
}

#[test]
fn what_renews_a_duty_guards_it_too() {
    let check = |lines: &str, duty, moment: &str, expected: Option<&str>| {
        let found = guarded_by(lines, duty, Part::Whole, moment).map(|(at, _)| at);
        assert_eq!(found.as_deref(), expected, "{duty:?} at {moment} after {lines}");
    };
    let change = "03-10 08:00 change";
    check(change, Duty::Condition, "03-10 08:10", Some("03-10 08:00"));
    check(change, Duty::Condition, "03-11 07:59", Some("03-10 08:00"));
    check(change, Duty::Condition, "03-11 08:00", None);
    check(change, Duty::TopUp, "03-10 09:59", Some("03-10 08:00"));
    check(change, Duty::PartChange, "03-10 19:59", Some("03-10 08:00"));
    check("03-10 08:00 topup", Duty::Change, "03-10 08:10", None);
    check("03-10 08:00 condition", Duty::Change, "03-10 08:10", None);
    // The nearest one is named.
    check(
        "03-10 08:00 change; 03-10 18:00 change",
        Duty::Change,
        "03-10 17:00",
        Some("03-10 18:00"),
    );
    // A turn that was not needed is no log of work.
    check("03-10 08:00 notneeded change", Duty::Change, "03-10 08:10", None);
}

#[test]
fn parts_that_make_a_whole_are_no_second_log() {
    let check = |lines: &str, part: Part, is_guarded: bool| {
        let found = guarded_by(lines, Duty::Change, part, "03-10 10:00");
        assert_eq!(found.is_some(), is_guarded, "{part:?} after {lines}");
    };
    check("03-10 08:00 change 0.5", Part::Fraction(0.5), false);
    check("03-10 08:00 change 0.5", Part::Fraction(0.6), true);
    check(
        "03-10 08:00 change 0.3; 03-10 09:00 change 0.3",
        Part::Fraction(0.4),
        false,
    );
    check(
        "03-10 08:00 change 0.3; 03-10 09:00 change 0.3",
        Part::Fraction(0.5),
        true,
    );
    check("03-10 08:00 change 0.5", Part::Whole, true);
    check("03-10 08:00 change", Part::Fraction(0.5), true);
    check("03-10 08:00 change steps 1 2", Part::Steps(0b1100), false);
    check("03-10 08:00 change steps 1 2", Part::Steps(0b0110), true);
    check("03-09 21:00 change 0.5", Part::Fraction(1.0), false);
}
