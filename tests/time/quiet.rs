//! Quiet hours: the first waking instant, through clock changes too.

use jiff::civil;
use proptest::prelude::*;
use wrackline_core::civil::{is_quiet, plus_minutes, seconds_between, waking};
use wrackline_core::place::QuietHours;

use super::{config, near_a_change, zone};

fn hours(from: &str, to: &str) -> Option<QuietHours> {
    let time = |text: &str| format!("{text}:00").parse().expect("a time of day");
    Some(QuietHours {
        from: time(from),
        to: time(to),
    })
}

#[test]
fn the_first_waking_instant() {
    let check = |name: &str, (from, to): (&str, &str), instant: &str, expected: &str| {
        let (zone, quiet) = (zone(name), hours(from, to));
        let found = waking(&zone, quiet, instant.parse().expect("an instant"));
        assert_eq!(zone.rfc3339(found), expected, "{name} {from}-{to} from {instant}");
    };
    let new_york = "America/New_York";
    // Awake already, and asleep across midnight.
    check(
        new_york,
        ("22:00", "07:00"),
        "2026-03-03T02:59:00Z",
        "2026-03-02T21:59:00-05:00",
    );
    check(
        new_york,
        ("22:00", "07:00"),
        "2026-03-03T03:00:00Z",
        "2026-03-03T07:00:00-05:00",
    );
    check(
        new_york,
        ("13:00", "15:00"),
        "2026-03-03T19:00:00Z",
        "2026-03-03T15:00:00-05:00",
    );
    // They end in the gap of 8 March: 03:00 follows 01:59.
    check(
        new_york,
        ("22:00", "02:30"),
        "2026-03-08T06:00:00Z",
        "2026-03-08T03:00:00-04:00",
    );
    // On 1 November they end at the first 01:30, begin again with the second 01:00, and end once more.
    check(
        new_york,
        ("22:00", "01:30"),
        "2026-11-01T05:10:00Z",
        "2026-11-01T01:30:00-04:00",
    );
    check(
        new_york,
        ("22:00", "01:30"),
        "2026-11-01T06:10:00Z",
        "2026-11-01T01:30:00-05:00",
    );
    // The clock goes back out of hours that begin in the overlap.
    check(
        new_york,
        ("01:30", "02:30"),
        "2026-11-01T05:40:00Z",
        "2026-11-01T01:00:00-05:00",
    );
    // A skipped day takes its morning with it: 30 December 2011 does not exist in Apia.
    check(
        "Pacific/Apia",
        ("22:00", "07:00"),
        "2011-12-30T09:30:00Z",
        "2011-12-31T07:00:00+14:00",
    );
}

#[test]
fn without_quiet_hours_all_is_awake() {
    let (zone, now) = (
        zone("Europe/London"),
        "2026-03-29T01:00:00Z".parse().expect("an instant"),
    );
    for quiet in [None, hours("03:00", "03:00")] {
        assert!(!is_quiet(&zone, quiet, now));
        assert_eq!(waking(&zone, quiet, now), now);
    }
}

/// Minutes of the day, more of them in the small hours, where clocks change.
fn minutes() -> impl Strategy<Value = i32> {
    prop_oneof![0..240, 0..1440]
}

proptest! {
    #![proptest_config(config(1500))]

    #[test]
    fn waking_is_awake_and_the_first_to_be((name, instant) in near_a_change(), from in minutes(), to in minutes()) {
        let zone = zone(name);
        let time = |minutes: i32| civil::time((minutes / 60) as i8, (minutes % 60) as i8, 0, 0);
        let quiet = Some(QuietHours { from: time(from), to: time(to) });
        let found = waking(&zone, quiet, instant);
        prop_assert!(found >= instant);
        prop_assert!(!is_quiet(&zone, quiet, found), "{} is quiet", zone.rfc3339(found));
        prop_assert_eq!(waking(&zone, quiet, found), found);
        for minute in 0..seconds_between(instant, found) / 60 {
            let earlier = plus_minutes(instant, minute);
            prop_assert!(is_quiet(&zone, quiet, earlier), "{} is awake", zone.rfc3339(earlier));
        }
    }
}
