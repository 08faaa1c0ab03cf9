use proptest::prelude::*;

use super::*;
use crate::pool::contents::{Contents, Displaced, Gravel, Porosity, Thing};
use crate::pool::shape::Shape;
use crate::quantity::{Density, Kilograms, Litres, SquareCentimetres};

fn basin() -> Shape {
    Shape::Box {
        length: Centimetres(30.0),
        width: Centimetres(20.0),
        height: Centimetres(12.0),
    }
}

fn contents() -> Contents {
    Contents {
        gravel: Some(Gravel {
            depth: Centimetres(3.0),
            porosity: Porosity::measured(0.4),
        }),
        displaced: vec![Displaced {
            thing: Thing::Stones,
            litres: Litres(0.4),
        }],
    }
}

fn with<T>(level: f64, act: impl FnOnce(Pool<'_>) -> T) -> T {
    let (shape, contents) = (basin(), contents());
    act(Pool {
        shape: &shape,
        contents: &contents,
        level: Centimetres(level),
    })
}

fn near(got: f64, want: f64) {
    assert!((got - want).abs() < 1e-9, "{got}, not {want}");
}

#[test]
fn check_who_submerges() {
    for (level, shell, needed, missing, above_rim) in [
        (10.0, Shell::Height(Centimetres(5.0)), 6.0, None, false),
        (9.0, Shell::Height(Centimetres(5.0)), 6.0, None, false),
        (8.0, Shell::Height(Centimetres(5.0)), 6.0, Some(1.0), false),
        (10.0, Shell::Height(Centimetres(9.0)), 10.0, Some(3.0), true),
        (
            7.0,
            Shell::Length {
                length: Centimetres(6.0),
                ratio: LYING,
            },
            5.2,
            Some(1.2),
            false,
        ),
    ] {
        let got = with(level, |pool| submersion(pool, shell, MARGIN)).unwrap();
        near(got.depth.0, level - 3.0);
        near(got.needed.0, needed);
        near(got.level.0, 3.0 + needed);
        assert_eq!(got.missing.is_some(), missing.is_some(), "{got:?}");
        near(got.missing.map_or(0.0, |cm| cm.0), missing.unwrap_or(0.0));
        assert_eq!(got.above_rim, above_rim);
        assert_eq!(got.rests, Rests::Practice);
    }
}

/// Facts, section 10: measured after stones, stone, filter and ramp are in, not in the empty vessel.
#[test]
fn the_depth_comes_from_displacement() {
    let (shape, full, bare) = (basin(), contents(), Contents::default());
    let depth = |contents| {
        let pool = Pool::filled_with(&shape, contents, Litres(3.0)).unwrap();
        submersion(pool, Shell::Height(Centimetres(4.0)), MARGIN)
            .unwrap()
            .depth
    };
    // 3 L on 600 cm² without anything; with it, 0.72 L in the gravel's gaps and 2.28 + 0.4 L above.
    near(depth(&bare).0, 5.0);
    near(depth(&full).0, 2.68 / 0.6);
}

#[test]
fn check_ways_out() {
    let out = |way, smallest: f64| {
        with(10.0, |pool| {
            way_out(pool, way, Centimetres(smallest), REACH, STEEPEST)
        })
        .unwrap()
    };
    let ramp = |rise: f64, run: f64| Route::Ramp {
        rise: Centimetres(rise),
        run: Centimetres(run),
    };
    // From the gravel at 3 cm to the rim at 12 cm.
    let good = out(ramp(9.0, 12.0), 1.0);
    assert!(good.leads_out());
    near(good.slope.unwrap(), 36.869_897_645_844_02);
    let steep = out(ramp(9.0, 5.0), 1.0);
    assert!(!steep.leads_out() && steep.too_high.is_none());
    let short = out(ramp(7.0, 12.0), 1.0);
    near(short.too_high.unwrap().0, 1.5);
    assert!(out(ramp(8.5, 12.0), 1.0).leads_out());
    let steps = |highest: f64, rise: f64| Route::Steps {
        highest: Centimetres(highest),
        rise: Centimetres(rise),
    };
    assert!(out(steps(1.0, 9.0), 2.0).leads_out());
    near(out(steps(2.5, 9.0), 2.0).too_high.unwrap().0, 1.5);
    near(out(Route::Wall, 2.0).too_high.unwrap().0, 8.0);
}

#[test]
fn check_a_tipped_pool() {
    let under = |depth: f64, open: f64| Substrate {
        floor: SquareCentimetres(6000.0),
        depth: Centimetres(depth),
        open,
    };
    // 4.52 L on 6000 cm² with 0.2 open: 3.77 cm.
    let got = with(10.0, |pool| spill(pool, under(15.0, 0.2))).unwrap();
    near(got.litres.0, 4.52);
    near(got.depth.0, 4520.0 / 1200.0);
    near(got.standing.0, 0.0);
    let shallow = with(10.0, |pool| spill(pool, under(2.0, 0.2))).unwrap();
    near(shallow.depth.0, 2.0);
    near(shallow.standing.0, 4.52 - 2.4);
}

#[test]
fn check_what_is_lifted() {
    let (got, _) = with(10.0, |pool| weight(pool, Density(1000.0), Kilograms(1.5))).unwrap();
    // 4.52 L of water, 1.08 L of gravel without its gaps, 0.4 L of stones.
    near(got.0, 4.52 + 1.48 * 2.65 + 1.5);
    // Gravel that stands above the water weighs the same.
    let (low, _) = with(2.0, |pool| weight(pool, Density(1000.0), Kilograms(1.5))).unwrap();
    near(low.0, 0.08 + 1.48 * 2.65 + 1.5);
}

proptest! {
    #[test]
    fn nothing_panics_or_is_not_a_number(values in prop::array::uniform6(prop::num::f64::ANY), level in 0.0..12.0_f64) {
        let [a, b, c, d, e, f] = values;
        for level in [level, f] {
            for shell in [
                Shell::Height(Centimetres(a)),
                Shell::Length { length: Centimetres(a), ratio: b },
                Shell::Length { length: Centimetres(4.0), ratio: b },
            ] {
                if let Ok(got) = with(level, |pool| submersion(pool, shell, Centimetres(c))) {
                    prop_assert!(got.needed.0.is_finite() && got.depth.0.is_finite());
                }
            }
            for way in [
                Route::Ramp { rise: Centimetres(a), run: Centimetres(b) },
                Route::Steps { highest: Centimetres(a), rise: Centimetres(b) },
                Route::Wall,
            ] {
                for smallest in [2.0, c] {
                    let out = with(level, |pool| way_out(pool, way, Centimetres(smallest), REACH, STEEPEST));
                    if let Ok(out) = out {
                        prop_assert!(out.step.0.is_finite());
                    }
                }
            }
            for under in [
                Substrate { floor: SquareCentimetres(a), depth: Centimetres(b), open: d },
                Substrate { floor: SquareCentimetres(6000.0), depth: Centimetres(b), open: 0.3 },
                Substrate { floor: SquareCentimetres(6000.0), depth: Centimetres(level.abs()), open: 0.3 },
            ] {
                if let Ok(got) = with(level, |pool| spill(pool, under)) {
                    prop_assert!(got.depth.0.is_finite() && got.standing <= got.litres);
                }
            }
            if let Ok((got, _)) = with(level, |pool| weight(pool, Density(d), Kilograms(e))) {
                prop_assert!(got.0.is_finite() && got.0 > 0.0);
            }
        }
    }

    #[test]
    fn a_spill_is_neither_lost_nor_made(level in 4.0..12.0_f64, floor in 100.0..1e5_f64, depth in 0.0..50.0_f64, open in 0.05..0.9_f64) {
        let under = Substrate { floor: SquareCentimetres(floor), depth: Centimetres(depth), open };
        let got = with(level, |pool| spill(pool, under)).unwrap();
        let soaked = got.depth.0 * floor * open / 1000.0;
        prop_assert!((soaked + got.standing.0 - got.litres.0).abs() < 1e-9 * got.litres.0.max(1.0));
    }
}
