//! The storm: the real parts (house, engine, dispatcher, SQLite store) under faults, on a clock that the test holds.
//!
//! A seed draws a place, what its carers say and press, and what goes wrong; the same seed repeats the same run. CI plays
//! [`SEEDS`] seeds; `WRACKLINE_STORM_SEEDS=500` plays more, and `WRACKLINE_STORM_SEEDS=117..118` plays some alone. A run
//! that fails prints its seed and its last events. The walk, beside it, lets every single store call fail in turn.

mod checks;
mod corner;
mod corners;
mod deliver;
mod faults;
mod storm;
mod swarm;
mod trace;
mod walk;
mod walker;
mod workload;
mod world;

use std::ops::Range;
use std::sync::atomic::{AtomicU64, Ordering};

use storm::Storm;

/// How many seeds are played unless the environment says otherwise.
const SEEDS: u64 = 20;
/// How many are played at the same time.
const WORKERS: usize = 2;
/// For how long a chat knows a nonce that does not know it for ever, in milliseconds.
const WINDOW_MS: i64 = 5 * 60_000;

/// The seeds that the environment asks for.
fn seeds() -> Range<u64> {
    let Ok(asked) = std::env::var("WRACKLINE_STORM_SEEDS") else {
        return 0..SEEDS;
    };
    let number = |text: &str| {
        text.parse()
            .unwrap_or_else(|_| panic!("WRACKLINE_STORM_SEEDS={asked}"))
    };
    match asked.split_once("..") {
        Some((from, to)) => number(from)..number(to),
        None => 0..number(&asked),
    }
}

fn block_on<T>(work: impl Future<Output = T>) -> T {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a runtime");
    runtime.block_on(work)
}

/// Plays a seed and checks it. Returns the hash of its trace.
fn play(seed: u64, window_ms: Option<i64>) -> u64 {
    block_on(async {
        let mut storm = Storm::play(seed, window_ms).await;
        let sum = checks::all(&mut storm).await;
        storm.seal();
        let hash = storm.trace.hash();
        eprintln!("seed {seed}, {sum}, trace {hash:016x}");
        hash
    })
}

fn play_all(seeds: Range<u64>, window_ms: Option<i64>) {
    assert!(!seeds.is_empty(), "no seeds");
    let next = AtomicU64::new(seeds.start);
    std::thread::scope(|scope| {
        for _ in 0..WORKERS {
            scope.spawn(|| {
                loop {
                    let seed = next.fetch_add(1, Ordering::Relaxed);
                    if seed >= seeds.end {
                        break;
                    }
                    play(seed, window_ms);
                }
            });
        }
    });
}

#[test]
fn the_storm_breaks_no_promise() {
    play_all(seeds(), None);
}

/// A chat that forgets a nonce after a while may show a post twice, but only where nobody recorded the first one.
#[test]
fn a_chat_that_forgets_shows_twice_only_what_was_never_recorded() {
    play_all(1_000..1_004, Some(WINDOW_MS));
}

#[test]
fn a_seed_repeats_its_run() {
    let seed = 3;
    assert_eq!(
        play(seed, None),
        play(seed, None),
        "seed {seed} ran otherwise the second time"
    );
}
