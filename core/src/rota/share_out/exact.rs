//! How far what is dealt lies from the best there is, where all assignments can be tried.

use jiff::Timestamp;

use super::table::Table;
use super::{Draft, deal};
use crate::care::Standing;
use crate::journal::Book;
use crate::place::Place;

/// A sharing-out beside the best one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// The measure of what is dealt: how uneven loads are, and what splits and broken habits cost, in minutes.
    pub dealt: f64,
    /// The least measure of all assignments.
    pub best: f64,
    /// Turns that were to be given out.
    pub turns: usize,
    /// Assignments that were tried.
    pub tried: u64,
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
    draft.lighten();
    let mut table = Table::new(&draft);
    let free = table.free();
    let tries = free
        .iter()
        .try_fold(1_u64, |all, (_, _, can)| all.checked_mul(can.len().max(1) as u64));
    let tried = tries.filter(|tries| *tries <= tries_max && !free.is_empty())?;
    deal::improve(&mut table);
    let dealt = table.measure();
    for (group, turn, _) in &free {
        table.give(*group, *turn, None);
    }
    let mut best = f64::INFINITY;
    try_all(&mut table, &free, &mut best);
    Some(Gap {
        dealt,
        best,
        turns: free.len(),
        tried,
    })
}

/// Tries everyone for the first turn who has time for it, with everything for the rest.
fn try_all(table: &mut Table, free: &[(usize, usize, Vec<usize>)], best: &mut f64) {
    let Some(((group, turn, can), rest)) = free.split_first() else {
        *best = best.min(table.measure());
        return;
    };
    table.give(*group, *turn, None);
    let with_room: Vec<usize> = can
        .iter()
        .copied()
        .filter(|carer| table.has_room(*group, *turn, *carer))
        .collect();
    if with_room.is_empty() {
        try_all(table, rest, best);
    }
    for owner in with_room {
        table.give(*group, *turn, Some(owner));
        try_all(table, rest, best);
    }
    table.give(*group, *turn, None);
}
