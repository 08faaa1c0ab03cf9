//! The round that a moment belongs to.

use jiff::Timestamp;

use crate::civil::belongs;
use crate::journal::When;
use crate::place::Place;

impl When {
    /// A moment with the round of a place that it belongs to.
    #[must_use]
    pub fn of(place: &Place, at: Timestamp) -> Self {
        let held = belongs(&place.zone, &place.rounds, at);
        Self {
            at,
            round: held.round.id,
            date: held.date,
        }
    }
}
