//! What salinity from conductivity and density from salinity cost, beside the same asked of the crate `gsw`.
//!
//! The crate's density is given its own salinity and temperature, so that converting to them is not counted; it
//! answers by TEOS-10 and for every depth, ours by the equation of state of 1980 at the surface. What is compared is
//! measured in turn, in one run, and the ratios are of medians. Run it in a release build:
//! `cargo bench -p wrackline-core --bench seawater`.
#![allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock and prints"
)]

use std::hint::black_box;
use std::time::Instant;

use wrackline_core::quantity::{Celsius, Conductivity, Salinity};
use wrackline_core::water::seawater::{conductivity_from_salinity, density, salinity_from_conductivity};

const RUNS: usize = 41;
const TURNS: usize = 50;

/// A water, as each of both wants it.
struct Sample {
    salinity: f64,
    celsius: f64,
    ms_cm: f64,
    absolute: f64,
    conservative: f64,
}

/// Waters between two salinities, at the temperatures of pools.
fn samples(low: f64, high: f64) -> Vec<Sample> {
    let steps = |low: f64, high: f64, n: u32| {
        (0..n).map(move |i| low + (high - low) * f64::from(i) / f64::from(n - 1))
    };
    steps(low, high, 40)
        .flat_map(|salinity| steps(15.0, 35.0, 25).map(move |celsius| (salinity, celsius)))
        .map(|(salinity, celsius)| {
            let absolute = gsw::conversions::sr_from_sp(salinity);
            Sample {
                salinity,
                celsius,
                ms_cm: conductivity_from_salinity(Salinity(salinity), Celsius(celsius))
                    .expect("a water")
                    .0,
                absolute,
                conservative: gsw::conversions::ct_from_pt(absolute, celsius).expect("a temperature"),
            }
        })
        .collect()
}

/// Nanoseconds that one answer takes.
fn nanoseconds(samples: &[Sample], ask: impl Fn(&Sample) -> f64) -> f64 {
    let clock = Instant::now();
    for _ in 0..TURNS {
        for sample in samples {
            black_box(ask(black_box(sample)));
        }
    }
    clock.elapsed().as_secs_f64() * 1e9 / (TURNS * samples.len()) as f64
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

/// Measures both in turn and prints their ratio.
fn beside(what: &str, samples: &[Sample], ours: impl Fn(&Sample) -> f64, theirs: impl Fn(&Sample) -> f64) {
    let (mut mine, mut other) = (Vec::new(), Vec::new());
    nanoseconds(samples, &ours);
    nanoseconds(samples, &theirs);
    for _ in 0..RUNS {
        mine.push(nanoseconds(samples, &ours));
        other.push(nanoseconds(samples, &theirs));
    }
    let (mine, other) = (median(mine), median(other));
    println!(
        "{what}: {mine:.1} ns, gsw {other:.1} ns, ratio {:.2}",
        mine / other
    );
}

fn main() {
    let (salt, fresh) = (samples(2.5, 42.0), samples(0.05, 1.9));
    println!("{} waters each, {RUNS} runs, medians", salt.len());
    let ours = |s: &Sample| {
        salinity_from_conductivity(Conductivity(s.ms_cm), Celsius(s.celsius))
            .expect("a salinity")
            .0
    };
    let theirs =
        |s: &Sample| gsw::practical_salinity::sp_from_c(s.ms_cm, s.celsius, 0.0).expect("a salinity");
    beside("salinity from conductivity, 2.5 to 42", &salt, ours, theirs);
    beside("salinity from conductivity, below 2", &fresh, ours, theirs);
    let ours = |s: &Sample| {
        conductivity_from_salinity(Salinity(s.salinity), Celsius(s.celsius))
            .expect("a conductivity")
            .0
    };
    let theirs =
        |s: &Sample| gsw::practical_salinity::c_from_sp(s.salinity, s.celsius, 0.0).expect("a conductivity");
    beside("conductivity from salinity, 2.5 to 42", &salt, ours, theirs);
    beside("conductivity from salinity, below 2", &fresh, ours, theirs);
    beside(
        "density from salinity",
        &salt,
        |s| {
            density(Salinity(s.salinity), Celsius(s.celsius))
                .expect("a density")
                .0
        },
        |s| gsw::volume::rho(s.absolute, s.conservative, 0.0).expect("a density"),
    );
}
