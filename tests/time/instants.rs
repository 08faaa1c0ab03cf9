//! Civil times become the instants that a second implementation with its own zone data gives them.
//!
//! The two carry different versions of the zone data. `data/time-differences.csv` lists every zone in which they
//! differ between 1976 and 2035, with the first and the last year in which they do.

use std::collections::BTreeMap;

use chrono::{DateTime, Datelike, Days, NaiveDate, NaiveDateTime, Offset, TimeDelta, TimeZone, Utc};
use chrono_tz::{TZ_VARIANTS, Tz};
use jiff::{Timestamp, civil};
use proptest::prelude::*;
use rand_chacha::ChaCha8Rng;
use rand_core::{Rng, SeedableRng};
use wrackline_core::civil::Zone;

const SEED: u64 = 20_261_101;
const YEARS: std::ops::RangeInclusive<i32> = 1976..=2035;
/// Civil times taken at random in each zone.
const SAMPLE: u32 = 40;

/// The instant of a civil time as RFC 5545, section 3.3.5, has it: a gap takes the offset before it, an overlap
/// its first pass.
fn as_the_rfc_says(tz: Tz, civil: NaiveDateTime) -> i64 {
    let before_a_gap = || {
        (1..=200).find_map(|quarters| {
            let back = TimeDelta::minutes(15 * quarters);
            Some(tz.from_local_datetime(&(civil - back)).latest()? + back)
        })
    };
    let found = tz.from_local_datetime(&civil).earliest().or_else(before_a_gap);
    found.expect("no gap is longer than two days").timestamp()
}

fn offset(tz: Tz, second: i64) -> i64 {
    let utc = DateTime::from_timestamp(second, 0).expect("in range").naive_utc();
    i64::from(tz.offset_from_utc_datetime(&utc).fix().local_minus_utc())
}

fn year_start(year: i32) -> i64 {
    Utc.with_ymd_and_hms(year, 1, 1, 0, 0, 0)
        .single()
        .expect("in range")
        .timestamp()
}

/// Clock changes of the second implementation: (the second, offset before, offset after).
fn changes(tz: Tz) -> Vec<(i64, i64, i64)> {
    const STEP: i64 = 6 * 86_400;
    let (mut from, end) = (year_start(*YEARS.start()), year_start(YEARS.end() + 1));
    let mut before = offset(tz, from);
    let mut found = Vec::new();
    while from < end {
        let after = offset(tz, from + STEP);
        if after != before {
            let (mut low, mut high) = (from, from + STEP);
            while high - low > 1 {
                let middle = low + (high - low) / 2;
                if offset(tz, middle) == before {
                    low = middle
                } else {
                    high = middle
                }
            }
            found.push((high, before, after));
        }
        (from, before) = (from + STEP, after);
    }
    found
}

/// Civil times on both sides of a clock change and in the middle of what it skips or repeats.
fn around((at, before, after): (i64, i64, i64)) -> [i64; 7] {
    let (left, right) = (at + before, at + after);
    [
        left - 1,
        left,
        (left + right) / 2,
        right - 1,
        right,
        left - 1800,
        right + 1800,
    ]
}

fn civil_times(tz: Tz, rng: &mut ChaCha8Rng) -> Vec<NaiveDateTime> {
    let ours = super::changes(tz.name()).into_iter().map(|at| {
        let data = super::data(tz.name());
        let (before, at_it) = (
            data.to_offset(at - jiff::SignedDuration::from_secs(1)),
            data.to_offset(at),
        );
        (
            at.as_second(),
            i64::from(before.seconds()),
            i64::from(at_it.seconds()),
        )
    });
    let random = |rng: &mut ChaCha8Rng| {
        let span = (year_start(YEARS.end() + 1) - year_start(*YEARS.start())) as u64;
        year_start(*YEARS.start()) + (rng.next_u64() % span) as i64
    };
    let mut seconds: Vec<i64> = ours.chain(changes(tz)).flat_map(around).collect();
    seconds.extend((0..SAMPLE).map(|_| random(rng)));
    let at = |second: i64| DateTime::from_timestamp(second, 0).expect("in range").naive_utc();
    let quarters = YEARS.flat_map(|year| [2, 5, 8, 11].map(|month| NaiveDate::from_ymd_opt(year, month, 1)));
    let noons = quarters.map(|day| {
        (day.expect("a day") + Days::new(14))
            .and_hms_opt(12, 0, 0)
            .expect("noon")
    });
    seconds
        .into_iter()
        .map(at)
        .chain(noons)
        .filter(|civil| YEARS.contains(&civil.year()))
        .collect()
}

fn resolved(zone: &Zone, civil: NaiveDateTime) -> i64 {
    let since = civil.and_utc().timestamp();
    let civil: civil::DateTime =
        jiff::tz::TimeZone::UTC.to_datetime(Timestamp::from_second(since).expect("in range"));
    zone.instant(civil).as_second()
}

#[test]
fn every_zone_agrees_with_a_second_implementation_but_for_these() {
    eprintln!("seed {SEED}");
    let mut rng = ChaCha8Rng::seed_from_u64(SEED);
    let (mut differing, mut checked) = (BTreeMap::new(), 0);
    for tz in TZ_VARIANTS {
        let zone = super::zone(tz.name());
        for civil in civil_times(tz, &mut rng) {
            checked += 1;
            if resolved(&zone, civil) != as_the_rfc_says(tz, civil) {
                let years = differing.entry(tz.name()).or_insert((civil.year(), civil.year()));
                *years = (years.0.min(civil.year()), years.1.max(civil.year()));
            }
        }
    }
    let found: Vec<String> = differing
        .iter()
        .map(|(name, (first, last))| format!("{name},{first},{last}"))
        .collect();
    eprintln!(
        "{checked} civil times in {} zones; {} zones differ",
        TZ_VARIANTS.len(),
        found.len()
    );
    eprintln!("{}", found.join("\n"));
    let listed: Vec<&str> = include_str!("../data/time-differences.csv")
        .lines()
        .skip(1)
        .collect();
    assert_eq!(found, listed);
    assert!(checked > 200_000, "only {checked} civil times");
}

#[test]
fn what_the_newer_data_says() {
    let check = |zone: &str, local: &str, expected: &str| {
        let zone = super::zone(zone);
        let civil = civil::DateTime::strptime("%Y-%m-%d %H:%M", local).expect("a civil time");
        assert_eq!(zone.rfc3339(zone.instant(civil)), expected, "{local}");
    };
    // IANA zone data 2026f: Vancouver keeps -07:00 from November 2026 on; Casablanca is at +00:00.
    check(
        "America/Vancouver",
        "2026-10-31 12:00",
        "2026-10-31T12:00:00-07:00",
    );
    check(
        "America/Vancouver",
        "2026-12-01 12:00",
        "2026-12-01T12:00:00-07:00",
    );
    check(
        "Africa/Casablanca",
        "2026-12-01 12:00",
        "2026-12-01T12:00:00+00:00",
    );
    // In October 2023 Nuuk's rule changed and its clock did not: nothing comes twice.
    check("America/Nuuk", "2023-10-28 23:30", "2023-10-28T23:30:00-02:00");
}

proptest! {
    #![proptest_config(super::config(2000))]

    #[test]
    fn a_clock_that_shows_a_time_showed_it_first_at_its_instant((name, instant) in super::near_a_change()) {
        let zone = super::zone(name);
        let first = zone.instant(zone.civil(instant));
        prop_assert_eq!(zone.civil(first), zone.civil(instant));
        prop_assert!(first <= instant);
    }
}
