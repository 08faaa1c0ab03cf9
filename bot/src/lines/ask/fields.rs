//! What of an enclosure or a pool is set.

use wrackline_core::particulars::{Glazing, Lid, Size, Way};
use wrackline_core::place::{CarerId, Life, QuietZone};
use wrackline_core::pool::contents::Gravel;
use wrackline_core::pool::shape::Shape;

/// A field of an enclosure.
#[derive(Clone, Debug, PartialEq)]
pub enum EnclosureField {
    /// `name NAME`
    Name(String),
    /// `volume 400 L`
    Litres(f64),
    /// `room NAME`
    Room(String),
    /// `order 2`
    Order(u32),
    /// `crabs 6`
    Crabs(u32),
    /// `smallest 2 cm`
    Smallest(f64),
    /// `largest 5 cm`
    Largest(f64),
    /// `carer NAME`, `carer none`
    Carer(Option<CarerId>),
    /// `quarantine yes|no`
    Quarantine(bool),
    /// `sensor yes|no`
    Sensor(bool),
    /// `quiet "left back" until 2026-04-02`, `quiet none`
    Quiet(Option<QuietZone>),
    /// `size 90x45x45 cm`
    Size(Size),
    /// `substrate 15 cm`, `substrate none`
    Substrate(f64),
    /// `glass 6 mm`, `glass acrylic 5 mm`
    Glazing(Glazing),
    /// `lid closed|gaps|open`, `lid 0.5/h`
    Lid(Lid),
    /// `heated 27C`
    Heated(f64),
}

/// A field of a pool.
#[derive(Clone, Debug, PartialEq)]
pub enum PoolField {
    /// `volume 8 L`
    Litres(f64),
    /// `stationary` / `removable`
    Removable(bool),
    /// `nested yes|no`, bare `nested`
    Nested(bool),
    /// `life planned|leak test|cycling|in use|out of use`
    Life(Life),
    /// `shape box 30x20x12 cm`
    Shape(Shape),
    /// `depth 10 cm`
    Depth(f64),
    /// `gravel 3 cm`, `gravel none`
    Gravel(Option<Gravel>),
    /// `stones 0.4 L`
    Stones(f64),
    /// `way out ramp 8x12 cm`
    WayOut(Way),
}
