//! What happened. The journal only grows; what was wrong is retracted by a further entry.

mod book;
mod filter;
mod fold;
mod hands;
mod matters;

use jiff::{Timestamp, civil};
use serde::{Deserialize, Serialize};

pub use self::book::{Book, Done, DoneKind, TurnEvent};
pub use self::filter::{Input, TellsFrom, kit_step};
pub use self::hands::When;
pub use self::matters::{FollowUp, Matter};
pub use crate::people::{Absence, CarerChange};

use crate::care::{Duty, Numbers, OwnDuty, Rule, TurnKey};
use crate::particulars::{GearFact, Glazing, Lid, RoomAir, Size, Way};
use crate::place::{
    CarerId, EnclosureId, Gear, Life, OwnDutyId, PoolId, QuietHours, QuietZone, RoundId, Target, Water,
};
use crate::pool::contents::Gravel;
use crate::pool::shape::Shape;
use crate::quantity::{GravityConvention, Measured, Units};
use crate::rota::Slot;
use crate::supplies::SupplyChange;
use crate::water::batch::BatchId;

/// The number of an entry within its place, from 1, in order of arrival.
pub type Seq = u64;

/// One line of the journal.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// Its number.
    pub seq: Seq,
    /// When it counts from.
    pub at: Timestamp,
    /// When it was logged.
    pub logged_at: Timestamp,
    /// Who did it.
    pub by: CarerId,
    /// Who said so; the same person unless someone logged for another.
    pub said_by: CarerId,
    /// What it says.
    pub event: Event,
}

impl Entry {
    /// An entry that was logged when it counts from, by whoever did it.
    #[must_use]
    pub fn at_once(seq: Seq, at: Timestamp, by: CarerId, event: Event) -> Self {
        Self {
            seq,
            at,
            logged_at: at,
            by,
            said_by: by,
            event,
        }
    }
}

/// What an entry says.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Event {
    /// The place was set up or changed.
    Place(PlaceChange),
    /// A round was set up or changed.
    Round(RoundId, RoundChange),
    /// A carer joined or changed.
    Carer(CarerId, CarerChange),
    /// An enclosure was set up or changed.
    Enclosure(EnclosureId, EnclosureChange),
    /// A pool was set up or changed.
    Pool(PoolId, PoolChange),
    /// Gear was fitted, stopped, started, proven or taken off.
    Gear(PoolId, Gear, GearChange),
    /// Something was told of a piece of gear.
    GearFact(PoolId, Gear, GearFact),
    /// A duty of the place's own was set up or ended.
    OwnDuty(OwnDutyId, OwnDutyChange),
    /// Numbers of a catalogue row were set for this place.
    Numbers(Rule, Numbers),
    /// What the place mixes with was set or learnt.
    Supplies(SupplyChange),
    /// A duty was done, whole or in part.
    Did(Duty, Target, Part),
    /// Litres that went in or out with the entry right before this one, of the same line.
    Amount(f64),
    /// Litres of prepared water that went in with the duty right before this one, of the same line.
    Drew(BatchId, f64),
    /// Millilitres of conditioner that went in with the duty right before this one, of the same line.
    Dosed(f64),
    /// A batch of prepared water was made, or something about it is known.
    Batch(BatchId, BatchChange),
    /// A turn needed no doing.
    NotNeeded {
        /// The turn.
        turn: TurnKey,
        /// Whether a keeper said so; only then may it run past a hazard limit.
        keeper: bool,
    },
    /// A turn comes back later.
    Later {
        /// The turn.
        turn: TurnKey,
        /// When it comes back.
        until: Timestamp,
    },
    /// The person whose turn it was cannot; it is free for anyone.
    Cannot {
        /// The turn.
        turn: TurnKey,
    },
    /// Someone took a turn.
    Took {
        /// The turn.
        turn: TurnKey,
    },
    /// Turns were published with their carers.
    Published(Vec<(TurnKey, CarerId)>),
    /// Coming turns were shared out; `None` where nobody can do one.
    Shared(Vec<(Slot, Option<CarerId>)>),
    /// Something was said of a coming turn.
    Coming(Slot, Say),
    /// Someone is away.
    Away(Absence),
    /// Someone who was away is there again.
    Back,
    /// The duty right before this one, of the same line, was done together with this person.
    Together(CarerId),
    /// A helper did a duty that waits for an adult's nod.
    Waits(Duty, Target, Part),
    /// An adult nodded at what a helper did.
    Nodded(Seq),
    /// Whether a duty waits for an adult's nod when a helper did it.
    AsksNod(Duty, bool),
    /// A quantity was read.
    Read(Target, Measured),
    /// What went into a pool that a test of its water does not tell.
    Input(PoolId, Input),
    /// Something was seen; it stays open as a matter until it is closed.
    Saw(Target, Sighting),
    /// Someone has seen an alarm; the number is the sighting's, or that of the reading that raised it.
    Noted(Seq),
    /// Someone goes to look after it.
    Going(Seq),
    /// Someone looked at a matter, and it is still open.
    Looked(Seq),
    /// It was closed.
    Closed(Seq),
    /// An earlier entry was wrong.
    Retract(Seq),
}

/// A change of the place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PlaceChange {
    /// What it is called.
    Name(String),
    /// Its IANA zone.
    Zone(String),
    /// Its quiet hours.
    Quiet(Option<QuietHours>),
    /// The units it reads in.
    Units(Units),
    /// The convention of its specific-gravity instrument.
    Gravity(GravityConvention),
    /// The air of its rooms in winter.
    Winter(RoomAir),
    /// The air of its rooms in summer.
    Summer(RoomAir),
    /// Until when rounds and late turns are not called, or that they are called again.
    Hush(Option<Timestamp>),
}

/// A change of a round.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RoundChange {
    /// It was set up.
    Added {
        /// What it is called.
        name: String,
        /// Its wall-clock time.
        time: civil::Time,
    },
    /// It moved.
    Time(civil::Time),
    /// It is no longer held.
    Retired,
}

/// A change of an enclosure.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum EnclosureChange {
    /// It was set up.
    Added {
        /// What it is called.
        name: String,
        /// Gross volume in litres.
        litres: f64,
    },
    /// What it is called.
    Name(String),
    /// Gross volume in litres.
    Litres(f64),
    /// The room it stands in.
    Room(String),
    /// Its point of the walking order.
    Order(u32),
    /// How many crabs live in it.
    Crabs(u32),
    /// The smallest crab's length in centimetres.
    Smallest(f64),
    /// The largest crab's length in centimetres.
    Largest(f64),
    /// Whose enclosure it is by habit.
    Carer(Option<CarerId>),
    /// Whether it is kept apart.
    Quarantine(bool),
    /// Whether a sensor reads it.
    Sensor(bool),
    /// A quiet zone, or its end.
    Quiet(Option<QuietZone>),
    /// Its inside.
    Size(Size),
    /// How deep the substrate lies, in centimetres; 0 for none.
    Substrate(f64),
    /// Its panes.
    Glazing(Glazing),
    /// Its lid.
    Lid(Lid),
    /// The temperature that it is kept at, in °C.
    Heated(f64),
    /// It is no longer kept.
    Retired,
}

/// A change of a pool.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PoolChange {
    /// It was set up.
    Added {
        /// The enclosure it stands in.
        enclosure: EnclosureId,
        /// Which water.
        water: Water,
        /// Its water in litres.
        litres: f64,
        /// Where it is in its life.
        life: Life,
    },
    /// Its water in litres.
    Litres(f64),
    /// Whether it lifts out whole.
    Removable(bool),
    /// Whether it is nested.
    Nested(bool),
    /// Where it is in its life.
    Life(Life),
    /// The inside of its container.
    Shape(Shape),
    /// How high the water stands above the container's floor, in centimetres.
    Depth(f64),
    /// Gravel on its floor, or none.
    Gravel(Option<Gravel>),
    /// The room that stones, shells and a ramp take under water, in litres.
    Stones(f64),
    /// How crabs get out.
    WayOut(Way),
    /// It is no longer kept.
    Retired,
}

/// A change of gear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum GearChange {
    /// It was fitted; a filter may come with its cycle proven.
    Added {
        /// By the keeper's word.
        proven: bool,
    },
    /// It stands still.
    Stopped,
    /// It runs again.
    Started,
    /// The filter's cycle is proven.
    Proven,
    /// It was taken off.
    Removed,
}

/// What happened to a batch of prepared water, or what was found out about it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BatchChange {
    /// It was made.
    Made {
        /// What its vessel is called.
        vessel: String,
        /// Which water it is.
        water: Water,
        /// How many litres.
        litres: f64,
        /// The salinity that it was made for, in g/kg.
        salinity: f64,
        /// Whether it was conditioned.
        conditioned: bool,
        /// With how many millilitres of the bottle; 0 where that was not said.
        dosed_ml: f64,
    },
    /// Its salt was read.
    Measured(Measured),
    /// It was conditioned later on.
    Conditioned {
        /// With how many millilitres of the bottle; 0 where that was not said.
        dosed_ml: f64,
    },
    /// The last day on which it is used.
    UseBy(civil::Date),
    /// It proved wrong.
    Wrong(Fault),
    /// What was left of it was poured away.
    Retired,
}

/// How a batch proved wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Fault {
    /// It had not been conditioned; conditioning mends what is left.
    Unconditioned,
    /// Its salinity was another one; what is left is good again once it has been measured anew.
    Salinity,
}

/// A change of a duty of the place's own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum OwnDutyChange {
    /// It was set up.
    Added(OwnDuty),
    /// It is no longer done.
    Retired,
}

/// What is said of a coming turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Say {
    /// Whoever has it offers it to someone.
    Offered(CarerId),
    /// The one whom it was offered to does not take it.
    Declined,
    /// Someone takes it: one that was offered to them, or one that is free.
    Taken,
    /// Whoever has it cannot.
    Freed,
}

/// How much of a duty was done.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// As much as the duty asks for.
    Whole,
    /// A fraction of the water or the work, over 0 and at most 1.
    Fraction(f64),
    /// Steps of the duty, as a set of bits: bit 0 is the first step.
    Steps(u32),
}

/// What people see.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sighting {
    /// Water where none should be.
    Leak,
    /// Substrate that is wet.
    WetSubstrate,
    /// Mould.
    Mould,
    /// Condensation on the glass.
    Condensation,
    /// An air stone that splashes.
    Splashing,
    /// A filter that was tipped.
    TippedFilter,
    /// A crab that is out.
    Escape,
    /// A crab in trouble.
    Trouble,
}

impl Sighting {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::Leak,
        Self::WetSubstrate,
        Self::Mould,
        Self::Condensation,
        Self::Splashing,
        Self::TippedFilter,
        Self::Escape,
        Self::Trouble,
    ];

    /// Whether it is of the spot, so that it is the same one while it is open; a crab may be another one each time.
    #[must_use]
    pub fn is_of_spot(self) -> bool {
        !matches!(self, Self::Escape | Self::Trouble)
    }

    /// Whether it is a danger at once, quiet hours or not.
    #[must_use]
    pub fn is_danger(self) -> bool {
        matches!(
            self,
            Self::Leak | Self::WetSubstrate | Self::TippedFilter | Self::Escape | Self::Trouble
        )
    }
}
