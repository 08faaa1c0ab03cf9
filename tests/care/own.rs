//! Duties of a place's own: by interval, by weekday, by cron expression.

use wrackline_core::care::calendar::read_cron;
use wrackline_core::care::{Duty, Every, OwnDuty, Schedule};
use wrackline_core::journal::{Event, OwnDutyChange, Part};
use wrackline_core::place::{OwnDutyId, Target};
use wrackline_tests::journal::Script;

const BIN: Duty = Duty::Own(OwnDutyId(1));

/// A place that set up one duty of its own on Monday 2 March at midnight, and did it at these moments.
fn own(zone: &str, schedule: &Schedule, done: &[&str]) -> Script {
    let mut script = Script::place(zone, "08:00 20:00");
    let duty = OwnDuty {
        name: "bin".to_owned(),
        target: Target::Place,
        schedule: schedule.clone(),
        grace_h: 6,
        disturbs: false,
    };
    script.add(
        "2026-03-02 00:00",
        Event::OwnDuty(OwnDutyId(1), OwnDutyChange::Added(duty)),
    );
    for moment in done {
        script.add(
            &format!("2026-{moment}"),
            Event::Did(BIN, Target::Place, Part::Whole),
        );
    }
    script
}

fn check(schedule: &Schedule, done: &[&str], moment: &str, expected: &str) {
    let found = own("UTC", schedule, done).line(moment, BIN, Target::Place);
    assert_eq!(found, format!("own, {expected}"), "{schedule:?} done at {done:?}");
}

#[test]
fn by_interval_it_counts_from_the_last_one() {
    let days = Schedule::Every(Every::Days(3));
    check(&days, &[], "03-02 09:00", "03-05 08:00, 03-05 14:00, never, calm");
    check(
        &days,
        &["03-04 19:00"],
        "03-04 21:00",
        "03-07 20:00, 03-08 02:00, never, calm",
    );
    check(
        &days,
        &["03-04 19:00"],
        "03-08 02:00",
        "03-07 20:00, 03-08 02:00, never, overdue",
    );
    let hours = Schedule::Every(Every::Hours(12));
    check(
        &hours,
        &["03-04 08:30"],
        "03-04 09:00",
        "03-04 20:00, 03-05 02:00, never, calm",
    );
    // Shorter than the time to the next round, it is due at its limit.
    let often = Schedule::Every(Every::Hours(5));
    check(
        &often,
        &["03-04 08:30"],
        "03-04 09:00",
        "03-04 13:00, 03-04 19:00, never, calm",
    );
    check(
        &often,
        &["03-04 12:30"],
        "03-04 13:00",
        "03-04 17:30, 03-04 23:30, never, calm",
    );
}

#[test]
fn by_weekday_it_keeps_the_calendar() {
    let first_round = Schedule::Weekdays {
        days: vec![1, 4],
        at: None,
    };
    let check = |done: &[&str], moment: &str, expected: &str| check(&first_round, done, moment, expected);
    check(&[], "03-02 07:00", "03-02 08:00, 03-02 14:00, never, calm");
    check(&[], "03-02 09:00", "03-02 08:00, 03-02 14:00, never, due");
    check(&[], "03-04 09:00", "03-02 08:00, 03-02 14:00, never, overdue");
    // The next one supersedes it.
    check(&[], "03-05 07:59", "03-02 08:00, 03-02 14:00, never, overdue");
    check(&[], "03-05 08:00", "03-05 08:00, 03-05 14:00, never, due");
    check(
        &["03-02 09:00"],
        "03-02 10:00",
        "03-05 08:00, 03-05 14:00, never, calm",
    );
    // Done late it still is the one before: Tuesday 19:59 is nearer to Monday, Tuesday 20:00 as near to Thursday.
    check(
        &["03-03 19:59"],
        "03-03 21:00",
        "03-05 08:00, 03-05 14:00, never, calm",
    );
    check(
        &["03-03 20:00"],
        "03-03 21:00",
        "03-09 08:00, 03-09 14:00, never, calm",
    );
    // Done early it covers the nearest one to come.
    check(
        &["03-04 20:00"],
        "03-04 21:00",
        "03-09 08:00, 03-09 14:00, never, calm",
    );
    check(
        &["03-02 09:00", "03-04 20:00"],
        "03-05 09:00",
        "03-09 08:00, 03-09 14:00, never, calm",
    );
}

#[test]
fn by_weekday_it_may_have_a_time_of_its_own() {
    let evening = Schedule::Weekdays {
        days: vec![7],
        at: Some("21:30:00".parse().expect("a time")),
    };
    check(
        &evening,
        &[],
        "03-02 09:00",
        "03-08 21:30, 03-09 03:30, never, calm",
    );
    check(
        &evening,
        &["03-08 22:00"],
        "03-08 23:00",
        "03-15 21:30, 03-16 03:30, never, calm",
    );
}

#[test]
fn by_cron_expression_it_keeps_civil_time() {
    let cron = |text: &str| Schedule::Cron(read_cron(text).expect("an expression"));
    let monthly = cron("30 7 15,30 * *");
    check(
        &monthly,
        &[],
        "03-02 09:00",
        "03-15 07:30, 03-15 13:30, never, calm",
    );
    check(
        &monthly,
        &["03-15 09:00"],
        "03-15 10:00",
        "03-30 07:30, 03-30 13:30, never, calm",
    );
    let weekdays = cron("0 18 * * 1-5");
    check(
        &weekdays,
        &["03-06 18:00"],
        "03-06 19:00",
        "03-09 18:00, 03-10 00:00, never, calm",
    );
}

/// Which occurrence the turn that nobody does is about.
fn occurrence(zone: &str, cron: &str, moments: &[(&str, &str)]) {
    let schedule = Schedule::Cron(read_cron(cron).expect("an expression"));
    let script = own(zone, &schedule, &[]);
    let book = script.book();
    for (moment, expected) in moments {
        let now = moment.parse().expect("an instant");
        let standing = wrackline_core::care::standing(&book, &book.place_at(now), BIN, Target::Place, now);
        let on = standing
            .and_then(|standing| standing.turn.on)
            .map(|on| on.strftime("%m-%d %H:%M").to_string());
        assert_eq!(on.as_deref(), Some(*expected), "{cron} in {zone} at {moment}");
    }
}

#[test]
fn a_turn_left_open_goes_on_to_the_last_occurrence_that_came() {
    // 02:30 is skipped on 8 March and held at 03:30 -04:00, which is 07:30 UTC.
    let gap = [
        ("2026-03-07T08:00:00Z", "03-07 02:30"),
        ("2026-03-08T06:59:00Z", "03-07 02:30"),
        ("2026-03-08T07:10:00Z", "03-07 02:30"),
        ("2026-03-08T07:29:00Z", "03-07 02:30"),
        ("2026-03-08T07:30:00Z", "03-08 02:30"),
        ("2026-03-09T06:30:00Z", "03-09 02:30"),
    ];
    occurrence("America/New_York", "30 2 * * *", &gap);
    // 01:30 comes twice on 1 November and is held at the first pass, 05:30 UTC; then the clock goes back.
    let overlap = [
        ("2026-11-01T05:29:00Z", "10-31 01:30"),
        ("2026-11-01T05:30:00Z", "11-01 01:30"),
        ("2026-11-01T06:10:00Z", "11-01 01:30"),
        ("2026-11-01T06:30:00Z", "11-01 01:30"),
        ("2026-11-02T06:30:00Z", "11-02 01:30"),
    ];
    occurrence("America/New_York", "30 1 * * *", &overlap);
}
