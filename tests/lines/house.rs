//! A place to say lines in, and what comes of a line in a form that fits a table.

use jiff::{Timestamp, civil};
use wrackline::lines::ask::{Ask, AwayAsk, Grain, NodAsk, Spot, TurnAsk};
use wrackline::lines::{Context, parse};
use wrackline::words::Words;
use wrackline_core::care::{Duty, OwnDuty, Schedule};
use wrackline_core::civil::Zone;
use wrackline_core::journal::{
    Absence, BatchChange, Book, CarerChange, EnclosureChange, Entry, Event, OwnDutyChange, Part, PlaceChange,
    PoolChange, RoundChange,
};
use wrackline_core::place::{
    CarerId, EnclosureId, Life, OwnDutyId, Place, PoolId, Role, RoundId, Target, Water,
};
use wrackline_core::water::batch::BatchId;

/// Vessels of prepared water, one of which is called like an enclosure in part.
const VESSELS: [(&str, Water, f64); 3] = [
    ("Blue can", Water::Salt, 35.0),
    ("Can by the door", Water::Fresh, 0.0),
    ("North jug", Water::Salt, 35.0),
];

fn vessels() -> impl Iterator<Item = Event> {
    (1..).zip(VESSELS).map(|(number, (vessel, water, salinity))| {
        let made = BatchChange::Made {
            vessel: vessel.to_owned(),
            water,
            litres: 20.0,
            salinity,
            conditioned: true,
            dosed_ml: 0.0,
        };
        Event::Batch(BatchId(number), made)
    })
}

/// A place with enclosures whose names are easily mistaken.
pub(super) struct House {
    book: Book,
    place: Place,
    now: Timestamp,
}

impl House {
    /// The place of these enclosures, each with its room and its pools.
    pub(super) fn of(names: &[(&str, &str, &[Water])]) -> Self {
        let zone = Zone::get("America/New_York").expect("a zone");
        let start = zone.instant(civil::date(2026, 1, 1).at(9, 0, 0, 0));
        let mut events = vec![Event::Place(PlaceChange::Zone(zone.name().to_owned()))];
        for (number, role) in (1..).zip([Role::Keeper, Role::Regular, Role::Helper, Role::Sitter]) {
            events.push(Event::Carer(CarerId(number), CarerChange::Added(role)));
        }
        for (number, (name, hour, minute)) in (1..).zip([("Morning", 8, 0), ("Evening", 19, 30)]) {
            let (name, time) = (name.to_owned(), civil::time(hour, minute, 0, 0));
            events.push(Event::Round(RoundId(number), RoundChange::Added { name, time }));
        }
        let mut pools = 0;
        for (number, (name, room, waters)) in (1..).zip(names) {
            let id = EnclosureId(number);
            let name = (*name).to_owned();
            events.push(Event::Enclosure(
                id,
                EnclosureChange::Added { name, litres: 400.0 },
            ));
            events.push(Event::Enclosure(id, EnclosureChange::Room((*room).to_owned())));
            for water in *waters {
                pools += 1;
                let added = PoolChange::Added {
                    enclosure: id,
                    water: *water,
                    litres: 8.0,
                    life: Life::InUse,
                };
                events.push(Event::Pool(PoolId(pools), added));
            }
        }
        let own = [
            ("Rake sand", Target::Place),
            ("Check seals", Target::Enclosure(EnclosureId(1))),
        ];
        for (number, (name, target)) in (1..).zip(own) {
            let schedule = Schedule::Every(wrackline_core::care::Every::Days(3));
            let duty = OwnDuty {
                name: name.to_owned(),
                target,
                schedule,
                grace_h: 12,
                disturbs: true,
            };
            events.push(Event::OwnDuty(OwnDutyId(number), OwnDutyChange::Added(duty)));
        }
        events.extend(vessels());
        let by = CarerId(1);
        let entry = |(seq, event)| Entry::at_once(seq, start, by, event);
        let mut book = Book::of((1..).zip(events).map(entry));
        for (number, name) in (1..).zip(["Maren", "Ilja", "Ada Noor", "Ada Berg"]) {
            book.names.insert(CarerId(number), name.to_owned());
        }
        let now = zone.instant(civil::date(2026, 3, 11).at(20, 0, 0, 0));
        let place = book.place_at(now);
        Self { book, place, now }
    }

    /// Names that are parts of each other, of two words, with small words and with "and".
    pub(super) fn usual() -> Self {
        let both: &[Water] = &[Water::Fresh, Water::Salt];
        Self::of(&[
            ("North", "Study", both),
            ("Dune", "Hall", both),
            ("Tall tank", "Hall", &[Water::Salt]),
            ("Tall shelf", "", &[Water::Fresh]),
            ("By the window", "", &[Water::Fresh]),
            ("Pepper and Lime", "", &[Water::Salt]),
        ])
    }

    /// The same place at another moment, by its own clock.
    pub(super) fn at(self, civil: &str) -> Self {
        let civil: civil::DateTime = civil.parse().expect("a civil time");
        let now = self.place.zone.instant(civil);
        let place = self.book.place_at(now);
        Self { place, now, ..self }
    }

    /// What its lines are read against.
    pub(super) fn context(&self) -> Context<'_> {
        Context {
            book: &self.book,
            place: &self.place,
            me: CarerId(1),
            now: self.now,
        }
    }

    fn enclosure(&self, id: EnclosureId) -> &str {
        &self.place.enclosures[&id].name
    }

    fn pool(&self, id: PoolId) -> String {
        let pool = &self.place.pools[&id];
        format!(
            "{} {}",
            self.enclosure(pool.enclosure),
            format!("{:?}", pool.water).to_lowercase()
        )
    }

    fn spot(&self, spot: &Spot) -> String {
        let pools = spot
            .pools
            .iter()
            .map(|id| self.pool(*id))
            .collect::<Vec<_>>()
            .join(", ");
        let enclosures = spot
            .enclosures
            .iter()
            .map(|id| self.enclosure(*id))
            .collect::<Vec<_>>()
            .join(", ");
        match spot.grain {
            Grain::Pool => pools,
            Grain::Enclosure => format!("{enclosures} ({pools})"),
            Grain::Set => format!("{{{enclosures}: {pools}}}"),
        }
    }

    fn time(&self, at: Option<Timestamp>) -> String {
        at.map_or_else(String::new, |at| format!(" at {}", self.place.zone.rfc3339(at)))
    }

    fn duty(&self, duty: Duty) -> String {
        match duty {
            Duty::Own(id) => format!("“{}”", self.place.duties[&id].0.name),
            duty => duty.code(),
        }
    }

    fn sure(&self, sure: bool) -> &'static str {
        if sure { " sure" } else { "" }
    }

    fn round(&self, id: RoundId) -> &str {
        let found = self.place.rounds.iter().find(|round| round.id == id);
        &found.expect("a round").name
    }

    fn absence(&self, absence: &Absence) -> String {
        match absence {
            Absence::Span { from, to } => format!(
                "from {} to {}",
                self.place.zone.rfc3339(*from),
                self.place.zone.rfc3339(*to)
            ),
            Absence::Rounds(rounds) => {
                let one = |(round, date): &(RoundId, civil::Date)| format!("{date} {}", self.round(*round));
                let all: Vec<String> = rounds.iter().map(one).collect();
                format!("on {}", all.join(", "))
            }
        }
    }

    fn turn(&self, turn: &TurnAsk) -> String {
        let date = turn.date.map_or_else(String::new, |date| format!(" {date}"));
        let round = turn
            .round
            .map_or_else(String::new, |round| format!(" {}", self.round(round)));
        format!("{} {}{date}{round}", self.duty(turn.duty), self.spot(&turn.spot))
    }

    /// What a line asks, short enough to be read in a table.
    #[expect(clippy::too_many_lines, reason = "one arm for each ask")]
    fn show(&self, ask: &Ask) -> String {
        let by =
            |by: &Option<CarerId>| by.map_or_else(String::new, |by| format!(" by {}", self.book.name(by)));
        let note = |note: &Option<String>| {
            note.as_ref()
                .map_or_else(String::new, |note| format!(" note [{note}]"))
        };
        match ask {
            Ask::Did(did) => {
                let part = match did.part {
                    Part::Whole => String::new(),
                    part => format!(" {part:?}"),
                };
                let litres = did
                    .litres
                    .map_or_else(String::new, |litres| format!(" {litres:.3} L"));
                let vessel = did.batch.map_or_else(String::new, |id| {
                    format!(" from {}", self.place.batches[&id].vessel)
                });
                let again = if did.again { " again" } else { "" };
                let (duty, spot, at) = (self.duty(did.duty), self.spot(&did.spot), self.time(did.at));
                let with = did
                    .with
                    .map_or_else(String::new, |with| format!(" with {}", self.book.name(with)));
                format!(
                    "did {duty} {spot}{part}{litres}{vessel}{at}{}{with}{again}{}",
                    by(&did.by),
                    note(&did.note)
                )
            }
            Ask::Read {
                spot,
                readings,
                at,
                by: who,
                note: text,
            } => {
                format!(
                    "read {} {readings:?}{}{}{}",
                    self.spot(spot),
                    self.time(*at),
                    by(who),
                    note(text)
                )
            }
            Ask::Saw {
                sighting,
                spot,
                at,
                note: text,
            } => {
                format!(
                    "saw {sighting:?} {}{}{}",
                    self.spot(spot),
                    self.time(*at),
                    note(text)
                )
            }
            Ask::Why { spot, duty, at } => {
                let duty = duty.map_or_else(String::new, |duty| format!(" {}", self.duty(duty)));
                format!("why {}{duty}{}", self.spot(spot), self.time(*at))
            }
            Ask::Away(AwayAsk::List) => "away list".to_owned(),
            Ask::Away(AwayAsk::Back { by: who }) => format!("away back{}", by(who)),
            Ask::Away(AwayAsk::Set {
                absence,
                by: who,
                sure,
            }) => format!("away {}{}{}", self.absence(absence), by(who), self.sure(*sure)),
            Ask::Offer { turn, to } => format!("offer {} to {}", self.turn(turn), self.book.name(*to)),
            Ask::Decline { turn } => {
                let turn = turn.as_ref();
                let turn = turn.map_or_else(String::new, |turn| format!(" {}", self.turn(turn)));
                format!("offer no{turn}")
            }
            Ask::Cannot { turn } => {
                let turn = turn.as_ref();
                let turn = turn.map_or_else(String::new, |turn| format!(" {}", self.turn(turn)));
                format!("offer can't{turn}")
            }
            Ask::Nod(NodAsk::List) => "nod".to_owned(),
            Ask::Nod(NodAsk::At { duty, spot, no }) => {
                let no = if *no { " no" } else { "" };
                format!("nod{no} {} {}", self.duty(*duty), self.spot(spot))
            }
            Ask::Take { turn, sure } => format!("take {}{}", self.turn(turn), self.sure(*sure)),
            Ask::How { duty, spot } => format!("how {} {}", self.duty(*duty), self.spot(spot)),
            other => format!("{other:?}"),
        }
    }

    /// What comes of a line: what it asks, or the words of the refusal.
    pub(super) fn say(&self, words: &Words, line: &str) -> String {
        match parse(line, &self.context()) {
            Ok(ask) => format!("= {}", self.show(&ask)),
            Err(refusal) => format!("! {}", words.say(&refusal.0)),
        }
    }
}
