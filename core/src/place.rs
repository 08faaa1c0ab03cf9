//! The things a place has. Values are what they are at one moment; how they came to be so is in the journal.

use std::collections::{BTreeMap, BTreeSet};

use jiff::{Timestamp, civil};
use serde::{Deserialize, Serialize};

use crate::care::{Duty, Numbers, OwnDuty, Rule};
use crate::civil::Zone;
use crate::particulars::{EnclosureMade, PoolMade, RoomAir};
pub use crate::people::Carer;
use crate::quantity::{GravityConvention, Units};
use crate::supplies::Supplies;
use crate::water::batch::BatchId;

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub u32);
    };
}
id!(/// An enclosure, numbered within its place.
    EnclosureId);
id!(/// A pool, numbered within its place.
    PoolId);
id!(/// A carer, numbered within their place. The name lies beside the journal.
    CarerId);
id!(/// A round, numbered within its place. Zero is the round assumed while a place has none.
    RoundId);
id!(/// A duty of the place's own, numbered within its place.
    OwnDutyId);

/// The two waters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Water {
    /// Fresh water.
    Fresh,
    /// Marine salt water.
    Salt,
}

/// Where a pool is in its life. Only pools in use or cycling have duties.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Life {
    /// Not set up yet.
    Planned,
    /// Filled outside the enclosure to see whether it leaks.
    LeakTest,
    /// Its filter is growing its bacteria; closed to crabs.
    Cycling,
    /// Open to the crabs.
    InUse,
    /// Set aside.
    OutOfUse,
}

/// What may be fitted to a pool. The two are independent of each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Gear {
    /// An air stone on a pump.
    Air,
    /// A filter.
    Filter,
}

/// What a carer may do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// Answers for the animals and sets things up.
    Keeper,
    /// Shares the work.
    Regular,
    /// Shares the work for a span of days.
    Sitter,
    /// Has no account; others log for them.
    Helper,
}

/// What a duty or a reading is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Target {
    /// The place as a whole.
    Place,
    /// One enclosure.
    Enclosure(EnclosureId),
    /// One pool.
    Pool(PoolId),
}

/// A daily span of civil time; it may cross midnight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct QuietHours {
    /// The first minute.
    pub from: civil::Time,
    /// The first minute after.
    pub to: civil::Time,
}

/// A time of day at which the place does its care.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Round {
    /// Its number.
    pub id: RoundId,
    /// What it is called; empty for the assumed one.
    pub name: String,
    /// Its wall-clock time in the place's zone.
    pub time: civil::Time,
}

/// A part of an enclosure where a crab moults.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct QuietZone {
    /// Where in the enclosure, in the carers' words.
    pub spot: String,
    /// The day on which it is looked at again; nothing is dug, lifted or scrubbed before.
    pub until: civil::Date,
}

/// One tank of land hermit crabs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Enclosure {
    /// Its number.
    pub id: EnclosureId,
    /// What it is called.
    pub name: String,
    /// Gross volume in litres.
    pub litres: f64,
    /// The room of the building it stands in; empty when none was named.
    pub room: String,
    /// Its point of the walking order; ties are broken by the number.
    pub order: u32,
    /// How many crabs live in it.
    pub crabs: u32,
    /// The smallest crab's length in centimetres.
    pub smallest_cm: Option<f64>,
    /// The largest crab's length in centimetres.
    pub largest_cm: Option<f64>,
    /// Whose enclosure it is by habit.
    pub carer: Option<CarerId>,
    /// Kept apart: it comes last in the walking order.
    pub quarantine: bool,
    /// Whether a sensor reads its humidity and temperature.
    pub sensor: bool,
    /// The quiet zone, if a crab moults there.
    pub quiet: Option<QuietZone>,
    /// How it is made, as far as that was told.
    #[serde(default)]
    pub made: EnclosureMade,
    /// When it was set up.
    pub since: Timestamp,
}

/// What is known of one piece of gear at one moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fitted {
    /// When it was fitted.
    pub since: Timestamp,
    /// When its cycle was proven, by tests or by the keeper's word; always the moment of fitting for air.
    pub proven: Option<Timestamp>,
    /// When what had been proven stopped counting, while it is not proven again.
    #[serde(default)]
    pub lapsed: Option<Timestamp>,
    /// When it stopped, if it stands still now.
    pub stopped: Option<Timestamp>,
}

/// One body of water.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Pool {
    /// Its number.
    pub id: PoolId,
    /// The enclosure it stands in.
    pub enclosure: EnclosureId,
    /// Which water.
    pub water: Water,
    /// Its water in litres.
    pub litres: f64,
    /// Whether it lifts out whole.
    pub removable: bool,
    /// Whether it is one container nested in another.
    pub nested: bool,
    /// Where it is in its life.
    pub life: Life,
    /// Since when it has been at this point of its life.
    pub since: Timestamp,
    /// Whether it had been in use before, so that older entries speak of older water.
    pub returned: bool,
    /// The air stone.
    pub air: Option<Fitted>,
    /// The filter.
    pub filter: Option<Fitted>,
    /// When gear was last taken off.
    pub bared: Option<Timestamp>,
    /// How it is made, as far as that was told.
    #[serde(default)]
    pub made: PoolMade,
}

/// A batch of prepared water in its vessel, as it was made.
#[derive(Clone, Debug, PartialEq)]
pub struct Prepared {
    /// Its number.
    pub id: BatchId,
    /// What its vessel is called.
    pub vessel: String,
    /// Which water it is.
    pub water: Water,
    /// How many litres were made.
    pub litres: f64,
    /// When it was made.
    pub made_at: Timestamp,
    /// When what was left of it was poured away.
    pub retired: Option<Timestamp>,
}

/// A place at one moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// What it is called.
    pub name: String,
    /// Its zone.
    pub zone: Zone,
    /// Hours in which only danger is posted.
    pub quiet: Option<QuietHours>,
    /// Until when rounds and late turns are not called, past or not.
    pub hush: Option<Timestamp>,
    /// The units it reads in.
    pub units: Units,
    /// The convention of its specific-gravity instrument, once stated.
    pub gravity: Option<GravityConvention>,
    /// The air of its rooms in winter, once told.
    pub winter: Option<RoomAir>,
    /// The air of its rooms in summer, once told.
    pub summer: Option<RoomAir>,
    /// Its rounds in order of time; never empty.
    pub rounds: Vec<Round>,
    /// Those who share the work now.
    pub carers: BTreeMap<CarerId, Carer>,
    /// Sitters whose span is over.
    pub ended: BTreeMap<CarerId, Carer>,
    /// Duties that wait for an adult's nod when a helper did them.
    pub nods: BTreeSet<Duty>,
    /// Its enclosures, retired ones left out.
    pub enclosures: BTreeMap<EnclosureId, Enclosure>,
    /// Its pools, retired ones left out.
    pub pools: BTreeMap<PoolId, Pool>,
    /// Duties of its own with the moment from which they count, retired ones left out.
    pub duties: BTreeMap<OwnDutyId, (OwnDuty, Timestamp)>,
    /// Batches of prepared water, those poured away included.
    pub batches: BTreeMap<BatchId, Prepared>,
    /// Numbers of the catalogue that this place set otherwise, with the moment from which they count.
    pub numbers: BTreeMap<Rule, (Numbers, Timestamp)>,
    /// What it mixes with.
    pub supplies: Supplies,
}

impl Place {
    /// The enclosure that a target lies in.
    #[must_use]
    pub fn enclosure_of(&self, target: Target) -> Option<&Enclosure> {
        match target {
            Target::Place => None,
            Target::Enclosure(id) => self.enclosures.get(&id),
            Target::Pool(id) => self.enclosures.get(&self.pools.get(&id)?.enclosure),
        }
    }

    /// The enclosures in walking order: quarantine last.
    #[must_use]
    pub fn walk(&self) -> Vec<&Enclosure> {
        let mut all: Vec<_> = self.enclosures.values().collect();
        all.sort_by_key(|e| (e.quarantine, e.order, e.id));
        all
    }

    /// The pools of an enclosure, fresh before salt.
    #[must_use]
    pub fn pools_of(&self, enclosure: EnclosureId) -> Vec<&Pool> {
        let mut all: Vec<_> = self.pools.values().filter(|p| p.enclosure == enclosure).collect();
        all.sort_by_key(|p| (p.water, p.id));
        all
    }

    /// Until when rounds and late turns are not called, where a hush holds at a moment.
    #[must_use]
    pub fn hushed_until(&self, now: Timestamp) -> Option<Timestamp> {
        self.hush.filter(|until| now < *until)
    }

    /// The keepers, by number.
    pub fn keepers(&self) -> impl Iterator<Item = CarerId> + '_ {
        self.carers
            .values()
            .filter(|c| c.role == Role::Keeper)
            .map(|c| c.id)
    }
}
