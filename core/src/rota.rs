//! Whose turn it is: what comes, what it takes, who can, and how it is shared out.
//!
//! [`lay_out`] expects the turns of some days, [`work`] says what each takes, [`able`] who can do it, [`credits`] who did
//! how much so far; [`share_out`] gives the turns to people, and what it changes is published in the journal. [`hand`]
//! reads from there where a turn lies.

mod able;
mod bound;
mod credit;
mod even;
mod expected;
mod hand;
mod left;
mod moves;
mod needs;
mod share_out;
mod slot;
mod when;
mod work;

pub use self::able::{Able, able};
pub use self::bound::{Bound, bound, bound_ahead, bound_since};
pub use self::credit::{CREDIT_DAYS, Credit, credit_start, credits, done_in, minutes_of};
pub use self::even::jain;
pub use self::expected::{Expected, HORIZON_DAYS, lay_out, planned};
pub use self::hand::{
    Freed, Hand, Limits, OFFER_MIN, Offer, all_who_can, expected, gave_up, gave_up_standing, hand, hand_of,
    hand_until, keepers_asked, lapses, stand_in,
};
pub use self::left::left_undone;
pub use self::moves::{Lack, Moves, lack, moves};
pub use self::needs::Needs;
pub use self::share_out::{
    Decided, Gap, Laid, Reason, Reasons, SharedOut, Turn, even_out, gap, laid, reasons, share_out,
};
pub use self::slot::{Slot, Which, days_done};
pub use self::work::{Work, duty_minutes, work};

#[cfg(test)]
mod tests;

use jiff::Timestamp;

use crate::care::Standing;
use crate::civil::last_round;
use crate::journal::{Book, Event};
use crate::place::Place;

/// Whether turns are to be shared out at a moment: a round was held since it was done last.
#[must_use]
pub fn wants_sharing(book: &Book, place: &Place, board: &[Standing], now: Timestamp) -> bool {
    !board.is_empty() && is_stale(book, place, now)
}

/// Whether a round was held since turns were shared out last, or they never were.
#[must_use]
pub fn is_stale(book: &Book, place: &Place, now: Timestamp) -> bool {
    let round = last_round(&place.zone, &place.rounds, now).at;
    book.shared_at(now).is_none_or(|at| at < round)
}

/// Whether an entry changes who can do which turns, so that turns are shared out again at once.
#[must_use]
pub fn is_of_hands(event: &Event) -> bool {
    matches!(
        event,
        Event::Carer(..) | Event::Away(_) | Event::Back | Event::Coming(..)
    )
}
