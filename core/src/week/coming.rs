//! What falls due next, as long as everything is done when it is due.

use jiff::Timestamp;

use super::Coming;
use crate::care::{Every, Pace, Standing, board};
use crate::civil::{plus_days, plus_minutes};
use crate::journal::Book;
use crate::place::Place;

/// How many turns of one duty are looked ahead at most.
const TURNS_MAX: usize = 400;

/// Turns that are due before a moment, in order of time; what is due already is due at the start of the span.
pub(super) fn all(
    book: &Book,
    place: &Place,
    last: Timestamp,
    (start, end): (Timestamp, Timestamp),
) -> Vec<Coming> {
    let mut all = Vec::new();
    for standing in board(book, place, last) {
        let mut due = standing.due.max(start);
        for _ in 0..TURNS_MAX {
            if due >= end {
                break;
            }
            all.push(Coming {
                due,
                duty: standing.duty(),
                target: standing.turn.target,
            });
            let Some(next) = next(place, &standing, due).filter(|next| *next > due) else {
                break;
            };
            due = next;
        }
    }
    all.sort_by_key(|one| one.due);
    all
}

/// When the turn after one is due that is done at a moment.
fn next(place: &Place, standing: &Standing, done: Timestamp) -> Option<Timestamp> {
    let zone = &place.zone;
    match &standing.cadence.pace {
        Pace::Interval {
            every: Every::Days(days),
            ..
        } => {
            let time = zone.civil(standing.due).time();
            Some(zone.instant(plus_days(zone.date(done), i64::from(*days)).to_datetime(time)))
        }
        Pace::Interval {
            every: Every::Hours(hours),
            ..
        } => Some(plus_minutes(done, i64::from(*hours) * 60)),
        Pace::Calendar(schedule) => schedule.next(place, zone.civil(done)).map(|on| zone.instant(on)),
    }
}
