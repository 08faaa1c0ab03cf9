//! What holds for all air.

use proptest::prelude::*;

use super::*;

proptest! {
    #[test]
    fn dew_point_undoes_saturation(t in -40.0..100.0_f64) {
        let back = dew_point(saturation(Celsius(t)).unwrap()).unwrap().0;
        prop_assert!((back - t).abs() < 1e-8, "{t} came back as {back}");
    }

    #[test]
    fn dew_point_never_lies_above_the_air(t in -20.0..100.0_f64, rh in 0.25..=1.0_f64) {
        let air = Air::new(Celsius(t), Humidity(rh)).unwrap();
        let dew = air.dew_point().unwrap();
        prop_assert!(dew.0 <= t);
        let back = saturation(dew).unwrap() / air.saturation();
        prop_assert!((back - rh).abs() < 1e-9, "{rh} came back as {back}");
    }

    #[test]
    fn saturation_rises(t in -40.0..99.0_f64, more in 0.001..1.0_f64) {
        prop_assert!(saturation(Celsius(t)).unwrap() < saturation(Celsius(t + more)).unwrap());
        prop_assert!(latent_heat_kj_kg(Celsius(t)).unwrap() > latent_heat_kj_kg(Celsius(t + more)).unwrap());
    }

    #[test]
    fn no_number_breaks_it(t in any::<f64>(), small in -50.0..110.0_f64, rh in any::<f64>(), total in any::<f64>()) {
        for t in [t, small] {
            for rh in [rh, 0.0, 0.5, 1e-300, 1.0] {
                if let Ok(air) = Air::new(Celsius(t), Humidity(rh)) {
                    for total in [total, 101_325.0] {
                        for value in [air.humidity_ratio(Pascals(total)), air.dry_density(Pascals(total))] {
                            prop_assert!(value.is_err() || value.is_ok_and(|v| v.is_finite() && v >= 0.0));
                        }
                    }
                    prop_assert!(air.absolute_humidity_g_m3().is_finite());
                    prop_assert!(air.dew_point().map_or(true, |dew| dew.0.is_finite()));
                }
            }
        }
        prop_assert!(dew_point(Pascals(total)).map_or(true, |dew| dew.0.is_finite()));
    }
}
