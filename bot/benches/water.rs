//! What an answer about water costs at the desk, from the typed line to its text: the aim is less than 1 ms.
//!
//! Run it in a release build: `cargo bench -p wrackline --bench water`.
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

/// A place with three enclosures of two pools each, its label, its salt and its convention.
const SET_UP: [&str; 13] = [
    "/rounds add morning 08:00",
    "/place set sg 25/25",
    "/enclosure add North 340 L",
    "/enclosure add South 420 L",
    "/enclosure add East 150 L",
    "/pool add north fresh 8 L",
    "/pool add north salt 8 L",
    "/pool add south fresh 8 L",
    "/pool add south salt 10 L",
    "/pool add east fresh 2 L",
    "/pool add east salt 2 L",
    "/supplies set conditioner \"Tapsafe\" 5 mL per 40 L",
    "/supplies set salt measured 34.1 after 10 L with 358 g",
];

const LINES: [&str; 4] = [
    "/mix",
    "/mix 10 L salt 35 at 25C",
    "/mix north salt from 35 to 30",
    "/dilute from 80 to 20 mg/L source 5 change 25%",
];

/// A line said to a book: its text and the entries it asks for.
fn hear(words: &Words, book: &Book, now: Timestamp, line: &str) -> (String, Vec<Draft>) {
    let place = book.place_at(now);
    let tell = Tell {
        words,
        book,
        place: &place,
        now,
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
        Reply::After(_) | Reply::Code(_) => String::new(),
    };
    (text, outcome.drafts)
}

fn main() {
    let words = Words::english();
    let now = Timestamp::from_second(1_772_524_800).expect("a moment");
    let mut book = Book::default();
    let insert = |book: &mut Book, event: Event| {
        let seq = book.last_seq() + 1;
        book.insert(Entry {
            seq,
            at: now,
            logged_at: now,
            by: KEEPER,
            said_by: KEEPER,
            event,
        });
    };
    insert(&mut book, Event::Carer(KEEPER, CarerChange::Added(Role::Keeper)));
    for line in SET_UP {
        let (_, drafts) = hear(&words, &book, now, line);
        assert!(!drafts.is_empty(), "“{line}” wrote nothing");
        for draft in drafts {
            insert(&mut book, draft.event);
        }
    }
    println!("cargo bench -p wrackline --bench water; medians of {RUNS} runs, aim: under 1 ms");
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
