//! What holds for every water.

use super::*;

/// As little as a salinity may lose on its way there and back.
const BACK: f64 = 1e-10;

proptest! {
    #[test]
    fn conductivity_comes_back(s in 0.0..=60.0_f64, t in -10.0..=60.0_f64, p in 0.0..=10_000.0_f64) {
        let (of, at, under) = (Salinity(s), Celsius(t), Decibars(p));
        let there = conductivity_under(of, at, under).unwrap();
        match salinity_under(there, at, under) {
            Ok(back) => prop_assert!((back.0 - s).abs() < BACK, "{back:?}"),
            // The last digit above the end.
            Err(_) => prop_assert!(s > 60.0 - BACK),
        }
    }

    #[test]
    fn low_conductivity_comes_back(s in 0.0..3.0_f64, t in -10.0..=60.0_f64) {
        let there = conductivity_from_salinity(Salinity(s), Celsius(t)).unwrap();
        let back = salinity_from_conductivity(there, Celsius(t)).unwrap();
        prop_assert!((back.0 - s).abs() < BACK, "{back:?}");
    }

    #[test]
    fn conductivity_agrees_with_the_crate(
        s in 0.01..42.0_f64, t in -2.0..=35.0_f64, p in 0.0..=10_000.0_f64,
    ) {
        let want = gsw::practical_salinity::c_from_sp(s, t, p).unwrap();
        let ours = conductivity_under(Salinity(s), Celsius(t), Decibars(p)).unwrap();
        prop_assert!((ours.0 - want).abs() < 1e-10, "{ours:?} {want}");
        let want = gsw::practical_salinity::sp_from_c(ours.0, t, p).unwrap();
        let back = salinity_under(ours, Celsius(t), Decibars(p)).unwrap();
        prop_assert!((back.0 - want).abs() < 1e-10, "{back:?} {want}");
    }

    #[test]
    fn density_agrees_with_the_crate(s in 0.0..=42.0_f64, t in 10.0..=35.0_f64) {
        let ours = density(Salinity(s), Celsius(t)).unwrap().0;
        prop_assert!((ours - teos10(s, t)).abs() <= 0.006_65);
    }

    #[test]
    fn density_comes_back(s in 0.0..=60.0_f64, t in -10.0..=60.0_f64) {
        let there = density(Salinity(s), Celsius(t)).unwrap();
        let back = salinity_from_density(there, Celsius(t)).unwrap();
        prop_assert!((back.0 - s).abs() < 1e-9, "{back:?}");
    }

    #[test]
    fn more_salt_shows_more(s in 0.0..59.99_f64, more in 1e-3..1.0_f64, t in -10.0..=60.0_f64) {
        let (less, more) = (Salinity(s), Salinity((s + more).min(60.0)));
        let at = Celsius(t);
        prop_assert!(density(less, at).unwrap() < density(more, at).unwrap());
        prop_assert!(conductivity_from_salinity(less, at).unwrap() < conductivity_from_salinity(more, at).unwrap());
        prop_assert!(water_activity(less).unwrap() > water_activity(more).unwrap());
        prop_assert!(salt_per_kilogram(less).unwrap() < salt_per_kilogram(more).unwrap());
    }

    #[test]
    fn salt_and_water_are_conserved(
        litres in 0.0..1e6_f64, s in 0.0..=60.0_f64, t in -10.0..=60.0_f64,
    ) {
        let made = prepared_from(Litres(litres), Salinity(s), Celsius(t)).unwrap();
        let whole = made.fresh_mass.0 * 1000.0 + made.salt.0;
        prop_assert!((made.salt.0 - s / 1000.0 * whole).abs() <= 1e-12 * whole.max(1.0));
        let in_litres = made.salt_per_litre.0 * made.finished.0;
        prop_assert!((in_litres - made.salt.0).abs() <= 1e-12 * whole.max(1.0));
        let back = prepared_to(made.finished, Salinity(s), Celsius(t)).unwrap();
        prop_assert!((back.fresh.0 - litres).abs() <= 1e-12 * litres.max(1.0));
        prop_assert!((back.salt.0 - made.salt.0).abs() <= 1e-12 * whole.max(1.0));
    }

    #[test]
    fn raised_and_lowered_water_keeps_its_salt(
        mass in 0.0..1e5_f64, low in 0.1..40.0_f64, by in 0.0..20.0_f64,
    ) {
        let (from, to) = (Salinity(low), Salinity(low + by));
        let salt = salt_to_raise(Kilograms(mass), from, to).unwrap().0;
        let there = low * mass + salt;
        prop_assert!((there - to.0 * (mass + salt / 1000.0)).abs() <= 1e-12 * there.max(1.0));
        let share = share_to_swap(to, from, Salinity(0.0)).unwrap();
        prop_assert!((to.0 * (1.0 - share) - low).abs() <= 1e-12 * to.0);
        // What evaporates and what is topped up undo each other.
        let dried = after_evaporation(from, share).unwrap();
        prop_assert!((dried.0 - to.0).abs() <= 1e-11 * to.0);
    }

    #[test]
    fn no_number_panics_or_gives_what_is_none(
        a in any::<f64>(), b in any::<f64>(), c in any::<f64>(),
        sane in prop::sample::select(vec![0.0, -0.0, 1e-300, 1.0, 2.0, 35.0, -1e300, 1e300, f64::MIN_POSITIVE]),
    ) {
        for (a, b, c) in [(a, b, c), (sane, b, c), (a, sane, sane), (sane, sane, c), (sane, sane, sane), (35.0, 25.0, a)] {
            let results = [
                salinity_under(Conductivity(a), Celsius(b), Decibars(c)).map(|x| x.0),
                conductivity_under(Salinity(a), Celsius(b), Decibars(c)).map(|x| x.0),
                density_under(Salinity(a), Celsius(b), Decibars(c)).map(|x| x.0),
                density(Salinity(a), Celsius(b)).map(|x| x.0),
                fresh_density(Celsius(a)).map(|x| x.0),
                salinity_from_density(Density(a), Celsius(b)).map(|x| x.0),
                water_activity(Salinity(a)),
                reference_salinity(Salinity(a)),
                salt_per_kilogram(Salinity(a)).map(|x| x.0),
                prepared_from(Litres(c), Salinity(a), Celsius(b)).map(|x| x.finished.0 + x.salt.0),
                prepared_to(Litres(c), Salinity(a), Celsius(b)).map(|x| x.fresh.0 + x.salt.0),
                after_evaporation(Salinity(a), b).map(|x| x.0),
                share_to_swap(Salinity(a), Salinity(b), Salinity(c)),
                salt_to_raise(Kilograms(c), Salinity(a), Salinity(b)).map(|x| x.0),
            ];
            for value in results.into_iter().flatten() {
                prop_assert!(value.is_finite() && value >= 0.0, "{a} {b} {c}: {value}");
            }
        }
    }
}
