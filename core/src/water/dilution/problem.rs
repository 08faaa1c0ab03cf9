//! What is impossible, with the numbers that a sentence about it needs.

/// What is impossible about a dilution.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Problem {
    /// A concentration that is none.
    #[error("{value} mg/L is no concentration: it must lie between 0 and 1,000,000")]
    Concentration {
        /// What was given, in mg/L.
        value: f64,
    },
    /// A fraction that is no part of a pool.
    #[error("a change of {value} of the water is impossible: it must lie between 0.001 and 1")]
    Fraction {
        /// What was given.
        value: f64,
    },
    /// The water that is put in holds as much as the target, or more: changes never get below it.
    #[error("the source is above the target: {source_mg_l} mg/L against {target} mg/L")]
    SourceAbove {
        /// The source water's concentration in mg/L.
        source_mg_l: f64,
        /// The target in mg/L.
        target: f64,
    },
    /// A rise is asked for, and the water that is put in holds no more than the target.
    #[error(
        "the source is below the target: {source_mg_l} mg/L against {target} mg/L, changes cannot raise it"
    )]
    SourceBelow {
        /// The source water's concentration in mg/L.
        source_mg_l: f64,
        /// The target in mg/L.
        target: f64,
    },
    /// So many changes that they are no advice.
    #[error("about {needed:.0} changes would be needed, more than 10000")]
    TooMany {
        /// About how many.
        needed: f64,
    },
    /// No number of changes.
    #[error("{count} changes: between 1 and 10000 are possible")]
    Count {
        /// What was given.
        count: u32,
    },
    /// An interval that is none.
    #[error("{days} days is no interval: it must lie between 0.01 and 3650")]
    Interval {
        /// What was given, in days.
        days: f64,
    },
    /// What is made in a day that cannot be.
    #[error("{value} mg/L a day cannot be made: it must lie between 0 and 1,000,000")]
    Made {
        /// What was given, in mg/L a day.
        value: f64,
    },
    /// What is taken up in a day that cannot be.
    #[error("a removal of {value} of the rest a day is impossible: it must lie between 0 and 100")]
    Removed {
        /// What was given, per day.
        value: f64,
    },
    /// A volume that is none.
    #[error("{value} L is no volume here: it must lie between 0 and 1,000,000")]
    Volume {
        /// What was given, in litres.
        value: f64,
    },
}
