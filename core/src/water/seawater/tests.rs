//! Against what its authors printed, tables of independent libraries (`tests/reference`), and the `gsw` crate.

use proptest::prelude::*;

use super::*;
use crate::quantity::{Beyond, Celsius, Conductivity, Density, Input, Kilograms, Litres, Salinity};

mod properties;

/// The rows of a table that `tests/reference/make.py` made.
fn table<const N: usize>(text: &str, header: &str) -> Vec<[f64; N]> {
    let mut lines = text.lines();
    assert!(
        lines
            .next()
            .is_some_and(|line| line.ends_with("; made by tests/reference/make.py"))
    );
    assert_eq!(lines.next(), Some(header));
    let row = |line: &str| {
        let cells: Vec<f64> = line
            .split(',')
            .map(|cell| cell.parse().expect("a number"))
            .collect();
        cells.try_into().expect("as many cells as the header has")
    };
    lines.map(row).collect()
}

/// Density by TEOS-10 of the crate `gsw`: its polynomial of 75 terms.
fn teos10(s: f64, t: f64) -> f64 {
    let absolute = gsw::conversions::sr_from_sp(s);
    let conservative = gsw::conversions::ct_from_pt(absolute, t).expect("a temperature");
    gsw::volume::rho(absolute, conservative, 0.0).expect("a density")
}

#[test]
fn check_against_the_table_of_densities() {
    let rows = table::<4>(
        include_str!("../../../../tests/data/reference/seawater_density.csv"),
        "salinity,t90,teos10_kg_m3,eos80_kg_m3",
    );
    assert!(rows.len() > 200);
    for [s, t, exact, eos80] in rows {
        let ours = density(Salinity(s), Celsius(t)).unwrap().0;
        // As far as it was printed.
        assert!((ours - eos80).abs() < 1e-8, "{s} {t}: {ours} {eos80}");
        let within = match (s, t) {
            (..=42.0, 10.0..=35.0) => 0.006,
            (..=42.0, _) => 0.01,
            _ => 0.018,
        };
        assert!((ours - exact).abs() <= within, "{s} {t}: {ours} {exact}");
    }
}

#[test]
fn check_against_the_table_of_conductivities() {
    let rows = table::<3>(
        include_str!("../../../../tests/data/reference/seawater_conductivity.csv"),
        "salinity,t90,ms_cm",
    );
    assert!(rows.len() > 250);
    for [s, t, want] in rows {
        let (of, at) = (Salinity(s), Celsius(t));
        let ours = conductivity_from_salinity(of, at).unwrap();
        assert!((ours.0 - want).abs() < 1e-9, "{s} {t}: {ours:?} {want}");
        let back = salinity_from_conductivity(Conductivity(want), at).unwrap();
        assert!((back.0 - s).abs() < 1e-8, "{s} {t}: {back:?}");
    }
}

#[test]
fn check_against_the_table_of_activities() {
    let rows = table::<3>(
        include_str!("../../../../tests/data/reference/seawater_activity.csv"),
        "salinity,t90,activity",
    );
    assert!(rows.len() > 100);
    let mut rule = 0.0_f64;
    for [s, t, want] in rows {
        let ours = water_activity(Salinity(s)).unwrap();
        let within = if t >= 20.0 && s <= 37.0 { 5e-5 } else { 1.3e-4 };
        assert!((ours - want).abs() <= within, "{s} {t}: {ours} {want}");
        rule = rule.max((1.0 - 0.000_537 * s - want).abs());
    }
    // Why the shorter rule is not used.
    assert!(rule > 2e-4 && rule < 3e-4, "{rule}");
}

#[test]
fn check_conductivity_against_the_crate_at_every_depth() {
    for s in [0.05, 0.5, 1.0, 1.999, 2.0, 2.001, 5.0, 20.0, 35.0, 42.0] {
        for t in [-2.0, 0.0, 10.0, 15.0, 25.0, 35.0] {
            for p in [0.0, 10.0, 500.0, 10_000.0] {
                let (of, at, under) = (Salinity(s), Celsius(t), Decibars(p));
                let want = gsw::practical_salinity::c_from_sp(s, t, p).unwrap();
                let ours = conductivity_under(of, at, under).unwrap();
                assert!((ours.0 - want).abs() < 1e-10, "{s} {t} {p}: {ours:?} {want}");
                let want = gsw::practical_salinity::sp_from_c(ours.0, t, p).unwrap();
                let back = salinity_under(ours, at, under).unwrap();
                assert!((back.0 - want).abs() < 1e-10, "{s} {t} {p}: {back:?} {want}");
            }
        }
    }
}

#[test]
fn check_density_against_the_crate() {
    for tenths_s in (0..=420).step_by(5) {
        for t in 10..=35 {
            let (s, t) = (f64::from(tenths_s) / 10.0, f64::from(t));
            let ours = density(Salinity(s), Celsius(t)).unwrap().0;
            // Its polynomial is up to 0.00065 from the exact function itself.
            assert!((ours - teos10(s, t)).abs() <= 0.006_65, "{s} {t}");
        }
    }
}

/// Fofonoff & Millard 1983, UNESCO Technical Papers in Marine Science 44: p. 9, 19 and 22.
#[test]
fn check_printed_values() {
    let t68 = |t: f64| Celsius(t / 1.000_24);
    for (s, t, p, want) in [
        (35.0, 5.0, 0.0, 1_027.675_47),
        (0.0, 25.0, 10_000.0, 1_037.902_04),
        (35.0, 5.0, 10_000.0, 1_069.489_14),
        (35.0, 25.0, 10_000.0, 1_062.538_17),
    ] {
        let ours = density_under(Salinity(s), t68(t), Decibars(p)).unwrap().0;
        assert!((ours - want).abs() <= 5.1e-6, "{s} {t} {p}: {ours}");
    }
    // Conductivity ratios of waters, printed for the inverse.
    for (s, t, p, want) in [
        (25.0, 0.0, 0.0, 0.498_008),
        (25.0, 10.0, 1000.0, 0.662_975),
        (40.0, 10.0, 0.0, 1.000_073),
        (40.0, 30.0, 0.0, 1.529_967),
    ] {
        let ours = conductivity_under(Salinity(s), t68(t), Decibars(p)).unwrap().0 / 42.914;
        assert!((ours - want).abs() <= 5.1e-7, "{s} {t} {p}: {ours}");
    }
}

#[test]
fn water_that_hardly_conducts_is_fresh() {
    // The independent library refuses it; the instrument shows it all the same.
    assert!(gsw::practical_salinity::sp_from_c(0.001, 25.0, 0.0).is_err());
    for shown in [0.0, 1e-9, 0.001] {
        assert_eq!(
            salinity_from_conductivity(Conductivity(shown), Celsius(25.0)),
            Ok(Salinity(0.0))
        );
    }
    let least = conductivity_from_salinity(Salinity(0.0), Celsius(25.0)).unwrap();
    assert!(least.0 > 0.001 && least.0 < 0.002, "{least:?}");
}

#[test]
fn check_what_is_beyond() {
    let inputs = |beyond: Vec<Beyond>| beyond.iter().map(|one| one.input).collect::<Vec<_>>();
    for (s, t, practical, state) in [
        (35.0, 25.0, vec![], vec![]),
        (1.0, 25.0, vec![Input::Salinity], vec![]),
        (
            45.0,
            38.0,
            vec![Input::Salinity, Input::Temperature],
            vec![Input::Salinity],
        ),
        (35.0, -3.0, vec![Input::Temperature], vec![Input::Temperature]),
    ] {
        assert_eq!(inputs(practical_beyond(Salinity(s), Celsius(t))), practical);
        assert_eq!(inputs(density_beyond(Salinity(s), Celsius(t))), state);
    }
    assert_eq!(
        inputs(water_activity_beyond(Salinity(35.0), Celsius(10.0))),
        [Input::Temperature]
    );
}

#[test]
fn impossible_water_is_refused() {
    let outside = |found: Result<f64, SeawaterError>| match found {
        Err(SeawaterError::Outside { input, .. }) => Some(input),
        _ => None,
    };
    let shown = |c: f64, t: f64| salinity_from_conductivity(Conductivity(c), Celsius(t)).map(|s| s.0);
    assert_eq!(outside(shown(50.0, 61.0)), Some(SeawaterInput::Temperature));
    assert_eq!(outside(shown(-1.0, 25.0)), Some(SeawaterInput::Conductivity));
    assert_eq!(outside(shown(150.0, 25.0)), Some(SeawaterInput::Salinity));
    let heavy = |rho: f64| salinity_from_density(Density(rho), Celsius(25.0)).map(|s| s.0);
    assert_eq!(outside(heavy(990.0)), Some(SeawaterInput::Density));
    assert_eq!(outside(heavy(1100.0)), Some(SeawaterInput::Density));
    let deep = density_under(Salinity(35.0), Celsius(5.0), Decibars(-1.0)).map(|rho| rho.0);
    assert_eq!(outside(deep), Some(SeawaterInput::Pressure));
    let lower = salt_to_raise(Kilograms(10.0), Salinity(35.0), Salinity(33.0)).map(|salt| salt.0);
    assert_eq!(outside(lower), Some(SeawaterInput::Salinity));
    let dried = after_evaporation(Salinity(35.0), 0.8).map(|s| s.0);
    assert_eq!(outside(dried), Some(SeawaterInput::Salinity));
    let (from, target) = (Salinity(35.0), Salinity(36.0));
    let added = Salinity(0.0);
    assert_eq!(
        share_to_swap(from, target, added),
        Err(SeawaterError::OutOfReach { from, added, target })
    );
    assert!(
        prepared_from(Litres(-1.0), from, Celsius(25.0)).is_err()
            && prepared_to(Litres(1e10), from, Celsius(25.0)).is_err()
    );
}

/// The amounts that a keeper meets: 10 L of fresh water at 25 °C to 35 g/kg.
#[test]
fn check_a_bucket() {
    let made = prepared_from(Litres(10.0), Salinity(35.0), Celsius(25.0)).unwrap();
    assert!((made.salt.0 - 361.6).abs() < 0.05, "{made:?}");
    assert!((made.finished.0 - 10.0976).abs() < 5e-4, "{made:?}");
    // Not 35 g for each litre: that makes 33.9 g/kg.
    let poor = 1000.0 * 350.0 / (350.0 + 1000.0 * made.fresh_mass.0);
    assert!((poor - 33.9).abs() < 0.05, "{poor}");
}
