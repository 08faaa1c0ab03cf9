//! The model place: a year's or a few days' journal of six pools in three enclosures, all work done in time.

use std::sync::Arc;

use jiff::{Timestamp, civil};
use wrackline::app::App;
use wrackline::clock::SetClock;
use wrackline::commands::init::make_place;
use wrackline::engine::{HOUSE, next_ms, standing_rows};
use wrackline::house::{Input, Said};
use wrackline::shelf::{entry, row};
use wrackline::store::sqlite::SqliteStore;
use wrackline::store::{Change, Store};
use wrackline_core::care::board::is_folded;
use wrackline_core::care::{Duty, Mark, board};
use wrackline_core::civil::{Zone, plus_days, plus_minutes};
use wrackline_core::journal::{Book, Entry, Event, Part};
use wrackline_core::place::{CarerId, Target};
use wrackline_core::quantity::Measured;
use wrackline_core::rota;

const ZONE: &str = "Europe/London";

/// How the place is set up, by its keeper.
const SET_UP: [&str; 18] = [
    "/rounds add morning 08:00",
    "/rounds add evening 19:30",
    "/carer add Bo regular",
    "/carer add Cy regular",
    "/enclosure add North 340 L",
    "/enclosure add South 420 L",
    "/enclosure add East 150 L",
    "/pool add north fresh 8 L nested",
    "/pool add north salt 8 L nested",
    "/pool add south fresh 8 L",
    "/pool add south salt 10 L",
    "/pool add east fresh 2 L",
    "/pool add east salt 2 L",
    "/gear add south salt filter proven",
    "/gear add south salt air",
    "/gear add north salt air",
    "/duty add \"food dish\" north every 2 days",
    "/duty add \"lid seals\" on Sat",
];

/// When the carers come, as hours of the day. Twice it is a round; air is read every time.
const VISITS: [i8; 3] = [8, 13, 20];

/// A place's past, up to a morning on which the next round is due.
pub(crate) struct Model {
    /// Its zone.
    pub(crate) zone: Zone,
    /// The day of that morning.
    pub(crate) today: civil::Date,
    /// All entries.
    pub(crate) book: Book,
    names: Vec<(u32, String)>,
}

impl Model {
    /// A place that was set up so many days ago.
    pub(crate) async fn of_days(days: i64) -> Self {
        let zone = Zone::get(ZONE).expect("a zone of the bundled data");
        let today = civil::date(2026, 3, 21);
        let (mut book, names) = set_up(&zone, plus_days(today, -days - 1)).await;
        for day in 0..days {
            for hour in VISITS {
                visit(
                    &mut book,
                    zone.instant(plus_days(today, day - days).at(hour, 0, 0, 0)),
                );
            }
        }
        Self {
            zone,
            today,
            book,
            names,
        }
    }

    /// An instant of a day from today on, in minutes after midnight.
    pub(crate) fn at(&self, day: i64, minutes: i64) -> Timestamp {
        plus_minutes(
            self.zone.instant(plus_days(self.today, day).at(0, 0, 0, 0)),
            minutes,
        )
    }

    /// The change that makes such a place, dealt with up to its last entry.
    pub(crate) fn change(&self) -> Change {
        let seen = self.book.entries().last().expect("an entry").at;
        let place = self.book.place_at(seen);
        let board = board(&self.book, &place, seen);
        Change {
            entries: self.book.entries().map(row).collect(),
            names: self.names.clone(),
            standings: Some(standing_rows(&board)),
            next_at_ms: Some(Some(next_ms(&self.book, &place, &board, seen))),
            seen_at_ms: Some(seen.as_millisecond()),
            ..Change::default()
        }
    }

    /// How many turns are due at a moment.
    pub(crate) fn due(&self, now: Timestamp) -> usize {
        let place = self.book.place_at(now);
        board(&self.book, &place, now)
            .iter()
            .filter(|standing| standing.mark > Mark::Calm)
            .count()
    }
}

/// The journal of a place that was just set up, and its carers' names.
async fn set_up(zone: &Zone, date: civil::Date) -> (Book, Vec<(u32, String)>) {
    let store: Arc<dyn Store> = Arc::new(SqliteStore::open_memory().await.expect("a store in memory"));
    let place = make_place(&*store, zone, "Ada", "", false)
        .await
        .expect("a place");
    let clock = SetClock::at(zone.instant(date.at(12, 0, 0, 0)));
    let app = App::new(store.clone(), Arc::new(clock));
    for line in SET_UP {
        let input = Input::Line(line.to_owned());
        let answer = app
            .house
            .hear(Said {
                place,
                carer: 1,
                id: line.to_owned(),
                input,
                photo: None,
            })
            .await;
        assert!(answer.ok, "“{line}” was refused: {answer:?}");
    }
    let tail = store.tail(place, 0).await.expect("a journal");
    (
        Book::of(tail.entries.iter().map(|row| entry(row).expect("an entry"))),
        tail.names,
    )
}

/// The turns that are due are called, and all of them are done; air is read.
fn visit(book: &mut Book, at: Timestamp) {
    let place = book.place_at(at);
    let board = board(book, &place, at);
    let due = board.iter().filter(|standing| standing.mark > Mark::Calm);
    let called = due.clone().filter_map(|standing| {
        let hand = rota::hand(book, &place, standing, at);
        Some((standing.turn, hand.carer.filter(|_| !hand.settled)?))
    });
    let called: Vec<_> = called.collect();
    let work = due.filter(|standing| standing.turn.duty != Duty::Reading && !is_folded(&board, standing));
    let work: Vec<Event> = work
        .map(|standing| Event::Did(standing.duty(), standing.turn.target, Part::Whole))
        .collect();
    if !called.is_empty() {
        add(book, at, HOUSE, Event::Published(called));
    }
    let done = plus_minutes(at, 5);
    for event in work {
        add(book, done, CarerId(1), event);
    }
    for id in place.enclosures.keys() {
        for measured in [Measured::Humidity(80.0), Measured::Temperature(26.0)] {
            add(
                book,
                done,
                CarerId(2),
                Event::Read(Target::Enclosure(*id), measured),
            );
        }
    }
}

fn add(book: &mut Book, at: Timestamp, by: CarerId, event: Event) {
    let seq = book.last_seq() + 1;
    book.insert(Entry::at_once(seq, at, by, event));
}
