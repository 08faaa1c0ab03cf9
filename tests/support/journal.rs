//! Journals for tests, written a line at a time.

use jiff::{Timestamp, civil};
use wrackline_core::care::Duty;
use wrackline_core::civil::Zone;
use wrackline_core::journal::{
    Book, CarerChange, EnclosureChange, Entry, Event, GearChange, Part, PlaceChange, PoolChange, RoundChange,
};
use wrackline_core::place::{CarerId, EnclosureId, Gear, Life, PoolId, Role, RoundId, Target, Water};

/// The enclosure that [`Script::place`] sets up.
pub const NORTH: EnclosureId = EnclosureId(1);
/// Its salt pool.
pub const SALT: PoolId = PoolId(1);
/// The salt pool as a target.
pub const NORTH_SALT: Target = Target::Pool(SALT);

/// A journal in the making.
#[derive(Clone, Debug)]
pub struct Script {
    /// The zone in which times are read.
    pub zone: Zone,
    /// The entries so far.
    pub entries: Vec<Entry>,
}

impl Script {
    /// A place with one keeper, one enclosure and one salt pool of 8 L, in use since the year 2000.
    ///
    /// # Panics
    /// When the zone or a round's time cannot be read.
    #[must_use]
    pub fn place(zone: &str, rounds: &str) -> Self {
        let mut script = Self { zone: Zone::get(zone).expect("a zone"), entries: Vec::new() };
        let start = "2000-01-01 00:00";
        script.add(start, Event::Place(PlaceChange::Zone(zone.to_owned())));
        script.add(start, Event::Carer(CarerId(1), CarerChange::Added(Role::Keeper)));
        for (number, time) in (1..).zip(rounds.split_whitespace()) {
            let time: civil::Time = format!("{time}:00").parse().expect("a time of day");
            script.add(start, Event::Round(RoundId(number), RoundChange::Added { name: String::new(), time }));
        }
        let north = EnclosureChange::Added { name: "North".to_owned(), litres: 400.0 };
        script.add(start, Event::Enclosure(NORTH, north));
        let salt =
            PoolChange::Added { enclosure: NORTH, water: Water::Salt, litres: 8.0, life: Life::InUse };
        script.add(start, Event::Pool(SALT, salt));
        script
    }

    /// The instant of a local time such as `2026-03-08 08:00`.
    ///
    /// # Panics
    /// When the text is no civil time.
    #[must_use]
    pub fn at(&self, local: &str) -> Timestamp {
        let civil = civil::DateTime::strptime("%Y-%m-%d %H:%M", local).expect("a civil time");
        self.zone.instant(civil)
    }

    /// Adds an entry that counts from a local time, and returns its number.
    pub fn add(&mut self, local: &str, event: Event) -> u64 {
        let at = self.at(local);
        let seq = self.entries.len() as u64 + 1;
        self.entries.push(Entry { seq, at, logged_at: at, by: CarerId(1), said_by: CarerId(1), event });
        seq
    }

    /// Logs a whole duty of the salt pool.
    pub fn did(&mut self, local: &str, duty: Duty) -> u64 {
        self.add(local, Event::Did(duty, NORTH_SALT, Part::Whole))
    }

    /// Logs a fraction of a change of the salt pool.
    pub fn part(&mut self, local: &str, fraction: f64) -> u64 {
        self.add(local, Event::Did(Duty::Change, NORTH_SALT, Part::Fraction(fraction)))
    }

    /// Changes the salt pool's gear.
    pub fn gear(&mut self, local: &str, gear: Gear, change: GearChange) -> u64 {
        self.add(local, Event::Gear(SALT, gear, change))
    }

    /// The book of all this.
    #[must_use]
    pub fn book(&self) -> Book {
        Book::of(self.entries.iter().cloned())
    }
}
