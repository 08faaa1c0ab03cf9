//! What is asked about, with the usual assumptions where a place has not said better.

use super::Scene;
use crate::air::balance::{Bubbles, DampSurface, Exchange};
use crate::air::evaporation::{ASSUMED, STILL, Spread, Stirring, Transfer, UNHEATED_BELOW_AIR};
use crate::air::glass::Pane;
use crate::air::moist::{Air, AirError};
use crate::quantity::{Celsius, Humidity, Litres, SquareCentimetres};
use crate::rests::Rests;

/// The band of humidity to hold: 75 to 85 % (a keepers' association's public page).
pub const BAND: (Humidity, Humidity) = (Humidity(0.75), Humidity(0.85));

/// How often an hour the air of an enclosure under a lid of glass is exchanged, until it is measured. Common practice,
/// no published source.
pub const LIDDED_EXCHANGE: Spread<Exchange> = Spread::new(Exchange(0.5), Exchange(1.0), Exchange(2.0));

/// How wet the surface of damp substrate is, as a share of open water: moist below, nearly dry at the top. Common
/// practice, no published source.
pub const SUBSTRATE_WETNESS: Spread<f64> = Spread::new(0.0, 0.02, 0.05);

/// How much of an enclosure's gross volume is air where it is not known: the rest is substrate, pools and furnishing.
/// Common practice, no published source.
pub const AIR_SHARE: f64 = 0.6;

/// A heated room in winter: °C and humidity. Common practice, no published source.
pub const WINTER_ROOM: (Celsius, Humidity) = (Celsius(21.0), Humidity(0.40));

/// A room in summer: °C and humidity. Common practice, no published source.
pub const SUMMER_ROOM: (Celsius, Humidity) = (Celsius(25.0), Humidity(0.55));

/// The air of a usual room.
///
/// # Errors
/// [`AirError::Outside`] for values that cannot be.
pub fn usual_room(room: (Celsius, Humidity)) -> Result<Air, AirError> {
    Air::new(room.0, room.1)
}

/// Damp substrate, with its doubt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Substrate {
    /// Its surface.
    pub surface: SquareCentimetres,
    /// How wet it is, 0 to 1 of open water.
    pub wetness: Spread<f64>,
    /// Its temperature.
    pub temperature: Celsius,
}

impl Substrate {
    /// As it stands in one scene.
    pub(super) fn surface(&self, scene: Scene) -> DampSurface {
        DampSurface {
            surface: self.surface,
            transfer: STILL.likely,
            wetness: scene.substrate.wetting(&self.wetness),
            temperature: self.temperature,
        }
    }
}

/// An enclosure, with its doubt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// Its volume in all, substrate included.
    pub gross: Litres,
    /// The volume of its air.
    pub air: Litres,
    /// The temperature of its air.
    pub temperature: Celsius,
    /// Its exchange with the room.
    pub exchange: Spread<Exchange>,
    /// Damp substrate.
    pub substrate: Option<Substrate>,
    /// Its glass.
    pub pane: Pane,
    /// What its exchange, volumes and substrate rest on.
    pub rests: Rests,
}

impl Setting {
    /// A lidded enclosure with damp substrate on its floor, as usual: [`AIR_SHARE`], [`LIDDED_EXCHANGE`],
    /// [`SUBSTRATE_WETNESS`], 6 mm glass. All of it is assumed.
    #[must_use]
    pub fn usual(gross: Litres, floor: SquareCentimetres, temperature: Celsius) -> Self {
        Self {
            gross,
            air: gross * AIR_SHARE,
            temperature,
            exchange: LIDDED_EXCHANGE,
            substrate: Some(Substrate {
                surface: floor,
                wetness: SUBSTRATE_WETNESS,
                temperature,
            }),
            pane: Pane::default(),
            rests: Rests::Practice,
        }
    }
}

/// A pool, with its doubt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FitPool {
    /// Its water's surface.
    pub surface: SquareCentimetres,
    /// How readily it gives vapour.
    pub transfer: Spread<Transfer>,
    /// Its water's temperature.
    pub water: Spread<Celsius>,
    /// Its water's activity: 1 for fresh, 0.98 for sea water.
    pub activity: f64,
    /// Air that is blown through it, if the flow is known.
    pub bubbles: Option<Bubbles>,
    /// What its transfer and temperature rest on.
    pub rests: Rests,
}

impl FitPool {
    /// A still fresh pool without a heater, under air of this temperature.
    #[must_use]
    pub fn still(surface: SquareCentimetres, air: Celsius) -> Self {
        Self::stirred(surface, air, Stirring::Still)
    }

    /// A fresh pool without a heater that is stirred, under air of this temperature.
    #[must_use]
    pub fn stirred(surface: SquareCentimetres, air: Celsius, stirring: Stirring) -> Self {
        let below = UNHEATED_BELOW_AIR;
        Self {
            surface,
            transfer: stirring.assumed(),
            water: Spread::new(below.high, below.likely, below.low).map(|below| Celsius(air.0 - below)),
            activity: 1.0,
            bubbles: None,
            rests: ASSUMED,
        }
    }

    /// Whether anything stirs it: bubbles, or a transfer above that of still water.
    pub(super) fn is_stirred(&self) -> bool {
        let bubbles = self.bubbles.is_some_and(|bubbles| bubbles.flow.0 > 0.0);
        bubbles || self.transfer.likely > STILL.likely && self.rests != Rests::Place
    }
}
