use proptest::prelude::*;

use super::*;

const LABEL: Label = Label {
    dose: Millilitres(5.0),
    per: Litres(40.0),
    chloramine: ForChloramine::Doubled,
    hold: None,
    binds_ammonia: true,
};

fn mg(value: f64) -> MilligramsPerLitre {
    MilligramsPerLitre(value)
}

fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "{got} is not {want}");
}

#[test]
fn the_label_decides() {
    let silent = Label {
        chloramine: ForChloramine::Unsaid,
        binds_ammonia: false,
        hold: Some(Hours(24.0)),
        ..LABEL
    };
    let same = Label {
        chloramine: ForChloramine::Same,
        ..silent
    };
    for (label, mains, want, doubled, unsaid) in [
        (LABEL, Mains::Chlorine, 1.25, false, false),
        (LABEL, Mains::Chloramine, 2.5, true, false),
        (silent, Mains::Chlorine, 1.25, false, false),
        (silent, Mains::Chloramine, 1.25, false, true),
        (same, Mains::Chloramine, 1.25, false, false),
    ] {
        let dose = label.dose_for(Litres(10.0), mains).unwrap();
        near(dose.amount.0, want, 1e-12);
        assert_eq!((dose.doubled, dose.unsaid), (doubled, unsaid), "{mains:?}");
        assert_eq!(dose.disturbs_ammonia_tests, label.binds_ammonia);
        assert_eq!(dose.rests, Rests::Place);
    }
    assert_eq!(LABEL.holds(), (Hours(48.0), Rests::Practice));
    assert_eq!(silent.holds(), (Hours(24.0), Rests::Place));
}

#[test]
fn what_is_impossible_names_its_number() {
    let none = Label {
        dose: Millilitres(0.0),
        ..LABEL
    };
    let for_one = |label: Label| label.dose_for(Litres(1.0), Mains::Chlorine);
    assert_eq!(for_one(none), Err(Problem::LabelDose { value: 0.0 }));
    let dry = Label {
        per: Litres(0.0),
        ..LABEL
    };
    assert_eq!(for_one(dry), Err(Problem::Volume { value: 0.0 }));
    let brief = Label {
        hold: Some(Hours(-1.0)),
        ..LABEL
    };
    assert_eq!(for_one(brief), Err(Problem::Hold { value: -1.0 }));
    assert_eq!(
        freed_ammonia(mg(-0.1)).unwrap_err(),
        Problem::Chlorine { value: -0.1 }
    );
}

#[test]
fn check_stoichiometry() {
    for (route, pentahydrate, anhydrous) in [
        (Route::Sulfate, 0.8751, 0.5575),
        (Route::SulfurAndSulfate, 3.5003, 2.2299),
        (Route::Tetrathionate, 7.0006, 4.4597),
    ] {
        near(route.pentahydrate(), pentahydrate, 5e-5);
        near(route.anhydrous(), anhydrous, 5e-5);
    }
    // 10 L at 2 mg/L.
    near(demand(Litres(10.0), mg(2.0), SAFE_ROUTE).unwrap(), 140.0, 0.02);
    near(titrant(10.0, 0.025).unwrap().0, 11.283, 1e-3);
    let freed = freed_ammonia(mg(4.0)).unwrap();
    near(freed.nitrogen.0, 0.79, 0.001);
    near(freed.ammonia.0, 0.9608, 1e-4);
}

#[test]
fn a_label_is_held_against_the_chlorine() {
    let check = |strength, mains, chlorine| crosscheck(&LABEL, mains, mg(chlorine), strength).unwrap();
    // 0.125 mL in each litre must bring 14 mg.
    let unknown = check(None, Mains::Chlorine, 2.0);
    near(unknown.needs_strength, 112.01, 0.01);
    assert_eq!((unknown.covers, unknown.possible), (None, None));
    let strong = check(Some(200.0), Mains::Chlorine, 2.0);
    near(strong.covers.unwrap(), 25.0 / 14.0012, 1e-4);
    assert_eq!(strong.possible, Some(true));
    // Copied ten times too small: not even the smallest demand is met.
    let weak = check(Some(10.0), Mains::Chlorine, 2.0);
    assert_eq!(weak.possible, Some(false));
    // Twice the dose covers twice as much.
    near(
        check(Some(10.0), Mains::Chloramine, 2.0).covers.unwrap(),
        2.0 * weak.covers.unwrap(),
        1e-12,
    );
    // Nothing to remove: no times of nothing.
    let clean = check(Some(10.0), Mains::Chlorine, 0.0);
    assert_eq!((clean.covers, clean.possible), (None, Some(true)));
    assert_eq!(
        crosscheck(&LABEL, Mains::Chlorine, mg(2.0), Some(0.0)),
        Err(Problem::Strength { value: 0.0 })
    );
}

#[test]
fn check_the_highest_limit() {
    let highest = |mains| {
        let limit = highest(mains);
        (limit.authority, limit.most.0)
    };
    assert_eq!(highest(Mains::Chlorine), (Authority::Who, 5.0));
    assert_eq!(highest(Mains::Chloramine), (Authority::UsEpa, 4.0));
}

#[test]
fn check_limits() {
    let who = |mains, value| {
        let limits = exceeded(mains, mg(value)).unwrap();
        limits
            .into_iter()
            .map(|limit| limit.authority)
            .collect::<Vec<_>>()
    };
    assert_eq!(who(Mains::Chlorine, 4.0), []);
    assert_eq!(who(Mains::Chlorine, 4.5), [Authority::UsEpa]);
    assert_eq!(who(Mains::Chloramine, 3.5), [Authority::Who]);
    assert_eq!(who(Mains::Chloramine, 4.5), [Authority::Who, Authority::UsEpa]);
}

#[test]
fn a_second_dose_inside_the_guard_time_is_added_up() {
    let given = |at, amount, water| Given {
        at: Hours(at),
        amount: Millilitres(amount),
        water: Litres(water),
    };
    let all = [
        given(0.0, 5.0, 40.0),
        given(30.0, 2.5, 20.0),
        given(47.9, 2.5, 40.0),
        given(60.0, 9.0, 40.0),
    ];
    let total = |now| total_within(&LABEL, Mains::Chlorine, &all, Hours(now), Hours(48.0)).unwrap();
    // (now, doses, mL, times, until)
    for (now, doses, amount, times, until) in [
        (-1.0, 0, 0.0, 0.0, None),
        (0.0, 1, 5.0, 1.0, Some(48.0)),
        (47.9, 3, 10.0, 2.5, Some(95.9)),
        // As old as the guard time: it has had its time.
        (48.0, 2, 5.0, 1.5, Some(95.9)),
        (60.0, 3, 14.0, 3.3, Some(108.0)),
        (500.0, 0, 0.0, 0.0, None),
    ] {
        let got = total(now);
        assert_eq!(got.doses, doses, "at {now} h");
        near(got.amount.0, amount, 1e-12);
        near(got.times_label, times, 1e-12);
        assert_eq!(got.until.map(|until| until.0), until, "at {now} h");
        // Without a label the same doses count.
        let counted = doses_within(&all, Hours(now), Hours(48.0)).unwrap();
        assert_eq!(
            (counted.doses, counted.amount, counted.until),
            (got.doses, got.amount, got.until),
            "at {now} h"
        );
    }
    let backwards = doses_within(&all, Hours(0.0), Hours(-1.0));
    assert_eq!(backwards, Err(Problem::Hold { value: -1.0 }));
    assert_eq!(
        total_within(&LABEL, Mains::Chlorine, &all, Hours(1e300), Hours(48.0)),
        Err(Problem::Time { value: 1e300 })
    );
}

/// Any finite number, likely ones more often.
fn any_number() -> impl Strategy<Value = f64> {
    let awkward = vec![
        0.0, -0.0, 1.0, -1.0, 1e300, -1e300, 1e-300, 5e-324, 1e6, 0.001, 48.0,
    ];
    prop_oneof![
        prop::sample::select(awkward),
        0.0..=100.0_f64,
        prop::num::f64::ANY.prop_filter("finite", |value| value.is_finite()),
    ]
}

proptest! {
    #[test]
    fn nothing_panics_and_no_answer_is_odd(
        [dose, per, hold, water, chlorine, strength, now] in prop::array::uniform7(any_number()),
        times in prop::collection::vec((any_number(), any_number(), any_number()), 0..4),
        chloramine in any::<bool>(),
    ) {
        let label = Label {
            dose: Millilitres(dose), per: Litres(per), hold: (hold != 1.0).then_some(Hours(hold)), ..LABEL
        };
        let mains = if chloramine { Mains::Chloramine } else { Mains::Chlorine };
        let mut numbers = Vec::new();
        numbers.extend(label.dose_for(Litres(water), mains).map(|dose| dose.amount.0));
        numbers.extend(demand(Litres(water), mg(chlorine), SAFE_ROUTE));
        numbers.extend(titrant(chlorine, strength).map(|amount| amount.0));
        numbers.extend(freed_ammonia(mg(chlorine)).map(|freed| freed.ammonia.0 + freed.nitrogen.0));
        if let Ok(check) = crosscheck(&label, mains, mg(chlorine), Some(strength)) {
            numbers.extend([check.safe_mg, check.least_mg, check.needs_strength, check.covers.unwrap_or(0.0)]);
        }
        let given: Vec<Given> = times.into_iter()
            .map(|(at, amount, water)| Given { at: Hours(at), amount: Millilitres(amount), water: Litres(water) })
            .collect();
        if let Ok(total) = total_within(&label, mains, &given, Hours(now), Hours(hold)) {
            numbers.extend([total.amount.0, total.times_label]);
        }
        for number in numbers {
            prop_assert!(number.is_finite() && number >= 0.0, "{number}");
        }
    }

    #[test]
    fn doses_of_parts_add_up(parts in prop::collection::vec(0.01..100.0_f64, 1..8), chloramine in any::<bool>()) {
        let mains = if chloramine { Mains::Chloramine } else { Mains::Chlorine };
        let each: f64 = parts.iter().map(|part| LABEL.dose_for(Litres(*part), mains).unwrap().amount.0).sum();
        let whole = LABEL.dose_for(Litres(parts.iter().sum()), mains).unwrap().amount.0;
        prop_assert!((each - whole).abs() <= 1e-12 * whole);
        // What the label says is once the label, however it is split.
        let given: Vec<Given> = parts.iter().map(|part| Given {
            at: Hours(0.0), amount: LABEL.dose_for(Litres(*part), mains).unwrap().amount, water: Litres(*part),
        }).collect();
        let total = total_within(&LABEL, mains, &given, Hours(1.0), HOLD_DEFAULT).unwrap();
        prop_assert!((total.times_label - parts.len() as f64).abs() < 1e-9);
        prop_assert!((total.amount.0 - whole).abs() <= 1e-12 * whole);
    }
}
