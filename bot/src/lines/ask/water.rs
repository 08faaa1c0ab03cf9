//! What lines about water ask for.

use wrackline_core::place::{PoolId, Water};
use wrackline_core::quantity::{Basis, Kind, Measured};
use wrackline_core::water::conditioner::{ForChloramine, Mains};

use super::Spot;

/// `/dilute`
#[derive(Clone, Debug, PartialEq)]
pub struct Dilute {
    /// What is diluted, where it was said: ammonia, nitrite or nitrate.
    pub substance: Option<Kind>,
    /// What the pool holds now, in mg/L.
    pub start: f64,
    /// What is wanted, in mg/L; the limit where something is added every day.
    pub target: f64,
    /// What the source water holds, in mg/L.
    pub source: Option<f64>,
    /// The part of the water that each change takes.
    pub change: Option<f64>,
    /// The days between two changes.
    pub every: Option<f64>,
    /// What is added a day, in mg/L.
    pub adds: Option<f64>,
    /// The part of what is there that is taken up in a day.
    pub removes: Option<f64>,
    /// What all of the concentrations are counted as, where it was said.
    pub basis: Option<Basis>,
}

/// `/mix`
#[derive(Clone, Debug, PartialEq)]
pub enum Mix {
    /// An amount of water.
    Amount(MixAmount),
    /// The changes of these pools, of the next round where none was named.
    Changes {
        /// Where.
        spot: Option<Spot>,
        /// Another salinity for the salt pools.
        salinity: Option<Measured>,
        /// The temperature of the water in °C.
        at_c: Option<f64>,
    },
    /// A pool that stands, raised or lowered.
    Stands(MixStands),
}

/// An amount of water to be mixed.
#[derive(Clone, Debug, PartialEq)]
pub struct MixAmount {
    /// Litres.
    pub litres: f64,
    /// Whether so much is wanted in the end; else so much water is started from.
    pub finished: bool,
    /// Which water, where it was said or follows from the pool.
    pub water: Option<Water>,
    /// The salinity wanted.
    pub salinity: Option<Measured>,
    /// The temperature of the water in °C.
    pub at_c: Option<f64>,
    /// The pool that it is for.
    pub pool: Option<PoolId>,
    /// The vessel into which it is mixed, which makes it a batch.
    pub into: Option<String>,
    /// Whether it is conditioned by then.
    pub conditioned: bool,
}

/// A pool that stands, from one salinity to another.
#[derive(Clone, Debug, PartialEq)]
pub struct MixStands {
    /// Which pool, where one was named.
    pub pool: Option<PoolId>,
    /// Its water in litres, where it was said.
    pub litres: Option<f64>,
    /// What it holds now; `None`: what was read last.
    pub start: Option<Measured>,
    /// What it is to hold.
    pub target: Measured,
    /// What the water holds that is put in.
    pub with: Option<Measured>,
    /// The temperature of the water in °C.
    pub at_c: Option<f64>,
}

/// A field of the supplies.
#[derive(Clone, Debug, PartialEq)]
pub enum SupplyField {
    /// `conditioner "NAME" 5 mL per 40 L …`, `conditioner none`
    Conditioner(Option<SupplyLabel>),
    /// `salt "NAME"`, `salt none`
    Salt(Option<String>),
    /// `factor 0.97`
    Factor(f64),
    /// `measured 34.1 after 10 L with 358 g [at 25C]`
    Mixed {
        /// What was read.
        measured: Measured,
        /// The litres of source water.
        litres: f64,
        /// The grams of the product.
        grams: f64,
        /// The temperature of the water in °C.
        at_c: Option<f64>,
    },
    /// `target 34`
    Target(Measured),
    /// `margin 10%`
    Margin(f64),
    /// `bucket 12 L`
    Bucket(f64),
    /// `source 0.3`
    Source(Measured),
    /// `mains chlorine|chloramine`
    Mains(Mains),
}

/// A conditioner's label.
#[derive(Clone, Debug, PartialEq)]
pub struct SupplyLabel {
    /// What it is called; empty where nobody said.
    pub name: String,
    /// Litres of the bottle …
    pub dose_l: f64,
    /// … for so many litres of water.
    pub per_l: f64,
    /// What it says of chloramine.
    pub chloramine: ForChloramine,
    /// How many hours it holds.
    pub hold_h: Option<u32>,
    /// Whether it binds ammonia.
    pub binds_ammonia: bool,
}
