use proptest::prelude::*;

use super::*;
use crate::pool::contents::{Contents, Displaced, Gravel, Porosity, Thing};
use crate::pool::shape::Shape;
use crate::quantity::LitresPerMinute;

const US_GALLON: f64 = 3.785_411_784;

fn tub() -> Shape {
    Shape::Tub {
        bottom_length: Centimetres(25.0),
        bottom_width: Centimetres(15.0),
        top_length: Centimetres(30.0),
        top_width: Centimetres(20.0),
        height: Centimetres(12.0),
    }
}

fn contents(gravel: f64) -> Contents {
    Contents {
        gravel: Some(Gravel {
            depth: Centimetres(gravel),
            porosity: Porosity::measured(0.4),
        }),
        displaced: vec![Displaced {
            thing: Thing::Filter,
            litres: Litres(0.2),
        }],
    }
}

/// Facts, section 10: a 1 US gal pool → rated 1–4, a 2.5 US gal pool → rated 5–10.
#[test]
fn check_rated_ranges() {
    for (gallons, from, to) in [
        (0.5, 1.0, 4.0),
        (1.0, 1.0, 4.0),
        (3.8 / US_GALLON, 1.0, 4.0),
        (1.1, 5.0, 10.0),
        (2.5, 5.0, 10.0),
        (5.0, 5.0, 10.0),
        (6.0, 10.0, 20.0),
        (40.0, 40.0, 60.0),
    ] {
        let choice = range_for(Litres(gallons * US_GALLON), &usual_ranges()).unwrap();
        assert_eq!(choice.range, RatedRange::us_gallons(from, to), "{gallons}");
        assert_eq!(choice.rests, Rests::Practice);
    }
    assert_eq!(
        range_for(Litres(200.0), &usual_ranges()),
        Err(FilterError::NoRange {
            pool: Litres(200.0),
            last: Some(Litres(40.0 * US_GALLON))
        })
    );
    assert!(matches!(
        range_for(Litres(1.0), &[]),
        Err(FilterError::NoRange { last: None, .. })
    ));
}

#[test]
fn a_fill_line_above_the_water_is_refused_with_what_is_missing() {
    let (shape, contents) = (tub(), contents(2.0));
    let pool = Pool {
        shape: &shape,
        contents: &contents,
        level: Centimetres(9.0),
    };
    assert_eq!(margin(pool, Centimetres(7.5)), Ok(Centimetres(1.5)));
    assert_eq!(margin(pool, Centimetres(9.0)), Ok(Centimetres(0.0)));
    for (line, missing, above_rim) in [(11.5, 2.5, false), (13.0, 4.0, true)] {
        assert_eq!(
            margin(pool, Centimetres(line)),
            Err(FilterError::FillLineAbove {
                line: Centimetres(line),
                level: Centimetres(9.0),
                missing: Centimetres(missing),
                above_rim,
            })
        );
    }
}

/// Facts, section 5: 0.0255 kg/h/m² is 0.61 mm a day.
#[test]
fn check_days_until_bare() {
    let (shape, contents) = (tub(), contents(4.0));
    let pool = Pool {
        shape: &shape,
        contents: &contents,
        level: Centimetres(9.0),
    };
    let days = |line: f64, loss: f64| {
        let loss = Loss::per_square_metre(Kilograms(loss));
        days_until_bare(pool, Centimetres(line), loss, Density(997.05)).unwrap()
    };
    let a_day = 0.0255 * 24.0 / 9.9705;
    assert!((a_day - 0.061_f64).abs() < 5e-4);
    assert!((days(7.0, 0.0255).unwrap().0 - 2.0 / a_day).abs() < 1e-6);
    // 5 cm of water and 2 cm of gravel that is 0.4 gaps.
    assert!((days(2.0, 0.0255).unwrap().0 - 5.8 / a_day).abs() < 1e-6);
    assert_eq!(days(7.0, 0.0), None);
}

#[test]
fn check_litres_at_stake() {
    let (shape, contents) = (tub(), contents(2.0));
    let pool = Pool {
        shape: &shape,
        contents: &contents,
        level: Centimetres(9.0),
    };
    let [all, below] = [9.0, 4.0].map(|level| shape.volume_to(Centimetres(level)).unwrap().0);
    let (litres, _) = at_stake(pool, Centimetres(4.0)).unwrap();
    assert!((litres.0 - (all - below)).abs() < 1e-9, "{litres:?}");
    let whole = pool.water().unwrap().likely;
    assert_eq!(at_stake(pool, Centimetres(0.0)).unwrap().0, whole);
}

#[test]
fn check_turnover() {
    let got = turnover(Litres(10.0), LitresPerMinute(1.0)).unwrap();
    assert!((got.rated - 6.0).abs() < 1e-12);
    assert!((got.in_use.low - 3.6).abs() < 1e-12 && (got.in_use.high - 4.5).abs() < 1e-12);
    assert!(turnover(Litres(0.0), LitresPerMinute(1.0)).is_err());
}

proptest! {
    #[test]
    fn nothing_panics_or_is_not_a_number(values in prop::array::uniform6(prop::num::f64::ANY), good in 0.0..12.0_f64) {
        let [a, b, c, d, e, f] = values;
        let shape = tub();
        for (level, line, gravel) in [(good, a, 2.0), (12.0, good, 2.0), (good, 1.0, b), (a, b, c)] {
            let contents = contents(gravel);
            let pool = Pool { shape: &shape, contents: &contents, level: Centimetres(level) };
            for loss in [
                Loss { hourly: Kilograms(d), surface: SquareCentimetres(e) },
                Loss::per_square_metre(Kilograms(d)),
                Loss::per_square_metre(Kilograms(good)),
            ] {
                if let Ok(Some(days)) = days_until_bare(pool, Centimetres(line), loss, Density(1000.0)) {
                    prop_assert!(days.0.is_finite() && days.0 >= 0.0, "{days:?}");
                }
            }
            if let Ok((litres, _)) = at_stake(pool, Centimetres(line)) {
                prop_assert!(litres.0.is_finite() && litres.0 >= 0.0);
                prop_assert!(litres <= pool.water().unwrap().gross);
            }
        }
        if let Ok(choice) = range_for(Litres(a), &[RatedRange { from: Litres(b), to: Litres(c) }]) {
            prop_assert!(choice.range.from.0.is_finite());
        }
        if let Ok(got) = turnover(Litres(e), LitresPerMinute(f)) {
            prop_assert!(got.rated.is_finite());
        }
    }

    #[test]
    fn a_bigger_pool_never_gets_a_smaller_range(litres in 0.01..300.0_f64, more in 1.0..3.0_f64) {
        let ranges = usual_ranges();
        let of = |litres| range_for(Litres(litres), &ranges).map(|choice| choice.range.from.0).unwrap_or(f64::INFINITY);
        prop_assert!(of(litres) <= of(litres * more));
    }
}
