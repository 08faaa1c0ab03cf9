//! How large a pool the enclosure bears, in a winter's and in a summer's room.
//!
//! The balance is asked three times a room: as likely, and with everything that is doubtful at its dry and at its humid
//! end together, so the ends are far. First-principles sizing is good to a factor of 2 to 3, and the answer says what
//! would narrow it.
//!
//! `fit/setting` is what is asked about, with the usual assumptions; `fit/verdict` is what is said of it; `fit/room` is
//! the answer in one room.

mod room;
mod setting;
mod verdict;

#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;

use super::balance::{Balance, Enclosure, Pool};
use super::evaporation::{Spread, surface_beyond};
use super::moist::{Air, AirError, What, saturation_beyond};
use crate::quantity::{Beyond, Humidity, Span, SquareCentimetres};
use crate::rests::Rests;

pub use self::room::{BandSurface, Ends, RoomFit};
pub use self::setting::{
    AIR_SHARE, BAND, FitPool, LIDDED_EXCHANGE, SUBSTRATE_WETNESS, SUMMER_ROOM, Setting, Substrate,
    WINTER_ROOM, usual_room,
};
pub use self::verdict::{Advice, Doubt, EDGE, Narrow, Verdict};

/// What an enclosure bears.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// In the winter's room.
    pub winter: RoomFit,
    /// In the summer's room.
    pub summer: RoomFit,
    /// What is likely true of the pools as they are, over both rooms.
    pub verdict: Verdict,
    /// What would be true if all that is doubtful lay at its dry end.
    pub driest: Verdict,
    /// What would be true if all that is doubtful lay at its humid end.
    pub most_humid: Verdict,
    /// What can be done.
    pub advice: Vec<Advice>,
    /// What would narrow the doubt, the most helpful first.
    pub narrow: Vec<Narrow>,
    /// What the answer rests on: the weakest thing in it.
    pub rests: Rests,
    /// Where a published form was used outside its range.
    pub beyond: Vec<Beyond>,
}

/// What an enclosure bears in two rooms, for a band of humidities from its low to its high end.
///
/// Without pools the answer is for a still fresh pool without a heater.
///
/// # Errors
/// [`AirError::Outside`] for what cannot be: see [`Balance::new`](super::balance::Balance::new); also for a band that
/// is empty or reaches outside 0 to 1.
pub fn fit(
    setting: &Setting,
    pools: &[FitPool],
    winter: &Air,
    summer: &Air,
    band: (Humidity, Humidity),
) -> Result<Fit, AirError> {
    let high = AirError::unless(What::Humidity, band.1.0, Span::new(0.01, 1.0))?;
    AirError::unless(What::Humidity, band.0.0, Span::new(0.0, high - 0.01))?;
    let asked = Asked { setting, pools, band };
    let (winter, summer) = (RoomFit::of(&asked, winter)?, RoomFit::of(&asked, summer)?);
    let over = |end: fn(&Spread<Verdict>) -> Verdict| end(&winter.verdict).and(end(&summer.verdict));
    let (driest, verdict, most_humid) = (over(|v| v.low), over(|v| v.likely), over(|v| v.high));
    let rests = pools
        .iter()
        .fold(setting.rests, |rests, pool| rests.and(pool.rests));
    Ok(Fit {
        verdict,
        driest,
        most_humid,
        advice: Advice::of(&asked, &winter, &summer, [driest, verdict, most_humid]),
        narrow: verdict::narrow(&asked, &winter.room)?,
        // The films on the glass are remembered.
        rests: rests.and(Rests::Memory),
        beyond: beyond(&asked, [&winter.room, &summer.room]),
        winter,
        summer,
    })
}

/// The balances of an enclosure with its pools in one room, from the dry to the humid end of the doubt: for what is asked
/// beside the fit, such as how fast the air follows and what a pool loses.
///
/// # Errors
/// As [`fit`].
pub fn balances(setting: &Setting, pools: &[FitPool], room: &Air) -> Result<Spread<Balance>, AirError> {
    let of = |end| {
        let scene = Scene::all(end);
        Balance::new(&scene.enclosure(setting), &scene.pools(pools), room)
    };
    Ok(Spread {
        low: of(End::Dry)?,
        likely: of(End::Likely)?,
        high: of(End::Humid)?,
    })
}

/// What each pool loses in a day, in grams, over both rooms and all that is in doubt, in the order of the pools.
///
/// # Errors
/// As [`fit`].
pub fn losses(setting: &Setting, pools: &[FitPool], rooms: [&Air; 2]) -> Result<Vec<Spread<f64>>, AirError> {
    let all = [
        balances(setting, pools, rooms[0])?,
        balances(setting, pools, rooms[1])?,
    ];
    let per_day = |balance: &Balance, at: usize| {
        balance
            .losses()
            .get(at)
            .map_or(0.0, |loss| loss.per_day.0.max(0.0))
    };
    let of = |at: usize| {
        let scenes = all
            .iter()
            .flat_map(|found| [&found.low, &found.likely, &found.high]);
        let each: Vec<f64> = scenes.map(|balance| per_day(balance, at)).collect();
        let likely = all.iter().map(|found| per_day(&found.likely, at)).sum::<f64>() / 2.0;
        Spread::new(
            each.iter().copied().fold(f64::INFINITY, f64::min),
            likely,
            each.iter().copied().fold(0.0, f64::max),
        )
    };
    Ok((0..pools.len()).map(of).collect())
}

/// Where a published form was used outside its range: dishes, and air or water at or below freezing.
fn beyond(asked: &Asked, rooms: [&Air; 2]) -> Vec<Beyond> {
    let airs = rooms.map(|room| room.temperature());
    let waters = asked.pools.iter().map(|pool| pool.water.likely);
    let temperatures = airs.into_iter().chain([asked.setting.temperature]).chain(waters);
    let surfaces = asked.pools.iter().filter_map(|pool| surface_beyond(pool.surface));
    temperatures
        .filter_map(saturation_beyond)
        .chain(surfaces)
        .collect()
}

/// What is asked about.
struct Asked<'a> {
    setting: &'a Setting,
    pools: &'a [FitPool],
    band: (Humidity, Humidity),
}

/// Which end of each doubtful thing is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum End {
    Dry,
    Likely,
    Humid,
}

impl End {
    fn other(self) -> Self {
        match self {
            Self::Dry => Self::Humid,
            Self::Likely => Self::Likely,
            Self::Humid => Self::Dry,
        }
    }

    /// The value of a spread whose high end makes the air more humid.
    fn wetting<T: Copy>(self, spread: &Spread<T>) -> T {
        match self {
            Self::Dry => spread.low,
            Self::Likely => spread.likely,
            Self::Humid => spread.high,
        }
    }

    /// The value of a spread whose high end makes the air drier.
    fn drying<T: Copy>(self, spread: &Spread<T>) -> T {
        match self {
            Self::Dry => spread.high,
            Self::Likely => spread.likely,
            Self::Humid => spread.low,
        }
    }
}

/// Which end is taken of what.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Scene {
    exchange: End,
    transfer: End,
    water: End,
    substrate: End,
}

impl Scene {
    fn all(end: End) -> Self {
        Self {
            exchange: end,
            transfer: end,
            water: end,
            substrate: end,
        }
    }

    fn enclosure(self, setting: &Setting) -> Enclosure {
        Enclosure {
            gross: setting.gross,
            air: setting.air,
            temperature: setting.temperature,
            exchange: self.exchange.drying(&setting.exchange),
            substrate: setting.substrate.as_ref().map(|damp| damp.surface(self)),
            pane: setting.pane,
            glass_surface: None,
        }
    }

    fn pool(self, pool: &FitPool) -> Pool {
        Pool {
            surface: pool.surface,
            transfer: self.transfer.wetting(&pool.transfer),
            temperature: self.water.wetting(&pool.water),
            activity: pool.activity,
            bubbles: pool.bubbles,
        }
    }

    /// The pools, each with its bubbles.
    fn pools(self, pools: &[FitPool]) -> Vec<Pool> {
        pools.iter().map(|pool| self.pool(pool)).collect()
    }

    /// Only their bubbles: they stay as they are when a surface is sought.
    fn bubbles(self, pools: &[FitPool]) -> Vec<Pool> {
        let nothing = SquareCentimetres(0.0);
        let mut pools = self.pools(pools);
        pools.iter_mut().for_each(|pool| pool.surface = nothing);
        pools
    }

    /// What is sized: the pools, or a usual one if there are none or all are without surface.
    fn like(self, asked: &Asked) -> Vec<Pool> {
        let pools = self.pools(asked.pools);
        if pools.iter().any(|pool| pool.surface.0 > 0.0) {
            pools
        } else {
            vec![self.pool(&FitPool::still(
                SquareCentimetres(100.0),
                asked.setting.temperature,
            ))]
        }
    }
}
