//! What it costs to share out two weeks of turns: twelve people, forty duties, eight weeks of journal; and whether twice
//! the turns cost more than twice as much.
//!
//! Limits: 5 ms, and a ratio per turn of 1.2. Run it in a release build: `cargo bench -p wrackline-core --bench rota`.
#![allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock and prints"
)]

use std::hint::black_box;
use std::time::Instant;

use jiff::{Timestamp, civil};
use wrackline_core::care::board::is_folded;
use wrackline_core::care::{Mark, Standing, board};
use wrackline_core::civil::{Zone, hold, plus_days, plus_minutes};
use wrackline_core::journal::{
    Book, CarerChange, EnclosureChange, Entry, Event, Part, PlaceChange, PoolChange, RoundChange,
};
use wrackline_core::place::{CarerId, EnclosureId, Life, Place, PoolId, Role, RoundId, Water};
use wrackline_core::rota::{HORIZON_DAYS, credit_start, credits, even_out, hand, lay_out, reasons};

const PEOPLE: u32 = 12;
const DAYS: i64 = 56;
const RUNS: usize = 41;
/// Of every so many turns one is asked why it lies where it does, in a journal of so many days.
const WHY_STEP: usize = 5;
const WHY_DAYS: i64 = 480;

/// A place after some days.
struct Lived {
    book: Book,
    place: Place,
    board: Vec<Standing>,
    now: Timestamp,
}

impl Lived {
    /// A place of so many enclosures with two still pools each after so many days; every turn is done by whoever has it.
    fn new(enclosures: u32, days: i64) -> Self {
        let zone = Zone::get("America/New_York").expect("a zone");
        let first = civil::date(2026, 2, 2);
        let mut book = Book::default();
        for event in set_up(enclosures) {
            add(&mut book, zone.day_start(first), CarerId(1), event);
        }
        for day in 0..days {
            let rounds = book.place_at(zone.day_start(plus_days(first, day))).rounds;
            for round in &rounds {
                live(&mut book, hold(&zone, round, plus_days(first, day)).at);
            }
        }
        let now = hold(
            &zone,
            &book.place_at(Timestamp::MAX).rounds[0],
            plus_days(first, days),
        )
        .at;
        let place = book.place_at(now);
        let board = board(&book, &place, now);
        Self {
            book,
            place,
            board,
            now,
        }
    }

    fn turns(&self) -> usize {
        lay_out(&self.book, &self.place, &self.board, self.now, HORIZON_DAYS).len()
    }

    /// What it costs to share out, in milliseconds.
    fn share(&self) -> f64 {
        let clock = Instant::now();
        black_box(even_out(
            &self.book,
            &self.place,
            &self.board,
            black_box(self.now),
            HORIZON_DAYS,
        ));
        clock.elapsed().as_secs_f64() * 1e3
    }

    /// The same with nothing published yet.
    fn afresh(&self) -> Self {
        let kept = self
            .book
            .entries()
            .filter(|entry| !matches!(entry.event, Event::Shared(_)));
        Self {
            book: Book::of(kept.cloned()),
            place: self.place.clone(),
            board: self.board.clone(),
            now: self.now,
        }
    }
}

/// How long it takes to say why each coming turn lies where it does, in milliseconds, and how many of these were given out.
fn whys(lived: &Lived) -> (Vec<f64>, usize) {
    let mut given_out = 0;
    let all = lay_out(&lived.book, &lived.place, &lived.board, lived.now, HORIZON_DAYS);
    let times = all.iter().step_by(WHY_STEP).map(|one| {
        let clock = Instant::now();
        let why = reasons(&lived.book, &one.slot, one.turn.as_ref(), black_box(lived.now));
        let ms = clock.elapsed().as_secs_f64() * 1e3;
        given_out += usize::from(why.is_some_and(|why| !why.all.is_empty()));
        ms
    });
    (times.collect(), given_out)
}

fn set_up(enclosures: u32) -> Vec<Event> {
    let mut all = vec![Event::Place(PlaceChange::Zone("America/New_York".to_owned()))];
    for (id, hour) in [(1, 8), (2, 20)] {
        let added = RoundChange::Added {
            name: String::new(),
            time: civil::time(hour, 0, 0, 0),
        };
        all.push(Event::Round(RoundId(id), added));
    }
    for id in 1..=PEOPLE {
        let role = if id == 1 { Role::Keeper } else { Role::Regular };
        all.push(Event::Carer(CarerId(id), CarerChange::Added(role)));
    }
    for id in 1..=enclosures {
        let added = EnclosureChange::Added {
            name: String::new(),
            litres: 400.0,
        };
        all.push(Event::Enclosure(EnclosureId(id), added));
        for (pool, water) in [(2 * id - 1, Water::Fresh), (2 * id, Water::Salt)] {
            let added = PoolChange::Added {
                enclosure: EnclosureId(id),
                water,
                litres: 12.0,
                life: Life::InUse,
            };
            all.push(Event::Pool(PoolId(pool), added));
        }
    }
    all
}

fn add(book: &mut Book, at: Timestamp, by: CarerId, event: Event) {
    let seq = book.last_seq() + 1;
    book.insert(Entry::at_once(seq, at, by, event));
}

/// A round: turns are shared out, and what is due is done.
fn live(book: &mut Book, now: Timestamp) {
    let place = book.place_at(now);
    let all = board(book, &place, now);
    let changes = even_out(book, &place, &all, now, HORIZON_DAYS).changes();
    add(book, now, CarerId(0), Event::Shared(changes));
    let due = |one: &&Standing| one.mark > Mark::Calm && !is_folded(&all, one);
    for (standing, minute) in all.iter().filter(due).zip(1..) {
        let by = hand(book, &place, standing, now).carer.expect("an owner");
        let done = Event::Did(standing.duty(), standing.turn.target, Part::Whole);
        add(book, plus_minutes(now, minute), by, done);
    }
}

fn median(mut all: Vec<f64>) -> f64 {
    all.sort_by(f64::total_cmp);
    all[all.len() / 2]
}

fn main() {
    let (one, two) = (Lived::new(4, DAYS), Lived::new(8, DAYS));
    let (fresh, fresh_two) = (one.afresh(), two.afresh());
    let mut all: [Vec<f64>; 6] = Default::default();
    for _ in 0..RUNS {
        for (times, lived) in all.iter_mut().zip([&one, &two, &fresh, &fresh_two]) {
            times.push(lived.share());
        }
        let clock = Instant::now();
        black_box(credits(&one.book, &one.place, credit_start(one.now), one.now));
        all[4].push(clock.elapsed().as_secs_f64() * 1e3);
        let clock = Instant::now();
        for standing in &one.board {
            black_box(hand(&one.book, &one.place, standing, one.now));
        }
        all[5].push(clock.elapsed().as_secs_f64() * 1e6 / one.board.len() as f64);
    }
    let [small, large, anew, anew_two, credit, of_one] = all.map(median);
    let (few, many) = (one.turns(), two.turns());
    let duties = one.board.len();
    println!("{duties} duties, {PEOPLE} people, {few} turns; twice: {many} turns");
    println!("a day's turns given out: {small:.2} ms; twice: {large:.2} ms");
    println!("all given out: {anew:.2} ms (limit 5); twice: {anew_two:.2} ms");
    let turns = many as f64 / few as f64;
    let (per_turn, per_turn_of_day) = ((anew_two / anew) / turns, (large / small) / turns);
    println!(
        "per turn, twice to once: {per_turn:.2} (limit 1.2); of a day: {per_turn_of_day:.2} (limit 1.2)"
    );
    println!("credits: {credit:.2} ms; whose one turn is: {of_one:.2} µs");
    let long = Lived::new(4, WHY_DAYS);
    let (times, given_out) = whys(&long);
    let (asked, worst) = (times.len(), times.iter().copied().fold(0.0, f64::max));
    println!(
        "why one of {asked} turns lies where it does, {} entries: {:.1} ms, at most {worst:.1} (limit 50)",
        long.book.last_seq(),
        median(times)
    );
    assert!(given_out > 0, "nothing was given out");
    assert!(worst < 50.0, "a why slower than the limit");
    assert!(small < 5.0 && anew < 5.0, "slower than the limit");
    assert!(
        per_turn < 1.2 && per_turn_of_day < 1.2,
        "worse than linear in turns"
    );
}
