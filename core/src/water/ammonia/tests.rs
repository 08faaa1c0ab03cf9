//! What the formulas must give, by hand and for every input.

use proptest::prelude::*;

use super::*;
use crate::quantity::Basis;

fn share_at(t: f64, ph: f64, s: f64) -> f64 {
    unionised(Celsius(t), ph, Salinity(s)).unwrap().share
}

#[test]
fn check_ranges_are_told() {
    let beyond = |t, s| -> Vec<Input> {
        let found = unionised(Celsius(t), 8.0, Salinity(s)).unwrap();
        found.beyond.into_iter().map(|one| one.input).collect()
    };
    assert_eq!(beyond(28.0, 0.0), []);
    assert_eq!(beyond(51.0, 0.5), [Input::Temperature]);
    assert_eq!(beyond(25.0, 35.0), []);
    assert_eq!(beyond(28.0, 35.0), [Input::Temperature]);
    assert_eq!(beyond(28.0, 41.0), [Input::Temperature, Input::Salinity]);
}

#[test]
fn check_what_is_refused() {
    let at = |t, ph, s| unionised(Celsius(t), ph, Salinity(s)).unwrap_err();
    assert_eq!(at(-6.0, 8.0, 0.0), Problem::Temperature { value: -6.0 });
    assert_eq!(at(25.0, 15.0, 0.0), Problem::Ph { value: 15.0 });
    assert_eq!(at(25.0, 8.0, -1.0), Problem::Salinity { value: -1.0 });
    let share = unionised(Celsius(25.0), 8.0, Salinity(0.0)).unwrap();
    assert_eq!(
        share.of(MilligramsPerLitre(-0.1)),
        Err(Problem::Concentration { value: -0.1 })
    );
    assert_eq!(
        rate_factor(0.9, Celsius(20.0), Celsius(27.0)),
        Err(Problem::Theta { value: 0.9 })
    );
}

#[test]
fn where_the_waters_meet_no_step_is_seen() {
    // Of kits with a quarter of a mg/L a step, 5 % of the share is far below what can be seen.
    for t in [15.0, 20.0, 25.0, 28.0, 30.0] {
        let (fresh, sea) = (share_at(t, 8.0, 0.999_999), share_at(t, 8.0, 1.0));
        assert!((sea / fresh - 1.0).abs() < 0.05, "{t} °C: {fresh} and {sea}");
    }
}

#[test]
fn check_temperature_of_growth() {
    // 1.04^7, 1.08^7 and 1.10^7 by hand.
    for (growth, want) in [
        (Growth::FixedFilm, 1.3159),
        (Growth::SuspendedLow, 1.7138),
        (Growth::SuspendedHigh, 1.9487),
    ] {
        let got = rate_factor(growth.theta(), Celsius(20.0), Celsius(27.0)).unwrap();
        assert!((got - want).abs() < 1e-4, "{growth:?}: {got}");
    }
    // The factor of a filter lies between what its film is published to do.
    let percent = (Growth::FixedFilm.theta() - 1.0) * 100.0;
    assert!(FilmLimit::Oxygen.percent_per_degree() < percent);
    assert!(percent < FilmLimit::Ammonia.percent_per_degree());
}

#[test]
fn check_needs_in_either_basis() {
    let as_n = needs(MilligramsPerLitre(2.0), Basis::Nitrogen).unwrap();
    assert!((as_n.oxygen.0 - 9.138).abs() < 1e-9 && (as_n.alkalinity.0 - 14.29).abs() < 1e-9);
    // 17.031 mg of ammonia hold 14.007 mg of nitrogen.
    let as_ion = needs(MilligramsPerLitre(2.0 * 17.031 / 14.007), Basis::Ion).unwrap();
    assert!((as_ion.oxygen.0 - as_n.oxygen.0).abs() < 1e-9);
}

proptest! {
    #[test]
    fn a_share_lies_between_none_and_all(t in -5.0..=60.0, ph in 0.0..=14.0, s in 0.0..=100.0) {
        let share = share_at(t, ph, s);
        prop_assert!(0.0 < share && share < 1.0, "{share}");
    }

    #[test]
    fn a_share_rises_with_ph_and_warmth(t in -5.0..=59.0, ph in 0.0..=13.9, s in 0.0..=100.0, step in 0.001..=0.1) {
        prop_assert!(share_at(t, ph + step, s) > share_at(t, ph, s));
        prop_assert!(share_at(t + step, ph, s) > share_at(t, ph, s));
    }

    #[test]
    fn a_share_of_sea_water_falls_with_salt(t in -5.0..=60.0, ph in 6.0..=9.0, s in 1.0..=99.0, step in 0.01..=1.0) {
        prop_assert!(share_at(t, ph, s + step) < share_at(t, ph, s));
    }

    #[test]
    fn nothing_panics_and_no_answer_is_odd(t in any_number(), ph in any_number(), s in any_number(), c in any_number()) {
        let mut numbers = Vec::new();
        if let Ok(found) = unionised(Celsius(t), ph, Salinity(s)) {
            numbers.push(found.share);
            numbers.extend(found.of(MilligramsPerLitre(c)).map(|free| free.0));
        }
        numbers.extend(rate_factor(c, Celsius(t), Celsius(s)));
        numbers.extend(needs(MilligramsPerLitre(c), Basis::Ion).map(|needs| needs.oxygen.0 + needs.alkalinity.0));
        for number in numbers {
            prop_assert!(number.is_finite() && number >= 0.0, "{number}");
        }
    }
}

/// Any finite number, the awkward and the likely ones more often.
fn any_number() -> impl Strategy<Value = f64> {
    let awkward = vec![
        0.0, -0.0, 1.0, -1.0, 1.04, 7.0, 14.0, 25.0, 60.0, 1e300, -1e300, 5e-324, 1e6,
    ];
    prop_oneof![
        prop::sample::select(awkward),
        0.0..=60.0_f64,
        prop::num::f64::NORMAL | prop::num::f64::SUBNORMAL,
    ]
}
