use super::*;
use crate::quantity::Days;

fn mg(value: f64) -> MilligramsPerLitre {
    MilligramsPerLitre(value)
}

fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "{got} is not {want}");
}

#[test]
fn six_quarters_bring_80_under_20() {
    let plan = plan(mg(80.0), mg(20.0), mg(5.0), 0.25, Days(1.0)).unwrap();
    // By hand: 5 + 75 × 0.75ⁿ.
    let want = [61.25, 47.1875, 36.640_625, 28.730_469, 22.797_852, 18.348_389];
    assert_eq!(plan.changes.len(), want.len());
    for (change, (at, want)) in plan.changes.iter().zip((0_u32..).zip(want)) {
        assert_eq!((change.number, change.day), (at + 1, Days(f64::from(at))));
        near(change.after.0, want, 1e-6);
    }
    near(plan.end.0, 18.35, 0.005);
    near(plan.volumes, 1.5, 1e-12);
}

#[test]
fn what_is_impossible_names_its_numbers() {
    let to = |start, target, source, fraction| changes_to(mg(start), mg(target), mg(source), fraction);
    let above = Problem::SourceAbove {
        source_mg_l: 5.0,
        target: 4.0,
    };
    assert_eq!(to(80.0, 4.0, 5.0, 0.25), Err(above.clone()));
    assert!(above.to_string().contains("source is above the target"));
    assert_eq!(fraction_for(mg(80.0), mg(4.0), mg(5.0)), Err(above));
    let below = Problem::SourceBelow {
        source_mg_l: 5.0,
        target: 20.0,
    };
    assert_eq!(to(10.0, 20.0, 5.0, 0.25), Err(below));
    // At the source itself: part changes never arrive, all of the water does.
    assert!(matches!(
        to(80.0, 5.0, 5.0, 0.25),
        Err(Problem::SourceAbove { .. })
    ));
    assert_eq!(to(80.0, 5.0, 5.0, 1.0), Ok(1));
    assert_eq!(to(80.0, 20.0, 5.0, 0.0), Err(Problem::Fraction { value: 0.0 }));
    assert_eq!(to(80.0, 20.0, 5.0, 1.5), Err(Problem::Fraction { value: 1.5 }));
    assert_eq!(
        to(-1.0, 20.0, 5.0, 0.5),
        Err(Problem::Concentration { value: -1.0 })
    );
    assert!(matches!(to(1e6, 1e-6, 0.0, 0.001), Err(Problem::TooMany { needed }) if needed > 10_000.0));
    assert_eq!(
        plan(mg(80.0), mg(20.0), mg(5.0), 0.25, Days(0.0)),
        Err(Problem::Interval { days: 0.0 })
    );
}

#[test]
fn check_counts() {
    for (start, target, source, fraction, want) in [
        (80.0, 20.0, 5.0, 0.25, 6),
        // Hit exactly: one halving, ten halvings, ten tenths.
        (80.0, 40.0, 0.0, 0.5, 1),
        (1024.0, 1.0, 0.0, 0.5, 10),
        (100.0, 100.0 * 0.9_f64.powi(10), 0.0, 0.1, 10),
        // Nothing to do.
        (20.0, 20.0, 5.0, 0.25, 0),
        (20.0, 20.0, 50.0, 0.25, 0),
        // Upwards.
        (0.0, 7.5, 10.0, 0.5, 2),
        (0.0, 7.6, 10.0, 0.5, 3),
        // The whole water.
        (80.0, 20.0, 5.0, 1.0, 1),
    ] {
        let got = changes_to(mg(start), mg(target), mg(source), fraction);
        assert_eq!(got, Ok(want), "{start} to {target}, source {source}, {fraction}");
    }
}

#[test]
fn check_fractions() {
    near(
        fraction_for(mg(40.0), mg(15.0), mg(5.0)).unwrap(),
        0.714_286,
        1e-6,
    );
    near(fraction_in(mg(80.0), mg(20.0), mg(0.0), 2).unwrap(), 0.5, 1e-12);
    near(same_as_one(0.25, 2).unwrap(), 0.4375, 1e-12);
    near(in_parts(0.4375, 2).unwrap(), 0.25, 1e-12);
    near(same_as_one(1.0, 3).unwrap(), 1.0, 0.0);
    near(in_parts(1.0, 3).unwrap(), 1.0, 0.0);
    near(continuous_for(0.5).unwrap(), std::f64::consts::LN_2, 1e-12);
    assert_eq!(continuous_for(1.0), Err(Problem::Fraction { value: 1.0 }));
    assert_eq!(
        fraction_for(mg(20.0), mg(20.0), mg(5.0)),
        Err(Problem::Fraction { value: 0.0 })
    );
}

fn made(per_day: f64, removal: f64) -> Made {
    Made {
        per_day: mg(per_day),
        removal,
    }
}

#[test]
fn check_where_a_pool_settles() {
    for (removal, source, per_day, peak, trough) in [
        (0.0, 5.0, 2.0, 51.6667, 37.6667),
        (0.1, 5.0, 2.0, 16.5747, 13.1023),
        // Published by hobbyists: 10 a week at 30 %.
        (0.0, 0.0, 10.0 / 7.0, 33.3333, 23.3333),
    ] {
        let keeping = Keeping::new(mg(source), 0.3, Days(7.0), made(per_day, removal)).unwrap();
        let steady = keeping.steady();
        near(steady.peak.0, peak, 1e-4);
        near(steady.trough.0, trough, 1e-4);
        // The recursion, which knows nothing of the closed form, ends there.
        let last = *keeping.peaks(mg(500.0), 300).unwrap().last().unwrap();
        near(last.0, steady.peak.0, 1e-9);
    }
}

#[test]
fn the_way_there_may_pass_a_limit_that_the_end_keeps() {
    let keeping = Keeping::new(mg(5.0), 0.3, Days(5.0), made(2.0, 0.0)).unwrap();
    let limit = mg(40.0);
    assert!(keeping.steady().peak.0 < 40.0);
    assert!(!keeping.transient(mg(30.0), limit).unwrap().over);
    let over = keeping.transient(mg(31.0), limit).unwrap();
    assert!(over.over);
    near(over.first_peak.0, 41.0, 1e-12);
    near(over.highest.0, 41.0, 1e-12);
    near(
        days_until(mg(31.0), limit, made(2.0, 0.0)).unwrap().unwrap().0,
        4.5,
        1e-12,
    );
}

#[test]
fn check_longest_intervals() {
    let longest = |limit, source, per_day, removal| {
        longest_interval(mg(limit), mg(source), 0.3, made(per_day, removal))
    };
    let days = |exact, whole| {
        Ok(Longest::Days {
            exact: Days(exact),
            whole,
        })
    };
    assert_eq!(longest(40.0, 5.0, 2.0, 0.0), days(5.25, 5));
    assert_eq!(longest(6.0, 5.0, 2.0, 0.0), days(0.15, 0));
    assert_eq!(longest(40.0, 5.0, 0.0, 0.0), Ok(Longest::Any));
    // 2 a day and a tenth taken up: never more than 20.
    assert_eq!(longest(20.0, 5.0, 2.0, 0.1), Ok(Longest::Any));
    assert_eq!(
        longest(5.0, 5.0, 2.0, 0.1),
        Err(Problem::SourceAbove {
            source_mg_l: 5.0,
            target: 5.0
        })
    );
    // Where the steady peak is known: 7 days for 16.5747.
    let Ok(Longest::Days { exact, whole: _ }) = longest(16.5747, 5.0, 2.0, 0.1) else {
        panic!("an interval");
    };
    near(exact.0, 7.0, 1e-3);
}
