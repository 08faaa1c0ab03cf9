//! Histories by hand, and what they must be judged as.

use jiff::SignedDuration;

use super::*;
use crate::rests::Rests;

/// A moment, in days after the filter's start.
pub(super) fn day(days: f64) -> Timestamp {
    let start: Timestamp = "2026-03-01T08:00:00Z".parse().unwrap();
    start + SignedDuration::from_secs_f64(days * 86_400.0)
}

pub(super) fn shown(value: f64, basis: Basis, step: f64) -> Shown {
    let (value, step) = (MilligramsPerLitre(value), MilligramsPerLitre(step));
    Shown { value, basis, step }
}

/// A test with common steps: a quarter of a mg/L for ammonia and nitrite, 5 mg/L for nitrate.
pub(super) fn test(days: f64, ammonia: f64, nitrite: f64, nitrate: f64) -> Test {
    Test {
        at: day(days),
        ammonia: Some(shown(ammonia, Basis::Ion, 0.25)),
        nitrite: Some(shown(nitrite, Basis::Ion, 0.25)),
        nitrate: Some(shown(nitrate, Basis::Ion, 5.0)),
    }
}

pub(super) fn dose(days: f64) -> Fed {
    let dose = Some((MilligramsPerLitre(2.0), Basis::Nitrogen));
    Fed { at: day(days), dose }
}

fn stop(from: f64, to: Option<f64>) -> Stop {
    let (from, to) = (day(from), to.map(day));
    Stop { from, to }
}

pub(super) fn history<'a>(tests: &'a [Test], fed: &'a [Fed], stops: &'a [Stop]) -> History<'a> {
    History {
        started: day(0.0),
        tests,
        fed,
        stops,
        source: Some(shown(5.0, Basis::Ion, 5.0)),
        word: None,
        temperature: None,
        rules: Rules::default(),
    }
}

/// A whole cycle, proven on day 31.
fn whole() -> (Vec<Test>, Vec<Fed>) {
    let tests = vec![
        test(0.5, 2.0, 0.0, 5.0),
        test(8.0, 1.0, 0.5, 5.0),
        test(15.0, 0.0, 4.0, 10.0),
        test(25.0, 0.0, 1.0, 20.0),
        test(30.0, 0.0, 0.0, 40.0),
        test(31.0, 0.0, 0.0, 40.0),
    ];
    (tests, vec![dose(0.1), dose(15.5), dose(25.5), dose(29.0)])
}

#[test]
fn check_every_stage_of_a_whole_cycle() {
    let (tests, fed) = whole();
    for (at, stage) in [
        (0.05, Stage::NotStarted),
        (0.2, Stage::AmmoniaUp),
        (1.0, Stage::AmmoniaUp),
        (9.0, Stage::NitriteUp),
        (16.0, Stage::NitriteUp),
        (26.0, Stage::NitrateUp),
        (30.5, Stage::NitrateUp),
        (31.0, Stage::Finished),
        (40.0, Stage::Finished),
        (44.0, Stage::Again),
    ] {
        // Only what was known by then: what comes later is put aside.
        let state = judge(&history(&tests, &fed, &[]), day(at)).unwrap();
        assert_eq!(state.stage, stage, "day {at}: {state:?}");
        assert_eq!(state.proven, stage == Stage::Finished, "day {at}");
        assert_eq!(state.left.is_none(), state.proven, "day {at}");
        assert_eq!(state.missing.is_empty(), state.proven, "day {at}");
    }
}

#[test]
fn zeros_without_input_prove_nothing() {
    let tests = [
        test(1.0, 0.0, 0.0, 0.0),
        test(10.0, 0.0, 0.0, 40.0),
        test(12.0, 0.0, 0.0, 40.0),
    ];
    let state = judge(&history(&tests, &[], &[]), day(12.0)).unwrap();
    assert_eq!((state.stage, state.proven), (Stage::NotStarted, false));
    assert_eq!(state.reasons, [Reason::ZerosProveNothing]);
    assert!(state.missing.contains(&Missing::Feed));
    assert!(state.left.unwrap().from_feed);
    // Input after the tests does not make a proof of them.
    let state = judge(&history(&tests, &[dose(12.0)], &[]), day(12.0)).unwrap();
    assert_eq!((state.stage, state.proven), (Stage::AmmoniaUp, false));
    assert_eq!(state.reasons, [Reason::FedOnly { at: day(12.0) }]);
}

#[test]
fn check_each_thing_that_a_proof_needs() {
    let fed = [dose(0.0)];
    let proof = [test(3.0, 0.0, 0.0, 10.0), test(4.0, 0.0, 0.0, 10.0)];
    let good = judge(&history(&proof, &fed, &[]), day(4.0)).unwrap();
    assert_eq!((good.proven, good.since), (true, Some(day(4.0))));
    assert_eq!(
        good.reasons,
        [Reason::Proof {
            first: day(3.0),
            second: day(4.0)
        }]
    );

    let early = [proof[0], test(3.99, 0.0, 0.0, 10.0)];
    let at_source = [test(3.0, 0.0, 0.0, 9.9), test(4.0, 0.0, 0.0, 9.9)];
    let first_step = [proof[0], test(4.0, 0.25, 0.0, 10.0)];
    let between = [proof[0], test(3.5, 0.0, 0.25, 10.0), proof[1]];
    let part = Test {
        nitrite: None,
        ..proof[1]
    };
    let no_nitrite = [proof[0], part];
    for (what, tests, missing) in [
        ("too early", &early[..], Missing::SecondZero { wait: Hours(0.0) }),
        (
            "no more nitrate than in the water",
            &at_source[..],
            Missing::NitrateAbove,
        ),
        (
            "the kit's first step is not 0",
            &first_step[..],
            Missing::FirstZero,
        ),
        (
            "nitrite between",
            &between[..],
            Missing::SecondZero { wait: Hours(24.0) },
        ),
        (
            "nitrite untested",
            &no_nitrite[..],
            Missing::SecondZero { wait: Hours(0.0) },
        ),
    ] {
        let state = judge(&history(tests, &fed, &[]), day(4.0)).unwrap();
        assert!(!state.proven, "{what}");
        assert!(state.missing.contains(&missing), "{what}: {:?}", state.missing);
    }
    // Under the first step counts as 0.
    let faint = [test(3.0, 0.1, 0.2, 10.0), test(4.0, 0.0, 0.24, 10.0)];
    assert!(judge(&history(&faint, &fed, &[]), day(4.0)).unwrap().proven);
}

#[test]
fn nitrate_is_compared_on_one_basis() {
    // 2 mg/L as nitrogen are 8.85 as the ion: a step of 1 as nitrogen above 1.
    let nitrogen = |test: Test, value| Test {
        nitrate: Some(shown(value, Basis::Nitrogen, 1.0)),
        ..test
    };
    for (value, proven) in [(2.4, true), (1.9, false)] {
        let tests = [3.0, 4.0].map(|at| nitrogen(test(at, 0.0, 0.0, 0.0), value));
        let state = judge(&history(&tests, &[dose(0.0)], &[]), day(4.0)).unwrap();
        assert_eq!(state.proven, proven, "{value}");
    }
}

#[test]
fn nitrate_that_is_tested_last_completes_the_proof() {
    let bare = |at| Test {
        nitrate: None,
        ..test(at, 0.0, 0.0, 0.0)
    };
    let alone = Test {
        ammonia: None,
        nitrite: None,
        ..test(5.0, 0.0, 0.0, 20.0)
    };
    let tests = [bare(3.0), bare(4.0), alone];
    let fed = [dose(0.0)];
    let history = history(&tests, &fed, &[]);
    let before = judge(&history, day(4.5)).unwrap();
    assert!(!before.proven && before.missing.contains(&Missing::Nitrate));
    let after = judge(&history, day(5.0)).unwrap();
    assert_eq!((after.proven, after.since), (true, Some(day(5.0))));
}

#[test]
fn without_a_source_a_test_before_the_first_ammonia_stands_for_it() {
    let tests = [
        test(0.5, 0.0, 0.0, 10.0),
        test(3.0, 0.0, 0.0, 20.0),
        test(4.0, 0.0, 0.0, 20.0),
    ];
    let fed = [dose(1.0)];
    let with = History {
        source: None,
        ..history(&tests, &fed, &[])
    };
    let state = judge(&with, day(4.0)).unwrap();
    assert!(state.proven);
    assert!(state.notes.contains(&Note::SourceFromTest { at: day(0.5) }));
    let without = History {
        tests: &tests[1..],
        ..with
    };
    let state = judge(&without, day(4.0)).unwrap();
    assert!(!state.proven && state.missing.contains(&Missing::Source));
}

#[test]
fn check_a_filter_that_stood() {
    let (tests, fed) = whole();
    // A stop from day 32, by hours; asked at its end.
    for (hours, stage, rinse) in [
        (4.0, Stage::Finished, false),
        (4.5, Stage::Finished, true),
        (24.0, Stage::Finished, true),
        (24.5, Stage::Again, true),
    ] {
        let stops = [stop(32.0, None)];
        let state = judge(&history(&tests, &fed, &stops), day(32.0 + hours / 24.0)).unwrap();
        assert_eq!((state.stage, state.rinse), (stage, rinse), "{hours} h");
        assert!((state.standing.unwrap().0 - hours).abs() < 1e-6);
    }
    // Two stops that touch are one.
    let stops = [stop(32.5, Some(33.2)), stop(32.0, Some(32.5))];
    let state = judge(&history(&tests, &fed, &stops), day(34.0)).unwrap();
    assert_eq!(
        (state.stage, state.rinse, state.standing),
        (Stage::Again, false, None)
    );
    let Reason::Lapsed(Lapse::Stood { from, hours }) = state.reasons[0] else {
        panic!("{state:?}");
    };
    assert!(from == day(32.0) && (hours.0 - 28.8).abs() < 1e-6);
    // What was tested while it stood says nothing; what is tested after it, and after ammonia, proves it again.
    let mut more = tests.clone();
    more.extend([32.6, 34.0, 35.0].map(|at| test(at, 0.0, 0.0, 40.0)));
    let state = judge(&history(&more, &fed, &stops), day(35.0)).unwrap();
    assert!(state.stage == Stage::Again && state.notes.contains(&Note::SetAside { at: day(32.6) }));
    let fed: Vec<Fed> = fed.into_iter().chain([dose(33.5)]).collect();
    assert!(judge(&history(&more, &fed, &stops), day(35.0)).unwrap().proven);
}

#[test]
fn quiet_weeks_undo_a_proof() {
    let (mut tests, mut fed) = whole();
    let at = |tests: &[Test], fed: &[Fed], at| judge(&history(tests, fed, &[]), day(at)).unwrap();
    assert!(at(&tests, &fed, 43.0).proven);
    let quiet = at(&tests, &fed, 43.5);
    assert!(matches!(quiet.reasons[..], [Reason::Lapsed(Lapse::Quiet { since, .. })] if since == day(29.0)));
    assert!(quiet.was_proven);
    // A dose alone, and nothing more: what lapses was never a proof.
    let never = at(&[], &fed[..1], 40.0);
    assert!(never.stage == Stage::Again && !never.was_proven, "{never:?}");
    tests.extend([46.0, 47.0].map(|at| test(at, 0.0, 0.0, 40.0)));
    assert_eq!(at(&tests, &fed, 47.0).stage, Stage::Again);
    fed.push(dose(45.0));
    assert!(at(&tests, &fed, 47.0).proven);
}

#[test]
fn ammonia_that_lasts_is_no_quiet_time() {
    let tests = [test(1.0, 4.0, 0.0, 5.0), test(20.0, 3.0, 0.0, 5.0)];
    let state = judge(&history(&tests, &[dose(0.5)], &[]), day(21.0)).unwrap();
    assert_eq!(state.stage, Stage::AmmoniaUp);
    assert!(state.notes.is_empty(), "{state:?}");
}

#[test]
fn ammonia_after_the_proof_undoes_it() {
    let (mut tests, fed) = whole();
    tests.push(test(33.0, 0.5, 0.0, 40.0));
    let state = judge(&history(&tests, &fed, &[]), day(33.0)).unwrap();
    assert_eq!((state.stage, state.proven), (Stage::NitrateUp, false));
    assert_eq!(state.reasons[0], Reason::Lapsed(Lapse::Back { at: day(33.0) }));
}

#[test]
fn a_word_counts_until_it_lapses() {
    let stops = [stop(5.0, Some(7.0))];
    let word = History {
        word: Some(day(1.0)),
        ..history(&[], &[], &stops)
    };
    let state = judge(&word, day(4.0)).unwrap();
    assert_eq!((state.stage, state.rests), (Stage::Finished, Rests::Place));
    assert_eq!(state.reasons, [Reason::Word { at: day(1.0) }]);
    assert_eq!(judge(&word, day(8.0)).unwrap().stage, Stage::Again);
    let running = History { stops: &[], ..word };
    assert_eq!(judge(&running, day(16.0)).unwrap().stage, Stage::Again);
}

#[test]
fn odd_tests_are_named() {
    let tests = [
        test(4.0, 0.0, 0.0, 40.0),
        test(3.0, 0.0, 0.0, 40.0),
        test(3.0, 0.5, 0.0, 30.0),
        test(-1.0, 0.0, 0.0, 0.0),
        test(99.0, 0.0, 0.0, 0.0),
    ];
    let state = judge(&history(&tests, &[dose(0.0)], &[]), day(4.5)).unwrap();
    // Of day 3 the worse test counts, so day 4 is the first zero.
    assert!(!state.proven);
    for note in [
        Note::Sorted,
        Note::Differ { at: day(3.0) },
        Note::SetAside { at: day(-1.0) },
        Note::SetAside { at: day(99.0) },
    ] {
        assert!(state.notes.contains(&note), "{note:?}: {:?}", state.notes);
    }
    let gone = [test(2.0, 2.0, 1.0, 5.0), test(5.0, 0.0, 0.0, 5.0)];
    let state = judge(&history(&gone, &[], &[]), day(5.0)).unwrap();
    assert_eq!(state.stage, Stage::NitrateUp);
    assert!(state.notes.contains(&Note::UnknownAmmonia { at: day(2.0) }));
    assert!(state.notes.contains(&Note::NitrateDidNotCome));
}

#[test]
fn check_days_left() {
    let left = |tests: &[Test], fed: &[Fed], at, temperature: Option<f64>| {
        let history = History {
            temperature: temperature.map(Celsius),
            ..history(tests, fed, &[])
        };
        let left = judge(&history, day(at)).unwrap().left.unwrap();
        (left.low.0, left.high.0, left.overdue)
    };
    let near = |got: (f64, f64, bool), want: (f64, f64, bool)| {
        let fine = (got.0 - want.0).abs() < 1e-3 && (got.1 - want.1).abs() < 1e-3 && got.2 == want.2;
        assert!(fine, "{got:?} is not {want:?}");
    };
    let up = [test(1.0, 2.0, 0.0, 5.0)];
    let fed = [dose(0.0)];
    near(left(&[], &[], 3.0, None), (21.0, 42.0, false));
    near(left(&up, &fed, 10.0, None), (11.0, 32.0, false));
    // 5 degrees colder: 1.04^5 is 1.21665.
    near(left(&up, &fed, 10.0, Some(20.0)), (15.5497, 41.0994, false));
    near(left(&up, &fed, 10.0, Some(25.0)), (11.0, 32.0, false));
    // Never less than the two tests of the proof take.
    near(left(&up, &fed, 30.0, None), (1.0, 12.0, false));
    near(left(&up, &fed, 60.0, None), (1.0, 1.0, true));
    // With the first zero in hand, the second test decides.
    let zero = [up[0], test(20.0, 0.0, 0.0, 20.0)];
    let fed = [dose(0.0), dose(19.0)];
    near(left(&zero, &fed, 20.25, None), (0.75, 0.75, false));
    near(left(&zero, &fed, 22.0, None), (0.0, 0.0, false));
}

#[test]
fn days_left_leave_out_the_time_it_stood() {
    let tests = [test(1.0, 2.0, 0.0, 5.0)];
    let (fed, stops) = ([dose(0.0)], [stop(2.0, Some(2.5))]);
    let state = judge(&history(&tests, &fed, &stops), day(10.0)).unwrap();
    assert!((state.left.unwrap().low.0 - 11.5).abs() < 1e-6);
}

#[test]
fn check_what_is_refused() {
    let bad = [test(1.0, -0.1, 0.0, 0.0)];
    assert_eq!(
        judge(&history(&bad, &[], &[]), day(2.0)),
        Err(Problem::Reading { value: -0.1 })
    );
    let ends_first = [stop(2.0, Some(1.0))];
    let problem = judge(&history(&[], &[], &ends_first), day(2.0));
    assert_eq!(
        problem,
        Err(Problem::Stop {
            from: day(2.0),
            to: day(1.0)
        })
    );
    let cold = History {
        temperature: Some(Celsius(3.0)),
        ..history(&[], &[], &[])
    };
    assert_eq!(judge(&cold, day(2.0)), Err(Problem::Temperature { value: 3.0 }));
    let problem = judge(&history(&[], &[], &[]), day(-1.0));
    assert_eq!(
        problem,
        Err(Problem::Future {
            started: day(0.0),
            now: day(-1.0)
        })
    );
    let nothing = [Fed {
        at: day(1.0),
        dose: Some((MilligramsPerLitre(0.0), Basis::Ion)),
    }];
    assert_eq!(
        judge(&history(&[], &nothing, &[]), day(2.0)),
        Err(Problem::Dose { value: 0.0 })
    );
}
