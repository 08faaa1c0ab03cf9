//! Today's quantities of a duty: water, salt, buckets, what evaporated.

use jiff::Timestamp;
use wrackline_core::care::Duty;
use wrackline_core::care::catalogue::part_fraction;
use wrackline_core::civil::plus_minutes;
use wrackline_core::particulars::{Siphon, emptying};
use wrackline_core::place::{Place, Pool, Target, Water};
use wrackline_core::quantity::{Celsius, Kind, Litres, Salinity, plain};
use wrackline_core::water::instruments::salinity_of;
use wrackline_core::water::mixing::{self, mass_of, top_up, volume_of};
use wrackline_core::water::seawater::{density, fresh_density};

use super::Telling;
use crate::desk::cycle::free::{last_salinity, warmth};
use crate::desk::plumb::minutes;
use crate::desk::{Desk, water};
use crate::msg;

/// How warm water is taken to be where nobody read it.
const WARM: Celsius = Celsius(25.0);

/// How long after a filling its salinity may be read, in minutes.
const FILLED_MIN: i64 = 120;

/// What a place prepares water with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::desk) struct Means {
    /// What its salt pools are to hold.
    pub(in crate::desk) target: Salinity,
    /// What goes into a bucket with room to carry it.
    pub(in crate::desk) bucket: Litres,
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
        margin: supplies.spill(),
        tap: supplies.tap(),
        is_own: supplies.target.is_some() || supplies.margin.is_some() || supplies.bucket.is_some(),
    }
}

/// Today's quantities of a duty at a pool; none where it has none.
pub(super) fn lines(desk: &Desk<'_>, duty: Duty, pool: &Pool, telling: Telling) -> Vec<String> {
    let siphoned = pool.filter.is_some() || !pool.removable;
    let of = |litres: f64| {
        let mut all = prepared(desk, pool, Litres(litres), telling);
        all.extend(siphoned.then(|| drawn(desk, pool, Litres(litres))));
        all
    };
    match duty {
        Duty::Change => of(pool.litres),
        Duty::PartChange => of(pool.litres * part_fraction(pool.litres)),
        Duty::Condition => vec![dose(desk, pool)],
        Duty::TopUp => evaporated(desk, pool).into_iter().collect(),
        _ => Vec::new(),
    }
}

/// The conditioner for an amount of water in mL; `None` where the place entered no label.
fn label_dose(desk: &Desk<'_>, litres: Litres) -> Option<String> {
    let dose = water::dose(desk.place(), litres)?;
    let litres = desk.tell.litres(litres.0);
    Some(desk.say(&msg!("how-today-dose-label", dose = dose, litres = litres)))
}

/// The conditioner for all of a pool's water.
fn dose(desk: &Desk<'_>, pool: &Pool) -> String {
    let by_label = || desk.say(&msg!("how-today-dose", litres = desk.tell.litres(pool.litres)));
    label_dose(desk, Litres(pool.litres)).unwrap_or_else(by_label)
}

/// What is prepared for an amount of a pool's water, in the words of a call, and what goes into each bucket. On a sheet it
/// is each time all of it, and what it rests on stands once, beside what the place mixes with.
fn prepared(desk: &Desk<'_>, pool: &Pool, litres: Litres, telling: Telling) -> Vec<String> {
    let mut all = water::for_pool(desk, pool, litres, telling == Telling::Today);
    let warm = warmth(&desk.tell, pool.id).map(|warm| {
        let warm = wrackline_core::quantity::celsius(warm.0, desk.place().units);
        desk.say(&msg!("how-today-warm", warm = warm))
    });
    all.extend(warm);
    if telling == Telling::Today {
        all.push(match pool.water {
            Water::Fresh => {
                let margin = plain(means(desk.place()).margin * 100.0);
                desk.say(&msg!("how-today-margin", margin = margin))
            }
            Water::Salt => rests(desk),
        });
    }
    all
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

/// What is siphoned out of a pool: the buckets, and the minutes by the usual tube.
fn drawn(desk: &Desk<'_>, pool: &Pool, litres: Litres) -> String {
    let holds = means(desk.place()).bucket;
    let buckets = |count: f64| {
        desk.say(&msg!(
            "how-today-buckets",
            count = count,
            holds = desk.tell.litres(holds.0)
        ))
    };
    let siphon = Siphon {
        bucket: holds,
        ..Siphon::USUAL
    };
    match emptying(pool, litres, siphon) {
        Ok(found) => desk.say(&msg!(
            "how-today-siphon-minutes",
            buckets = buckets(f64::from(found.buckets.count)),
            minutes = minutes(found.buckets.minutes.0),
            spot = desk.tell.pool(pool.id).to_lowercase()
        )),
        // A bucket that is filled to its mark but for rounding is full, not one too many.
        Err(_) => {
            let count = (litres / holds * (1.0 - 1e-9)).ceil().max(1.0);
            desk.say(&msg!("how-today-siphon", buckets = buckets(count)))
        }
    }
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
