//! How far what is dealt lies from the best there is, where all assignments can be tried.

use jiff::Timestamp;

use super::table::Table;
use super::{Draft, deal};
use crate::care::Standing;
use crate::journal::Book;
use crate::place::Place;

/// A sharing-out beside the best one: the one that leaves the fewest turns with nobody, and of those with the least measure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// The measure of what is dealt: how uneven loads are, and what splits and broken habits cost, in minutes.
    pub dealt: f64,
    /// That of the best of all assignments.
    pub best: f64,
    /// Turns that are dealt to nobody though someone could do them, had they the time.
    pub left: usize,
    /// Those that the best assignment leaves with nobody.
    pub left_best: usize,
    /// Turns that were to be given out.
    pub turns: usize,
    /// Assignments that were tried.
    pub tried: u64,
}

impl Gap {
    /// By how much it is worse than the best, in minutes of the measure; `None` where it leaves more turns with nobody, so
    /// that the two cannot be compared by it.
    #[must_use]
    pub fn over(&self) -> Option<f64> {
        (self.left == self.left_best).then_some(self.dealt - self.best)
    }
}

/// Shares out as [`super::share_out`] does, and tries every assignment of the turns that nobody has; `None` where there are
/// more than `tries_max`, or nothing is to be given out.
#[must_use]
pub fn gap(
    book: &Book,
    place: &Place,
    board: &[Standing],
    now: Timestamp,
    days: i64,
    tries_max: u64,
) -> Option<Gap> {
    let mut draft = Draft::new(book, place, board, now, days);
    draft.settle(false);
    let mut table = Table::new(&draft);
    let free = table.free();
    let tries = free
        .iter()
        .try_fold(1_u64, |all, (_, _, can)| all.checked_mul(ways(&table, can)));
    let tried = tries.filter(|tries| *tries <= tries_max && !free.is_empty())?;
    deal::improve(&mut table);
    let (left, dealt) = table.measure();
    for (group, turn, _) in &free {
        table.give(*group, *turn, None);
    }
    let mut best = (usize::MAX, f64::INFINITY);
    try_all(&mut table, &free, &mut best);
    let (left_best, best) = best;
    Some(Gap {
        dealt,
        best,
        left,
        left_best,
        turns: free.len(),
        tried,
    })
}

/// Of how many assignments of one turn there is a choice.
fn ways(table: &Table, can: &[usize]) -> u64 {
    can.len() as u64 + u64::from(table.may_lack_time(can))
}

/// Tries everyone for the first turn who has time for it, with everything for the rest; and nobody, where all who can do it
/// have days that may be full. That they have time yet says nothing: a turn may lie with nobody while another one, which
/// is given out later, has its time.
fn try_all(table: &mut Table, free: &[(usize, usize, Vec<usize>)], best: &mut (usize, f64)) {
    let Some(((group, turn, can), rest)) = free.split_first() else {
        let this = table.measure();
        if this < *best {
            *best = this;
        }
        return;
    };
    table.give(*group, *turn, None);
    if table.may_lack_time(can) {
        try_all(table, rest, best);
    }
    for owner in can {
        if table.has_room(*group, *turn, *owner) {
            table.give(*group, *turn, Some(*owner));
            try_all(table, rest, best);
            table.give(*group, *turn, None);
        }
    }
}
