//! What is answered of a filter.

use jiff::Timestamp;

use crate::quantity::{Celsius, Days, Hours};
use crate::rests::Rests;

/// How far a filter's cycle has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// Nothing shows that it has begun.
    NotStarted,
    /// Ammonia is there, nitrite not yet.
    AmmoniaUp,
    /// Nitrite is there: the first bacteria work.
    NitriteUp,
    /// Nitrate comes and nitrite goes: the second bacteria work too. Not proven.
    NitrateUp,
    /// It has proven itself.
    Finished,
    /// It stood, or got nothing, for too long, and must prove itself again.
    Again,
}

/// Why what was proven or under way no longer counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lapse {
    /// It stood still for longer than the rule allows.
    Stood {
        /// Since when.
        from: Timestamp,
        /// For how long.
        hours: Hours,
    },
    /// It got no known ammonia for longer than the rule allows.
    Quiet {
        /// When it last got some.
        since: Timestamp,
        /// For how long.
        days: Days,
    },
    /// It was proven; then a test found ammonia or nitrite.
    Back {
        /// When.
        at: Timestamp,
    },
}

/// What a stage was judged by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// No ammonia is known to have gone in.
    NothingFed,
    /// Ammonia and nitrite at 0, but no ammonia is known to have gone in: that proves nothing.
    ZerosProveNothing,
    /// Ammonia went in, and nothing has been tested since.
    FedOnly {
        /// When it went in.
        at: Timestamp,
    },
    /// Ammonia went in, and no test has found ammonia, nitrite or a rise of nitrate.
    NothingFound {
        /// When it went in.
        at: Timestamp,
    },
    /// The last test of ammonia found some.
    Ammonia {
        /// When.
        at: Timestamp,
    },
    /// Ammonia was found, and is 0 now.
    AmmoniaGone,
    /// The last test of nitrite found some.
    Nitrite {
        /// When.
        at: Timestamp,
    },
    /// Nitrite is less than it was.
    NitriteFalls,
    /// Nitrite was found, and is 0 now.
    NitriteGone,
    /// Nitrate is above that of the water put in.
    NitrateAbove {
        /// When it was tested.
        at: Timestamp,
    },
    /// Two tests prove it.
    Proof {
        /// The first.
        first: Timestamp,
        /// The second.
        second: Timestamp,
    },
    /// A keeper's word.
    Word {
        /// When it was given.
        at: Timestamp,
    },
    /// Why what was there before no longer counts.
    Lapsed(Lapse),
}

/// What a proof still lacks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Missing {
    /// Ammonia that is known to go in.
    Feed,
    /// A test of ammonia.
    Ammonia,
    /// A test of nitrite.
    Nitrite,
    /// A test of nitrate after ammonia went in.
    Nitrate,
    /// Nitrate of the water put in, to compare with.
    Source,
    /// Nitrate above that of the water put in.
    NitrateAbove,
    /// A first test with both ammonia and nitrite at 0.
    FirstZero,
    /// A second test with both at 0, so much later.
    SecondZero {
        /// How long to wait still; 0 if it can be done now.
        wait: Hours,
    },
    /// That the filter runs.
    Running,
}

/// What is odd about what was told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Note {
    /// The tests were not in order of time; they were sorted.
    Sorted,
    /// A test that counts for nothing: it lies before the filter's start, after now, or in a time it stood still.
    SetAside {
        /// When it was taken.
        at: Timestamp,
    },
    /// Two tests of one moment differ. The higher ammonia and nitrite were taken, and the lower nitrate.
    Differ {
        /// When.
        at: Timestamp,
    },
    /// A test found ammonia before any was known to have gone in.
    UnknownAmmonia {
        /// When.
        at: Timestamp,
    },
    /// Ammonia or nitrite went, and nitrate did not come: a change of water, a test gone wrong, or something that eats
    /// nitrate.
    NitrateDidNotCome,
    /// The amount of what went in last is not known: food gives its ammonia slowly, so early zeros say little.
    UnknownDose,
    /// The last nitrate test before the first ammonia stands for the water put in.
    SourceFromTest {
        /// When it was taken.
        at: Timestamp,
    },
}

/// How long it may still take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Left {
    /// At the soonest.
    pub low: Days,
    /// At the latest, if it goes as it mostly does.
    pub high: Days,
    /// Whether it counts from when ammonia will go in, since none has.
    pub from_feed: bool,
    /// Whether it has taken longer already than is typical; what is left then says little.
    pub overdue: bool,
    /// The temperature it was brought to.
    pub at: Option<Celsius>,
    /// What it rests on.
    pub rests: Rests,
}

/// How a filter stands.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// How far it has come.
    pub stage: Stage,
    /// Whether its cycle is proven now: only then does it count as a filter.
    pub proven: bool,
    /// Whether it was ever proven, now or before something made that count no longer.
    pub was_proven: bool,
    /// Since when.
    pub since: Option<Timestamp>,
    /// What that was judged by.
    pub reasons: Vec<Reason>,
    /// What a proof still lacks.
    pub missing: Vec<Missing>,
    /// What is odd.
    pub notes: Vec<Note>,
    /// How long it may still take; nothing where it is proven.
    pub left: Option<Left>,
    /// How long it has stood still by now, if it does.
    pub standing: Option<Hours>,
    /// Whether it is to be rinsed before it runs.
    pub rinse: bool,
    /// What the judgement rests on.
    pub rests: Rests,
}
