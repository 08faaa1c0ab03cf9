//! What `/fit` and `/plumb` cost at the desk, from the line to the answer: limit 1 ms each.
//!
//! Run it in a release build: `cargo bench -p wrackline --bench fit`.
#![allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock and prints"
)]

use std::hint::black_box;
use std::time::Instant;

use jiff::Timestamp;
use wrackline::desk::tell::Tell;
use wrackline::desk::{Desk, Reply};
use wrackline::house::Input;
use wrackline::words::Words;
use wrackline_core::journal::{Book, CarerChange, Entry, Event};
use wrackline_core::place::{CarerId, Role};

const KEEPER: CarerId = CarerId(1);
const RUNS: usize = 201;

/// The lines that set the place up: an enclosure of which everything is told, with two pools and their gear.
const LINES: [&str; 11] = [
    "/enclosure add North 400 L crabs 4 smallest 2 cm largest 5 cm",
    "/enclosure set north size 120x60x50 cm substrate 15 cm glass 6 mm lid gaps heated 27C",
    "/place set winter 21C 45% summer 25C 55%",
    "/pool add north fresh 6 L box 30x25x12 cm depth 9 cm",
    "/pool add north salt 8 L tub 30x20 to 36x26 x 14 cm",
    "/pool set north salt gravel 2 cm stones 0.4 L way out ramp 10x14 cm",
    "/gear add north salt air",
    "/gear add north salt filter proven",
    "/gear set north salt filter rated 5-10 gal fill line 6 cm flow 200 L/h",
    "/gear set north salt air pressure 12 kPa flow 60 L/h across 20 cm rim 25 cm valve 40 cm run 60 cm pump 30 cm below",
    "/read north fresh 26C",
];

/// Says a line at a desk; entries are taken up, the answer is told.
fn say(words: &Words, book: &mut Book, now: Timestamp, line: &str) {
    let place = book.place_at(now);
    let outcome = {
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
        desk.hear(&Input::Line(line.to_owned()))
    };
    assert!(
        !outcome.drafts.is_empty() || line.starts_with("/fit") || line.starts_with("/plumb"),
        "{line} wrote nothing"
    );
    if let Reply::Ready(answer) = &outcome.reply {
        assert!(answer.ok, "{line}: {answer:?}");
    }
    for draft in outcome.drafts {
        write(book, draft.at, draft.event);
    }
}

fn write(book: &mut Book, at: Timestamp, event: Event) {
    let seq = book.last_seq() + 1;
    book.insert(Entry {
        seq,
        at,
        logged_at: at,
        by: KEEPER,
        said_by: KEEPER,
        event,
    });
}

fn main() {
    let words = Words::english();
    let now: Timestamp = "2026-03-01T12:00:00Z".parse().expect("a moment");
    let mut book = Book::default();
    write(
        &mut book,
        now,
        Event::Carer(KEEPER, CarerChange::Added(Role::Keeper)),
    );
    for line in LINES {
        say(&words, &mut book, now, line);
    }
    for line in ["/fit north", "/plumb north salt"] {
        let mut all: Vec<f64> = (0..RUNS)
            .map(|_| {
                let clock = Instant::now();
                say(black_box(&words), &mut book, now, line);
                clock.elapsed().as_secs_f64() * 1e3
            })
            .collect();
        all.sort_by(f64::total_cmp);
        let median = all[RUNS / 2];
        println!("{line}, from the line to the answer: {median:.3} ms (limit 1)");
        assert!(median < 1.0, "slower than the limit");
    }
}
