//! Setting a place up at the desk: what is refused, what is written, what is said, and the steps of duties.

mod enclosures;
mod fitted;
mod own;
mod people;
mod pools;
mod refusals;
mod refusals_of_water;
mod steps;

use jiff::{SignedDuration, Timestamp, civil};
use wrackline::chat::blocks::{Answer, Block};
use wrackline::desk::setup::set_up;
use wrackline::desk::tell::Tell;
use wrackline::desk::{Desk, Outcome, Reply};
use wrackline::lines::ask::{GearVerb, Grain, PoolField, SetUp, Spot};
use wrackline::words::Words;
use wrackline_core::civil::Zone;
use wrackline_core::journal::{Book, CarerChange, Entry, Event, Part, PlaceChange};
use wrackline_core::place::{CarerId, EnclosureId, Gear, Life, Place, PoolId, Role, Target, Water};

const KEEPER: CarerId = CarerId(1);
const NORTH: EnclosureId = EnclosureId(1);
const SALT: PoolId = PoolId(1);

/// A place, its journal and a clock that stands still.
struct Rig {
    words: Words,
    book: Book,
    now: Timestamp,
}

/// An instant of local time in March 2026.
fn march(day: i8, hour: i8, minute: i8) -> Timestamp {
    let zone = Zone::get("America/New_York").expect("a zone");
    zone.instant(civil::date(2026, 3, day).at(hour, minute, 0, 0))
}

fn time(hour: i8, minute: i8) -> civil::Time {
    civil::time(hour, minute, 0, 0)
}

fn pool_spot(pools: &[PoolId]) -> Spot {
    let grain = if pools.len() == 1 { Grain::Pool } else { Grain::Set };
    Spot {
        pools: pools.to_vec(),
        enclosures: vec![NORTH],
        grain,
    }
}

fn enclosure_spot(pools: &[PoolId]) -> Spot {
    Spot {
        pools: pools.to_vec(),
        enclosures: vec![NORTH],
        grain: Grain::Enclosure,
    }
}

fn gear(gear: Gear, verb: GearVerb) -> SetUp {
    SetUp::Gear {
        spot: pool_spot(&[SALT]),
        gear,
        verb,
        from: None,
    }
}

fn pool_set(field: PoolField) -> SetUp {
    SetUp::PoolSet {
        pool: SALT,
        fields: vec![field],
        from: None,
    }
}

fn pool_add(water: Water, litres: f64, fields: Vec<PoolField>) -> SetUp {
    SetUp::PoolAdd {
        enclosure: NORTH,
        water,
        litres,
        fields,
        from: None,
    }
}

fn enclosure_add(name: &str, litres: f64) -> SetUp {
    SetUp::EnclosureAdd {
        name: name.to_owned(),
        litres,
        fields: Vec::new(),
        from: None,
    }
}

fn carer_add(name: &str, role: Role) -> SetUp {
    SetUp::CarerAdd {
        name: name.to_owned(),
        role,
        account: None,
        span: None,
    }
}

fn round_add(name: &str, hour: i8, minute: i8) -> SetUp {
    SetUp::RoundAdd {
        name: name.to_owned(),
        time: time(hour, minute),
    }
}

impl Rig {
    /// A place with one keeper, at noon and forty minutes of Wednesday 4 March 2026.
    fn bare() -> Self {
        let now = march(4, 12, 40);
        let mut rig = Self {
            words: Words::english(),
            book: Book::default(),
            now,
        };
        let start = march(1, 0, 0);
        rig.write(
            start,
            Event::Place(PlaceChange::Zone("America/New_York".to_owned())),
        );
        rig.write(start, Event::Carer(KEEPER, CarerChange::Added(Role::Keeper)));
        rig.book.names.insert(KEEPER, "Maren".to_owned());
        rig
    }

    /// The same with an enclosure of 400 L and in it a salt pool of 8 L, both of now.
    fn north() -> Self {
        let mut rig = Self::bare();
        rig.hear(enclosure_add("North", 400.0));
        rig.hear(pool_add(Water::Salt, 8.0, Vec::new()));
        rig
    }

    fn write(&mut self, at: Timestamp, event: Event) -> u64 {
        let seq = self.book.last_seq() + 1;
        self.book.insert(Entry::at_once(seq, at, KEEPER, event));
        seq
    }

    fn did(&mut self, duty: wrackline_core::care::Duty) {
        let event = Event::Did(duty, Target::Pool(SALT), Part::Whole);
        self.write(self.now, event);
    }

    fn wait(&mut self, hours: i64) {
        self.now = self
            .now
            .checked_add(SignedDuration::from_hours(hours))
            .expect("a later moment");
    }

    fn place(&self) -> Place {
        self.book.place_at(self.now)
    }

    /// What a desk makes of this place now.
    fn at_the_desk<T>(&self, what: impl FnOnce(&Desk<'_>) -> T) -> T {
        let place = self.place();
        let tell = Tell {
            words: &self.words,
            book: &self.book,
            place: &place,
            now: self.now,
            zone: None,
        };
        what(&Desk {
            tell,
            me: KEEPER,
            role: Role::Keeper,
        })
    }

    /// Hears a line, takes its entries up, and returns all that is said.
    #[track_caller]
    fn hear(&mut self, ask: SetUp) -> String {
        let told = format!("{ask:?}");
        let outcome = self.at_the_desk(|desk| set_up(desk, ask).map_err(|refused| desk.say(&refused)));
        let Outcome {
            drafts, names, reply, ..
        } = outcome.unwrap_or_else(|refused| panic!("{told}: {refused}"));
        let numbers: Vec<u64> = drafts
            .into_iter()
            .map(|draft| self.write(draft.at, draft.event))
            .collect();
        self.book.names.extend(names);
        let answer = match reply {
            Reply::Ready(answer) => answer,
            Reply::After(tell) => self.at_the_desk(|desk| tell(desk, &numbers)),
            Reply::Code(_) => panic!("{told}: tells a code"),
            Reply::Calendar(_) => panic!("{told}: tells an address"),
        };
        assert!(answer.ok, "{told}");
        said(&answer)
    }

    /// Hears a line that is refused, and returns the sentence.
    #[track_caller]
    fn refused(&self, ask: SetUp) -> String {
        let told = format!("{ask:?}");
        self.at_the_desk(|desk| match set_up(desk, ask) {
            Err(refused) => checked(desk.say(&refused)),
            Ok(_) => panic!("not refused: {told}"),
        })
    }
}

/// All that an answer says, a line a piece.
fn said(answer: &Answer) -> String {
    let mut lines = Vec::new();
    for block in &answer.blocks {
        match block {
            Block::Title { text } | Block::Text { text } | Block::Caution { text } => {
                lines.push(text.clone())
            }
            Block::Items { items } => lines.extend(items.iter().map(|item| item.text.clone())),
            Block::Table { head, rows } => {
                lines.push(head.join(" | "));
                for row in rows {
                    assert_eq!(row.len(), head.len(), "a row as long as its head: {row:?}");
                    lines.push(row.join(" | "));
                }
            }
            Block::Photo { .. } | Block::Answers { .. } | Block::For { .. } => {}
        }
    }
    checked(lines.join("\n"))
}

/// A text in which no message and no argument is missing.
#[track_caller]
fn checked(text: String) -> String {
    // A message that is missing is said as its id in brackets; a usage has brackets too, but spaces in them.
    let mut bracketed = text.split('[').skip(1).filter_map(|rest| rest.split(']').next());
    assert!(
        !bracketed.any(|inner| inner.contains('-') && !inner.contains(' ')),
        "{text}"
    );
    assert!(!text.is_empty() && !text.contains(['{', '}']), "{text}");
    assert!(!text.contains("  ") && !text.contains(" ."), "{text}");
    text
}

/// Asserts that a text holds each of these.
#[track_caller]
fn holds(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "{part:?} is not in:\n{text}");
    }
}

/// A pool's life as a field.
fn life(life: Life) -> PoolField {
    PoolField::Life(life)
}
