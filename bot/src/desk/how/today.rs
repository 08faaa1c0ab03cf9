//! Today's quantities of a duty: water, salt, buckets, what evaporated.

use jiff::Timestamp;
use wrackline_core::care::Duty;
use wrackline_core::care::catalogue::part_fraction;
use wrackline_core::civil::plus_minutes;
use wrackline_core::place::{Place, Pool, Target, Water};
use wrackline_core::quantity::{
    Celsius, Gravity, GravityConvention, Kilograms, Kind, Litres, Measured, Salinity, grams, plain, show,
};
use wrackline_core::water::instruments::{gravity_from_salinity, salinity_of};
use wrackline_core::water::mixing::{
    self, ProductFactor, SCALE, finished, mass_of, split, top_up, volume_of, with_margin,
};
use wrackline_core::water::seawater::{density, fresh_density};

use super::Telling;
use crate::desk::Desk;
use crate::desk::cycle::free::{last_salinity, warmth};
use crate::msg;

/// How warm water is taken to be where nobody read it.
const WARM: Celsius = Celsius(25.0);

/// What an empty bucket weighs: common practice, no published source.
const EMPTY: Kilograms = Kilograms(0.5);

/// How long after a filling its salinity may be read, in minutes.
const FILLED_MIN: i64 = 120;

/// What a place prepares water with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::desk) struct Means {
    /// What its salt pools are to hold.
    pub(in crate::desk) target: Salinity,
    /// What goes into a bucket with room to carry it.
    pub(in crate::desk) bucket: Litres,
    /// What its salt product is worth.
    pub(in crate::desk) product: ProductFactor,
    /// How much more is prepared than a pool takes, as a part of it.
    margin: f64,
    /// What its tap water holds of salt.
    pub(in crate::desk) tap: Salinity,
    /// Whether the place set any of the first three numbers that are told: target, margin, bucket.
    is_own: bool,
}

/// What water is prepared with, by the place's supplies. Every quantity that is told comes from here.
pub(in crate::desk) fn means(place: &Place) -> Means {
    let supplies = &place.supplies;
    Means {
        target: supplies.wanted(),
        bucket: supplies.bucket(),
        product: supplies.factor(),
        margin: supplies.spill(),
        tap: supplies.tap(),
        is_own: supplies.target.is_some() || supplies.margin.is_some() || supplies.bucket.is_some(),
    }
}

/// So many buckets for an amount of water.
fn bucket_count(desk: &Desk<'_>, litres: Litres) -> String {
    let holds = means(desk.place()).bucket;
    // A bucket that is filled to its mark but for rounding is full, not one too many.
    let count = (litres / holds * (1.0 - 1e-9)).ceil().max(1.0);
    desk.say(&msg!(
        "how-today-buckets",
        count = count,
        holds = desk.tell.litres(holds.0)
    ))
}

/// Today's quantities of a duty at a pool; none where it has none.
pub(super) fn lines(desk: &Desk<'_>, duty: Duty, pool: &Pool, telling: Telling) -> Vec<String> {
    let siphoned = pool.filter.is_some() || !pool.removable;
    let of = |litres: f64| {
        let mut all = bucket(desk, pool, Litres(litres), telling).unwrap_or_default();
        if siphoned {
            let buckets = bucket_count(desk, Litres(litres));
            all.push(desk.say(&msg!("how-today-siphon", buckets = buckets)));
        }
        all
    };
    match duty {
        Duty::Change => of(pool.litres),
        Duty::PartChange => of(pool.litres * part_fraction(pool.litres)),
        Duty::Condition => vec![dose(desk, pool)],
        // What has evaporated by now says nothing of another day.
        Duty::TopUp if telling == Telling::Today => evaporated(desk, pool).into_iter().collect(),
        _ => Vec::new(),
    }
}

/// The conditioner for an amount of water in mL; `None` where the place entered no label.
fn label_dose(desk: &Desk<'_>, litres: Litres) -> Option<String> {
    let dose = crate::desk::water::dose(desk.place(), litres)?;
    let litres = desk.tell.litres(litres.0);
    Some(desk.say(&msg!("how-today-dose-label", dose = dose, litres = litres)))
}

/// The conditioner for all of a pool's water.
fn dose(desk: &Desk<'_>, pool: &Pool) -> String {
    let by_label = || desk.say(&msg!("how-today-dose", litres = desk.tell.litres(pool.litres)));
    label_dose(desk, Litres(pool.litres)).unwrap_or_else(by_label)
}

/// What goes into the buckets for an amount of a pool's water; `None` for an amount that no bucket holds.
fn bucket(desk: &Desk<'_>, pool: &Pool, litres: Litres, telling: Telling) -> Option<Vec<String>> {
    let day = match telling {
        Telling::Today => "today",
        Telling::EachTime => "each",
    };
    let means = means(desk.place());
    let all = with_margin(litres, means.margin).ok()?;
    let warm = warmth(&desk.tell, pool.id);
    let margin = plain(means.margin * 100.0);
    let (amount, buckets) = (desk.tell.litres(all.0), bucket_count(desk, all));
    let dose = label_dose(desk, all);
    let warm_line = warm.map(|warm| {
        let warm = wrackline_core::quantity::celsius(warm.0, desk.place().units);
        desk.say(&msg!("how-today-warm", warm = warm))
    });
    if pool.water == Water::Fresh {
        let first = desk.say(&msg!(
            "how-today-fresh",
            day = day,
            margin = margin,
            litres = amount,
            buckets = buckets
        ));
        return Some([Some(first), dose, warm_line].into_iter().flatten().collect());
    }
    let at = warm.unwrap_or(WARM);
    let density = density(means.target, at).ok()?;
    let recipe = finished(
        mass_of(all, density).ok()?,
        means.tap,
        means.target,
        means.product,
    )
    .ok()?;
    let fresh = fresh_density(at).ok()?;
    let split = split(&recipe, all, means.bucket, EMPTY, SCALE).ok()?;
    let units = desk.place().units;
    let first = desk.say(&msg!(
        "how-today-salt",
        day = day,
        margin = margin.as_str(),
        water = desk.tell.litres(recipe.source_volume(fresh).ok()?.0),
        salt = grams(split.product.0, units),
        litres = amount,
        buckets = buckets,
        expect = expected(desk, means.target)
    ));
    let each = (split.buckets > 1).then(|| {
        let masses: Vec<String> = split.product_each.iter().map(|one| grams(one.0, units)).collect();
        let water = volume_of(split.source_each, fresh).map_or(0.0, |one| one.0);
        desk.say(&msg!(
            "how-today-each",
            water = desk.tell.litres(water),
            each = desk.tell.list(&masses)
        ))
    });
    // On a sheet that stands once, beside what the place mixes with.
    let rests = (telling == Telling::Today).then(|| rests(desk));
    Some(
        [Some(first), each, dose, warm_line, rests]
            .into_iter()
            .flatten()
            .collect(),
    )
}

/// What salt water is mixed by, and on what that rests.
pub(in crate::desk) fn rests(desk: &Desk<'_>) -> String {
    let means = means(desk.place());
    desk.say(&msg!(
        if means.is_own {
            "how-today-rests-own"
        } else {
            "how-today-rests"
        },
        target = plain(means.target.0),
        margin = plain(means.margin * 100.0),
        holds = desk.tell.litres(means.bucket.0)
    ))
}

/// What an instrument will show: in the place's convention, or in each where none was stated.
fn expected(desk: &Desk<'_>, of: Salinity) -> String {
    let shown = |convention: GravityConvention| {
        let Gravity(value) = gravity_from_salinity(of, convention).ok()?;
        let value = (value * 10_000.0).round() / 10_000.0;
        Some(show(&Measured::Gravity { value, convention }, desk.place().units))
    };
    let gravities: Vec<String> = match desk.place().gravity {
        Some(convention) => shown(convention).into_iter().collect(),
        None => GravityConvention::ALL.into_iter().filter_map(shown).collect(),
    };
    let salinity = format!("{} g/kg", plain(of.0));
    let all: Vec<String> = std::iter::once(salinity).chain(gravities).collect();
    all.join(", ")
}

/// What has evaporated since a salt pool was last filled to its line, if a reading since then tells.
fn evaporated(desk: &Desk<'_>, pool: &Pool) -> Option<String> {
    if pool.water == Water::Fresh {
        return None;
    }
    let target = Target::Pool(pool.id);
    let filled = desk
        .book()
        .done_until(Duty::TopUp, target, desk.now())
        .next_back()?
        .at;
    let (at, now) = last_salinity(&desk.tell, pool.id).filter(|(at, _)| *at > filled)?;
    let then = read_when_filled(desk, pool, filled).filter(|(read, _)| *read < at);
    let full = then.map_or(means(desk.place()).target, |(_, salinity)| salinity);
    // What is left holds all of the salt: M·s/s′ of the pool's mass at the line.
    let mass = mass_of(Litres(pool.litres), density(full, WARM).ok()?).ok()?;
    let left = mixing::Water::new(mass * (full.0 / now.0), now).ok()?;
    let amount = volume_of(top_up(left, full).ok()?, fresh_density(WARM).ok()?).ok()?;
    let is_some = amount.0 >= 0.01 * pool.litres;
    is_some.then(|| {
        desk.say(&msg!(
            "how-today-gone",
            amount = desk.tell.litres(amount.0),
            now = plain(now.0),
            then = plain(full.0),
            assumed = if then.is_some() { "no" } else { "yes" }
        ))
    })
}

/// The salinity that was read within two hours of a filling.
fn read_when_filled(desk: &Desk<'_>, pool: &Pool, filled: Timestamp) -> Option<(Timestamp, Salinity)> {
    let (from, to) = (filled, plus_minutes(filled, FILLED_MIN).min(desk.now()));
    let kinds = [Kind::Gravity, Kind::Salinity, Kind::Conductivity];
    let all = kinds
        .into_iter()
        .flat_map(|kind| desk.book().readings(Target::Pool(pool.id), kind, from, to));
    let (at, measured) = all.max_by_key(|(at, _)| *at)?;
    Some((at, salinity_of(&measured).ok()?.salinity))
}
