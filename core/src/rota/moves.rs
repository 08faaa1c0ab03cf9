//! What would move if something were said: an absence, a return, a turn taken over.

use jiff::Timestamp;

use super::{Able, Expected, HORIZON_DAYS, Needs, Turn, able, share_out};
use crate::care::Standing;
use crate::journal::{Book, Entry, Event};
use crate::people::Carer;
use crate::place::{CarerId, Place, Role};

/// What moves, each in order of the moment and then of the walk.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Moves {
    /// Turns that go from one person to another.
    pub moved: Vec<Turn>,
    /// Turns that somebody had and nobody can do any more, and why not.
    pub uncovered: Vec<(Turn, Lack)>,
    /// Turns that nobody could do and somebody has now.
    pub covered: Vec<Turn>,
    /// How many turns of people other than the one that it is about were laid out.
    pub others: usize,
}

impl Moves {
    /// How many turns move or are left uncovered that were not this person's.
    #[must_use]
    pub fn of_others(&self, carer: CarerId) -> usize {
        let uncovered = self.uncovered.iter().map(|(turn, _)| turn);
        let all = self.moved.iter().chain(uncovered);
        all.filter(|turn| turn.was != Some(carer)).count()
    }
}

/// Why nobody can do a turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lack {
    /// Nobody is there then.
    Nobody,
    /// Whoever is there and can do it wants no share.
    NoShare,
    /// Whoever is there lacks this of what it asks for; all of it, where each of them lacks something else.
    Unskilled(Needs),
    /// Whoever could has no time left that day, or gave it up.
    NoTime,
}

/// What moves when events of a person are written down now, in their order. `board` is the place's, which such events
/// leave as it is.
#[must_use]
pub fn moves(
    book: &Book,
    place: &Place,
    board: &[Standing],
    (by, events): (CarerId, &[Event]),
    now: Timestamp,
) -> Moves {
    let mut book = book.clone();
    let put = |by: CarerId, event: Event, book: &mut Book| {
        let seq = book.last_seq() + 1;
        book.insert(Entry::at_once(seq, now, by, event));
    };
    // What was not shared out yet counts as it would be, so that nothing seems to move that only gets its owner.
    let before = share_out(&book, place, board, now, HORIZON_DAYS).changes();
    if !before.is_empty() {
        put(CarerId(0), Event::Shared(before), &mut book);
    }
    for event in events {
        put(by, event.clone(), &mut book);
    }
    let mut all = Moves::default();
    for turn in share_out(&book, place, board, now, HORIZON_DAYS).turns {
        all.others += usize::from(turn.was.is_some_and(|was| was != by));
        match (turn.was, turn.carer) {
            (Some(_), None) => {
                let lack = lack(&book, place, &turn.expected, now);
                all.uncovered.push((turn, lack));
            }
            (None, Some(_)) => all.covered.push(turn),
            (was, carer) if was != carer => all.moved.push(turn),
            _ => {}
        }
    }
    all
}

/// Why nobody can do a turn, as far as is known.
#[must_use]
pub fn lack(book: &Book, place: &Place, expected: &Expected, now: Timestamp) -> Lack {
    let needs = expected.work.needs;
    let of = |carer: &Carer| able(book, carer, &needs, &expected.when, now);
    let with = |wanted: Able| place.carers.values().filter(move |carer| of(carer) == wanted);
    // A helper owes no share, so that it is no answer that they want none.
    let is_asked = |carer: &Carer| carer.role != Role::Helper;
    let missing = with(Able::Unskilled).map(|carer| needs.beyond(&carer.can()));
    if with(Able::Yes).next().is_some() {
        Lack::NoTime
    } else if with(Able::NoShare).any(is_asked) {
        Lack::NoShare
    } else if let Some(missing) = missing.reduce(Needs::common) {
        Lack::Unskilled(if missing == Needs::default() {
            needs
        } else {
            missing
        })
    } else {
        Lack::Nobody
    }
}
