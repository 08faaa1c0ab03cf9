//! Dangers seen and measured: at once, quiet hours or not; each alarm and its end once.
//! Rules of thumb, common practice with no published source: a spike is no harm, a long spell is.

use wrackline_core::air::spells;
use wrackline_core::journal::{Event, Sighting};
use wrackline_tests::journal::{NORTH_ITSELF, Script};

use super::{script, tale};

/// Readings of the humidity, each with the hours after 3 March 00:00.
fn readings(readings: &[(i64, f64)]) -> String {
    let start = script("08:00", false, "").at("2026-03-03 00:00");
    let line = |(hours, percent): &(i64, f64)| {
        let at = start + jiff::SignedDuration::from_hours(*hours);
        format!("{} humidity {percent};", script("08:00", false, "").local(at))
    };
    readings.iter().map(line).collect()
}

fn every(step: i64, hours: std::ops::RangeInclusive<i64>, percent: f64) -> Vec<(i64, f64)> {
    hours
        .step_by(usize::try_from(step).expect("a step"))
        .map(|hour| (hour, percent))
        .collect()
}

/// The alarms that readings raise until 20 April.
fn check(values: &[(i64, f64)], expected: &[&str]) {
    let script = script("08:00", true, &readings(values));
    assert_eq!(
        tale(&script, "03-02 12:00", "04-20 00:00", "spell"),
        expected,
        "{values:?}"
    );
}

#[test]
fn a_spike_raises_nothing() {
    check(&[(0, 80.0), (10, 92.0), (11, 82.0), (23, 80.0)], &[]);
    check(&[(0, 80.0), (10, 92.0)], &[]);
    check(&every(12, 0..=240, 85.0), &[]);
    check(&every(12, 0..=240, 70.0), &[]);
    // Up and down again and again is no long spell.
    let saw: Vec<_> = (0..20)
        .map(|step| (step * 12, if step % 2 == 0 { 88.0 } else { 80.0 }))
        .collect();
    check(&saw, &[]);
}

#[test]
fn two_days_too_humid_raise_one_alarm_and_one_end() {
    let humid = every(12, 0..=48, 88.0);
    check(&humid, &["03-04 12:00 spell, high"]);
    check(&every(12, 0..=24, 88.0), &[]);
    let settled = [humid, vec![(60, 82.0), (72, 81.0)]].concat();
    check(
        &settled,
        &["03-04 12:00 spell, high", "03-05 12:00 spell settled"],
    );
    let hourly = every(1, 0..=48, 85.5);
    check(&hourly, &["03-04 12:00 spell, high"]);
}

#[test]
fn six_hours_too_dry_raise_an_alarm_at_night_too() {
    check(&[(18, 68.0), (24, 66.0)], &["03-04 00:00 spell, low"]);
    check(&[(18, 68.0), (23, 66.0)], &[]);
    check(
        &[(18, 69.0), (24, 69.9), (26, 78.0)],
        &["03-04 00:00 spell, low", "03-04 07:00 spell settled"],
    );
}

#[test]
fn each_spell_is_told_for_itself() {
    let two = [
        every(12, 0..=48, 88.0),
        vec![(60, 80.0)],
        every(12, 72..=120, 90.0),
        vec![(132, 80.0)],
    ]
    .concat();
    check(
        &two,
        &[
            "03-04 12:00 spell, high",
            "03-05 12:00 spell settled",
            "03-07 12:00 spell, high",
            "03-08 12:00 spell settled",
        ],
    );
    // From too humid to too dry ends one and begins another.
    let turned = [every(12, 0..=48, 88.0), vec![(60, 60.0), (67, 60.0)]].concat();
    check(
        &turned,
        &[
            "03-04 12:00 spell, high",
            "03-05 12:00 spell settled",
            "03-05 19:00 spell, low",
        ],
    );
}

#[test]
fn a_spell_of_many_weeks_is_one_spell() {
    let long = [every(12, 0..=45 * 24, 88.0), vec![(45 * 24 + 12, 80.0)]].concat();
    check(&long, &["03-04 12:00 spell, high", "04-17 12:00 spell settled"]);
}

#[test]
fn nothing_is_known_between_readings_far_apart() {
    check(&[(0, 88.0), (30, 88.0), (36, 88.0)], &["03-04 12:00 spell, high"]);
    check(&[(0, 88.0), (31, 88.0), (36, 88.0)], &[]);
    check(&[(0, 88.0), (240, 88.0)], &[]);
}

#[test]
fn spells_of_a_series() {
    let at = |hours| jiff::Timestamp::UNIX_EPOCH + jiff::SignedDuration::from_hours(hours);
    let check = |values: &[(i64, f64)], expected: &[(i64, i64, Option<i64>, Option<i64>)]| {
        let hours = |at: jiff::Timestamp| at.as_second() / 3600;
        let found: Vec<_> = spells(values.iter().map(|(hour, percent)| (at(*hour), *percent)))
            .iter()
            .map(|spell| {
                (
                    hours(spell.from),
                    hours(spell.to),
                    spell.ended.map(hours),
                    spell.alarm.map(hours),
                )
            })
            .collect();
        assert_eq!(found, expected, "{values:?}");
    };
    check(&[(0, 80.0)], &[]);
    check(&[(0, 92.0), (1, 91.0), (2, 80.0)], &[(0, 1, Some(2), None)]);
    check(&[(0, 88.0), (24, 88.0), (48, 88.0)], &[(0, 48, None, Some(48))]);
    check(
        &[(0, 69.0), (5, 69.0), (6, 69.0), (7, 75.0)],
        &[(0, 6, Some(7), Some(6))],
    );
    // Across a gap neither is carried on nor ended.
    check(&[(0, 88.0), (31, 80.0)], &[(0, 0, None, None)]);
    check(
        &[(0, 88.0), (31, 88.0)],
        &[(0, 0, None, None), (31, 31, None, None)],
    );
}

/// What is told of a sighting at 23:30 that is closed at 02:00.
fn seen(sighting: Sighting) -> Vec<String> {
    let mut script: Script = script("08:00", true, "");
    let seq = script.add("2026-03-03 23:30", Event::Saw(NORTH_ITSELF, sighting));
    script.add("2026-03-04 02:00", Event::Closed(seq));
    tale(&script, "03-03 12:00", "03-08 00:00", "seen")
}

#[test]
fn a_danger_seen_is_told_at_once_and_its_end_in_the_morning() {
    for danger in [
        Sighting::Leak,
        Sighting::WetSubstrate,
        Sighting::TippedFilter,
        Sighting::Escape,
    ] {
        assert_eq!(
            seen(danger),
            ["03-03 23:30 seen", "03-04 07:00 seen settled"],
            "{danger:?}"
        );
    }
    for other in [Sighting::Mould, Sighting::Condensation, Sighting::Splashing] {
        assert_eq!(seen(other), [""; 0], "{other:?}");
    }
}
