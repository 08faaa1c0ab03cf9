//! Journals for tests, written a line at a time.

use jiff::{Timestamp, civil};
use wrackline_core::care::{Duty, Standing, TurnKey, standing};
use wrackline_core::civil::Zone;
use wrackline_core::journal::{
    Book, CarerChange, EnclosureChange, Entry, Event, GearChange, Part, PlaceChange, PoolChange, RoundChange,
};
use wrackline_core::place::{
    CarerId, EnclosureId, Gear, Life, PoolId, QuietZone, Role, RoundId, Target, Water,
};
use wrackline_core::quantity::Measured;

/// The enclosure that [`Script::place`] sets up.
pub const NORTH: EnclosureId = EnclosureId(1);
/// Its salt pool.
pub const SALT: PoolId = PoolId(1);
/// The salt pool as a target.
pub const NORTH_SALT: Target = Target::Pool(SALT);

/// The enclosure as a target.
pub const NORTH_ITSELF: Target = Target::Enclosure(NORTH);

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
        let mut script = Self {
            zone: Zone::get(zone).expect("a zone"),
            entries: Vec::new(),
        };
        let start = "2000-01-01 00:00";
        script.add(start, Event::Place(PlaceChange::Zone(zone.to_owned())));
        script.add(start, Event::Carer(CarerId(1), CarerChange::Added(Role::Keeper)));
        for (number, time) in (1..).zip(rounds.split_whitespace()) {
            let time: civil::Time = format!("{time}:00").parse().expect("a time of day");
            script.add(
                start,
                Event::Round(
                    RoundId(number),
                    RoundChange::Added {
                        name: String::new(),
                        time,
                    },
                ),
            );
        }
        let north = EnclosureChange::Added {
            name: "North".to_owned(),
            litres: 400.0,
        };
        script.add(start, Event::Enclosure(NORTH, north));
        let salt = PoolChange::Added {
            enclosure: NORTH,
            water: Water::Salt,
            litres: 8.0,
            life: Life::InUse,
        };
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
        self.entries.push(Entry::at_once(seq, at, CarerId(1), event));
        seq
    }

    /// Logs a whole duty of the salt pool.
    pub fn did(&mut self, local: &str, duty: Duty) -> u64 {
        self.add(local, Event::Did(duty, NORTH_SALT, Part::Whole))
    }

    /// Logs a fraction of a change of the salt pool.
    pub fn part(&mut self, local: &str, fraction: f64) -> u64 {
        self.add(
            local,
            Event::Did(Duty::Change, NORTH_SALT, Part::Fraction(fraction)),
        )
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

    /// The same of another person than the keeper.
    pub fn add_by(&mut self, who: CarerId, local: &str, event: Event) -> u64 {
        let seq = self.add(local, event);
        if let Some(entry) = self.entries.last_mut() {
            (entry.by, entry.said_by) = (who, who);
        }
        seq
    }

    /// Adds lines of 2026, parted by semicolons, each a moment and what happened in the words of `Script::event`:
    /// `03-02 08:00 change; 03-03 09:00 gear air added; 03-04 08:00 change 0.5`.
    ///
    /// # Panics
    /// When a line cannot be read.
    pub fn tell(&mut self, lines: &str) -> &mut Self {
        for line in lines.split(';').map(str::trim).filter(|line| !line.is_empty()) {
            let (moment, words) = line.split_at_checked(11).expect("a moment and words");
            let moment = format!("2026-{moment}");
            let event = self.event(&moment, words.trim());
            self.add(&moment, event);
        }
        self
    }

    /// What a line says: a duty by its code, whole, by a fraction or by `steps` numbered from 1; `notneeded`,
    /// `keeper-notneeded`, `cannot`, `took` or `later` with a duty of the salt pool; `gear`, `life`, `litres`,
    /// `nested`; `humidity`, `temperature`; `quiet` with a date or `none`; `retract` with a number.
    fn event(&self, moment: &str, words: &str) -> Event {
        let (word, rest) = words.split_once(' ').unwrap_or((words, ""));
        let number = || rest.parse().expect("a number");
        let turn = |code: &str| self.turn(moment, Duty::from_code(code).expect("a duty"));
        match word {
            "notneeded" => Event::NotNeeded {
                turn: turn(rest),
                keeper: false,
            },
            "keeper-notneeded" => Event::NotNeeded {
                turn: turn(rest),
                keeper: true,
            },
            "cannot" => Event::Cannot { turn: turn(rest) },
            "took" => Event::Took { turn: turn(rest) },
            "later" => {
                let (code, until) = rest.split_once(' ').expect("a duty and a moment");
                Event::Later {
                    turn: turn(code),
                    until: self.at(&format!("2026-{until}")),
                }
            }
            "gear" => {
                let (gear, change) = rest.split_once(' ').expect("gear and what became of it");
                let gear = if gear == "air" { Gear::Air } else { Gear::Filter };
                Event::Gear(SALT, gear, gear_change(change))
            }
            "life" => Event::Pool(SALT, PoolChange::Life(life(rest))),
            "litres" => Event::Pool(SALT, PoolChange::Litres(number())),
            "nested" => Event::Pool(SALT, PoolChange::Nested(true)),
            "humidity" => Event::Read(NORTH_ITSELF, Measured::Humidity(number())),
            "temperature" => Event::Read(NORTH_ITSELF, Measured::Temperature(number())),
            "quiet" => {
                let until = format!("2026-{rest}").parse().ok();
                let zone = until.map(|until| QuietZone {
                    spot: "left back".to_owned(),
                    until,
                });
                Event::Enclosure(NORTH, EnclosureChange::Quiet(zone))
            }
            "retract" => Event::Retract(rest.parse().expect("an entry's number")),
            code => {
                let duty = Duty::from_code(code).unwrap_or_else(|| panic!("cannot read {words:?}"));
                Event::Did(
                    duty,
                    if duty.is_of_pool() {
                        NORTH_SALT
                    } else {
                        NORTH_ITSELF
                    },
                    part(rest),
                )
            }
        }
    }

    /// How a duty stands at a local time.
    #[must_use]
    pub fn standing(&self, local: &str, duty: Duty, target: Target) -> Option<Standing> {
        let (book, now) = (self.book(), self.at(local));
        standing(&book, &book.place_at(now), duty, target, now)
    }

    /// The turn of a duty of the salt pool at a local time.
    ///
    /// # Panics
    /// When it has no such duty.
    #[must_use]
    pub fn turn(&self, local: &str, duty: Duty) -> TurnKey {
        self.standing(local, duty, NORTH_SALT)
            .expect("a duty of the pool")
            .turn
    }

    /// An instant as the local `03-04 08:00`, for comparing.
    #[must_use]
    pub fn local(&self, at: Timestamp) -> String {
        self.zone.civil(at).strftime("%m-%d %H:%M").to_string()
    }

    /// How a duty stands at a moment of 2026, in one line: rule, due, overdue, hazard, mark; `none` without it.
    #[must_use]
    pub fn line(&self, moment: &str, duty: Duty, target: Target) -> String {
        let Some(standing) = self.standing(&format!("2026-{moment}"), duty, target) else {
            return "none".to_owned();
        };
        let rule = standing.cadence.rule.map_or("own", |rule| rule.code());
        let (due, overdue) = (self.local(standing.due), self.local(standing.overdue));
        let hazard = standing
            .hazard
            .map_or("never".to_owned(), |hazard| self.local(hazard));
        format!("{rule}, {due}, {overdue}, {hazard}, {}", standing.mark.word())
    }
}

fn part(words: &str) -> Part {
    match words.strip_prefix("steps ") {
        Some(steps) => Part::Steps(steps.split_whitespace().fold(0, |mask, step| {
            mask | 1 << (step.parse::<u32>().expect("a step's number") - 1)
        })),
        None if words.is_empty() => Part::Whole,
        None => Part::Fraction(words.parse().expect("a fraction")),
    }
}

fn gear_change(word: &str) -> GearChange {
    match word {
        "added" => GearChange::Added { proven: false },
        "added-proven" => GearChange::Added { proven: true },
        "proven" => GearChange::Proven,
        "stopped" => GearChange::Stopped,
        "started" => GearChange::Started,
        "removed" => GearChange::Removed,
        other => panic!("no such change of gear: {other}"),
    }
}

fn life(word: &str) -> Life {
    match word {
        "planned" => Life::Planned,
        "leak-test" => Life::LeakTest,
        "cycling" => Life::Cycling,
        "in-use" => Life::InUse,
        "out-of-use" => Life::OutOfUse,
        other => panic!("no such life: {other}"),
    }
}
