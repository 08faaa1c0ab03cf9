//! What holds for every mixture: nothing is lost and nothing comes from nowhere.

use proptest::prelude::*;

use super::*;
use crate::quantity::{Celsius, Grams};

/// Of what there is, so much may go missing in rounding.
const LOST: f64 = 1e-12;

/// Any finite number, the awkward ones more often.
fn any_number() -> impl Strategy<Value = f64> {
    let awkward = vec![
        0.0, -0.0, 1.0, -1.0, 0.5, 1e300, -1e300, 1e-300, 5e-324, 1e6, 35.0, 60.0, 260.0, 1000.0, 997.0,
    ];
    prop_oneof![
        prop::sample::select(awkward),
        0.0..=1.0_f64,
        0.0..=100.0_f64,
        prop::num::f64::ANY.prop_filter("finite", |value| value.is_finite()),
    ]
}

fn any_factor() -> impl Strategy<Value = ProductFactor> {
    (0.7..=1.3_f64).prop_map(|value| ProductFactor::new(value).unwrap())
}

fn water(kg: f64, salinity: f64) -> Water {
    Water::new(Kilograms(kg), Salinity(salinity)).unwrap()
}

fn kept(before: f64, after: f64, of: f64) -> bool {
    (before - after).abs() <= LOST * of
}

/// The numbers of what takes two waters.
fn of_pools(a: Water, [x, y]: [f64; 2], factor: ProductFactor) -> Vec<f64> {
    let mut all = Vec::new();
    if let Ok(swap) = swap(a, Salinity(x), Salinity(y)) {
        all.extend([swap.fraction, swap.out.0, swap.new.salt().0, swap.after.salt().0]);
    }
    if let Ok(raise) = raise(a, Salinity(x), factor) {
        all.extend([raise.salt.0, raise.product.0, raise.draw.0, raise.after.salt().0]);
    }
    all.extend(largest_swap(a, Salinity(x), y));
    all.extend(evaporated(a, Kilograms(x)).map(|pool| pool.salt().0));
    all.extend(top_up(a, Salinity(x)).map(|more| more.0));
    all.extend(top_up_mass(a, Kilograms(x)).map(|more| more.0));
    all.extend(top_up_effect(a, Kilograms(x)).map(|pool| pool.salt().0));
    if let Ok(b) = Water::new(Kilograms(x), Salinity(y)) {
        all.extend(a.and(b).map(|both| both.salt().0 + both.fresh().0));
    }
    all
}

proptest! {
    #[test]
    fn nothing_panics_and_no_answer_is_odd(
        [a, b, c, d, e, f, g] in prop::array::uniform7(any_number()),
    ) {
        let factor = ProductFactor::new(d).unwrap_or_default();
        let mut all = Vec::new();
        for recipe in [
            bucket(Kilograms(a), Salinity(b), Salinity(c), factor),
            finished(Kilograms(a), Salinity(b), Salinity(c), factor),
        ].into_iter().flatten() {
            all.extend([recipe.salt.0, recipe.product.0, recipe.finished.salt().0, recipe.source.fresh().0]);
            all.extend(recipe.finished_volume(Density(e)).map(|volume| volume.0));
            if let Ok(split) = split(&recipe, Litres(e), Litres(f), Kilograms(g), Grams(d)) {
                prop_assert!(split.buckets as usize == split.product_each.len());
                all.extend([split.product.0, split.lift.0, split.source_each.0, split.finished_each.0]);
            }
        }
        if let Ok(pool) = Water::new(Kilograms(a), Salinity(b)) {
            all.extend(of_pools(pool, [c, e], factor));
        }
        all.extend(factor.learn(Salinity(a), Salinity(b)).map(ProductFactor::value));
        all.extend(mass_of(Litres(a), Density(b)).map(|mass| mass.0));
        all.extend(with_margin(Litres(a), b).map(|litres| litres.0));
        all.extend(largest_fraction(Celsius(a), Celsius(b), c));
        all.extend(blend(Celsius(a), Celsius(b), Celsius(c)));
        for number in all {
            prop_assert!(number.is_finite() && number >= 0.0, "{number}");
        }
        for celsius in [mixed(Celsius(a), Celsius(b), c), temperature_for(Celsius(a), Celsius(b), c)]
            .into_iter().flatten()
        {
            prop_assert!(celsius.0.is_finite());
        }
    }

    #[test]
    fn a_recipe_keeps_salt_and_water(
        kg in 0.01..5000.0_f64, holds in 0.0..60.0_f64, share in 0.0..=1.0_f64, factor in any_factor(),
    ) {
        let wanted = Salinity(holds + share * (60.0 - holds));
        let recipe = bucket(Kilograms(kg), Salinity(holds), wanted, factor).unwrap();
        let whole = recipe.finished;
        prop_assert!(kept(recipe.source.salt().0 + recipe.salt.0 / 1000.0, whole.salt().0, whole.salt().0));
        prop_assert!(kept(recipe.source.fresh().0, whole.fresh().0, whole.fresh().0));
        prop_assert!(kept(recipe.product.0 * factor.value(), recipe.salt.0, recipe.salt.0));
        // Asked for by what comes out, it is the same recipe.
        let back = finished(whole.mass(), Salinity(holds), wanted, factor).unwrap();
        prop_assert!(kept(back.source.mass().0, kg, kg));
        prop_assert!(kept(back.salt.0 / 1000.0, recipe.salt.0 / 1000.0, whole.salt().0));
        // Saltier takes more.
        if wanted.0 <= 59.0 {
            let more = bucket(Kilograms(kg), Salinity(holds), Salinity(wanted.0 + 1.0), factor).unwrap();
            prop_assert!(more.salt.0 > recipe.salt.0);
        }
    }

    #[test]
    fn a_swap_keeps_salt_and_water(
        kg in 0.01..5000.0_f64, own in 0.0..60.0_f64, new in 0.0..60.0_f64, share in 0.001..=1.0_f64,
    ) {
        prop_assume!((own - new).abs() > 0.01);
        let pool = water(kg, own);
        let swap = swap(pool, Salinity(own + share * (new - own)), Salinity(new)).unwrap();
        prop_assert!((swap.fraction - share).abs() < 1e-9, "{} is not {share}", swap.fraction);
        let out = water(swap.out.0, own);
        let before = pool.salt().0 + swap.new.salt().0;
        prop_assert!(kept(before, out.salt().0 + swap.after.salt().0, before));
        prop_assert!(kept(pool.fresh().0 + swap.new.fresh().0, out.fresh().0 + swap.after.fresh().0, 2.0 * kg));
        prop_assert!(kept(swap.out.0, swap.new.mass().0, kg));
        // The largest swap for that difference is this one.
        let moved = (swap.after.salinity().0 - own).abs();
        prop_assert!((largest_swap(pool, Salinity(new), moved).unwrap() - share).abs() < 1e-9);
    }

    #[test]
    fn a_raise_keeps_salt_and_water(
        kg in 0.01..5000.0_f64, own in 0.0..60.0_f64, share in 0.001..=1.0_f64, factor in any_factor(),
    ) {
        let pool = water(kg, own);
        let raise = raise(pool, Salinity(own + share * (60.0 - own)), factor).unwrap();
        let after = raise.after;
        prop_assert!(kept(pool.salt().0 + raise.salt.0 / 1000.0, after.salt().0, after.salt().0));
        prop_assert!(kept(pool.fresh().0, after.fresh().0, kg));
        prop_assert!(raise.draw.0 <= kg, "{} of {kg} kg", raise.draw.0);
        let brine = (raise.draw.0 * own + raise.salt.0) / (raise.draw.0 + raise.salt.0 / 1000.0);
        prop_assert!((brine - 100.0).abs() < 1e-6 || raise.salt.0 < 1e-6, "{brine}");
    }

    #[test]
    fn evaporation_and_top_up_undo_each_other(
        kg in 0.01..5000.0_f64, own in 0.5..60.0_f64, share in 0.0..0.7_f64,
    ) {
        let pool = water(kg, own);
        let lost = Kilograms(kg * share);
        let dried = evaporated(pool, lost).unwrap();
        prop_assert!(kept(dried.salt().0, pool.salt().0, pool.salt().0));
        prop_assert!(kept(dried.fresh().0 + lost.0, pool.fresh().0, kg));
        prop_assert!(dried.salinity().0 >= own);
        let full = top_up_effect(dried, lost).unwrap();
        prop_assert!(kept(full.salinity().0, own, own) && kept(full.mass().0, kg, kg));
        prop_assert!(kept(top_up_mass(dried, Kilograms(kg)).unwrap().0, lost.0, kg));
        if dried.salinity().0 >= own {
            prop_assert!(kept(top_up(dried, Salinity(own)).unwrap().0, lost.0, kg));
        }
    }

    #[test]
    fn waters_poured_together_keep_everything(
        one in (0.01..5000.0_f64, 0.0..260.0_f64), other in (0.01..5000.0_f64, 0.0..260.0_f64),
    ) {
        let (one, other) = (water(one.0, one.1), water(other.0, other.1));
        let both = one.and(other).unwrap();
        prop_assert!(kept(one.salt().0 + other.salt().0, both.salt().0, both.salt().0));
        prop_assert!(kept(one.fresh().0 + other.fresh().0, both.fresh().0, both.fresh().0));
        prop_assert!(kept(both.salt().0 + both.fresh().0, both.mass().0, both.mass().0));
    }

    #[test]
    fn buckets_add_up_to_the_recipe(
        kg in 0.01..500.0_f64, wanted in 0.0..60.0_f64, holds in 1.0..50.0_f64, grams in 1_u32..20,
    ) {
        let recipe = bucket(Kilograms(kg), Salinity(0.0), Salinity(wanted), ProductFactor::DRY).unwrap();
        let volume = volume_of(recipe.finished.mass(), Density(1020.0)).unwrap();
        let scale = Grams(f64::from(grams));
        let split = split(&recipe, volume, Litres(holds), Kilograms(0.4), scale).unwrap();
        let n = f64::from(split.buckets);
        // Whole grams add up without rounding.
        prop_assert_eq!(split.product_each.iter().copied().sum::<Grams>(), split.product);
        prop_assert!((split.product.0 - recipe.product.0).abs() <= scale.0 / 2.0 + 1e-9);
        let (least, most) = split.product_each.iter().fold((f64::MAX, 0.0_f64), |(least, most), each| {
            (least.min(each.0), most.max(each.0))
        });
        prop_assert!(most - least <= scale.0);
        prop_assert!(kept(split.finished_each.0 * n, volume.0, volume.0));
        prop_assert!(kept(split.source_each.0 * n, kg, kg));
        prop_assert!(split.finished_each.0 <= holds * (1.0 + 1e-6));
        // The fewest: one less would not hold it.
        prop_assert!(split.buckets == 1 || holds * (n - 1.0) < volume.0);
    }

    #[test]
    fn temperatures_undo_each_other(
        pool in 15.0..35.0_f64, new in 5.0..60.0_f64, f in 0.01..=1.0_f64, allowed in 0.1..5.0_f64,
    ) {
        let after = mixed(Celsius(pool), Celsius(new), f).unwrap();
        prop_assert!((temperature_for(Celsius(pool), after, f).unwrap().0 - new).abs() < 1e-9);
        let largest = largest_fraction(Celsius(pool), Celsius(new), allowed).unwrap();
        let moved = (mixed(Celsius(pool), Celsius(new), largest).unwrap().0 - pool).abs();
        prop_assert!(moved <= allowed + 1e-9);
        prop_assert!(largest >= 1.0 || (moved - allowed).abs() < 1e-9);
        if (pool - new).abs() > 0.1 {
            let back = blend(Celsius(pool), Celsius(new), after).unwrap();
            prop_assert!((back - f).abs() < 1e-9);
        }
    }
}
