//! What holds for every history.

use proptest::prelude::*;

use super::tests::{day, history, test};
use super::*;

fn any_reading() -> impl Strategy<Value = Option<f64>> {
    let some = prop::sample::select(vec![0.2, 0.25, 1.0, 4.0]);
    prop::option::weighted(0.9, prop_oneof![6 => Just(0.0), 1 => some])
}

fn any_test() -> impl Strategy<Value = Test> {
    let nitrate = prop::option::weighted(0.8, prop::sample::select(vec![0.0, 5.0, 10.0, 40.0]));
    (-2..80_i32, any_reading(), any_reading(), nitrate).prop_map(|(half_day, ammonia, nitrite, nitrate)| {
        let full = test(
            f64::from(half_day) / 2.0,
            ammonia.unwrap_or(0.0),
            nitrite.unwrap_or(0.0),
            nitrate.unwrap_or(0.0),
        );
        Test {
            ammonia: full.ammonia.filter(|_| ammonia.is_some()),
            nitrite: full.nitrite.filter(|_| nitrite.is_some()),
            nitrate: full.nitrate.filter(|_| nitrate.is_some()),
            ..full
        }
    })
}

fn any_fed() -> impl Strategy<Value = Fed> {
    (0..80_i32).prop_map(|half_day| Fed {
        at: day(f64::from(half_day) / 2.0 + 0.1),
        dose: None,
    })
}

fn any_stop() -> impl Strategy<Value = Stop> {
    (0..80_i32, prop::option::weighted(0.9, 1..40_i32)).prop_map(|(from, tenths)| {
        let from = f64::from(from) / 2.0 + 0.2;
        let to = tenths.map(|tenths| day(from + f64::from(tenths) / 10.0));
        Stop { from: day(from), to }
    })
}

/// The rule of proof once more, by search over all pairs of tests of different moments, without stops or quiet weeks:
/// whether a pair stands at the end, with nitrate above that of the water at or after its second test.
fn proven_by_search(tests: &[Test], fed: &[Fed], now: Timestamp) -> bool {
    let zero = |shown: Option<Shown>| shown.is_some_and(|shown| shown.value.0 < 0.25);
    let bad = |shown: Option<Shown>| shown.is_some_and(|shown| shown.value.0 >= 0.25);
    let mut past: Vec<&Test> = tests
        .iter()
        .filter(|test| day(0.0) <= test.at && test.at <= now)
        .collect();
    past.sort_by_key(|test| test.at);
    let Some(fed) = fed.iter().map(|fed| fed.at).filter(|at| *at <= now).min() else {
        return false;
    };
    let above_at = |at: Timestamp| {
        let known = past.iter().filter(|test| fed < test.at && test.at <= at);
        known
            .filter_map(|test| test.nitrate)
            .next_back()
            .is_some_and(|shown| shown.value.0 >= 10.0)
    };
    let clean: Vec<&&Test> = past
        .iter()
        .filter(|test| fed < test.at && zero(test.ammonia) && zero(test.nitrite))
        .collect();
    clean.iter().any(|first| {
        let stands = !past
            .iter()
            .any(|test| test.at > first.at && (bad(test.ammonia) || bad(test.nitrite)));
        let second = clean.iter().find(|second| hours(first.at, second.at) >= 24.0);
        let above =
            second.is_some_and(|second| past.iter().any(|test| test.at >= second.at && above_at(test.at)));
        stands && above
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn what_is_judged_fits_together(
        tests in prop::collection::vec(any_test(), 0..12),
        fed in prop::collection::vec(any_fed(), 0..6),
        stops in prop::collection::vec(any_stop(), 0..3),
        now in 0.0..60.0,
        temperature in prop::option::of(5.0..=40.0),
    ) {
        let asked = History { temperature: temperature.map(Celsius), ..history(&tests, &fed, &stops) };
        let state = judge(&asked, day(now)).unwrap();
        prop_assert_eq!(state.proven, state.stage == Stage::Finished);
        prop_assert_eq!(state.proven, state.missing.is_empty());
        prop_assert_eq!(state.proven, state.left.is_none());
        prop_assert_eq!(state.proven, state.since.is_some());
        prop_assert!(!state.reasons.is_empty(), "{:?}", state);
        if let Some(left) = state.left {
            prop_assert!(0.0 <= left.low.0 && left.low.0 <= left.high.0 && left.high.0.is_finite(), "{:?}", left);
            for missing in &state.missing {
                match missing {
                    Missing::FirstZero => prop_assert!(left.low.0 >= 1.0),
                    Missing::SecondZero { wait } => prop_assert!(left.low.0 >= wait.0 / 24.0 - 1e-9),
                    _ => {}
                }
            }
        }
    }

    #[test]
    fn nothing_is_proven_without_input(tests in prop::collection::vec(any_test(), 0..12), now in 0.0..60.0) {
        prop_assert!(!judge(&history(&tests, &[], &[]), day(now)).unwrap().proven);
    }

    #[test]
    fn what_has_its_pair_of_tests_is_proven_and_nothing_else(
        tests in prop::collection::vec(any_test(), 0..12),
        fed in prop::collection::vec(any_fed(), 0..6),
        now in 0.0..60.0,
    ) {
        // One test a moment, and no weeks that are too quiet.
        let mut tests = tests;
        tests.sort_by_key(|test| test.at);
        tests.dedup_by_key(|test| test.at);
        let rules = Rules { quiet: Days(1000.0), ..Rules::default() };
        let state = judge(&History { rules, ..history(&tests, &fed, &[]) }, day(now)).unwrap();
        prop_assert_eq!(state.proven, proven_by_search(&tests, &fed, day(now)), "{:?}", state);
    }

    #[test]
    fn order_does_not_matter(
        tests in prop::collection::vec(any_test(), 0..8).prop_shuffle(),
        fed in prop::collection::vec(any_fed(), 0..4),
        stops in prop::collection::vec(any_stop(), 0..3),
    ) {
        let (mut sorted, mut fed_back, mut stops_back) = (tests.clone(), fed.clone(), stops.clone());
        // Tests of one moment differ in which comes first; the worse counts either way.
        sorted.sort_by_key(|test| test.at);
        fed_back.reverse();
        stops_back.reverse();
        let one = judge(&history(&tests, &fed, &stops), day(45.0)).unwrap();
        let two = judge(&history(&sorted, &fed_back, &stops_back), day(45.0)).unwrap();
        prop_assert_eq!((one.stage, one.proven, one.left, one.reasons), (two.stage, two.proven, two.left, two.reasons));
    }

    #[test]
    fn no_number_panics(value in prop::num::f64::ANY, step in prop::num::f64::ANY, rule in prop::num::f64::ANY) {
        let mut odd = test(1.0, value, 0.0, value);
        odd.ammonia = odd.ammonia.map(|shown| Shown { step: MilligramsPerLitre(step), ..shown });
        let tests = [odd];
        let fed = [Fed { at: day(0.5), dose: Some((MilligramsPerLitre(value), Basis::Ion)) }];
        let rules = Rules { apart: Hours(rule), ..Rules::default() };
        for started in [day(0.0), Timestamp::MIN] {
            let asked = History { started, rules, temperature: Some(Celsius(step)), ..history(&tests, &fed, &[]) };
            for now in [day(2.0), Timestamp::MAX] {
                if let Ok(state) = judge(&asked, now) {
                    let left = state.left.map_or(0.0, |left| left.low.0 + left.high.0);
                    prop_assert!(left.is_finite() && left >= 0.0);
                }
            }
        }
    }
}
