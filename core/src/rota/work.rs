//! What a turn takes: water, buckets, minutes, and what it asks of whoever does it.

use super::Needs;
use crate::care::Duty;
use crate::care::catalogue::part_fraction;
use crate::particulars::{Siphon, emptying};
use crate::place::{Place, Pool, Target, Water};
use crate::quantity::{Celsius, Litres, Salinity};
use crate::water::seawater::density;

/// What a turn takes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Work {
    /// Litres that are taken out, and put in again; 0 where none are.
    pub litres: f64,
    /// Buckets that are carried one way.
    pub buckets: u32,
    /// Minutes from the first move to the last.
    pub minutes: f64,
    /// What it asks of whoever does it.
    pub needs: Needs,
}

/// Minutes of a duty by its kind, without its water: common practice, no published source.
#[must_use]
pub fn duty_minutes(duty: Duty) -> f64 {
    match duty {
        Duty::Look => 3.0,
        Duty::Reading | Duty::Condition => 2.0,
        Duty::TopUp => 4.0,
        Duty::Change | Duty::PartChange | Duty::AirCheck | Duty::LeakCheck => 5.0,
        Duty::Test | Duty::Hygrometer | Duty::Own(_) => 10.0,
        Duty::Rinse | Duty::Scrub => 15.0,
    }
}

/// To fill a bucket and carry it to the pool, in minutes: common practice, no published source.
const FILLING_MIN: f64 = 2.0;

/// To weigh salt, stir it in and read the water, in minutes: common practice, no published source.
const SALTING_MIN: f64 = 6.0;

/// To carry a pool out and in again, in minutes: common practice, no published source.
const CARRYING_MIN: f64 = 4.0;

/// What an empty bucket or a small pool's container weighs, in kilograms: common practice, no published source.
const EMPTY_KG: f64 = 0.5;

/// What a turn of a duty takes, as the place is now. `duty` as people call it: a change of a filtered pool is a part
/// change. Litres are those of the pool, not what is prepared with a margin for spills.
#[must_use]
pub fn work(place: &Place, duty: Duty, target: Target) -> Work {
    let minutes = duty_minutes(duty);
    let pool = match target {
        Target::Pool(id) => place.pools.get(&id),
        _ => None,
    };
    match (duty, pool) {
        (Duty::Change, Some(pool)) => change(place, pool, 1.0, minutes),
        (Duty::PartChange, Some(pool)) => change(place, pool, part_fraction(pool.litres), minutes),
        _ => Work {
            minutes,
            ..Work::default()
        },
    }
}

fn change(place: &Place, pool: &Pool, fraction: f64, minutes: f64) -> Work {
    let litres = pool.litres * fraction;
    let bucket = place.supplies.bucket();
    let count = (litres / bucket.0 - 1e-9).ceil().max(1.0);
    let is_salt = pool.water == Water::Salt;
    let salting = if is_salt { SALTING_MIN } else { 0.0 };
    // A pool that lifts out and holds no more than a bucket is carried to the sink.
    let is_carried = pool.removable && fraction >= 1.0 && litres <= bucket.0;
    let emptied = if is_carried {
        CARRYING_MIN
    } else {
        let siphon = Siphon {
            bucket,
            ..Siphon::USUAL
        };
        let drawn = emptying(pool, Litres(litres), siphon);
        // A shape that says otherwise than the volume still takes about a minute a litre.
        drawn.map_or(litres, |drawn| drawn.buckets.minutes.0)
    };
    let salinity = Salinity(if is_salt { place.supplies.wanted().0 } else { 0.0 });
    let kg_per_litre = density(salinity, Celsius(25.0)).map_or(1.0, |density| density.0 / 1000.0);
    Work {
        litres,
        buckets: count as u32,
        minutes: minutes + emptied + count * FILLING_MIN + salting,
        needs: Needs {
            siphon: !is_carried,
            salt: is_salt,
            lift_kg: litres.min(bucket.0) * kg_per_litre + EMPTY_KG,
        },
    }
}
