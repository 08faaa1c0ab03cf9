//! The sharings-out of a span beside the best ones.

use jiff::Timestamp;

use crate::care::board;
use crate::journal::{Book, Event};
use crate::rota::{Gap, HORIZON_DAYS, gap};

/// The sharings-out of a span.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Gaps {
    /// How often turns were shared out.
    pub shared: usize,
    /// Those with few enough ways to try all of them, each beside the best.
    pub tried: Vec<Gap>,
}

/// Less than this, in minutes, is rounding.
const EXACT_MIN: f64 = 1e-6;

impl Gaps {
    /// How many of those that were tried were the best there was.
    #[must_use]
    pub fn best(&self) -> usize {
        let over = self.tried.iter().filter_map(Gap::over);
        over.filter(|over| *over <= EXACT_MIN).count()
    }

    /// By how much those were worse than the best that were, in minutes of the rota's measure, without those that left more
    /// turns with nobody.
    pub fn worse(&self) -> impl Iterator<Item = f64> {
        let over = self.tried.iter().filter_map(Gap::over);
        over.filter(|over| *over > EXACT_MIN)
    }

    /// How many of those that were tried left more turns with nobody than need be.
    #[must_use]
    pub fn leaving_more(&self) -> usize {
        self.tried.iter().filter(|gap| gap.over().is_none()).count()
    }
}

/// Every sharing-out of a span, tried anew on the journal as it was right before it.
pub(super) fn gaps(book: &Book, from: Timestamp, to: Timestamp, tries_max: u64) -> Gaps {
    let mut all = Gaps::default();
    let mut past = Book::of([]);
    for entry in book.entries() {
        let at = entry.at;
        if matches!(entry.event, Event::Shared(_)) && from < at && at <= to {
            all.shared += 1;
            let place = past.place_at(at);
            let board = board(&past, &place, at);
            all.tried
                .extend(gap(&past, &place, &board, at, HORIZON_DAYS, tries_max));
        }
        past.insert(entry.clone());
    }
    all
}
