use super::*;
use crate::quantity::{Celsius, Grams};
use crate::rests::Rests;

const FRESH: Salinity = Salinity(0.0);
/// Fresh water at 25 °C: UNESCO Technical Papers in Marine Science 44.
const RHO_FRESH: Density = Density(997.047_96);
/// Sea water with 35 g of salt in a kg at 25 °C. That is a practical salinity of 34.8357 (35 × 35/35.16504), for which
/// the same papers' equation gives this; for a practical salinity of 35 it gives 1023.343.
const RHO_SEA: Density = Density(1023.219);

fn near(got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within, "{got} is not {want}");
}

fn water(kg: f64, salinity: f64) -> Water {
    Water::new(Kilograms(kg), Salinity(salinity)).unwrap()
}

#[test]
fn ten_litres_of_fresh_water_take_361_6_grams() {
    let mass = mass_of(Litres(10.0), RHO_FRESH).unwrap();
    let recipe = bucket(mass, FRESH, Salinity(35.0), ProductFactor::DRY).unwrap();
    near(recipe.product.0, 361.6, 0.05);
    near(recipe.product.0, 361.62, 0.01);
    near(recipe.finished_volume(RHO_SEA).unwrap().0, 10.0976, 5e-5);
    near(recipe.source_volume(RHO_FRESH).unwrap().0, 10.0, 1e-12);
    assert_eq!(recipe.rests, Rests::Practice);
    // 35 g in each litre would fall short of it.
    let by_the_litre = 350.0 / (mass.0 + 0.350);
    near(by_the_litre, 33.9, 0.05);
}

#[test]
fn ten_finished_litres_take_358_1_grams() {
    let mass = mass_of(Litres(10.0), RHO_SEA).unwrap();
    let recipe = finished(mass, FRESH, Salinity(35.0), ProductFactor::DRY).unwrap();
    near(recipe.product.0, 358.13, 0.005);
    near(recipe.finished_volume(RHO_SEA).unwrap().0, 10.0, 1e-12);
    near(recipe.source_volume(RHO_FRESH).unwrap().0, 9.9033, 1e-4);
}

#[test]
fn check_salt_per_kilogram() {
    for (salinity, grams) in [
        (0.0, 0.0),
        (25.0, 25.6410),
        (30.0, 30.9278),
        (33.0, 34.1262),
        (35.0, 36.2694),
        (40.0, 41.6667),
    ] {
        let recipe = bucket(Kilograms(1.0), FRESH, Salinity(salinity), ProductFactor::DRY).unwrap();
        near(recipe.salt.0, grams, 1e-4);
    }
    // From water that holds some already: the rest only.
    let recipe = bucket(
        Kilograms(10.0),
        Salinity(33.0),
        Salinity(35.0),
        ProductFactor::DRY,
    )
    .unwrap();
    near(recipe.salt.0, 20.7254, 1e-4);
}

#[test]
fn impossible_recipes_name_their_numbers() {
    let of = |kg, holds, wanted| {
        bucket(
            Kilograms(kg),
            Salinity(holds),
            Salinity(wanted),
            ProductFactor::DRY,
        )
        .map(|recipe| recipe.salt)
    };
    let beyond = |target| Err(Problem::Target { target, limit: 60.0 });
    assert_eq!(
        of(1.0, 20.0, 15.0),
        Err(Problem::TargetBelow {
            target: 15.0,
            holds: 20.0
        })
    );
    assert_eq!(of(1.0, 0.0, 60.5), beyond(60.5));
    assert_eq!(of(1.0, 0.0, 1000.0), beyond(1000.0));
    assert_eq!(of(1.0, 0.0, -1.0), beyond(-1.0));
    assert_eq!(of(0.0, 0.0, 35.0), Err(Problem::Mass { kg: 0.0 }));
    assert_eq!(of(1.0, -1.0, 35.0), Err(Problem::Salinity { value: -1.0 }));
    assert_eq!(of(1.0, 35.0, 35.0), Ok(Grams(0.0)));
    assert_eq!(
        mass_of(Litres(1.0), Density(1.0)),
        Err(Problem::Density { value: 1.0 })
    );
}

#[test]
fn a_factor_is_learnt_from_what_was_measured() {
    let first = ProductFactor::DRY.learn(Salinity(35.0), Salinity(31.5)).unwrap();
    near(first.value(), 0.9, 1e-12);
    assert_eq!(first.rests(), Rests::Place);
    // A product that is worth nine tenths: the next dose is a ninth more, and lies right.
    let dose = bucket(Kilograms(1.0), FRESH, Salinity(35.0), first).unwrap();
    near(dose.product.0, 36.2694 / 0.9, 1e-4);
    near(dose.salt.0, 36.2694, 1e-4);
    assert_eq!(dose.rests, Rests::Computed);
    let second = first.learn(Salinity(35.0), Salinity(35.0)).unwrap();
    near(second.value(), 0.9, 1e-12);

    assert_eq!(
        ProductFactor::DRY.learn(Salinity(35.0), Salinity(17.5)),
        Err(Problem::Unexplained {
            expected: 35.0,
            measured: 17.5,
            factor: 0.5
        })
    );
    assert_eq!(ProductFactor::new(1.31), Err(Problem::Factor { factor: 1.31 }));
    assert!(ProductFactor::DRY.learn(FRESH, Salinity(1.0)).is_err());
}

#[test]
fn one_misreading_does_not_move_the_factor_far() {
    let mixed = |measured| Mixed {
        with: ProductFactor::DRY,
        expected: Salinity(35.0),
        measured: Salinity(measured),
    };
    let batches = [31.4, 42.0, 31.6, 31.5, 3.0].map(mixed);
    let got = learnt(&batches).unwrap();
    assert_eq!((got.used, got.left_out), (4, 1));
    near(got.factor.value(), 31.55 / 35.0, 1e-12);
    assert_eq!(learnt(&[]), Err(Problem::NothingLearnt { pairs: 0 }));
    assert_eq!(learnt(&[mixed(3.0)]), Err(Problem::NothingLearnt { pairs: 1 }));
}

#[test]
fn buckets_are_equal_and_add_up() {
    let mass = mass_of(Litres(25.0), RHO_FRESH).unwrap();
    let recipe = bucket(mass, FRESH, Salinity(35.0), ProductFactor::DRY).unwrap();
    let volume = recipe.finished_volume(RHO_SEA).unwrap();
    let split = split(&recipe, volume, Litres(10.0), Kilograms(0.5), SCALE).unwrap();
    assert_eq!(split.buckets, 3);
    // 25 L take 904.05 g.
    assert_eq!(split.product, Grams(904.0));
    assert_eq!(split.product_each, [Grams(302.0), Grams(301.0), Grams(301.0)]);
    near(split.finished_each.0, 25.244 / 3.0, 1e-3);
    near(split.source_each.0, 24.9262 / 3.0, 1e-4);
    // 25.83 kg in three, and half a kilogram of bucket.
    near(split.lift.0, 25.8303 / 3.0 + 0.5, 1e-3);
}

#[test]
fn check_buckets() {
    let recipe = bucket(Kilograms(1.0), FRESH, Salinity(35.0), ProductFactor::DRY).unwrap();
    let count = |volume, holds| {
        split(&recipe, Litres(volume), Litres(holds), Kilograms(1.0), SCALE).map(|split| split.buckets)
    };
    assert_eq!(count(20.0, 10.0), Ok(2));
    assert_eq!(count(0.3 + 0.6, 0.3), Ok(3));
    assert_eq!(count(20.1, 10.0), Ok(3));
    assert_eq!(count(0.01, 10.0), Ok(1));
    assert_eq!(
        count(1000.1, 1.0),
        Err(Problem::TooManyBuckets { needed: 1001.0 })
    );
    assert_eq!(count(20.0, 0.0), Err(Problem::Bucket { litres: 0.0 }));
    near(with_margin(Litres(10.0), MARGIN).unwrap().0, 10.5, 1e-12);
    assert_eq!(
        with_margin(Litres(10.0), -0.1),
        Err(Problem::Margin { value: -0.1 })
    );
}

#[test]
fn a_standing_pool_is_lowered_and_raised() {
    let swap_of = |pool, wanted, new| swap(water(10.0, pool), Salinity(wanted), Salinity(new));
    let lower = swap_of(35.0, 33.0, 0.0).unwrap();
    near(lower.fraction, 0.057_143, 1e-6);
    near(lower.out.0, 0.571_43, 1e-5);
    near(swap_of(35.0, 33.0, 15.0).unwrap().fraction, 0.1, 1e-12);
    // Upwards, with stronger water.
    near(swap_of(33.0, 35.0, 43.0).unwrap().fraction, 0.2, 1e-12);
    near(swap_of(33.0, 35.0, 35.0).unwrap().fraction, 1.0, 1e-12);
    for (pool, wanted, new) in [
        (35.0, 33.0, 34.0),
        (33.0, 35.0, 34.0),
        (35.0, 35.0, 0.0),
        (35.0, 36.0, 0.0),
    ] {
        let want = Problem::NotBetween {
            target: wanted,
            pool,
            new,
        };
        assert_eq!(swap_of(pool, wanted, new), Err(want));
    }
    let up = raise(
        water(10.0, 33.0),
        Salinity(35.0),
        ProductFactor::new(0.9).unwrap(),
    )
    .unwrap();
    near(up.salt.0, 20.73, 0.005);
    near(up.product.0, 23.03, 0.005);
    near(up.after.mass().0, 10.020_73, 1e-5);
    // 0.2784 kg at 33 g/kg hold 9.187 g; with 20.725 g more it is a tenth of 0.2991 kg.
    near(up.draw.0, 0.278_4, 1e-4);
    assert_eq!(up.rests, Rests::Practice);
    near(
        largest_swap(water(10.0, 35.0), FRESH, 1.0).unwrap(),
        1.0 / 35.0,
        1e-12,
    );
}

#[test]
fn what_evaporated_comes_back_as_fresh_water() {
    let pool = water(10.0, 35.0);
    let dried = evaporated(pool, Kilograms(1.0)).unwrap();
    near(dried.salinity().0, 38.889, 5e-4);
    near(top_up(dried, Salinity(35.0)).unwrap().0, 1.0, 1e-12);
    near(top_up_mass(dried, Kilograms(10.0)).unwrap().0, 1.0, 1e-12);
    near(
        top_up_effect(dried, Kilograms(1.0)).unwrap().salinity().0,
        35.0,
        1e-12,
    );
    assert_eq!(
        top_up(pool, Salinity(36.0)),
        Err(Problem::TargetAbove {
            target: 36.0,
            holds: 35.0
        })
    );
    assert!(matches!(
        evaporated(pool, Kilograms(9.0)),
        Err(Problem::Dry { most, .. }) if (most - 10.0 * (1.0 - 35.0 / 260.0)).abs() < 1e-12
    ));
    assert!(evaporated(pool, Kilograms(-1.0)).is_err());
}

#[test]
fn check_temperatures() {
    near(mixed(Celsius(26.0), Celsius(20.0), 0.3).unwrap().0, 24.2, 1e-12);
    near(
        largest_fraction(Celsius(26.0), Celsius(18.0), 1.0).unwrap(),
        0.125,
        1e-12,
    );
    near(
        largest_fraction(Celsius(26.0), Celsius(26.5), 1.0).unwrap(),
        1.0,
        0.0,
    );
    near(
        temperature_for(Celsius(26.0), Celsius(25.0), 0.25).unwrap().0,
        22.0,
        1e-12,
    );
    near(
        blend(Celsius(12.0), Celsius(52.0), Celsius(26.0)).unwrap(),
        0.35,
        1e-12,
    );
    assert_eq!(
        largest_fraction(Celsius(26.0), Celsius(18.0), 0.0),
        Err(Problem::Allowed {
            allowed: 0.0,
            apart: 8.0
        })
    );
    assert_eq!(
        temperature_for(Celsius(26.0), Celsius(20.0), 0.1),
        Err(Problem::TemperatureNeeded { needed: -34.0 })
    );
    assert_eq!(
        blend(Celsius(12.0), Celsius(20.0), Celsius(26.0)),
        Err(Problem::TemperatureNotBetween {
            wanted: 26.0,
            one: 12.0,
            other: 20.0
        })
    );
}

#[test]
fn conditioner_comes_before_salt_and_salt_before_the_reading() {
    use Step::{Act, Aerate, Change, Condition, Fill, Match, Measure, Salt};
    let (all, rests) = steps(true, true);
    assert_eq!(all, [Fill, Condition, Act, Salt, Measure, Aerate, Match, Change]);
    assert_eq!(rests, Rests::Practice);
    assert_eq!(steps(false, false).0, [Fill, Aerate, Match, Change]);
}
