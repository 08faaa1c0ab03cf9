//! Random places that share their work for eight weeks, what held on the way, and how even it was.
//!
//! Every round turns are shared out and written down, as the engine does it; then those that are due are done, mostly by
//! whoever has them, at times late, by someone else, twice, or not at all. People go away, some said it long before.

mod days;
mod dice;
mod ground;
mod laws;
mod report;

use wrackline_core::care::OwnDuty;
use wrackline_core::civil::plus_days;
use wrackline_core::journal::OwnDutyChange;
use wrackline_core::rota::{Bound, bound, credits, jain};

pub use self::dice::Dice;
pub use self::ground::FIRST_DAY;
pub use self::report::Report;

use self::days::Life;
use self::ground::Ground;

/// For how long a place lives, in days.
pub const DAYS: i64 = 56;

/// Over how many of the last days evenness is measured.
pub const MEASURED_DAYS: i64 = 28;

fn added(duty: OwnDuty) -> OwnDutyChange {
    OwnDutyChange::Added(duty)
}

/// How a place fared.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// What it was drawn from.
    pub seed: u64,
    /// How many people it has.
    pub people: u32,
    /// Turns that were shared out, each once.
    pub turns: usize,
    /// Jain's index of what everyone did to what was theirs, over the last four weeks.
    pub jain: f64,
    /// What nobody could have exceeded.
    pub bound: Bound,
    /// Did and owed of each, in minutes.
    pub loads: Vec<(f64, f64)>,
    /// Laws that did not hold, in words.
    pub broken: Vec<String>,
    /// Turns that changed hands because someone went away, and all turns of others at that moment.
    pub moved: usize,
}

/// Lets the place of a seed live.
///
/// # Panics
/// When the simulation itself is at fault.
#[must_use]
pub fn live(seed: u64) -> Outcome {
    let mut dice = Dice::new(seed);
    let ground = Ground::new(&mut dice);
    let people = ground.people;
    let mut life = Life::new(ground, dice);
    life.go(DAYS);
    let end = life.zone.day_start(plus_days(FIRST_DAY, DAYS));
    let start = life.zone.day_start(plus_days(FIRST_DAY, DAYS - MEASURED_DAYS));
    let place = life.book.place_at(end);
    let all = credits(&life.book, &place, start, end);
    let loads: Vec<(f64, f64)> = all.values().map(|credit| (credit.did, credit.owed)).collect();
    laws::same_in_any_order(&mut life, end);
    Outcome {
        seed,
        people,
        turns: life.slots.len(),
        jain: jain(loads.iter().copied()),
        bound: bound(&life.book, &place, start, end),
        loads,
        broken: life.broken,
        moved: life.moved,
    }
}
