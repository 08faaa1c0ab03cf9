//! Published examples of local time and of weeks, one by one: `data/time.csv`, with the source of each.

use jiff::{Timestamp, civil};
use wrackline_core::civil::{Week, Zone, seconds_between};

use super::{cells, changes, zone};

/// The rows of a topic: inputs, expected, and how it is said here.
pub(super) fn rows(topic: &str) -> Vec<(String, String, String)> {
    let lines = include_str!("../data/time.csv").lines().skip(1);
    let rows = lines.map(|line| {
        let [topic, inputs, expected, source, here] = cells(line).try_into().expect("five cells");
        assert!(!source.is_empty(), "no source: {line}");
        (topic, (inputs, expected, here))
    });
    rows.filter(|(of, _)| of == topic).map(|(_, row)| row).collect()
}

#[test]
fn iso_weeks() {
    let mut checked = 0;
    for (inputs, expected, _) in rows("iso_week") {
        let found = if let Ok(date) = inputs.parse::<civil::Date>() {
            format!(
                "{}-{}",
                Week::of(date).name(),
                date.weekday().to_monday_one_offset()
            )
        } else {
            let long = |year: &i16| Week::of(civil::date(*year, 12, 28)).name().ends_with("W53");
            (2015..=2049)
                .filter(long)
                .map(|year| year.to_string())
                .collect::<Vec<_>>()
                .join(" ")
        };
        assert_eq!(found, expected, "{inputs}");
        checked += 1;
    }
    assert_eq!(checked, 11);
}

/// What a row about a clock change asks for, in that row's own words.
#[expect(clippy::too_many_lines, reason = "one arm for each row of the table")]
fn clock(inputs: &str) -> String {
    let at = |name: &str, local: &str| {
        let civil = civil::DateTime::strptime("%Y-%m-%d %H:%M", local).expect("a civil time");
        zone(name).instant(civil)
    };
    let in_year = |name: &str, year: i16, which: usize| {
        let zone = zone(name);
        changes(name)
            .into_iter()
            .filter(|at| zone.date(*at).year() == year)
            .nth(which)
            .expect("a clock change")
    };
    let second_before = |at: Timestamp| at - jiff::SignedDuration::from_secs(1);
    let local = |zone: &Zone, at: Timestamp, form: &str| zone.civil(at).strftime(form).to_string();
    let day_h = |name: &str, date: civil::Date| {
        let zone = zone(name);
        seconds_between(
            zone.day_start(date),
            zone.day_start(date.tomorrow().expect("a day")),
        ) as f64
            / 3600.0
    };
    // From the last second before a change, and the change: what the clock skips or repeats.
    let span = |name: &str, at: Timestamp, first: Timestamp, last: Timestamp| {
        let (zone, left) = (zone(name), second_before(at));
        let day = local(&zone, at, "%Y-%m-%d");
        let end = zone
            .civil(left)
            .checked_add(jiff::SignedDuration::from_secs(1))
            .expect("in range");
        let (first, last) = if first == last {
            (end, zone.civil(at))
        } else {
            (zone.civil(at), end)
        };
        format!(
            "{day} {}-{} local",
            first.strftime("%H:%M"),
            last.strftime("%H:%M")
        )
    };
    let gap = |name, year, which| {
        let at = in_year(name, year, which);
        span(name, at, at, at)
    };
    let fold = |name, year, which| {
        let at = in_year(name, year, which);
        span(name, at, at, second_before(at))
    };
    match inputs {
        "America/New_York 2026-03-08 02:30 (gap; use offset before gap)" => {
            let (zone, at) = (
                zone("America/New_York"),
                at("America/New_York", "2026-03-08 02:30"),
            );
            format!("{at} = {}{}", local(&zone, at, "%H:%M"), zone.offset(at))
        }
        "America/New_York 2026-11-01 01:30 second" => {
            // The first pass is resolved; the second one, an hour later, shows the same civil time.
            let (zone, first) = (
                zone("America/New_York"),
                at("America/New_York", "2026-11-01 01:30"),
            );
            let second = first + jiff::SignedDuration::from_hours(1);
            assert_eq!(zone.civil(second), zone.civil(first));
            second.to_string()
        }
        "New_York 2026-10-31 09:00 + 1 civil day" => {
            let [from, to] =
                ["2026-10-31 09:00", "2026-11-01 09:00"].map(|local| at("America/New_York", local));
            format!("{} h later", seconds_between(from, to) / 3600)
        }
        "Europe/London gap" => gap("Europe/London", 2026, 0),
        "Australia/Lord_Howe fold (30 min)" => {
            let (name, at) = ("Australia/Lord_Howe", in_year("Australia/Lord_Howe", 2026, 0));
            let hours = day_h(name, civil::date(2026, 4, 5));
            format!("{}; transition {at}; day is {hours} h", fold(name, 2026, 0))
        }
        "Australia/Lord_Howe gap (30 min)" => {
            let (name, at) = ("Australia/Lord_Howe", in_year("Australia/Lord_Howe", 2026, 1));
            let hours = day_h(name, civil::date(2026, 10, 4));
            format!("{}; transition {at}; day is {hours} h", gap(name, 2026, 1))
        }
        "Pacific/Apia skipped day" => {
            let (zone, missing) = (zone("Pacific/Apia"), civil::date(2011, 12, 30));
            let at = zone.day_start(missing);
            assert_ne!(zone.date(at), missing);
            let show = |at| {
                zone.rfc3339(at)
                    .replace(":00+14:00", ":00+14")
                    .replace(":59-10:00", ":59-10")
            };
            format!(
                "{missing} does not exist; {} then {}; transition {at}",
                show(second_before(at)),
                show(at)
            )
        }
        "Africa/Casablanca Ramadan 2026" => {
            let zone = zone("Africa/Casablanca");
            let hours = |at| zone.offset(at)[..3].to_owned();
            let show = |at| format!("{} -> {} {at}", hours(second_before(at)), hours(at));
            let [first, second] = [0, 1].map(|which| show(in_year("Africa/Casablanca", 2026, which)));
            format!("{first}; {second}")
        }
        "Africa/Casablanca 2026-12-01 12:00Z offset" => {
            use chrono::{Offset, TimeZone};
            let noon = "2026-12-01T12:00:00Z".parse().expect("an instant");
            let ours = &zone("Africa/Casablanca").offset(noon)[..3];
            let utc = chrono::DateTime::from_timestamp(noon.as_second(), 0)
                .expect("in range")
                .naive_utc();
            let older = chrono_tz::Africa::Casablanca
                .offset_from_utc_datetime(&utc)
                .fix()
                .local_minus_utc();
            format!(
                "{ours} in tzdata 2026f; {:+03} in 2025b (chrono-tz 0.10.4 and Debian tzdata 2025b): \
                 data-version sensitive",
                older / 3600
            )
        }
        "America/Sao_Paulo midnight gap" => gap("America/Sao_Paulo", 2018, 1),
        "Africa/Cairo midnight gap" => gap("Africa/Cairo", 2026, 0),
        "Pacific/Chatham offset" => {
            let zone = zone("Pacific/Chatham");
            let [first, second] = [0, 1].map(|which| in_year("Pacific/Chatham", 2026, which));
            let left = |at| {
                let last = zone.civil(second_before(at));
                last.checked_add(jiff::SignedDuration::from_secs(1))
                    .expect("in range")
                    .strftime("%Y-%m-%d %H:%M")
            };
            let offsets = format!("{}/{}", zone.offset(second_before(first)), zone.offset(first));
            format!("{offsets}; changes {} and {}", left(first), left(second))
        }
        other => panic!("no such row: {other}"),
    }
}

#[test]
fn clock_changes() {
    let mut checked = 0;
    for (inputs, expected, _) in rows("timezone") {
        assert_eq!(clock(&inputs), expected, "{inputs}");
        checked += 1;
    }
    assert_eq!(checked, 12);
}
