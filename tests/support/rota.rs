//! Random places that share their work for eight weeks, what held on the way, and how even it was.
//!
//! Every round turns are shared out and written down, as the engine does it; then those that are due are done, and between
//! rounds what falls due there. People go away, some said it long before. Whether all do what is theirs is a [`Manner`].

mod days;
mod dice;
mod ground;
mod laws;
mod report;
mod work;

use std::fmt;
use std::ops::Range;
use std::thread;

use jiff::Timestamp;
use wrackline_core::care::OwnDuty;
use wrackline_core::civil::plus_days;
use wrackline_core::journal::OwnDutyChange;
use wrackline_core::place::CarerId;
use wrackline_core::rota::{Bound, Gap, bound, bound_ahead, bound_since, credits, jain};

pub use self::dice::Dice;
pub use self::ground::FIRST_DAY;
pub use self::laws::broken;
pub use self::report::{EVEN, Report};

use self::days::Life;
use self::ground::Ground;

/// For how long a place lives, in days.
pub const DAYS: i64 = 56;

/// How many of the last days are also measured alone.
pub const LAST_DAYS: i64 = 28;

/// What people are like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Manner {
    /// Everyone is away as they say, and else does what is theirs when it is due.
    AsPlanned,
    /// Some are late, do what is another's, do a thing twice or not at all; they learn, forget how to lift, and leave.
    AsTheyCome,
    /// The same, and they take coming turns of each other, offer them, and accept or decline what is offered.
    Talking,
}

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
    /// Jain's index of what everyone did to what was theirs, over the eight weeks.
    pub jain: f64,
    /// What nobody could have exceeded.
    pub bound: Bound,
    /// The index of those who did not leave unforeseen, and what nobody could have exceeded who knew of a turn no more than
    /// what was known a day before.
    pub ahead: (f64, Bound),
    /// Where that is missed: what could still be reached, with that knowledge, from the moment on at which news left the least
    /// of what was even until then; 1 where none did.
    pub since: Option<f64>,
    /// Did and owed of each, in minutes.
    pub loads: Vec<(f64, f64)>,
    /// The index and what nobody could have exceeded, of the last four weeks alone.
    pub last: (f64, Bound),
    /// Laws that did not hold, in words.
    pub broken: Vec<String>,
    /// Turns that changed hands after they were published.
    pub moved: usize,
    /// Sharings-out beside the best ones, where those could be found.
    pub gaps: Vec<Gap>,
    /// How often somebody took, offered, accepted or declined a coming turn.
    pub said: usize,
    /// In how many hands an enclosure's turns of a round lie, on average.
    pub hands: f64,
}

impl Outcome {
    /// Whether it is less even than it is to be, though by the bound it could have been.
    #[must_use]
    pub fn misses(&self) -> bool {
        self.jain < EVEN && self.bound.most >= EVEN
    }

    /// Whether it is less even than it is to be, though by what was known a day before it could have been.
    #[must_use]
    pub fn misses_ahead(&self) -> bool {
        self.ahead.0 < EVEN && self.ahead.1.most >= EVEN
    }

    /// Whether it is less even than it is to be, though it could have been even after every piece of news.
    #[must_use]
    pub fn misses_since(&self) -> bool {
        self.since.is_some_and(|least| least >= EVEN)
    }

    /// The index without those who owed less than so many minutes.
    #[must_use]
    pub fn jain_over(&self, owed: f64) -> f64 {
        jain(self.loads.iter().copied().filter(|(_, owes)| *owes >= owed))
    }
}

impl fmt::Display for Outcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            seed,
            people,
            jain,
            bound,
            ..
        } = self;
        let (ahead, known) = self.ahead;
        write!(
            f,
            "seed {seed}: {people} people, {jain:.4} of at most {:.4}; a day ahead {ahead:.4} of at most {:.4}",
            bound.most, known.most
        )?;
        if let Some(since) = self.since {
            write!(f, "; after news of at most {since:.4}")?;
        }
        if self.misses() || self.misses_ahead() {
            write!(f, "\n    did/owed:")?;
            self.loads
                .iter()
                .try_for_each(|(did, owed)| write!(f, " {did:.0}/{owed:.0}"))?;
        }
        self.broken.iter().try_for_each(|what| write!(f, "\n    {what}"))
    }
}

/// Lets the places of these seeds live, on two threads.
///
/// # Panics
/// When the simulation itself is at fault.
#[must_use]
pub fn live_all(seeds: Range<u64>, manner: Manner) -> Vec<Outcome> {
    let half = |odd: u64| {
        let seeds = seeds.clone().filter(move |seed| seed % 2 == odd);
        move || seeds.map(|seed| live(seed, manner)).collect::<Vec<Outcome>>()
    };
    let mut all = thread::scope(|scope| {
        let other = scope.spawn(half(1));
        let mut all = half(0)();
        all.extend(other.join().expect("the other half"));
        all
    });
    all.sort_by_key(|one| one.seed);
    all
}

/// Lets the place of a seed live.
///
/// # Panics
/// When the simulation itself is at fault.
#[must_use]
pub fn live(seed: u64, manner: Manner) -> Outcome {
    let mut dice = Dice::new(seed);
    let ground = Ground::new(&mut dice);
    let people = ground.people;
    let mut life = Life::new(ground, dice, manner);
    life.go(DAYS);
    let end = life.zone.day_start(plus_days(FIRST_DAY, DAYS));
    let start = |days: i64| life.zone.day_start(plus_days(FIRST_DAY, DAYS - days));
    let place = life.book.place_at(end);
    let measured = |days: i64| {
        let all = credits(&life.book, &place, start(days), end);
        let loads: Vec<(f64, f64)> = all.values().map(|credit| (credit.did, credit.owed)).collect();
        (loads, bound(&life.book, &place, start(days), end))
    };
    let (loads, bound) = measured(DAYS);
    let (last, last_bound) = measured(LAST_DAYS);
    let stayed = |carer: &CarerId| place.carers.contains_key(carer) || place.ended.contains_key(carer);
    let all = credits(&life.book, &place, start(DAYS), end);
    let all = all.iter().filter(|(carer, _)| stayed(carer));
    let ahead = (
        jain(all.map(|(_, credit)| (credit.did, credit.owed))),
        bound_ahead(&life.book, &place, start(DAYS), end),
    );
    let misses = ahead.0 < EVEN && ahead.1.most >= EVEN;
    let since = misses.then(|| {
        // Whatever was uneven before was not the news' doing.
        let was_even = |at: &&Timestamp| {
            let all = credits(&life.book, &place, start(DAYS), **at);
            let all = all.iter().filter(|(carer, _)| stayed(carer));
            jain(all.map(|(_, credit)| (credit.did, credit.owed))) >= EVEN
        };
        let span = (start(DAYS), end);
        let news = life.news_at.iter().filter(was_even);
        news.map(|at| bound_since(&life.book, &place, span, *at).most)
            .fold(1.0, f64::min)
    });
    laws::same_in_any_order(&mut life, end);
    Outcome {
        seed,
        people,
        turns: life.slots.len(),
        jain: jain(loads.iter().copied()),
        bound,
        ahead,
        since,
        loads,
        last: (jain(last), last_bound),
        broken: life.broken,
        moved: life.moved,
        gaps: life.gaps,
        hands: life.hands as f64 / life.rounds as f64,
        said: life.said,
    }
}
