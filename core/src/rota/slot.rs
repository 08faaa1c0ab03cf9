//! What tells a coming turn from all others, whenever it falls due and whoever has it.

use jiff::{Timestamp, civil};
use serde::{Deserialize, Serialize};

use crate::care::standing::NoTurn;
use crate::care::{Duty, Standing, TurnKey};
use crate::civil::{DayNumbers, Zone};
use crate::journal::Book;
use crate::place::Target;

/// Which of a duty's turns.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Which {
    /// The one that comes after the duty was done on so many days before its own: turns of one day have one slot.
    After(u32),
    /// The one at this civil time, for a duty that keeps a calendar.
    On(civil::DateTime),
}

/// A coming turn. It stays the same when it is re-dated or changes hands: work done early or late moves the turns after
/// it, and each keeps its owner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Slot {
    /// The duty's family.
    pub duty: Duty,
    /// What it is about.
    pub target: Target,
    /// Which turn of it.
    pub which: Which,
}

impl Slot {
    /// The slot of the turn that is next or due at a moment.
    #[must_use]
    pub fn of(book: &Book, zone: &Zone, standing: &Standing, now: Timestamp) -> Self {
        let TurnKey { duty, target, on, .. } = standing.turn;
        let after = || {
            let last = book.done_until(duty, target, now).next_back();
            let done_on = last.map(|done| zone.date(done.at));
            Which::after(
                days_done(book, zone, duty, target, now),
                done_on,
                zone.date(standing.due),
            )
        };
        let which = on.map_or_else(after, Which::On);
        Self { duty, target, which }
    }
}

impl Which {
    /// The turn of a day, after a duty was done on so many days, the last one being this.
    pub(super) fn after(days: u32, done_on: Option<civil::Date>, due_on: civil::Date) -> Self {
        Self::After(days - u32::from(done_on == Some(due_on)))
    }
}

/// On how many civil days a duty was done up to and with a moment, whatever did it. Days are counted and not entries,
/// so that who reads the hygrometer three times a day does not use up three people's turns.
#[must_use]
pub fn days_done(book: &Book, zone: &Zone, duty: Duty, target: Target, now: Timestamp) -> u32 {
    let mut last = None;
    let mut days = 0;
    // Every one of the journal is looked at, for every turn of an answer: a date of each would cost too much.
    let mut numbers = DayNumbers::of(zone);
    for done in book.done_until(duty, target, now) {
        let day = numbers.number(done.at);
        if last.replace(day) != Some(day) {
            days += 1;
        }
    }
    days
}

impl std::fmt::Display for Slot {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (from, on) = match self.which {
            Which::After(days) => (u64::from(days), None),
            Which::On(on) => (0, Some(on)),
        };
        let key = TurnKey {
            duty: self.duty,
            target: self.target,
            from,
            on,
        };
        key.fmt(f)
    }
}

impl std::str::FromStr for Slot {
    type Err = NoTurn;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let key: TurnKey = text.parse()?;
        let which = match key.on {
            Some(on) => Which::On(on),
            None => Which::After(u32::try_from(key.from).map_err(|_| NoTurn)?),
        };
        Ok(Self {
            duty: key.duty,
            target: key.target,
            which,
        })
    }
}

impl Serialize for Slot {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Slot {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer)?
            .parse()
            .map_err(serde::de::Error::custom)
    }
}
