//! Cron expressions: the same occurrences as an independent expansion of the same recurrence, and each held once
//! through clock changes.

use jiff::civil;
use wrackline_core::care::calendar::read_cron;
use wrackline_core::care::{Duty, OwnDuty, Schedule};
use wrackline_core::journal::{Book, Event, OwnDutyChange, Part};
use wrackline_core::place::{OwnDutyId, Target};
use wrackline_tests::journal::Script;

fn cron(text: &str) -> Schedule {
    Schedule::Cron(read_cron(text).unwrap_or_else(|error| panic!("{text}: {error}")))
}

#[test]
fn occurrences_are_those_of_the_recurrence() {
    let place = Book::default().place_at(jiff::Timestamp::UNIX_EPOCH);
    let check = |text: &str, rule: &str| {
        let set = format!("DTSTART:20251231T235900Z\nRRULE:{rule};BYSECOND=0;UNTIL=20900101T000000Z");
        let set: rrule::RRuleSet = set.parse().unwrap_or_else(|error| panic!("{rule}: {error}"));
        let expected: Vec<String> = set
            .all(60)
            .dates
            .iter()
            .map(|at| at.format("%Y-%m-%dT%H:%M:%S").to_string())
            .collect();
        assert!(expected.len() >= 2, "{rule}");
        let mut at = civil::date(2025, 12, 31).at(23, 58, 59, 0);
        let mut found = Vec::new();
        while found.len() < expected.len() {
            at = cron(text)
                .next(&place, at)
                .unwrap_or_else(|| panic!("{text} ends after {at}"));
            found.push(at.to_string());
        }
        assert_eq!(found, expected, "{text} and {rule}");
        // Looking back from one finds it, and from just before the next one too.
        for pair in found.windows(2) {
            let [one, next] =
                [&pair[0], &pair[1]].map(|at| at.parse::<civil::DateTime>().expect("a civil time"));
            assert_eq!(cron(text).last(&place, one), Some(one), "{text}");
            let before = next - jiff::SignedDuration::from_secs(1);
            let near = (next.date() - one.date()).get_days() < 366;
            assert_eq!(
                cron(text).last(&place, before).filter(|_| near),
                Some(one).filter(|_| near),
                "{text}"
            );
        }
    };
    check("30 2 * * *", "FREQ=DAILY;BYHOUR=2;BYMINUTE=30");
    check(
        "0 8 * * 1-5",
        "FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR;BYHOUR=8;BYMINUTE=0",
    );
    check("0 8 * * 0", "FREQ=WEEKLY;BYDAY=SU;BYHOUR=8;BYMINUTE=0");
    check("0 8 * * 7", "FREQ=WEEKLY;BYDAY=SU;BYHOUR=8;BYMINUTE=0");
    check("0 8 * * 5-7", "FREQ=WEEKLY;BYDAY=FR,SA,SU;BYHOUR=8;BYMINUTE=0");
    check("0 8 * * 1,3,6", "FREQ=WEEKLY;BYDAY=MO,WE,SA;BYHOUR=8;BYMINUTE=0");
    check("0 8 * * Mon,Thu", "FREQ=WEEKLY;BYDAY=MO,TH;BYHOUR=8;BYMINUTE=0");
    check("*/15 * * * *", "FREQ=MINUTELY;BYMINUTE=0,15,30,45");
    check("5 */6 * * *", "FREQ=HOURLY;BYHOUR=0,6,12,18;BYMINUTE=5");
    check(
        "0 9 15,30 * *",
        "FREQ=MONTHLY;BYMONTHDAY=15,30;BYHOUR=9;BYMINUTE=0",
    );
    check("0 9 31 * *", "FREQ=MONTHLY;BYMONTHDAY=31;BYHOUR=9;BYMINUTE=0");
    check("0 9 1-7 * 5", "FREQ=MONTHLY;BYDAY=1FR;BYHOUR=9;BYMINUTE=0");
    check(
        "0 9 13 * 5",
        "FREQ=MONTHLY;BYMONTHDAY=13;BYDAY=FR;BYHOUR=9;BYMINUTE=0",
    );
    check(
        "0 9 29 2 *",
        "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29;BYHOUR=9;BYMINUTE=0",
    );
    check(
        "0 7,19 1 1,7 *",
        "FREQ=YEARLY;BYMONTH=1,7;BYMONTHDAY=1;BYHOUR=7,19;BYMINUTE=0",
    );
}

#[test]
fn a_rule_without_an_occurrence_has_ended() {
    let place = Book::default().place_at(jiff::Timestamp::UNIX_EPOCH);
    let (rule, from) = (cron("0 9 30 2 *"), civil::date(2026, 1, 1).at(0, 0, 0, 0));
    assert_eq!(rule.next(&place, from), None);
    assert_eq!(rule.last(&place, from), None);
    // 1900 and 2100 are no leap years: eight years are beyond the five that are looked ahead.
    assert_eq!(
        cron("0 9 29 2 *").next(&place, civil::date(2096, 3, 1).at(0, 0, 0, 0)),
        None
    );
}

/// When a cron duty that is always done as it falls due is due, from a first doing on.
fn held(zone: &str, text: &str, first: &str, expected: &[&str]) {
    let mut script = Script::place(zone, "08:00");
    let duty = OwnDuty {
        name: "bin".to_owned(),
        target: Target::Place,
        schedule: cron(text),
        grace_h: 1,
        disturbs: false,
    };
    let bin = Duty::Own(OwnDutyId(1));
    script.add(
        "2005-01-01 00:00",
        Event::OwnDuty(OwnDutyId(1), OwnDutyChange::Added(duty)),
    );
    let (mut at, mut found) = (script.at(first), Vec::new());
    for _ in expected {
        script.add(first, Event::Did(bin, Target::Place, Part::Whole));
        script.entries.last_mut().expect("an entry").at = at;
        let book = script.book();
        let standing = wrackline_core::care::standing(&book, &book.place_at(at), bin, Target::Place, at);
        at = standing.expect("a duty").due;
        found.push(script.zone.rfc3339(at));
    }
    assert_eq!(found, expected, "{text} in {zone}");
}

#[test]
fn each_occurrence_is_held_once_through_clock_changes() {
    held(
        "America/New_York",
        "30 2 * * *",
        "2026-03-07 02:30",
        &[
            "2026-03-08T03:30:00-04:00",
            "2026-03-09T02:30:00-04:00",
            "2026-03-10T02:30:00-04:00",
        ],
    );
    held(
        "America/New_York",
        "30 1 * * *",
        "2026-10-31 01:30",
        &[
            "2026-11-01T01:30:00-04:00",
            "2026-11-02T01:30:00-05:00",
            "2026-11-03T01:30:00-05:00",
        ],
    );
    held(
        "Australia/Lord_Howe",
        "15 2 * * *",
        "2026-10-03 02:15",
        &["2026-10-04T02:45:00+11:00", "2026-10-05T02:15:00+11:00"],
    );
    held(
        "Australia/Lord_Howe",
        "45 1 * * *",
        "2026-04-04 01:45",
        &["2026-04-05T01:45:00+11:00", "2026-04-06T01:45:00+10:30"],
    );
    held(
        "Europe/London",
        "30 1 * * *",
        "2026-03-28 01:30",
        &["2026-03-29T02:30:00+01:00", "2026-03-30T01:30:00+01:00"],
    );
    held(
        "Europe/London",
        "30 1 * * *",
        "2026-10-24 01:30",
        &["2026-10-25T01:30:00+01:00", "2026-10-26T01:30:00+00:00"],
    );
    held(
        "America/Vancouver",
        "30 2 * * *",
        "2026-03-07 02:30",
        &["2026-03-08T03:30:00-07:00", "2026-03-09T02:30:00-07:00"],
    );
    // With the newer zone data the clock stays as it is in November.
    held(
        "America/Vancouver",
        "30 1 * * *",
        "2026-10-31 01:30",
        &["2026-11-01T01:30:00-07:00", "2026-11-02T01:30:00-07:00"],
    );
    // The day that never was is held on the day after it, together with that day's own.
    held(
        "Pacific/Apia",
        "0 8 * * *",
        "2011-12-28 08:00",
        &[
            "2011-12-29T08:00:00-10:00",
            "2011-12-31T08:00:00+14:00",
            "2012-01-01T08:00:00+14:00",
        ],
    );
}

#[test]
fn weekdays_are_held_once_through_clock_changes() {
    let place = Script::place("America/New_York", "02:30")
        .book()
        .place_at(jiff::Timestamp::UNIX_EPOCH);
    let schedule = |at: &str| Schedule::Weekdays {
        days: vec![7],
        at: at.parse().ok(),
    };
    let zone = super::zone("America/New_York");
    let check = |at: &str, after: civil::Date, expected: &str| {
        let next = schedule(at)
            .next(&place, after.at(12, 0, 0, 0))
            .expect("a Sunday");
        assert_eq!(zone.rfc3339(zone.instant(next)), expected, "{at} after {after}");
    };
    check("02:30:00", civil::date(2026, 3, 1), "2026-03-08T03:30:00-04:00");
    check("02:30:00", civil::date(2026, 3, 8), "2026-03-15T02:30:00-04:00");
    check("01:30:00", civil::date(2026, 10, 25), "2026-11-01T01:30:00-04:00");
    check("01:30:00", civil::date(2026, 11, 1), "2026-11-08T01:30:00-05:00");
}
