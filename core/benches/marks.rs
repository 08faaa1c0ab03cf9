//! What the marks of a pool cost, from its place's journal of ninety days: whether they cost the same in many
//! pools as in few, and how that compares with only expanding the same recurrences over the same days.
//!
//! What is compared is measured in turn, in one run, and the ratios are of medians. Run it in a release build:
//! `cargo bench -p wrackline-core`.
#![allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock and prints"
)]

use std::hint::black_box;
use std::time::{Duration, Instant};

use jiff::{Timestamp, civil};
use rrule::RRuleSet;
use wrackline_core::care::{Duty, board};
use wrackline_core::civil::{Zone, plus_days, plus_minutes};
use wrackline_core::journal::{
    Book, CarerChange, EnclosureChange, Entry, Event, Part, PlaceChange, PoolChange, RoundChange,
};
use wrackline_core::place::{CarerId, EnclosureId, Life, PoolId, Role, RoundId, Target, Water};

const POOLS_OF_A_PLACE: u32 = 6;
const DAYS: i64 = 90;
const RUNS: usize = 9;
const ZONE: &str = "America/New_York";

/// What is done to every pool: each so many days.
const WORK: [(Duty, i64); 4] = [
    (Duty::Change, 2),
    (Duty::Condition, 2),
    (Duty::TopUp, 1),
    (Duty::Scrub, 14),
];

fn start() -> civil::Date {
    civil::date(2026, 1, 20)
}

/// The journal of a place of six still pools in three enclosures over ninety days, two clock hours apart.
fn journal(zone: &Zone) -> Vec<Entry> {
    let mut all = Vec::new();
    let mut add = |at: Timestamp, event: Event| {
        let seq = all.len() as u64 + 1;
        all.push(Entry::at_once(seq, at, CarerId(1), event));
    };
    let set_up = zone.day_start(start());
    add(set_up, Event::Place(PlaceChange::Zone(ZONE.to_owned())));
    add(set_up, Event::Carer(CarerId(1), CarerChange::Added(Role::Keeper)));
    for (id, hour) in [(1, 8), (2, 20)] {
        let added = RoundChange::Added {
            name: String::new(),
            time: civil::time(hour, 0, 0, 0),
        };
        add(set_up, Event::Round(RoundId(id), added));
    }
    for id in 0..POOLS_OF_A_PLACE {
        let enclosure = EnclosureId(id / 2 + 1);
        if id % 2 == 0 {
            let added = EnclosureChange::Added {
                name: String::new(),
                litres: 400.0,
            };
            add(set_up, Event::Enclosure(enclosure, added));
        }
        let water = if id % 2 == 0 { Water::Fresh } else { Water::Salt };
        let added = PoolChange::Added {
            enclosure,
            water,
            litres: 8.0,
            life: Life::InUse,
        };
        add(set_up, Event::Pool(PoolId(id + 1), added));
    }
    for day in 0..DAYS {
        let morning = zone.instant(plus_days(start(), day).at(8, 0, 0, 0));
        for id in 0..POOLS_OF_A_PLACE {
            let at = plus_minutes(morning, i64::from(id) * 5);
            for (duty, _) in WORK.iter().filter(|(_, every)| day % every == 0) {
                add(at, Event::Did(*duty, Target::Pool(PoolId(id + 1)), Part::Whole));
            }
        }
    }
    all
}

/// The time that the marks of so many pools take, place by place, from each place's entries on.
fn marks(entries: &[Entry], pools: u32, now: Timestamp) -> Duration {
    let mut spent = Duration::ZERO;
    for _ in 0..pools.div_ceil(POOLS_OF_A_PLACE) {
        // Reading the entries is the store's work: they are there when the clock starts.
        let entries = entries.to_vec();
        let clock = Instant::now();
        let book = Book::of(entries);
        black_box(board(&book, &book.place_at(now), now));
        spent += clock.elapsed();
    }
    spent
}

/// The same recurrences of one pool, read already.
fn recurrences() -> Vec<RRuleSet> {
    let set = |every: i64| {
        let from = start().strftime("%Y%m%d");
        let count = (DAYS + every - 1) / every;
        let text =
            format!("DTSTART;TZID={ZONE}:{from}T080000\nRRULE:FREQ=DAILY;INTERVAL={every};COUNT={count}");
        text.parse().expect("a recurrence")
    };
    WORK.iter().map(|(_, every)| set(*every)).collect()
}

/// The time that expanding the recurrences of so many pools takes.
fn expansions(sets: &[RRuleSet], pools: u32) -> Duration {
    let clock = Instant::now();
    for _ in 0..pools {
        for set in sets {
            black_box(set.clone().all(200).dates);
        }
    }
    clock.elapsed()
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

fn main() {
    let zone = Zone::get(ZONE).expect("a zone of the bundled data");
    let entries = journal(&zone);
    let now = zone.instant(plus_days(start(), DAYS).at(9, 0, 0, 0));
    let sets = recurrences();
    let (few, many, some) = (1_000, 10_000, 200);
    let micros = |spent: Duration, pools: u32| spent.as_secs_f64() * 1e6 / f64::from(pools);
    marks(&entries, few, now);
    let (mut in_few, mut in_many, mut expanding) = (Vec::new(), Vec::new(), Vec::new());
    for _ in 0..RUNS {
        in_few.push(micros(marks(&entries, few, now), few));
        in_many.push(micros(marks(&entries, many, now), many));
        expanding.push(micros(expansions(&sets, some), some));
    }
    let (in_few, in_many, expanding) = (median(in_few), median(in_many), median(expanding));
    println!(
        "{} entries a place, {POOLS_OF_A_PLACE} pools each, {RUNS} runs, medians",
        entries.len()
    );
    println!("marks of a pool from nothing: {in_few:.1} us at {few} pools, {in_many:.1} us at {many}");
    println!("ratio of {many} pools to {few}: {:.2}", in_many / in_few);
    println!(
        "only expanding the same {} recurrences over {DAYS} days: {expanding:.1} us",
        sets.len()
    );
    println!("ratio of marks to expanding: {:.2}", in_many / expanding);
}
