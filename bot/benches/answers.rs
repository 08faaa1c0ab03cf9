//! What an answer about water and gear costs at the desk, from the typed line to its text: the aim is less than 1 ms.
//!
//! Run it in a release build: `cargo bench -p wrackline --bench answers`.
#![allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock and prints"
)]

use std::hint::black_box;
use std::time::Instant;

use jiff::Timestamp;
use wrackline::chat::plain;
use wrackline::desk::tell::Tell;
use wrackline::desk::{Desk, Draft, Reply};
use wrackline::house::Input;
use wrackline::words::Words;
use wrackline_core::journal::{Book, CarerChange, Entry, Event};
use wrackline_core::place::{CarerId, Role};

const RUNS: usize = 501;
const KEEPER: CarerId = CarerId(1);

/// A place with three enclosures of two pools each, its label, its salt and its convention; of one all is told.
const SET_UP: [&str; 21] = [
    "/rounds add morning 08:00",
    "/place set sg 25/25",
    "/place set winter 21C 45% summer 25C 55%",
    "/enclosure add North 400 L crabs 4 smallest 2 cm largest 5 cm",
    "/enclosure set north size 120x60x50 cm substrate 15 cm glass 6 mm lid gaps heated 27C",
    "/enclosure add South 420 L",
    "/enclosure add East 150 L",
    "/pool add north fresh 6 L box 30x25x12 cm depth 9 cm",
    "/pool add north salt 8 L tub 30x20 to 36x26 x 14 cm",
    "/pool set north salt gravel 2 cm stones 0.4 L way out ramp 10x14 cm",
    "/gear add north salt air",
    "/gear add north salt filter proven",
    "/gear set north salt filter rated 5-10 gal fill line 6 cm flow 200 L/h",
    "/gear set north salt air pressure 12 kPa flow 60 L/h across 20 cm rim 25 cm valve 40 cm run 60 cm pump 30 cm below",
    "/pool add south fresh 8 L",
    "/pool add south salt 10 L",
    "/pool add east fresh 2 L",
    "/pool add east salt 2 L",
    "/read north fresh 26C",
    "/supplies set conditioner \"Tapsafe\" 5 mL per 40 L",
    "/supplies set salt measured 34.1 after 10 L with 358 g",
];

const LINES: [&str; 6] = [
    "/mix",
    "/mix 10 L salt 35 at 25C",
    "/mix north salt from 35 to 30",
    "/dilute from 80 to 20 mg/L source 5 change 25%",
    "/fit north",
    "/plumb north salt",
];

/// A line said to a book: its text and the entries it asks for.
fn hear(words: &Words, book: &Book, now: Timestamp, line: &str) -> (String, Vec<Draft>) {
    let place = book.place_at(now);
    let tell = Tell {
        words,
        book,
        place: &place,
        now,
        zone: None,
    };
    let desk = Desk {
        tell,
        me: KEEPER,
        role: Role::Keeper,
    };
    let outcome = desk.hear(&Input::Line(line.to_owned()));
    let text = match outcome.reply {
        Reply::Ready(answer) => {
            assert!(answer.ok, "“{line}” was refused: {}", plain::text(&answer.blocks));
            plain::text(&answer.blocks)
        }
        Reply::After(_) | Reply::Code(_) | Reply::Calendar(_) => String::new(),
    };
    (text, outcome.drafts)
}

fn main() {
    let words = Words::english();
    let now = Timestamp::from_second(1_772_524_800).expect("a moment");
    let mut book = Book::default();
    let insert = |book: &mut Book, event: Event| {
        let seq = book.last_seq() + 1;
        book.insert(Entry::at_once(seq, now, KEEPER, event));
    };
    insert(&mut book, Event::Carer(KEEPER, CarerChange::Added(Role::Keeper)));
    for line in SET_UP {
        let (_, drafts) = hear(&words, &book, now, line);
        assert!(!drafts.is_empty(), "“{line}” wrote nothing");
        for draft in drafts {
            insert(&mut book, draft.event);
        }
    }
    println!("cargo bench -p wrackline --bench answers; medians of {RUNS} runs, aim: under 1 ms");
    for line in LINES {
        let mut all: Vec<f64> = (0..RUNS)
            .map(|_| {
                let clock = Instant::now();
                black_box(hear(&words, &book, now, black_box(line)));
                clock.elapsed().as_secs_f64() * 1e3
            })
            .collect();
        all.sort_by(f64::total_cmp);
        println!("{line}: {:.3} ms", all[RUNS / 2]);
    }
}
