//! The particulars: what a place has told of how its enclosures, pools, gear and rooms are made.
//!
//! All of it is optional. In reading order: here are the values as they are told, those of gear in `gear`; `vessel` is a pool's inside with
//! what lies in it; `box_of_air` is what an enclosure and its pools are to the air; `tube` is an airline as it was
//! measured; `emptying` is a siphon and its buckets.

mod box_of_air;
mod emptying;
mod gear;
mod tube;
mod vessel;

#[cfg(test)]
mod tests;

use serde::{Deserialize, Serialize};

use crate::air::balance::Exchange;
use crate::air::evaporation::Spread;
use crate::air::fit::{LIDDED_EXCHANGE, SUMMER_ROOM, WINTER_ROOM};
use crate::air::glass::{ACRYLIC_CONDUCTIVITY, GLASS_CONDUCTIVITY, Pane};
use crate::journal::{EnclosureChange, PoolChange};
use crate::place::Place;
use crate::pool::contents::Gravel;
use crate::pool::shape::Shape;
use crate::quantity::{Celsius, Centimetres, Humidity};
use crate::rests::Rests;

pub use self::box_of_air::{Assumed, BoxOfAir, HEATED, Volumes, volumes};
pub use self::emptying::{Emptying, Siphon, emptying};
pub use self::gear::{AirMade, FilterMade, GearFact};
pub use self::tube::{PUMP_UNTOLD, TubeGap, route, safe_route};
pub use self::vessel::{FillLine, Filled, Vessel, fill_line};

/// The air of a room: °C and percent of humidity.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct RoomAir {
    /// Its temperature in °C.
    pub celsius: f64,
    /// Its relative humidity in percent, 0 to 100.
    pub percent: f64,
}

impl RoomAir {
    /// The same as the formulas of the air take it.
    #[must_use]
    pub fn typed(self) -> (Celsius, Humidity) {
        (Celsius(self.celsius), Humidity(self.percent / 100.0))
    }
}

/// The air of a place's rooms in winter and in summer, and whether the place told it; the usual ones are common practice.
#[must_use]
pub fn rooms(place: &Place) -> [(RoomAir, bool); 2] {
    [(place.winter, WINTER_ROOM), (place.summer, SUMMER_ROOM)].map(|(told, (celsius, humidity))| {
        let usual = RoomAir {
            celsius: celsius.0,
            percent: humidity.0 * 100.0,
        };
        (told.unwrap_or(usual), told.is_some())
    })
}

/// The inside of an enclosure, in cm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Size {
    /// One side of the floor.
    pub length: f64,
    /// The other side of the floor.
    pub width: f64,
    /// From the floor to the lid.
    pub height: f64,
}

impl Size {
    /// The floor in cm².
    #[must_use]
    pub fn floor(self) -> f64 {
        self.length * self.width
    }

    /// What it holds, in litres.
    #[must_use]
    pub fn litres(self) -> f64 {
        self.floor() * self.height / 1000.0
    }
}

/// What a pane is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Material {
    /// Soda-lime glass.
    Glass,
    /// Acrylic sheet.
    Acrylic,
}

/// The panes of an enclosure.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Glazing {
    /// What they are made of.
    pub material: Material,
    /// Their thickness in cm.
    pub thickness: f64,
}

impl Glazing {
    /// The pane between two still airs.
    #[must_use]
    pub fn pane(self) -> Pane {
        Pane {
            thickness: Centimetres(self.thickness),
            conductivity: match self.material {
                Material::Glass => GLASS_CONDUCTIVITY,
                Material::Acrylic => ACRYLIC_CONDUCTIVITY,
            },
            ..Pane::default()
        }
    }
}

/// How the air of an enclosure is exchanged with the room's.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Lid {
    /// A lid that closes well, its gaps sealed.
    Closed,
    /// A lid with gaps, as lids of glass have.
    Gaps,
    /// A lid that stands open or is of mesh.
    Open,
    /// So many exchanges an hour, as measured.
    Changes(f64),
}

impl Lid {
    /// Exchanges an hour. Only a number that the place stated is known; the three kinds of lid are common practice with
    /// no published source: closed 0.25–0.5–1, gaps [`LIDDED_EXCHANGE`], open 1–3–10.
    #[must_use]
    pub fn exchange(self) -> Spread<Exchange> {
        match self {
            Self::Closed => Spread::new(Exchange(0.25), Exchange(0.5), Exchange(1.0)),
            Self::Gaps => LIDDED_EXCHANGE,
            Self::Open => Spread::new(Exchange(1.0), Exchange(3.0), Exchange(10.0)),
            Self::Changes(hourly) => Spread::known(Exchange(hourly)),
        }
    }

    /// What the exchange rests on.
    #[must_use]
    pub fn rests(self) -> Rests {
        match self {
            Self::Changes(_) => Rests::Place,
            Self::Closed | Self::Gaps | Self::Open => Rests::Practice,
        }
    }
}

/// The particulars of an enclosure.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct EnclosureMade {
    /// Its inside.
    pub size: Option<Size>,
    /// How deep the substrate lies, in cm; 0 where there is none.
    pub substrate_cm: Option<f64>,
    /// Its panes.
    pub glazing: Option<Glazing>,
    /// Its lid.
    pub lid: Option<Lid>,
    /// The temperature that it is kept at, in °C.
    pub heated_c: Option<f64>,
}

/// How crabs get out of a pool.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// A rough slope from the pool's bed.
    Ramp {
        /// How high its upper end lies above its lower end, in cm.
        rise: f64,
        /// How far apart its ends are along the floor, in cm.
        run: f64,
    },
    /// Steps or piled stones from the pool's bed.
    Steps {
        /// The highest single step, in cm.
        highest: f64,
        /// How high the uppermost lies above the bed, in cm.
        rise: f64,
    },
    /// Nothing: they climb the wall.
    Wall,
}

/// The particulars of a pool.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct PoolMade {
    /// The inside of its container.
    pub shape: Option<Shape>,
    /// How high the water stands above the container's floor, in cm.
    pub depth_cm: Option<f64>,
    /// A layer of gravel on the floor.
    pub gravel: Option<Gravel>,
    /// The room that stones, shells and a ramp take under water, in litres.
    pub stones: Option<f64>,
    /// How crabs get out.
    pub way_out: Option<Way>,
    /// Its airline.
    pub air: AirMade,
    /// Its filter.
    pub filter: FilterMade,
}

impl EnclosureMade {
    /// Takes up a change, if it is one of a particular.
    pub fn take(&mut self, change: &EnclosureChange) {
        match change {
            EnclosureChange::Size(size) => self.size = Some(*size),
            EnclosureChange::Substrate(cm) => self.substrate_cm = Some(*cm),
            EnclosureChange::Glazing(glazing) => self.glazing = Some(*glazing),
            EnclosureChange::Lid(lid) => self.lid = Some(*lid),
            EnclosureChange::Heated(celsius) => self.heated_c = Some(*celsius),
            _ => {}
        }
    }
}

impl PoolMade {
    /// Takes up a change, if it is one of a particular.
    pub fn take(&mut self, change: &PoolChange) {
        match change {
            PoolChange::Shape(shape) => self.shape = Some(shape.clone()),
            PoolChange::Depth(cm) => self.depth_cm = Some(*cm),
            PoolChange::Gravel(gravel) => self.gravel = *gravel,
            PoolChange::Stones(litres) => self.stones = Some(*litres),
            PoolChange::WayOut(way) => self.way_out = Some(*way),
            _ => {}
        }
    }
}
