//! What holds for every dilution.

use proptest::prelude::*;

use super::*;
use crate::quantity::Days;

fn mg(value: f64) -> MilligramsPerLitre {
    MilligramsPerLitre(value)
}

/// Any finite number, the awkward ones more often.
fn any_number() -> impl Strategy<Value = f64> {
    let awkward = vec![
        0.0, -0.0, 1.0, -1.0, 0.5, 1e300, -1e300, 1e-300, 5e-324, 1e6, 0.001, 0.01, 40.0,
    ];
    prop_oneof![
        prop::sample::select(awkward),
        0.0..=1.0_f64,
        0.0..=200.0_f64,
        prop::num::f64::ANY.prop_filter("finite", |value| value.is_finite()),
    ]
}

proptest! {
    #[test]
    fn nothing_panics_and_no_answer_is_odd(
        [a, b, c, f, k, p, r] in prop::array::uniform7(any_number()),
        n in prop_oneof![0..20_u32, any::<u32>()],
    ) {
        let made = Made { per_day: mg(p), removal: r };
        let mut numbers = Vec::new();
        numbers.extend(after(mg(a), mg(c), f, n).map(|value| value.0));
        numbers.extend(changes_to(mg(a), mg(b), mg(c), f).map(f64::from));
        numbers.extend(fraction_for(mg(a), mg(b), mg(c)));
        numbers.extend(fraction_in(mg(a), mg(b), mg(c), n));
        numbers.extend(same_as_one(f, n));
        numbers.extend(in_parts(f, n));
        numbers.extend(continuous_for(f));
        numbers.extend(continuous(mg(a), mg(c), Litres(b), Litres(k)).map(|value| value.0));
        numbers.extend(plan(mg(a), mg(b), mg(c), f, Days(k)).map(|plan| plan.end.0 + plan.volumes));
        if let Ok(keeping) = Keeping::new(mg(c), f, Days(k), made) {
            numbers.extend([keeping.steady().peak.0, keeping.steady().trough.0]);
            numbers.extend(keeping.transient(mg(a), mg(b)).map(|way| way.highest.0 + way.first_peak.0));
            numbers.extend(keeping.peaks(mg(a), n.min(50)).ok().and_then(|all| all.last().map(|last| last.0)));
        }
        if let Ok(Longest::Days { exact, .. }) = longest_interval(mg(b), mg(c), f, made) {
            numbers.push(exact.0);
        }
        numbers.extend(days_until(mg(a), mg(b), made).ok().flatten().map(|days| days.0));
        for number in numbers {
            prop_assert!(number.is_finite() && number >= 0.0, "{number}");
        }
    }

    #[test]
    fn the_ends_of_every_range_give_numbers(
        source in prop::sample::select(vec![0.0, 5e-324, 1e-300, 5.0, 1e6]),
        start in prop::sample::select(vec![0.0, 5e-324, 80.0, 1e6]),
        limit in prop::sample::select(vec![0.0, 5e-324, 40.0, 1e6]),
        f in prop::sample::select(vec![FRACTION_MIN, 0.25, 1.0 - f64::EPSILON, 1.0]),
        k in prop::sample::select(vec![0.01, 7.0, 3650.0]),
        p in prop::sample::select(vec![0.0, 5e-324, 1e-300, 2.0, 1e6]),
        r in prop::sample::select(vec![0.0, 5e-324, 1e-300, 1e-17, 0.1, 100.0]),
    ) {
        let made = Made { per_day: mg(p), removal: r };
        let keeping = Keeping::new(mg(source), f, Days(k), made).unwrap();
        let way = keeping.transient(mg(start), mg(limit)).unwrap();
        let Steady { peak, trough } = keeping.steady();
        let mut numbers = vec![peak.0, trough.0, way.first_peak.0, way.highest.0];
        numbers.extend(days_until(mg(start), mg(limit), made).unwrap().map(|days| days.0));
        match longest_interval(mg(limit), mg(source), f, made) {
            Ok(Longest::Days { exact, .. }) => numbers.push(exact.0),
            Ok(Longest::Any) => {}
            Err(problem) => prop_assert_eq!(problem, Problem::SourceAbove { source_mg_l: source, target: limit }),
        }
        numbers.extend(plan(mg(start), mg(limit), mg(source), f, Days(k)).map(|plan| plan.end.0));
        for number in numbers {
            prop_assert!(number.is_finite() && number >= 0.0, "{number}");
        }
    }

    #[test]
    fn more_changes_and_larger_ones_come_nearer(
        start in 0.0..500.0_f64, source in 0.0..500.0_f64, f in 0.001..0.999_f64, n in 0..200_u32,
    ) {
        let away = |f, n| (after(mg(start), mg(source), f, n).unwrap().0 - source).abs();
        prop_assert!(away(f, n + 1) <= away(f, n) + 1e-9);
        prop_assert!(away(f + 0.001, n) <= away(f, n) + 1e-9);
        // Never past the source, never away from it.
        let value = after(mg(start), mg(source), f, n).unwrap().0;
        prop_assert!(value >= start.min(source) - 1e-9 && value <= start.max(source) + 1e-9);
    }

    #[test]
    fn the_count_is_the_first_that_reaches(
        source in 0.0..50.0_f64, up in 0.01..100.0_f64, more in 0.01..400.0_f64, f in 0.01..1.0_f64, rise in any::<bool>(),
    ) {
        // Downwards the source is lowest; upwards the same figures stand on their heads.
        let (low, mid, high) = (source, source + up, source + up + more);
        let (start, target, source) = if rise { (low, mid, high) } else { (high, mid, low) };
        let n = changes_to(mg(start), mg(target), mg(source), f).unwrap();
        let past = |n| {
            let value = after(mg(start), mg(source), f, n).unwrap().0;
            if rise { value - target } else { target - value }
        };
        prop_assert!(n >= 1 && past(n) >= -1e-9 && past(n - 1) < 1e-9, "{n}");
        // A larger change never needs more of them.
        let larger = changes_to(mg(start), mg(target), mg(source), (f * 1.1).min(1.0)).unwrap();
        prop_assert!(larger <= n, "{larger} > {n}");
        let table = plan(mg(start), mg(target), mg(source), f, Days(1.0)).unwrap();
        prop_assert_eq!(table.changes.len(), n as usize);
    }

    #[test]
    fn pairs_undo_each_other(source in 0.0..50.0_f64, up in 0.0..100.0_f64, more in 20.0..400.0_f64, n in 1..20_u32) {
        let (target, start) = (source + up, source + up + more);
        let f = fraction_in(mg(start), mg(target), mg(source), n).unwrap();
        let back = after(mg(start), mg(source), f, n).unwrap().0;
        prop_assert!((back - target).abs() <= 1e-9 * start, "{back} is not {target}");
        let whole = same_as_one(f, n).unwrap();
        if whole < 0.999 {
            prop_assert!((in_parts(whole, n).unwrap() - f).abs() < 1e-9);
            let volumes = continuous_for(whole).unwrap();
            let flowed = continuous(mg(start), mg(source), Litres(volumes * 8.0), Litres(8.0)).unwrap().0;
            prop_assert!((flowed - target).abs() <= 1e-9 * start, "{flowed} is not {target}");
        }
    }

    #[test]
    fn the_steady_state_stays_and_balances(
        source in 0.0..50.0_f64, f in 0.001..=1.0_f64, k in 0.01..60.0_f64, p in 0.0..20.0_f64,
        r in prop_oneof![Just(0.0), 1e-9..5.0_f64],
    ) {
        let made = Made { per_day: mg(p), removal: r };
        let keeping = Keeping::new(mg(source), f, Days(k), made).unwrap();
        let Steady { peak, trough } = keeping.steady();
        let scale = 1e-9 * (1.0 + peak.0);
        prop_assert!((peak.0 * (1.0 - f) + f * source - trough.0).abs() <= scale);
        prop_assert!((keeping.peaks(trough, 1).unwrap()[0].0 - peak.0).abs() <= scale);
        // At the longest interval for a limit, the steady peak is that limit.
        let limit = mg(source + 1.0 + p);
        if let Longest::Days { exact, whole } = longest_interval(limit, mg(source), f, made).unwrap()
            && exact.0 >= 0.01
        {
            let at = Keeping::new(mg(source), f, exact, made).unwrap().steady().peak.0;
            prop_assert!((at - limit.0).abs() <= 1e-6 * limit.0, "{at} is not {}", limit.0);
            prop_assert!(f64::from(whole) <= exact.0 + 1e-6 && exact.0 < f64::from(whole) + 1.0);
        }
    }

    #[test]
    fn the_highest_is_the_highest(
        start in 0.0..200.0_f64, source in 0.0..50.0_f64, f in 0.01..=1.0_f64, k in 0.1..30.0_f64, p in 0.0..20.0_f64,
        r in prop_oneof![Just(0.0), 0.001..2.0_f64],
    ) {
        let keeping = Keeping::new(mg(source), f, Days(k), Made { per_day: mg(p), removal: r }).unwrap();
        let way = keeping.transient(mg(start), mg(40.0)).unwrap();
        let seen = keeping.peaks(mg(start), 500).unwrap().iter().fold(start, |high, peak| {
            high.max(peak.0).max((1.0 - f) * peak.0 + f * source)
        });
        prop_assert!(seen <= way.highest.0 * (1.0 + 1e-9) + 1e-9, "{seen} > {}", way.highest.0);
    }
}
