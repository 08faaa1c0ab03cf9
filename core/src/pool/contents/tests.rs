use proptest::prelude::*;

use super::*;

fn pool() -> Shape {
    Shape::Box {
        length: Centimetres(30.0),
        width: Centimetres(20.0),
        height: Centimetres(12.0),
    }
}

fn with(depth: f64, porosity: Porosity, stones: f64) -> Contents {
    Contents {
        gravel: Some(Gravel {
            depth: Centimetres(depth),
            porosity,
        }),
        displaced: vec![Displaced {
            thing: Thing::Stones,
            litres: Litres(stones),
        }],
    }
}

#[test]
fn check_the_band_comes_from_the_gravel() {
    let water = with(3.0, Porosity::GRAVEL, 0.4)
        .water_to(&pool(), Centimetres(10.0))
        .unwrap();
    // 6 − (1 − φ) 1.8 − 0.4 for φ of 0.30, 0.35, 0.40.
    for (got, want) in [(water.low, 4.34), (water.likely, 4.43), (water.high, 4.52)] {
        assert!((got.0 - want).abs() < 1e-9, "{got:?}");
    }
    assert_eq!(water.rests, Rests::Memory);
    let bare = Contents::default().water_to(&pool(), Centimetres(10.0)).unwrap();
    assert_eq!([bare.low, bare.high], [Litres(6.0); 2]);
    assert_eq!(bare.rests, Rests::Computed);
}

#[test]
fn only_the_gravel_under_the_level_counts() {
    let water = with(3.0, Porosity::measured(0.4), 0.0)
        .water_to(&pool(), Centimetres(2.0))
        .unwrap();
    assert!((water.likely.0 - 0.48).abs() < 1e-12, "{water:?}");
}

#[test]
fn check_what_is_refused() {
    let at = |contents: Contents, level| contents.water_to(&pool(), Centimetres(level));
    assert!(matches!(
        at(with(13.0, Porosity::GRAVEL, 0.0), 10.0),
        Err(ContentsError::GravelDepth {
            rim: Centimetres(12.0),
            ..
        })
    ));
    assert!(matches!(
        at(with(3.0, Porosity::measured(1.0), 0.0), 10.0),
        Err(ContentsError::Porosity { .. })
    ));
    assert!(matches!(
        at(with(3.0, Porosity::GRAVEL, 8.0), 10.0),
        Err(ContentsError::Displaced {
            full: Litres(full),
            ..
        }) if (full - 7.2).abs() < 1e-12
    ));
    assert!(matches!(
        at(with(3.0, Porosity::GRAVEL, 4.0), 6.0),
        Err(ContentsError::NoRoom { .. })
    ));
    assert!(matches!(
        with(3.0, Porosity::GRAVEL, 0.4).level_for(&pool(), Litres(7.0)),
        Err(ContentsError::TooMuch { .. })
    ));
    assert!(matches!(
        porosity(2.7, 2.65),
        Err(ContentsError::Densities { .. })
    ));
}

#[test]
fn a_porosity_is_stored_as_three_numbers() {
    for known in [
        Porosity::GRAVEL,
        Porosity::CLEAN_EVEN_GRAVEL,
        Porosity::SAND,
        Porosity::measured(0.38),
    ] {
        assert_eq!(Porosity::from(<[f64; 3]>::from(known)), known);
    }
}

proptest! {
    #[test]
    fn water_and_level_undo_each_other(
        depth in 0.1..12.0_f64, open in 0.1..0.9_f64, stones in 0.0..0.5_f64, share in 0.0..=1.0_f64,
    ) {
        let contents = with(depth, Porosity::measured(open), stones);
        let level = Centimetres(12.0 * share);
        if let Ok(water) = contents.water_to(&pool(), level) {
            prop_assert!(water.low <= water.likely && water.likely <= water.high && water.high <= water.gross);
            prop_assert!(water.low.0 >= 0.0);
            let back = contents.level_for(&pool(), water.likely).unwrap();
            prop_assert!((back - level).0.abs() < 1e-8, "{level:?} came back as {back:?}");
        }
    }

    #[test]
    fn nothing_panics_or_is_not_a_number(values in prop::array::uniform5(prop::num::f64::ANY)) {
        let [depth, open, stones, level, litres] = values;
        for contents in [with(depth, Porosity::measured(open), stones), with(2.0, Porosity::GRAVEL, stones)] {
            if let Ok(water) = contents.water_to(&pool(), Centimetres(level)) {
                prop_assert!(water.likely.0.is_finite());
            }
            if let Ok(level) = contents.level_for(&pool(), Litres(litres)) {
                prop_assert!(level.0.is_finite());
            }
        }
        if let Ok(share) = porosity(depth, open) {
            prop_assert!((0.0..1.0).contains(&share));
        }
    }
}
