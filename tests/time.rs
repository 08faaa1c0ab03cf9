//! Local time: instants, rounds, quiet hours, weeks and calendars, against independent data and code.

mod cron;
mod examples;
mod instants;
mod quiet;
mod recurrences;
mod rounds;

use jiff::tz::{TimeZone, TimeZoneDatabase};
use jiff::{Timestamp, civil};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use wrackline_core::civil::Zone;

/// The cells of a line of a table, where a cell in double quotes may hold commas.
pub(crate) fn cells(line: &str) -> Vec<String> {
    let (mut cells, mut quoted) = (vec![String::new()], false);
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            other => cells.last_mut().expect("a cell").push(other),
        }
    }
    cells
}

/// The zone data of the resolver under test, for finding where its clock changes lie.
fn data(zone: &str) -> TimeZone {
    TimeZoneDatabase::bundled()
        .get(zone)
        .unwrap_or_else(|error| panic!("{zone}: {error}"))
}

fn zone(name: &str) -> Zone {
    Zone::get(name).unwrap_or_else(|| panic!("no zone {name}"))
}

/// Clock changes of a zone from 1976 to 2035.
fn changes(zone: &str) -> Vec<Timestamp> {
    let [start, end] =
        [1976, 2036].map(|year| TimeZone::UTC.to_timestamp(civil::date(year, 1, 1).at(0, 0, 0, 0)));
    let (start, end) = (start.expect("in range"), end.expect("in range"));
    data(zone)
        .following(start)
        .map(|change| change.timestamp())
        .take_while(|at| *at < end)
        .collect()
}

fn config(cases: u32) -> ProptestConfig {
    let seed = RngSeed::Fixed(20_260_308);
    ProptestConfig {
        rng_seed: seed,
        failure_persistence: None,
        ..ProptestConfig::with_cases(cases)
    }
}

/// A zone and an instant within a day and a half of one of its clock changes, or anywhere if it has none.
fn near_a_change() -> impl Strategy<Value = (&'static str, Timestamp)> {
    let zones = proptest::sample::select(&chrono_tz::TZ_VARIANTS[..]);
    (zones, any::<proptest::sample::Index>(), -2200_i64..2200).prop_map(|(zone, index, minutes)| {
        let changes = changes(zone.name());
        let near = if changes.is_empty() {
            Timestamp::UNIX_EPOCH
        } else {
            *index.get(&changes)
        };
        (zone.name(), wrackline_core::civil::plus_minutes(near, minutes))
    })
}
