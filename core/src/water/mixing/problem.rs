//! What is impossible, with the numbers that a sentence about it needs.

/// What is impossible about a mixture.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Problem {
    /// A mass of water that is none.
    #[error("{kg} kg of water: it must be more than 0 and at most 1000000")]
    Mass {
        /// What was given, in kg.
        kg: f64,
    },
    /// A volume that is none.
    #[error("{litres} L: it must be more than 0 and at most 1000000")]
    Volume {
        /// What was given, in litres.
        litres: f64,
    },
    /// A density that is not water's.
    #[error("{value} kg/m3 is no density of water: it must lie between 900 and 1300")]
    Density {
        /// What was given, in kg/m³.
        value: f64,
    },
    /// A salinity that water cannot have.
    #[error("{value} g/kg is no salinity of water: it must lie between 0 and 260")]
    Salinity {
        /// What was given, in g/kg.
        value: f64,
    },
    /// A target that is no sea water.
    #[error("a target of {target} g/kg: it must lie between 0 and {limit}")]
    Target {
        /// What was given, in g/kg.
        target: f64,
        /// The highest that is mixed.
        limit: f64,
    },
    /// Salt cannot be added to go down.
    #[error("the target of {target} g/kg is below the {holds} g/kg that the water holds already")]
    TargetBelow {
        /// The target in g/kg.
        target: f64,
        /// What the water holds, in g/kg.
        holds: f64,
    },
    /// Fresh water cannot be added to go up.
    #[error("the target of {target} g/kg is above the {holds} g/kg that the water holds")]
    TargetAbove {
        /// The target in g/kg.
        target: f64,
        /// What the water holds, in g/kg.
        holds: f64,
    },
    /// The target does not lie between what the pool holds and what is put in.
    #[error("{target} g/kg does not lie between the pool at {pool} and the new water at {new} g/kg")]
    NotBetween {
        /// The target in g/kg.
        target: f64,
        /// The pool's salinity in g/kg.
        pool: f64,
        /// The new water's salinity in g/kg.
        new: f64,
    },
    /// More water evaporated than there was, or so much that the rest cannot hold its salt.
    #[error("{lost} kg cannot evaporate from {mass} kg at {salinity} g/kg: at most {most} kg can")]
    Dry {
        /// What is said to have evaporated, in kg.
        lost: f64,
        /// What there was, in kg.
        mass: f64,
        /// How salty it was, in g/kg.
        salinity: f64,
        /// The most that could have evaporated, in kg.
        most: f64,
    },
    /// A measured salinity that a product cannot explain.
    #[error(
        "measured {measured} where {expected} g/kg was expected makes a factor of {factor}: 0.7 to 1.3 are possible"
    )]
    Unexplained {
        /// What was expected, in g/kg.
        expected: f64,
        /// What was measured, in g/kg.
        measured: f64,
        /// The factor that would follow.
        factor: f64,
    },
    /// A product's factor that none has.
    #[error("a salt product's factor of {factor}: it must lie between 0.7 and 1.3")]
    Factor {
        /// What was given.
        factor: f64,
    },
    /// No pair that a factor could be learnt from.
    #[error("none of {pairs} measured batches gives a factor between 0.7 and 1.3")]
    NothingLearnt {
        /// How many there were.
        pairs: usize,
    },
    /// A margin that is none.
    #[error("a margin of {value}: it must lie between 0 and 1")]
    Margin {
        /// What was given, as a share.
        value: f64,
    },
    /// A bucket that is none.
    #[error("a bucket of {litres} L: it must hold 0.1 to 1000")]
    Bucket {
        /// What was given, in litres.
        litres: f64,
    },
    /// An empty bucket's weight that is none.
    #[error("an empty bucket of {kg} kg: it must be 0 to 1000")]
    BucketWeight {
        /// What was given, in kg.
        kg: f64,
    },
    /// More buckets than anyone carries.
    #[error("{needed:.0} buckets would be needed, more than 1000")]
    TooManyBuckets {
        /// About how many.
        needed: f64,
    },
    /// A scale that shows nothing.
    #[error("a scale that shows steps of {grams} g: it must be 0.001 to 1000")]
    Scale {
        /// What was given, in grams.
        grams: f64,
    },
    /// A temperature that water in use does not have.
    #[error("{celsius} C is no temperature of liquid water in use: it must lie between -2 and 100")]
    Temperature {
        /// What was given, in °C.
        celsius: f64,
    },
    /// The wanted temperature does not lie between the two waters.
    #[error("{wanted} C does not lie between {one} and {other} C")]
    TemperatureNotBetween {
        /// What is wanted, in °C.
        wanted: f64,
        /// The one water's temperature in °C.
        one: f64,
        /// The other's.
        other: f64,
    },
    /// The new water would have to be frozen or boiling.
    #[error("the new water would have to be at {needed} C: between -2 and 100 is possible")]
    TemperatureNeeded {
        /// What would be needed, in °C.
        needed: f64,
    },
    /// A part of a pool that is none.
    #[error("a part of {value}: it must be more than 0 and at most 1")]
    Fraction {
        /// What was given.
        value: f64,
    },
    /// A permitted difference that permits nothing.
    #[error(
        "a difference of at most {allowed} permits no change at all, with {apart} between the two waters"
    )]
    Allowed {
        /// What was permitted.
        allowed: f64,
        /// How far the two waters lie apart.
        apart: f64,
    },
}
