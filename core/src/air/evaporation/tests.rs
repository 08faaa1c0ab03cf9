use proptest::prelude::*;

use super::*;
use crate::air::moist::{Air, saturation};
use crate::quantity::Humidity;

fn air(t: f64, rh: f64) -> Air {
    Air::new(Celsius(t), Humidity(rh)).expect("air")
}

/// Water at 26 °C under air of 27 °C and 80 %: the published forms differ by 2.9 times (computed for the fact sheet).
#[test]
fn published_forms_differ_threefold() {
    let (water, air) = (Celsius(26.0), air(27.0, 0.8));
    let dp = saturation(water).expect("pressure") - air.vapour_pressure();
    let all = [
        (shah(water, &air).expect("shah").evaporation, 0.0255),
        (ashrae_simplified(dp, 0.5).expect("half"), 0.0367),
        (smith_quiet(water, dp, 0.1).expect("smith"), 0.0536),
        (penman(dp, 0.0).expect("penman"), 0.0552),
        (ashrae(water, dp, 0.1).expect("full"), 0.0728),
    ];
    for (got, want) in all {
        assert!((got - want).abs() < 1.5e-4, "{got} for {want}");
    }
    assert!((2.8..2.95).contains(&(all[4].0 / all[0].0)));
    // As transfers they span what is assumed of a still surface, and ASHRAE's full form lies above.
    let of = |evaporation: f64| evaporation / dp.0;
    assert!((of(all[0].0) - STILL.low.0).abs() < 1e-6 && (of(all[2].0) - STILL.high.0).abs() < 1e-6);
    assert!(of(all[4].0) > STILL.high.0);
    // Nobody swims: half of ASHRAE's.
    assert_eq!(ActivityFactor::Unoccupied.range().high, 0.5);
}

/// 60 L/h of air add 4.33e-7 kg/h/Pa, about 14 % of a still surface of 0.06 m² (computed for the fact sheet).
#[test]
fn check_bubbles() {
    let got = bubble_conductance(LitresPerMinute(1.0), Celsius(27.0))
        .expect("conductance")
        .0;
    assert!((got - 4.33e-7).abs() < 1e-9, "{got}");
    assert!((0.14..0.15).contains(&(got / (0.06 * STILL.likely.0))));
}

/// An unheated pool sits 1.1 to 1.7 K under air of 27 °C and 80 % (films of 8 to 16 W/m²K; computed for the fact
/// sheet).
#[test]
fn check_unheated_pool_is_colder() {
    let below = |film, transfer| {
        27.0 - unheated(&air(27.0, 0.8), transfer, 1.0, film)
            .expect("a temperature")
            .0
    };
    for film in [8.0, 12.0, 16.0] {
        let got = below(film, STILL.likely);
        assert!((1.05..1.7).contains(&got), "{film}: {got}");
    }
    assert!((below(16.0, STILL.high) - 1.68).abs() < 0.02);
}

#[test]
fn a_transfer_is_fitted_from_what_was_topped_up() {
    // 15.02 g a day from 245.8 cm² at 80 %: the worked box.
    let dp = saturation(Celsius(26.0)).expect("pressure") - air(27.0, 0.8).vapour_pressure();
    let fit = |kg, cm2| fit_transfer(Kilograms(kg), SquareCentimetres(cm2), Hours(24.0), dp);
    let got = fit(0.015_02, 245.8).expect("a transfer");
    assert!((got.0 / 5e-5 - 1.0).abs() < 1e-3, "{got:?}");
    // A leak of 4 L is no evaporation.
    assert!(matches!(
        fit(4.0, 245.8),
        Err(AirError::Outside {
            what: What::Transfer,
            ..
        })
    ));
    assert!(matches!(
        fit(0.015, 0.0),
        Err(AirError::Outside {
            what: What::Surface,
            ..
        })
    ));
}

#[test]
fn check_assumptions_and_their_ranges() {
    let likely = [Stirring::Still, Stirring::AirStone, Stirring::FallingWater].map(|s| s.assumed().likely.0);
    assert_eq!(likely, [5e-5, 5e-5 * 1.5, 1e-4]);
    for stirring in [Stirring::Still, Stirring::AirStone, Stirring::FallingWater] {
        let spread = stirring.assumed();
        assert!(spread.low <= spread.likely && spread.likely <= spread.high);
    }
    assert!(surface_beyond(SquareCentimetres(300.0)).is_some());
    assert!((activity(Salinity(35.0)).expect("activity") - 0.98131).abs() < 2e-4);
}

proptest! {
    #[test]
    fn no_number_breaks_it(
        (a, b, c) in (any::<f64>(), any::<f64>(), any::<f64>()),
        t in 0.0..60.0_f64,
        rh in 0.0..=1.0_f64,
    ) {
        let air = air(t, rh);
        for value in [
            ashrae(Celsius(a), Pascals(b), c),
            ashrae(Celsius(t), Pascals(b), 0.1),
            smith_quiet(Celsius(a), Pascals(b), c),
            ashrae_simplified(Pascals(a), b), penman(Pascals(a), b),
            shah_no_buoyancy(Pascals(a)),
            activity(Salinity(a)),
            shah(Celsius(a), &air).map(|shah| shah.evaporation),
            shah(Celsius(t / 2.0), &air).map(|shah| shah.evaporation),
            bubble_conductance(LitresPerMinute(a), Celsius(b)).map(|g| g.0),
            fit_transfer(Kilograms(a), SquareCentimetres(b), Hours(c), Pascals(a)).map(|k| k.0),
            unheated(&air, Transfer(a), b, c).map(|t| t.0),
            unheated(&air, STILL.high, 0.98, 8.0).map(|t| t.0),
        ] {
            prop_assert!(value.map_or(true, f64::is_finite));
        }
    }

    #[test]
    fn an_unheated_pool_lies_between_dew_point_and_air(t in 5.0..40.0_f64, rh in 0.3..=1.0_f64, film in 5.0..30.0_f64) {
        let air = air(t, rh);
        let water = unheated(&air, STILL.likely, 1.0, film).unwrap();
        prop_assert!(air.dew_point().unwrap().0 - 1e-6 <= water.0 && water.0 <= t + 1e-6);
    }
}
