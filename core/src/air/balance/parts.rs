//! What stands in the box.

use crate::air::evaporation::Transfer;
use crate::air::glass::Pane;
use crate::quantity::{Celsius, Litres, LitresPerMinute, SquareCentimetres};

/// How often an hour the air of an enclosure is exchanged with the room's.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Exchange(pub f64);

/// An enclosure as the air sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Enclosure {
    /// Its volume in all, substrate included.
    pub gross: Litres,
    /// The volume of its air: without substrate, pools and furnishing. This is what the balance reckons with.
    pub air: Litres,
    /// The temperature of its air.
    pub temperature: Celsius,
    /// Its exchange with the room.
    pub exchange: Exchange,
    /// Damp substrate.
    pub substrate: Option<DampSurface>,
    /// Its glass.
    pub pane: Pane,
    /// The surface of the glass, if condensate is to be reckoned with.
    pub glass_surface: Option<SquareCentimetres>,
}

/// Damp substrate: a wet surface of its own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DampSurface {
    /// Its surface.
    pub surface: SquareCentimetres,
    /// How readily it would give vapour if it stood under water.
    pub transfer: Transfer,
    /// How wet its surface is: 0 is dry, 1 is like open water.
    pub wetness: f64,
    /// Its temperature.
    pub temperature: Celsius,
}

/// A pool as the air sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pool {
    /// Its water's surface.
    pub surface: SquareCentimetres,
    /// How readily the surface gives vapour.
    pub transfer: Transfer,
    /// Its water's temperature, the most sensitive input.
    pub temperature: Celsius,
    /// Its water's activity: 1 for fresh, 0.98 for sea water.
    pub activity: f64,
    /// Air that is blown through it.
    pub bubbles: Option<Bubbles>,
}

/// Air that is blown through a pool.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bubbles {
    /// How much.
    pub flow: LitresPerMinute,
    /// Where the pump draws it.
    pub draws: AirFrom,
}

/// Where a pump draws its air. The enclosure's humidity is the same either way; the pool's own loss is not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AirFrom {
    /// From the room.
    Room,
    /// From inside the enclosure.
    Enclosure,
}
