//! Rounds while clocks change: each once, at its own time of day.

use super::{calls, no_call_stands_twice, replay};

fn night(zone: &str, from: &str) -> Vec<(String, String)> {
    let shown = replay(&[
        "--scenario",
        "night",
        "--from",
        from,
        "--days",
        "5",
        "--zone",
        zone,
        "--seed",
        "3",
    ]);
    no_call_stands_twice(&shown);
    calls(&shown)
}

/// When the calls of one name were made.
fn of<'a>(calls: &'a [(String, String)], name: &str) -> Vec<&'a str> {
    calls
        .iter()
        .filter(|(call, _)| call == name)
        .map(|(_, stamp)| stamp.as_str())
        .collect()
}

#[test]
fn a_round_in_the_gap_is_held_once_after_it() {
    let calls = night("America/New_York", "2026-03-06");
    assert_eq!(
        of(&calls, "Small-hours round, Sunday 8 March"),
        ["2026-03-08 03:30 -04:00"]
    );
    assert_eq!(
        of(&calls, "Small-hours round, Saturday 7 March"),
        ["2026-03-07 02:30 -05:00"]
    );
    assert_eq!(
        of(&calls, "Small-hours round, Monday 9 March"),
        ["2026-03-09 02:30 -04:00"]
    );
    assert_eq!(
        of(&calls, "Early round, Sunday 8 March"),
        ["2026-03-08 01:30 -05:00"]
    );
}

#[test]
fn a_round_in_the_overlap_is_held_once_in_its_first_pass() {
    let calls = night("America/New_York", "2026-10-30");
    assert_eq!(
        of(&calls, "Early round, Sunday 1 November"),
        ["2026-11-01 01:30 -04:00"]
    );
    assert_eq!(
        of(&calls, "Small-hours round, Sunday 1 November"),
        ["2026-11-01 02:30 -05:00"]
    );
    assert_eq!(
        of(&calls, "Early round, Monday 2 November"),
        ["2026-11-02 01:30 -05:00"]
    );
}

/// Zones with a first day two days before each of their changes of 2026, and the offsets at 08:00 over those days.
/// Where a zone changes no more, days that changed in earlier years.
const CHANGES: [(&str, &str, [&str; 2]); 10] = [
    ("America/New_York", "2026-03-06", ["-05:00", "-04:00"]),
    ("America/New_York", "2026-10-30", ["-04:00", "-05:00"]),
    ("Europe/London", "2026-03-27", ["+00:00", "+01:00"]),
    ("Europe/London", "2026-10-23", ["+01:00", "+00:00"]),
    ("Australia/Lord_Howe", "2026-04-03", ["+11:00", "+10:30"]),
    ("Australia/Lord_Howe", "2026-10-02", ["+10:30", "+11:00"]),
    ("America/Vancouver", "2026-03-06", ["-08:00", "-07:00"]),
    ("America/Vancouver", "2026-10-30", ["-07:00", "-07:00"]),
    ("Pacific/Apia", "2026-04-03", ["+13:00", "+13:00"]),
    ("Pacific/Apia", "2026-09-25", ["+13:00", "+13:00"]),
];

#[test]
fn a_round_at_eight_is_at_eight_whatever_the_clocks_do() {
    for (zone, from, offsets) in CHANGES {
        let calls = night(zone, from);
        let morning: Vec<&str> = calls
            .iter()
            .filter(|(call, _)| call.starts_with("Morning round, "))
            .map(|(_, at)| at.as_str())
            .collect();
        assert_eq!(morning.len(), 5, "{zone} {from}: {calls:?}");
        assert!(
            morning.iter().all(|at| at[11..].starts_with("08:00 ")),
            "{zone}: {morning:?}"
        );
        let found = [&morning[0][17..], &morning[4][17..]];
        assert_eq!(found, offsets, "{zone} {from}");
        let each = |name: &str| calls.iter().filter(|(call, _)| call.starts_with(name)).count();
        // Where the gap is from 01:00 to 02:00, the round of 01:30 is held at 02:30, in one call with that round.
        let merged = usize::from((zone, from) == ("Europe/London", "2026-03-27"));
        let found = (each("Early round, "), each("Small-hours round, "));
        assert_eq!(found, (5 - merged, 5), "{zone} {from}: {calls:?}");
    }
}
