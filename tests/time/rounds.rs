//! Rounds and weeks: which comes next, which came last, which one an instant belongs to.

use jiff::civil;
use proptest::prelude::*;
use wrackline_core::civil::{
    Week, Zone, belongs, hold, last_round, next_round, plus_days, plus_minutes, seconds_between,
};
use wrackline_core::place::{Round, RoundId};

use super::{config, near_a_change, zone};

fn rounds(times: impl IntoIterator<Item = civil::Time>) -> Vec<Round> {
    let round = |(id, time)| Round {
        id: RoundId(id),
        name: String::new(),
        time,
    };
    (1..).zip(times).map(round).collect()
}

fn some_rounds() -> impl Strategy<Value = Vec<Round>> {
    let times = proptest::collection::btree_set((0_i8..24, 0_i8..60), 1..5);
    times.prop_map(|times| {
        rounds(
            times
                .into_iter()
                .map(|(hour, minute)| civil::time(hour, minute, 0, 0)),
        )
    })
}

/// All holdings within four days, by another way than the code under test: day by day, all sorted.
fn holdings(zone: &Zone, rounds: &[Round], instant: jiff::Timestamp) -> Vec<jiff::Timestamp> {
    let days = (-4..=4).map(|day| plus_days(zone.date(instant), day));
    let mut all: Vec<_> = days
        .flat_map(|date| rounds.iter().map(move |round| hold(zone, round, date).at))
        .collect();
    all.sort_unstable();
    all
}

proptest! {
    #![proptest_config(config(600))]

    #[test]
    fn no_round_lies_between((name, instant) in near_a_change(), rounds in some_rounds()) {
        let zone = zone(name);
        let all = holdings(&zone, &rounds, instant);
        let (last, next) = (last_round(&zone, &rounds, instant), next_round(&zone, &rounds, instant));
        prop_assert_eq!(Some(next.at), all.iter().copied().find(|at| *at > instant));
        prop_assert_eq!(Some(last.at), all.iter().copied().rfind(|at| *at <= instant));
        prop_assert_eq!(last_round(&zone, &rounds, next.at).at, next.at);
        prop_assert_eq!(next.at, zone.instant(next.date.to_datetime(next.round.time)));
    }

    #[test]
    fn an_instant_belongs_to_the_nearest_round_of_its_day(
        (name, instant) in near_a_change(), rounds in some_rounds(),
    ) {
        let zone = zone(name);
        let found = belongs(&zone, &rounds, instant);
        prop_assert_eq!(found.date, zone.date(instant));
        let distance = |at| seconds_between(at, instant).abs();
        for round in &rounds {
            let other = hold(&zone, round, found.date);
            let is_nearer = distance(found.at) < distance(other.at);
            let is_later = distance(found.at) == distance(other.at) && found.at >= other.at;
            prop_assert!(is_nearer || is_later, "{:?} rather than {:?}", other, found);
        }
    }

    #[test]
    fn weeks_join_without_a_gap((name, instant) in near_a_change()) {
        let zone = zone(name);
        let week = Week::of(zone.date(instant));
        prop_assert_eq!(week.monday.weekday(), civil::Weekday::Monday);
        prop_assert_eq!(week.previous().span(&zone).1, week.span(&zone).0);
        let (start, end) = week.span(&zone);
        // Midnight may come twice; the first one is the boundary.
        let from = zone.date(instant);
        prop_assert!(start <= zone.day_start(from) && zone.day_start(from) < end || zone.day_start(from) == end);
        prop_assert!(zone.civil(start).date() >= week.monday);
        let days = seconds_between(start, end) as f64 / 86_400.0;
        prop_assert!((5.9..=8.1).contains(&days), "{} days", days);
    }
}

#[test]
fn which_round_an_instant_belongs_to() {
    let check = |name: &str, times: &str, local: &str, expected: &str| {
        let zone = zone(name);
        let rounds = rounds(
            times
                .split(' ')
                .map(|time| format!("{time}:00").parse().expect("a time")),
        );
        let civil = civil::DateTime::strptime("%Y-%m-%d %H:%M", local).expect("a civil time");
        let found = belongs(&zone, &rounds, zone.instant(civil));
        assert_eq!(zone.rfc3339(found.at), expected, "{name} {times} {local}");
    };
    check(
        "UTC",
        "08:00 20:00",
        "2026-03-02 13:59",
        "2026-03-02T08:00:00+00:00",
    );
    check(
        "UTC",
        "08:00 20:00",
        "2026-03-02 14:00",
        "2026-03-02T20:00:00+00:00",
    );
    check(
        "UTC",
        "08:00 20:00",
        "2026-03-02 00:00",
        "2026-03-02T08:00:00+00:00",
    );
    check(
        "UTC",
        "08:00 20:00",
        "2026-03-02 23:59",
        "2026-03-02T20:00:00+00:00",
    );
    // By elapsed time: on 8 March 01:00 is three hours from 05:00, and 02:00 is held at 03:00, an hour after.
    check(
        "America/New_York",
        "01:00 05:00",
        "2026-03-08 03:29",
        "2026-03-08T01:00:00-05:00",
    );
    check(
        "America/New_York",
        "01:00 05:00",
        "2026-03-08 03:30",
        "2026-03-08T05:00:00-04:00",
    );
    check(
        "Pacific/Apia",
        "08:00",
        "2011-12-29 23:59",
        "2011-12-29T08:00:00-10:00",
    );
}

#[test]
fn the_ends_of_the_calendar_hold() {
    let zone = zone("America/New_York");
    let rounds = rounds([civil::time(8, 0, 0, 0)]);
    assert_eq!(plus_days(civil::Date::MAX, 1), civil::Date::MAX);
    assert_eq!(plus_minutes(jiff::Timestamp::MAX, 1), jiff::Timestamp::MAX);
    let last = zone.instant(civil::DateTime::MAX);
    assert_eq!(last_round(&zone, &rounds, last).round.id, RoundId(1));
    assert_eq!(next_round(&zone, &rounds, last).round.id, RoundId(1));
}
