//! What is said of pools in an enclosure, and what can be done.

use super::{Asked, End, RoomFit, Scene};
use crate::air::Side;
use crate::air::balance::Balance;
use crate::air::moist::{Air, AirError};
use crate::quantity::Humidity;

/// How far outside the band the air may come to before a pool is called too small or too big rather than at the edge:
/// 1.5 %, about what a cheap hygrometer errs by. Common practice, no published source.
pub const EDGE: f64 = 0.015;

/// What is said of pools in an enclosure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Humidity will not hold.
    TooSmall,
    /// Just outside the band on this side.
    AtTheEdge(Side),
    /// The humidity keeps within the band.
    Fits,
    /// Humidity will not come down.
    TooBig,
    /// Too dry in one of the rooms and too humid in the other: no one size does for both.
    Swings,
}

impl Verdict {
    /// Of a humidity that the air comes to.
    pub(super) fn of(humidity: Humidity, (low, high): (Humidity, Humidity)) -> Self {
        match humidity.0 {
            h if h < low.0 - EDGE => Self::TooSmall,
            h if h < low.0 => Self::AtTheEdge(Side::Low),
            h if h <= high.0 => Self::Fits,
            h if h <= high.0 + EDGE => Self::AtTheEdge(Side::High),
            _ => Self::TooBig,
        }
    }

    /// Whether the low side fails.
    #[must_use]
    pub fn is_dry(self) -> bool {
        matches!(self, Self::TooSmall | Self::AtTheEdge(Side::Low) | Self::Swings)
    }

    /// Whether the high side fails.
    #[must_use]
    pub fn is_humid(self) -> bool {
        matches!(self, Self::TooBig | Self::AtTheEdge(Side::High) | Self::Swings)
    }

    /// That of two rooms together: the worse, and [`Verdict::Swings`] where they fail on different sides.
    pub(super) fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::Fits, one) | (one, Self::Fits) => one,
            (one, two) if one.is_humid() != two.is_humid() => Self::Swings,
            (Self::AtTheEdge(_), worse) | (worse, _) => worse,
        }
    }
}

/// What can be done. Nothing of it has to be bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Advice {
    /// A simple set-up that works: leave it.
    SimpleSetUpWorks,
    /// A shallower pool with a smaller surface.
    ShallowerSmallerSurface,
    /// Cover a part of the surface, out of the way of who climbs in and out.
    CoverPart,
    /// Turn the air or the fall of water down.
    LessAir,
    /// Open the lid a little; [`RoomFit::exchange`] says how often an hour the air would have to be exchanged.
    VentMore,
    /// A wider surface: a flatter container of what is at hand.
    WiderSurface,
    /// Seal gaps round cords, airlines and the lid.
    SealGaps,
    /// Seal in winter and vent in summer: one size does not do for both rooms.
    VentBySeason,
    /// The glass sweats because the room is cold: keep the cold side warmer, or wipe; nothing is wrong with the pool.
    ColdGlass,
    /// The doubt is wider than the verdict: measure before changing anything.
    MeasureFirst,
}

impl Advice {
    /// What can be done about the dry end's, the likely and the humid end's verdict.
    pub(super) fn of(asked: &Asked, winter: &RoomFit, summer: &RoomFit, verdicts: [Verdict; 3]) -> Vec<Self> {
        let [driest, verdict, most_humid] = verdicts;
        let mut all = Vec::new();
        if verdict == Verdict::Fits {
            all.push(Self::SimpleSetUpWorks);
        }
        if verdict == Verdict::Swings {
            all.push(Self::VentBySeason);
        } else if verdict.is_humid() {
            all.extend([Self::ShallowerSmallerSurface, Self::CoverPart]);
            if asked.pools.iter().any(super::FitPool::is_stirred) {
                all.push(Self::LessAir);
            }
            all.push(Self::VentMore);
        } else if verdict.is_dry() {
            all.extend([Self::SealGaps, Self::WiderSurface]);
        }
        if winter.sweats || summer.sweats {
            all.push(Self::ColdGlass);
        }
        if verdict != Verdict::Fits && (driest != verdict || most_humid != verdict) {
            all.push(Self::MeasureFirst);
        }
        all
    }
}

/// What is in doubt, and what would settle it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Doubt {
    /// The exchange: cover the pools and log the humidity as it falls.
    Exchange,
    /// How readily the pools give vapour: log what is topped up.
    Transfer,
    /// The water's temperature: measure it.
    WaterTemperature,
    /// How wet the substrate is: nothing measures it well; log the humidity with the pools covered for a day.
    Substrate,
}

/// How much of the doubt one thing makes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Narrow {
    /// What is in doubt.
    pub doubt: Doubt,
    /// How far the steady humidity moves between its ends while the rest stays as likely, from 0 to 1.
    pub moves: f64,
}

/// What would narrow the doubt in a room, the most helpful first. What moves the humidity by less than 0.1 % is left
/// out.
pub(super) fn narrow(asked: &Asked, room: &Air) -> Result<Vec<Narrow>, AirError> {
    let pools = |scene: Scene| {
        if asked.pools.is_empty() {
            scene.like(asked)
        } else {
            scene.pools(asked.pools)
        }
    };
    let humidity = |scene: Scene| -> Result<f64, AirError> {
        let balance = Balance::new(&scene.enclosure(asked.setting), &pools(scene), room)?;
        Ok(balance.steady().humidity.0)
    };
    let mut all = Vec::new();
    for doubt in [
        Doubt::Exchange,
        Doubt::Transfer,
        Doubt::WaterTemperature,
        Doubt::Substrate,
    ] {
        let at = |end: End| {
            let mut scene = Scene::all(End::Likely);
            match doubt {
                Doubt::Exchange => scene.exchange = end,
                Doubt::Transfer => scene.transfer = end,
                Doubt::WaterTemperature => scene.water = end,
                Doubt::Substrate => scene.substrate = end,
            }
            humidity(scene)
        };
        let moves = (at(End::Humid)? - at(End::Dry)?).abs();
        all.push(Narrow { doubt, moves });
    }
    all.retain(|narrow| narrow.moves > 0.001);
    all.sort_by(|one, two| two.moves.total_cmp(&one.moves));
    Ok(all)
}
