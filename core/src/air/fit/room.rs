//! The answer in one room.

use super::{Asked, End, Scene, Verdict};
use crate::air::balance::{Balance, Exchange, Need, Pool};
use crate::air::evaporation::Spread;
use crate::air::moist::{Air, AirError};
use crate::quantity::{Humidity, SquareCentimetres};

/// Something needed, from low to high.
pub type Ends<T> = Spread<Need<T>>;

/// How much water surface in all holds a humidity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BandSurface {
    /// The humidity.
    pub humidity: Humidity,
    /// The surface: low if evaporation is strong and the exchange weak, high the other way round.
    pub surface: Ends<SquareCentimetres>,
}

/// What an enclosure bears in one room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoomFit {
    /// The room's air.
    pub room: Air,
    /// The surfaces for the low end, the middle and the high end of the band.
    pub band: [BandSurface; 3],
    /// The humidity at which the glass sweats, and the surface that gives it.
    pub glass: BandSurface,
    /// The usable ceiling: the lesser of the band's high end and the glass limit, and its surface. With a cold room the
    /// glass may sweat inside the band with nothing wrong.
    pub ceiling: BandSurface,
    /// What the pools as they are come to, from the dry to the humid end of the doubt.
    pub steady: Spread<Humidity>,
    /// What that means, from the dry to the humid end.
    pub verdict: Spread<Verdict>,
    /// Whether the glass likely sweats.
    pub sweats: bool,
    /// The exchange that likely gives the middle of the band with the pools as they are.
    pub exchange: Need<Exchange>,
}

impl RoomFit {
    pub(super) fn of(asked: &Asked, room: &Air) -> Result<Self, AirError> {
        let likely = Ask::new(asked, room, Scene::all(End::Likely))?;
        // In a room that is damper than the pools would make it, exchange works the other way.
        let damper = likely.with.has_damper_room();
        let ends = [End::Dry, End::Humid].map(|end| {
            let exchange = if damper { end.other() } else { end };
            Ask::new(
                asked,
                room,
                Scene {
                    exchange,
                    ..Scene::all(end)
                },
            )
        });
        let [dry, humid] = ends;
        let (dry, humid) = (dry?, humid?);
        let surface = |humidity: Humidity| -> Result<BandSurface, AirError> {
            let surface = Spread::new(
                humid.surface_for(humidity)?,
                likely.surface_for(humidity)?,
                dry.surface_for(humidity)?,
            );
            Ok(BandSurface { humidity, surface })
        };
        let (low, high) = asked.band;
        let middle = Humidity(f64::midpoint(low.0, high.0));
        let band = [surface(low)?, surface(middle)?, surface(high)?];
        let glass = surface(likely.with.glass_limit())?;
        let steady = Spread::new(&dry, &likely, &humid).map(|ask| ask.with.steady());
        Ok(Self {
            room: *room,
            band,
            glass,
            ceiling: if glass.humidity < high { glass } else { band[2] },
            verdict: steady.map(|steady| Verdict::of(steady.humidity, asked.band)),
            sweats: steady.likely.sweats,
            exchange: likely.with.exchange_for(middle)?,
            steady: steady.map(|steady| steady.humidity),
        })
    }
}

/// One scene in one room.
struct Ask {
    /// With the pools as they are.
    with: Balance,
    /// Without their surfaces.
    without: Balance,
    /// The pools that are sized.
    like: Vec<Pool>,
}

impl Ask {
    fn new(asked: &Asked, room: &Air, scene: Scene) -> Result<Self, AirError> {
        let enclosure = scene.enclosure(asked.setting);
        Ok(Self {
            with: Balance::new(&enclosure, &scene.pools(asked.pools), room)?,
            without: Balance::new(&enclosure, &scene.bubbles(asked.pools), room)?,
            like: scene.like(asked),
        })
    }

    fn surface_for(&self, humidity: Humidity) -> Result<Need<SquareCentimetres>, AirError> {
        self.without.surface_for(humidity, &self.like)
    }
}
