//! What a year of moist air costs, and what the answer to "does this pool fit" costs.
//!
//! Limits: dew point and humidity ratio of 8,760 hours in 5 ms, a fit in 1 ms. Run it in a release build:
//! `cargo bench -p wrackline-core --bench air`.
#![allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock and prints"
)]

use std::hint::black_box;
use std::time::Instant;

use wrackline_core::air::evaporation::Stirring;
use wrackline_core::air::fit::{BAND, FitPool, SUMMER_ROOM, Setting, WINTER_ROOM, fit, usual_room};
use wrackline_core::air::moist::{Air, STANDARD_ATMOSPHERE};
use wrackline_core::quantity::{Celsius, Humidity, Litres, SquareCentimetres};

const RUNS: usize = 21;

/// The hours of a measured year: °C and humidity.
fn year() -> Vec<(Celsius, Humidity)> {
    let text = include_str!("../../tests/data/reference/tmy3.csv");
    let cells = |line: &str| -> Vec<f64> {
        line.split(',')
            .map(|cell| cell.parse().expect("a number"))
            .collect()
    };
    text.lines()
        .skip(2)
        .map(cells)
        .map(|row| (Celsius(row[0]), Humidity(row[2] / 100.0)))
        .collect()
}

/// The median of what some work takes, in milliseconds.
fn median(work: impl Fn()) -> f64 {
    let mut all: Vec<f64> = (0..RUNS)
        .map(|_| {
            let clock = Instant::now();
            work();
            clock.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    all.sort_by(f64::total_cmp);
    all[RUNS / 2]
}

fn main() {
    let year = year();
    let hours = median(|| {
        for (t, rh) in &year {
            let air = Air::new(*t, *rh).expect("air");
            black_box(air.dew_point().expect("a dew point"));
            black_box(air.humidity_ratio(STANDARD_ATMOSPHERE).expect("a ratio"));
        }
    });
    let warm = Celsius(27.0);
    let setting = Setting::usual(Litres(284.0), SquareCentimetres(5600.0), warm);
    let still = FitPool::still(SquareCentimetres(400.0), warm);
    let aired = FitPool::stirred(SquareCentimetres(400.0), warm, Stirring::AirStone);
    let (winter, summer) = (
        usual_room(WINTER_ROOM).expect("air"),
        usual_room(SUMMER_ROOM).expect("air"),
    );
    let fitting = median(|| {
        black_box(fit(black_box(&setting), &[still, aired], &winter, &summer, BAND).expect("a fit"));
    });
    println!(
        "{} hours of dew point and humidity ratio: {hours:.3} ms (limit 5)",
        year.len()
    );
    println!("one fit of two pools in two rooms: {fitting:.4} ms (limit 1)");
    assert!(hours < 5.0 && fitting < 1.0, "slower than the limits");
}
