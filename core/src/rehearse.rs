//! A place's own journal under another way of keeping: what it would have asked of its people and its waters.
//!
//! Three journals are set beside each other. The one *as it was*. The one where every deed *stays* and only the gear or
//! the numbers are others: what the same care would have left before a hazard. And the one that is *replayed*: turns fall due
//! by the other keeping and are done as punctually as this place did them, by the same people in the same proportions. A turn that
//! falls due at the same time under both stays as it was, so with nothing changed all three are the journal itself.
//!
//! `rehearse/other` says what is changed and makes the journal where deeds stay, `rehearse/replay` replays it by the `habit` of a
//! place, `rehearse/tally` counts minutes and water, `rehearse/margins` what was left before a hazard, `rehearse/cut` what a power
//! cut would do.

mod cut;
mod habit;
mod margins;
mod moments;
mod other;
mod problem;
mod replay;
mod tally;

use std::collections::{BTreeMap, BTreeSet};

use jiff::Timestamp;

pub use self::cut::{CUTS_H, Cut, Left};
pub use self::margins::Margin;
pub use self::other::{Change, rule_of_changes};
pub use self::problem::Problem;
pub use self::tally::{Turn, Water};

use crate::care::board::targets;
use crate::care::{Duty, board};
use crate::civil::seconds_between;
use crate::journal::Book;
use crate::place::{CarerId, PoolId, Target};

/// The shortest span that is replayed, in days: a week.
pub const DAYS_MIN: i64 = 7;

/// The longest span that is replayed, in days.
pub const DAYS_MAX: i64 = 366;

/// Seconds of a day.
const DAY_S: i64 = 86_400;

/// What is rehearsed.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// What would have been otherwise; nothing for the journal itself.
    pub changes: Vec<Change>,
    /// The pools that are told of; none for the whole place.
    pub pools: Vec<PoolId>,
    /// From when it would have been so. Deeds count that lie after it …
    pub from: Timestamp,
    /// … up to and with this moment.
    pub to: Timestamp,
}

/// A journal, and what it asked of people and waters.
#[derive(Clone, Debug)]
pub struct Kept {
    /// The journal.
    pub book: Book,
    /// The turns that were done in the span, in order of time.
    pub turns: Vec<Turn>,
    /// What was left before a hazard, in the order of the board.
    pub margins: Vec<Margin>,
    /// What a power cut would have done to each pool.
    pub cuts: Vec<Cut>,
}

impl Kept {
    /// Minutes of all together.
    #[must_use]
    pub fn minutes(&self) -> f64 {
        self.turns.iter().map(|turn| turn.minutes).sum()
    }

    /// Minutes of each person.
    #[must_use]
    pub fn minutes_of(&self) -> BTreeMap<CarerId, f64> {
        let mut all = BTreeMap::new();
        for turn in &self.turns {
            *all.entry(turn.by).or_insert(0.0) += turn.minutes;
        }
        all
    }

    /// Turns of changes, whole or in part.
    #[must_use]
    pub fn changes(&self) -> usize {
        let is_change = |turn: &&Turn| turn.duty.family() == Duty::Change;
        self.turns.iter().filter(is_change).count()
    }

    /// What all changes and doses took together.
    #[must_use]
    pub fn water(&self) -> Water {
        self.turns.iter().map(|turn| turn.water).sum()
    }

    /// The same of one pool.
    #[must_use]
    pub fn water_of(&self, pool: PoolId) -> Water {
        let of = self.turns.iter().filter(|turn| turn.target == Target::Pool(pool));
        of.map(|turn| turn.water).sum()
    }

    /// How many turns were late.
    #[must_use]
    pub fn overdue(&self) -> u32 {
        self.margins.iter().map(|margin| margin.overdue).sum()
    }

    /// How many turns came to a hazard.
    #[must_use]
    pub fn hazards(&self) -> u32 {
        self.margins.iter().map(|margin| margin.hazards).sum()
    }
}

/// A place under two keepings.
#[derive(Clone, Debug)]
pub struct Rehearsal {
    /// As it was.
    pub was: Kept,
    /// Every deed as it was, under the other keeping.
    pub stays: Kept,
    /// Replayed under the other keeping.
    pub would: Kept,
    /// The span in days.
    pub days: f64,
}

/// Savings of less than this a week are not worth a word, in minutes: common practice, no published source.
const SMALL_MIN: f64 = 10.0;

/// The same of water, as a part of what was changed: common practice, no published source.
const SMALL_PART: f64 = 0.1;

impl Rehearsal {
    /// An amount of the whole span as one of a week.
    #[must_use]
    pub fn weekly(&self, amount: f64) -> f64 {
        amount * DAYS_MIN as f64 / self.days
    }

    /// Whether the other keeping makes no difference that is worth a word, neither in minutes a week nor in water.
    #[must_use]
    pub fn is_small(&self) -> bool {
        let minutes = self.weekly(self.was.minutes() - self.would.minutes()).abs();
        let (was, would) = (self.was.water().litres, self.would.water().litres);
        minutes < SMALL_MIN && (was - would).abs() <= SMALL_PART * was
    }

    /// Whether both keepings come to the same turns at the same times.
    #[must_use]
    pub fn is_same(&self) -> bool {
        self.was.turns == self.would.turns
    }
}

/// Replays a place's journal under another keeping. `now` ends what there is to replay.
///
/// # Errors
/// What cannot be rehearsed: gear that is there already or was never there, a pool that was not there yet, a span that is
/// too short, too long, backwards or to come.
pub fn rehearse(book: &Book, plan: &Plan, now: Timestamp) -> Result<Rehearsal, Problem> {
    problem::hold(book, plan, now)?;
    let stays = other::book(book, plan);
    let lanes = scope(book, &stays, plan);
    let would = replay::replay(book, &stays, plan, &lanes);
    let keep = |book: Book| {
        let turns = tally::turns(&book, plan, &lanes);
        let margins = margins::all(&book, plan, &lanes);
        let cuts = cut::all(&book, plan, &lanes);
        Kept {
            book,
            turns,
            margins,
            cuts,
        }
    };
    Ok(Rehearsal {
        was: keep(book.clone()),
        stays: keep(stays),
        would: keep(would),
        days: seconds_between(plan.from, plan.to) as f64 / DAY_S as f64,
    })
}

/// How many marks two journals have at the rounds of a span, and how many of them are not the same in both.
#[must_use]
pub fn differences(one: &Book, other: &Book, plan: &Plan) -> (usize, usize) {
    let (mut all, mut differ) = (0, 0);
    for at in moments::rounds(one, plan) {
        let marks = |book: &Book| board(book, &book.place_at(at), at);
        let (one, other) = (marks(one), marks(other));
        all += one.len().max(other.len());
        differ += one.len().abs_diff(other.len());
        differ += one.iter().zip(&other).filter(|(one, other)| one != other).count();
    }
    (all, differ)
}

/// The duties that are told of, in the order of the board: those that the place has at the start or the end of the span under
/// either keeping. A change of numbers counts for the whole place.
fn scope(book: &Book, other: &Book, plan: &Plan) -> Vec<(Duty, Target)> {
    let whole = plan.pools.is_empty() || plan.changes.iter().any(|one| matches!(one, Change::Numbers(..)));
    let is_told = |target: Target| whole || plan.pools.iter().any(|pool| Target::Pool(*pool) == target);
    let mut seen = BTreeSet::new();
    let mut all = Vec::new();
    for (book, moment) in [
        (other, plan.to),
        (book, plan.to),
        (other, plan.from),
        (book, plan.from),
    ] {
        let lanes = targets(&book.place_at(moment));
        all.extend(
            lanes
                .into_iter()
                .filter(|lane| is_told(lane.1) && seen.insert(*lane)),
        );
    }
    all
}
