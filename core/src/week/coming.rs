//! What falls due next, as long as everything is done when it is due.

use jiff::Timestamp;

use super::Coming;
use crate::care::board;
use crate::journal::Book;
use crate::place::Place;
use crate::rota::lay_out;

/// Turns that are due before a moment, in order of time; what is due already is due at the start of the span. What
/// another turn renews at the same time is left out, as rounds do.
pub(super) fn all(
    book: &Book,
    place: &Place,
    last: Timestamp,
    (start, end): (Timestamp, Timestamp),
) -> Vec<Coming> {
    let days = place.zone.date(end) - place.zone.date(last);
    let laid_out = lay_out(
        book,
        place,
        &board(book, place, last),
        last,
        i64::from(days.get_days()),
    );
    let coming = laid_out.into_iter().map(|one| Coming {
        due: one.due.max(start),
        duty: one.duty,
        target: one.target,
    });
    let mut all: Vec<Coming> = coming.filter(|one| one.due < end).collect();
    all.sort_by_key(|one| one.due);
    all
}
