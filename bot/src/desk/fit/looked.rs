//! What is known of an enclosure with its pools, gathered.

use jiff::SignedDuration;
use wrackline_core::air::evaporation::Spread;
use wrackline_core::air::fit::losses;
use wrackline_core::air::moist::{Air, AirError, What};
use wrackline_core::particulars::{BoxOfAir, Filled, RoomAir, Vessel, rooms};
use wrackline_core::place::{Enclosure, Life, Pool, PoolId, Target};
use wrackline_core::quantity::{Celsius, Kind, Measured, plain};

use crate::desk::setup::made;
use crate::desk::{Desk, Refused};
use crate::lines::ask::Fit;
use crate::msg;

/// How old a reading of a pool's temperature may be, in hours, to be taken for how warm it is: 30 days.
const READ_BACK_H: i64 = 30 * 24;

/// A pool, with what follows from what was told of it.
pub(in crate::desk) struct Seen<'a> {
    /// The pool.
    pub(in crate::desk) pool: &'a Pool,
    /// Its container, where the shape is known.
    pub(in crate::desk) vessel: Option<Vessel>,
    /// Its water, where the shape is known.
    pub(in crate::desk) filled: Option<Filled>,
    /// Its temperature, where it was read of late.
    pub(in crate::desk) read: Option<Celsius>,
}

/// An enclosure and the pools that stand in it.
pub(in crate::desk) struct Looked<'a> {
    /// The enclosure.
    pub(in crate::desk) enclosure: &'a Enclosure,
    /// Its pools with water in them.
    pub(in crate::desk) pools: Vec<Seen<'a>>,
    /// What they are to the air.
    pub(in crate::desk) boxed: BoxOfAir,
    /// The room in winter.
    pub(in crate::desk) winter: Air,
    /// The room in summer.
    pub(in crate::desk) summer: Air,
}

impl<'a> Looked<'a> {
    /// Looks at an enclosure: its pools in use or cycling, and one that was named.
    pub(in crate::desk) fn of(desk: &Desk<'a>, ask: &Fit) -> Result<Self, Refused> {
        let place = desk.place();
        let enclosure = place
            .enclosures
            .get(&ask.enclosure)
            .ok_or(msg!("setup-enclosure-gone"))?;
        let stands =
            |pool: &&Pool| matches!(pool.life, Life::InUse | Life::Cycling) || Some(pool.id) == ask.pool;
        let pools = place.pools_of(enclosure.id).into_iter().filter(stands);
        let pools = pools.map(|pool| see(desk, pool)).collect::<Result<Vec<_>, _>>()?;
        let known: Vec<_> = pools
            .iter()
            .map(|seen| (seen.pool, seen.filled, seen.read))
            .collect();
        let refuse = |error: AirError| refuse_air(desk, &error);
        let boxed = BoxOfAir::of(enclosure, &known).map_err(refuse)?;
        let [(winter, _), (summer, _)] = rooms(place);
        let air = |room: RoomAir| {
            let (celsius, humidity) = room.typed();
            Air::new(celsius, humidity).map_err(refuse)
        };
        Ok(Self {
            enclosure,
            winter: air(ask.winter.unwrap_or(winter))?,
            summer: air(ask.summer.unwrap_or(summer))?,
            pools,
            boxed,
        })
    }

    /// The same pools in an enclosure that is told otherwise.
    pub(super) fn boxed_as(&self, desk: &Desk<'_>, enclosure: &Enclosure) -> Result<BoxOfAir, Refused> {
        let known: Vec<_> = self
            .pools
            .iter()
            .map(|seen| (seen.pool, seen.filled, seen.read))
            .collect();
        BoxOfAir::of(enclosure, &known).map_err(|error| refuse_air(desk, &error))
    }

    /// Whether the surface of every pool is known, and there is one.
    pub(in crate::desk) fn is_whole(&self) -> bool {
        !self.pools.is_empty() && self.pools.iter().all(|seen| seen.filled.is_some())
    }

    /// All the water's surface that is known, in cm².
    pub(in crate::desk) fn surface(&self) -> f64 {
        self.boxed.pools.iter().map(|pool| pool.surface.0).sum()
    }

    /// What a pool loses in a day, in grams, over both rooms and all that is in doubt; `None` where its surface is not
    /// known.
    pub(in crate::desk) fn loss(&self, id: PoolId) -> Option<Spread<f64>> {
        let known = self.pools.iter().filter(|seen| seen.filled.is_some());
        let at = known.map(|seen| seen.pool.id).position(|one| one == id)?;
        let rooms = [&self.winter, &self.summer];
        losses(&self.boxed.setting, &self.boxed.pools, rooms)
            .ok()?
            .get(at)
            .copied()
    }
}

fn see<'a>(desk: &Desk<'a>, pool: &'a Pool) -> Result<Seen<'a>, Refused> {
    let refuse = |error| made::contents(desk, pool, &error);
    let vessel = Vessel::of(pool).map_err(refuse)?;
    let filled = vessel
        .as_ref()
        .map(|vessel| vessel.filled(pool.litres))
        .transpose()
        .map_err(refuse)?;
    let since = desk
        .now()
        .saturating_sub(SignedDuration::from_hours(READ_BACK_H))
        .unwrap_or(desk.now());
    let target = Target::Pool(pool.id);
    let last = desk
        .book()
        .readings(target, Kind::Temperature, since, desk.now())
        .next_back();
    let read = last.and_then(|(_, measured)| match measured {
        Measured::Temperature(celsius) => Some(Celsius(celsius)),
        _ => None,
    });
    Ok(Seen {
        pool,
        vessel,
        filled,
        read,
    })
}

/// Why the air cannot be computed, as a sentence.
pub(in crate::desk) fn refuse_air(desk: &Desk<'_>, error: &AirError) -> Refused {
    let AirError::Outside { what, value, range } = error else {
        return msg!("fit-no-air");
    };
    let what = match what {
        What::Volume => "fit-what-volume",
        What::Surface => "fit-what-surface",
        What::Temperature => "fit-what-temperature",
        What::Exchange => "fit-what-exchange",
        _ => "fit-what-other",
    };
    msg!(
        "fit-outside",
        what = desk.tell.word(what),
        value = plain(*value),
        low = plain(range.low),
        high = plain(range.high)
    )
}
