//! What evaporation does to the pools: how soon the falling water bares something, and how salt what is left becomes.

use jiff::{SignedDuration, Timestamp};

use crate::air::evaporation::Spread;
use crate::air::fit::losses;
use crate::air::moist::Air;
use crate::journal::Book;
use crate::particulars::{BoxOfAir, Filled, Vessel, rooms};
use crate::place::{Enclosure, Life, Place, Pool, PoolId, Target, Water};
use crate::pool::depth::{LYING, MARGIN, Shell, submersion};
use crate::pool::filter::{Loss, days_until_bare};
use crate::quantity::{Celsius, Centimetres, Density, Kilograms, Kind, Litres, Measured, Salinity};
use crate::water::mixing::{self, mass_of};
use crate::water::seawater::density;

/// How old a reading of a pool's temperature may be to be taken for how warm it is: 30 days, common practice.
const READ_BACK_H: i64 = 30 * 24;

/// How warm water is taken to be for its density, which moves by a part in a thousand.
const WARM: Celsius = Celsius(25.0);

/// What falling water bares.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Bared {
    /// The minimum fill line of the filter.
    FillLine,
    /// The shell of the largest crab: it cannot submerge any more.
    Shell,
    /// The air stone.
    Stone,
}

/// What evaporation does to one pool.
#[derive(Clone, Debug, PartialEq)]
pub struct Level {
    /// The pool.
    pub pool: PoolId,
    /// What it loses in a day, in grams.
    pub loss: Spread<f64>,
    /// What is bared, and after how many days from full: at the earliest (`low`), likely, at the latest; `None` where
    /// that takes longer than ten years.
    pub bares: Vec<(Bared, Spread<Option<f64>>)>,
    /// What is bared although the pool is full to its line.
    pub bare: Vec<Bared>,
}

/// What evaporation does to the pools of a place.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Levels {
    /// Pools whose surface is known, in walking order.
    pub known: Vec<Level>,
    /// Pools of which no shape was told, in walking order: nothing is computed for them.
    pub untold: Vec<PoolId>,
}

impl Levels {
    /// What it does to a pool, where that is known.
    #[must_use]
    pub fn of(&self, pool: PoolId) -> Option<&Level> {
        self.known.iter().find(|level| level.pool == pool)
    }
}

impl Level {
    /// What a salt pool of a salinity comes to after some days without a top-up, in g/kg: at the slowest evaporation,
    /// likely, at the fastest. `None` for a fresh pool, and where it falls dry.
    ///
    /// Salt stays and water goes: S·M/(M − E), by the conservation of salt.
    #[must_use]
    pub fn salinity(&self, pool: &Pool, full: Salinity, days: f64) -> Option<Spread<f64>> {
        if pool.water == Water::Fresh {
            return None;
        }
        let mass = mass_of(Litres(pool.litres), density(full, WARM).ok()?).ok()?;
        let full = mixing::Water::new(mass, full).ok()?;
        let then = |grams_a_day: f64| {
            let lost = Kilograms(grams_a_day * days / 1000.0);
            mixing::evaporated(full, lost).ok().map(|left| left.salinity().0)
        };
        Some(Spread::new(
            then(self.loss.low)?,
            then(self.loss.likely)?,
            then(self.loss.high)?,
        ))
    }
}

/// What evaporation does to the pools of a place that have water in them. `place` is the book's place at the moment.
#[must_use]
pub fn levels(book: &Book, place: &Place, now: Timestamp) -> Levels {
    let mut all = Levels::default();
    for enclosure in place.walk() {
        let stands = |pool: &&Pool| matches!(pool.life, Life::InUse | Life::Cycling);
        let pools = place.pools_of(enclosure.id).into_iter().filter(stands);
        let mut known = Vec::new();
        for pool in pools {
            // A shape whose figures cannot be is as good as none.
            match filled(pool) {
                Some(found) => known.push((pool, found)),
                None => all.untold.push(pool.id),
            }
        }
        match of_enclosure(book, place, enclosure, &known, now) {
            Some(found) => all.known.extend(found),
            None => all.untold.extend(known.iter().map(|(pool, _)| pool.id)),
        }
    }
    all
}

fn filled(pool: &Pool) -> Option<(Vessel, Filled)> {
    let vessel = Vessel::of(pool).ok()??;
    let filled = vessel.filled(pool.litres).ok()?;
    Some((vessel, filled))
}

fn of_enclosure(
    book: &Book,
    place: &Place,
    enclosure: &Enclosure,
    pools: &[(&Pool, (Vessel, Filled))],
    now: Timestamp,
) -> Option<Vec<Level>> {
    let seen: Vec<_> = pools
        .iter()
        .map(|(pool, (_, filled))| (*pool, Some(*filled), warmth(book, pool.id, now)))
        .collect();
    let boxed = BoxOfAir::of(enclosure, &seen).ok()?;
    let [winter, summer] = rooms(place).map(|(room, _)| {
        let (celsius, humidity) = room.typed();
        Air::new(celsius, humidity)
    });
    let (winter, summer) = (winter.ok()?, summer.ok()?);
    let losses = losses(&boxed.setting, &boxed.pools, [&winter, &summer]).ok()?;
    let all = pools.iter().zip(losses);
    Some(
        all.map(|((pool, found), loss)| level(place, enclosure, pool, found, loss))
            .collect(),
    )
}

/// How warm a pool was read of late.
fn warmth(book: &Book, pool: PoolId, now: Timestamp) -> Option<Celsius> {
    let since = now
        .saturating_sub(SignedDuration::from_hours(READ_BACK_H))
        .unwrap_or(now);
    let target = Target::Pool(pool);
    let (_, measured) = book.readings(target, Kind::Temperature, since, now).next_back()?;
    match measured {
        Measured::Temperature(celsius) => Some(Celsius(celsius)),
        _ => None,
    }
}

fn level(
    place: &Place,
    enclosure: &Enclosure,
    pool: &Pool,
    (vessel, filled): &(Vessel, Filled),
    loss: Spread<f64>,
) -> Level {
    let holds = match pool.water {
        Water::Fresh => Salinity(0.0),
        Water::Salt => place.supplies.wanted(),
    };
    let dense = density(holds, WARM).unwrap_or(Density(1000.0));
    let days = |line: Centimetres| {
        let of = |grams_a_day: f64| {
            let loss = Loss {
                hourly: Kilograms(grams_a_day / 24_000.0),
                surface: filled.surface,
            };
            days_until_bare(vessel.inside(), line, loss, dense)
                .ok()
                .flatten()
                .map(|days| days.0)
        };
        Spread::new(of(loss.high), of(loss.likely), of(loss.low))
    };
    let lines = lines(enclosure, pool, vessel, filled.level);
    let (covered, bare): (Vec<_>, Vec<_>) = lines.into_iter().partition(|(_, line)| *line <= filled.level);
    Level {
        pool: pool.id,
        loss,
        bares: covered
            .into_iter()
            .map(|(what, line)| (what, days(line)))
            .collect(),
        bare: bare.into_iter().map(|(what, _)| what).collect(),
    }
}

/// The water lines under which something is bared, above the floor, as far as they were told.
fn lines(
    enclosure: &Enclosure,
    pool: &Pool,
    vessel: &Vessel,
    level: Centimetres,
) -> Vec<(Bared, Centimetres)> {
    let shell = enclosure.largest_cm.and_then(|length| {
        let shell = Shell::Length {
            length: Centimetres(length),
            ratio: LYING,
        };
        submersion(vessel.inside(), shell, MARGIN).ok()
    });
    let fill_line = pool.made.filter.fill_line_cm.filter(|_| pool.filter.is_some());
    let stone = pool.made.air.stone_cm.filter(|_| pool.air.is_some());
    [
        fill_line.map(|line| (Bared::FillLine, Centimetres(line))),
        shell.map(|found| (Bared::Shell, found.level)),
        stone.map(|deep| (Bared::Stone, Centimetres((level.0 - deep).max(0.0)))),
    ]
    .into_iter()
    .flatten()
    .collect()
}
