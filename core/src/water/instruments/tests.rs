//! What instruments show, against facts from an independent library and against themselves.

use proptest::prelude::*;

use super::*;
use crate::quantity::{Basis, Celsius, Formula, Gravity, GravityConvention, Kind, Measured, Salinity};

fn any_convention() -> impl Strategy<Value = GravityConvention> {
    prop::sample::select(GravityConvention::ALL.to_vec())
}

/// TEOS-10 by the library `gsw`, rounded as printed there.
#[test]
fn check_the_same_gravity_in_each_convention() {
    use GravityConvention::{F60F60, T20T20, T25T4, T25T25};
    for (shown, convention, want) in [
        (1.025, T25T25, 33.19),
        (1.025, T20T20, 32.90),
        (1.025, F60F60, 32.58),
        (1.025, T25T4, 37.16),
        (1.0264, T25T25, 35.04),
        (1.0264, T20T20, 34.73),
        (1.0264, F60F60, 34.40),
        (1.0264, T25T4, 39.01),
    ] {
        let ours = salinity_from_stated(Gravity(shown), Some(convention)).unwrap();
        assert!((ours.0 - want).abs() < 0.0095, "{shown} {convention:?}: {ours:?}");
    }
}

#[test]
fn check_readings_to_expect() {
    for (s, want) in [
        (35.0, [1.026_37, 1.026_61, 1.026_86, 1.023_37]),
        (30.0, [1.022_59, 1.022_79, 1.023_01, 1.019_60]),
    ] {
        let found = expected(Salinity(s), Celsius(25.0)).unwrap();
        for ((convention, ours), (place, want)) in found
            .gravities
            .into_iter()
            .zip(GravityConvention::ALL.into_iter().zip(want))
        {
            assert_eq!(convention, place);
            assert!((ours.0 - want).abs() < 2e-5, "{s} {convention:?}: {ours:?}");
        }
        let conductivity = if s == 35.0 { 53.0710 } else { 46.2532 };
        assert!((found.conductivity.0 - conductivity).abs() < 1e-4, "{found:?}");
        assert_eq!(found.beyond, []);
    }
    let fresh = expected(Salinity(0.5), Celsius(25.0)).unwrap();
    assert_eq!(fresh.beyond.len(), 1);
    assert_eq!(fresh.beyond[0].formula, Formula::PracticalSalinity);
}

#[test]
fn a_gravity_without_convention_says_nothing() {
    assert_eq!(
        salinity_from_stated(Gravity(1.025), None),
        Err(InstrumentError::NoConvention(Gravity(1.025)))
    );
}

#[test]
fn gravities_that_no_water_has_are_refused() {
    for convention in GravityConvention::ALL {
        for shown in [0.99, 0.0, -1.025, 1.05, 1e300, f64::NAN] {
            let refused = salinity_from_gravity(Gravity(shown), convention);
            let Err(InstrumentError::Gravity { low, high, .. }) = refused else {
                panic!("{shown} {convention:?}: {refused:?}");
            };
            assert!(low < Gravity(1.0001) && high > Gravity(1.04));
        }
    }
    // Fresh water shows less than 1 where the reference is colder.
    let fresh = salinity_from_gravity(Gravity(0.998), GravityConvention::T25T4).unwrap();
    assert!(fresh.0 > 1.0 && fresh.0 < 2.0, "{fresh:?}");
}

/// A glass hydrometer for 60 °F in water of 80 °F, by the formula; keepers' tables say 1.0226.
#[test]
fn check_a_hydrometer_in_warm_water() {
    let warm = Celsius((80.0 - 32.0) * 5.0 / 9.0);
    let s = salinity_from_gravity(Gravity(1.025), GravityConvention::F60F60).unwrap();
    let shown = hydrometer_shows(s, GravityConvention::F60F60, warm).unwrap();
    assert!((shown.0 - 1.0223).abs() < 6e-5, "{shown:?}");
    let right = from_hydrometer(shown, GravityConvention::F60F60, warm).unwrap();
    assert!((right.corrected.0 - 1.025).abs() < 1e-12, "{right:?}");
    assert!((right.salinity.0 - s.0).abs() < 1e-9, "{right:?}");
    assert_eq!(right.rests, crate::rests::Rests::Memory);
}

#[test]
fn whatever_was_read_has_one_salinity_behind_it() {
    let all = [
        Measured::Salinity(35.0),
        Measured::Gravity {
            value: 1.026_371,
            convention: GravityConvention::T25T25,
        },
        Measured::Conductivity {
            ms_cm: 53.0710,
            at_c: 25.0,
        },
    ];
    for read in all {
        let found = salinity_of(&read).unwrap();
        assert!((found.salinity.0 - 35.0).abs() < 0.005, "{read:?}: {found:?}");
        assert_eq!(found.beyond, []);
    }
    let ammonia = Measured::Ammonia {
        mg_l: 1.0,
        basis: Basis::Ion,
    };
    assert_eq!(
        salinity_of(&ammonia),
        Err(InstrumentError::NotOfSalt(Kind::Ammonia))
    );
    assert!(salinity_of(&Measured::Salinity(61.0)).is_err());
    let low = Measured::Conductivity {
        ms_cm: 1.413,
        at_c: 25.0,
    };
    assert_eq!(salinity_of(&low).unwrap().beyond.len(), 1);
}

proptest! {
    #[test]
    fn gravity_comes_back(s in 0.0..=60.0_f64, convention in any_convention(), t in -10.0..=60.0_f64) {
        let shown = gravity_from_salinity(Salinity(s), convention).unwrap();
        let back = salinity_from_gravity(shown, convention).unwrap();
        prop_assert!((back.0 - s).abs() < 1e-9, "{back:?}");
        // And by a hydrometer in water of another temperature, away from the ends.
        if (0.01..59.9).contains(&s) {
            let shown = hydrometer_shows(Salinity(s), convention, Celsius(t)).unwrap();
            let found = from_hydrometer(shown, convention, Celsius(t)).unwrap();
            prop_assert!((found.salinity.0 - s).abs() < 1e-9, "{found:?}");
        }
    }

    #[test]
    fn more_salt_is_heavier(s in 0.0..59.0_f64, more in 1e-3..1.0_f64, convention in any_convention()) {
        let (less, more) = (Salinity(s), Salinity(s + more));
        let of = |salinity| gravity_from_salinity(salinity, convention).unwrap();
        prop_assert!(of(less) < of(more));
    }

    #[test]
    fn no_reading_panics(a in any::<f64>(), b in any::<f64>(), near in 0.9..1.1_f64, convention in any_convention()) {
        for (a, b) in [(a, b), (near, b), (a, 25.0), (near, 25.0), (a * 60.0, near)] {
            let results = [
                salinity_from_gravity(Gravity(a), convention).map(|x| x.0),
                gravity_from_salinity(Salinity(a), convention).map(|x| x.0),
                hydrometer_shows(Salinity(a), convention, Celsius(b)).map(|x| x.0),
                from_hydrometer(Gravity(a), convention, Celsius(b)).map(|x| x.salinity.0 + x.corrected.0),
                expected(Salinity(a), Celsius(b)).map(|x| x.conductivity.0),
                salinity_of(&Measured::Conductivity { ms_cm: a, at_c: b }).map(|x| x.salinity.0),
                standard(crate::quantity::Grams(a)).map(|x| x.salt.0 + x.water.0),
                Correction::offset(Salinity(a)).and_then(|c| c.right(Salinity(b))).map(|x| x.0),
                Correction::Factor(a).right(Salinity(b)).map(|x| x.0),
                Correction::Offset(a).right(Salinity(b)).map(|x| x.0),
            ];
            for value in results.into_iter().flatten() {
                prop_assert!(value.is_finite() && value >= 0.0, "{a} {b}: {value}");
            }
        }
    }
}
