//! From moment to moment: nothing is missed between two, in any zone.

use std::collections::BTreeSet;

use jiff::Timestamp;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use wrackline_core::care::calendar::read_cron;
use wrackline_core::care::{OwnDuty, Schedule};
use wrackline_core::civil::plus_minutes;
use wrackline_core::journal::{Event, OwnDutyChange, PlaceChange, Sighting};
use wrackline_core::moment::Subject;
use wrackline_core::place::{OwnDutyId, QuietHours, Target};
use wrackline_tests::journal::{NORTH_ITSELF, Script};

use super::Watch;

/// A place with some work done, some neglected, a danger, readings, a duty of its own, and quiet hours.
fn busy(zone: &str, rounds: &str, quiet: Option<QuietHours>, start: Timestamp, work: &[(i64, u8)]) -> Script {
    let mut script = Script::place(zone, rounds);
    script.add("2001-01-01 00:00", Event::Place(PlaceChange::Quiet(quiet)));
    let schedule = Schedule::Cron(read_cron("0 9,13 * * *").expect("an expression"));
    let duty = OwnDuty {
        name: "bin".to_owned(),
        target: Target::Place,
        schedule,
        grace_h: 1,
        disturbs: false,
    };
    script.add(
        "2001-01-01 00:00",
        Event::OwnDuty(OwnDutyId(1), OwnDutyChange::Added(duty)),
    );
    for (minutes, kind) in work {
        let local = script
            .zone
            .civil(plus_minutes(start, *minutes))
            .strftime("%m-%d %H:%M")
            .to_string();
        let words = match kind {
            0 => "change",
            1 => "look",
            2 => "topup",
            3 => "humidity 60",
            4 => "humidity 80",
            5 => "nested",
            6 => "quiet 11-20",
            7 => "gear air added",
            8 => "gear air stopped",
            _ => "",
        };
        if words.is_empty() {
            let seq = script.add(&format!("2026-{local}"), Event::Saw(NORTH_ITSELF, Sighting::Leak));
            script.add(&format!("2026-{local}"), Event::Closed(seq));
        } else {
            script.tell(&format!("{local} {words}"));
        }
    }
    script
}

const DAYS: i64 = 30;

fn work() -> impl Strategy<Value = Vec<(i64, u8)>> {
    proptest::collection::vec((0..DAYS * 24 * 60, 0_u8..10), 0..30)
}

fn quiet() -> impl Strategy<Value = Option<QuietHours>> {
    let time = |minutes: i32| jiff::civil::time((minutes / 60) as i8, (minutes % 60) as i8, 0, 0);
    let hours = (0..1440, 0..1440).prop_map(move |(from, to)| QuietHours {
        from: time(from),
        to: time(to),
    });
    proptest::option::weighted(0.9, hours)
}

fn zones() -> impl Strategy<Value = &'static str> {
    let hard = vec![
        "America/New_York",
        "Australia/Lord_Howe",
        "Europe/London",
        "Africa/Cairo",
        "America/Havana",
        "America/Vancouver",
        "Pacific/Chatham",
        "Africa/Casablanca",
        "Antarctica/Troll",
        "UTC",
    ];
    let any = proptest::sample::select(&chrono_tz::TZ_VARIANTS[..]).prop_map(|zone| zone.name());
    prop_oneof![proptest::sample::select(hard), any]
}

/// Beginnings in 2026 from which thirty days hold clock changes of north and south.
fn starts() -> impl Strategy<Value = Timestamp> {
    let starts = [
        "2026-02-20T11:00:00Z",
        "2026-04-01T02:00:00Z",
        "2026-09-20T15:00:00Z",
        "2026-10-20T23:00:00Z",
    ];
    proptest::sample::select(starts.to_vec()).prop_map(|start| start.parse().expect("an instant"))
}

fn config(cases: u32) -> ProptestConfig {
    let seed = RngSeed::Fixed(20_261_025);
    ProptestConfig {
        rng_seed: seed,
        failure_persistence: None,
        ..ProptestConfig::with_cases(cases)
    }
}

proptest! {
    #![proptest_config(config(24))]

    // That no key comes twice, that moments go on, and that the quiet hours hold, is asserted on the way.
    #[test]
    fn a_month_in_any_zone(zone in zones(), quiet in quiet(), start in starts(), work in work()) {
        let script = busy(zone, "07:30 19:00", quiet, start, &work);
        let mut watch = Watch::new(&script, start);
        watch.run(start, plus_minutes(start, DAYS * 24 * 60));
        let of = |prefix: &str| watch.known.iter().filter(|key| key.starts_with(prefix)).count();
        // Each of the two rounds of each day, but for what the first and the last day cut off.
        prop_assert!((58..=62).contains(&of("round.")), "{} rounds", of("round."));
        prop_assert!((4..=5).contains(&of("week.")), "{} weeks", of("week."));
        let leaks = work.iter().filter(|(_, kind)| *kind == 9).count();
        prop_assert_eq!(of("seen."), leaks);
        let dangers = watch.posts.iter().filter(|(_, post)| matches!(post.subject, Subject::Seen(_)));
        prop_assert_eq!(dangers.count(), leaks);
    }
}

/// The posts of a span: when, what it is about, and under which keys.
fn told(watch: &Watch) -> Vec<(Timestamp, String, BTreeSet<String>)> {
    let told = |(at, post): &(Timestamp, wrackline_core::moment::Post)| {
        (
            *at,
            format!("{:?}", post.subject),
            post.keys.iter().cloned().collect(),
        )
    };
    watch.posts.iter().map(told).collect()
}

proptest! {
    #![proptest_config(config(3))]

    #[test]
    fn from_moment_to_moment_is_as_from_minute_to_minute(
        zone in zones(), quiet in quiet(), start in starts(), work in work(), day in 1_i64..DAYS - 1,
    ) {
        let script = busy(zone, "07:30 19:00", quiet, start, &work);
        let [from, until] = [day, day + 1].map(|day| plus_minutes(start, day * 24 * 60));
        let mut by_moment = Watch::new(&script, from);
        by_moment.run(from, until);
        let mut by_minute = Watch::new(&script, from);
        let mut now = from;
        while now <= until {
            by_minute.deal(now);
            now = plus_minutes(now, 1);
        }
        prop_assert!(!by_moment.posts.is_empty());
        prop_assert_eq!(told(&by_moment), told(&by_minute));
    }
}
