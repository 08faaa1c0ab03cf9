//! Who can do a turn, and why not.

use jiff::Timestamp;

use super::Needs;
use crate::journal::{Book, When};
use crate::people::Carer;

/// Whether someone can do a turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Able {
    /// They can.
    Yes,
    /// They are away.
    Away,
    /// It lies outside the days of their span.
    OutsideSpan,
    /// It lies on a weekday or in a round on which they are not there.
    NotThere,
    /// It asks for what they cannot do.
    Unskilled,
    /// They want no share of the work.
    NoShare,
}

/// Whether someone can do a turn with these needs at a moment, as far as is known. That they want no share is told last:
/// they may do it all the same.
#[must_use]
pub fn able(book: &Book, carer: &Carer, needs: &Needs, when: &When, known: Timestamp) -> Able {
    if !carer.shares_on(when.date) {
        Able::OutsideSpan
    } else if book.is_away(carer.id, when, known) {
        Able::Away
    } else if !carer.is_free(when.round, when.date) {
        Able::NotThere
    } else if !needs.met_by(&carer.can()) {
        Able::Unskilled
    } else if carer.wants() <= 0.0 {
        Able::NoShare
    } else {
        Able::Yes
    }
}

/// Whether someone shares the work at a moment at all, whatever the turn asks for: whoever does not owes none of it.
#[must_use]
pub(super) fn shares_at(book: &Book, carer: &Carer, when: &When, known: Timestamp) -> bool {
    carer.wants() > 0.0 && carer.shares_on(when.date) && !book.is_away(carer.id, when, known)
}
