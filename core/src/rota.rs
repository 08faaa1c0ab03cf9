//! Whose turn it is.

use jiff::{Timestamp, civil};

use crate::care::{Standing, TurnKey};
use crate::journal::{Book, TurnEvent};
use crate::place::{CarerId, Place, Role};

/// Where a turn lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Hand {
    /// Whose turn it is; `None`: free for anyone.
    pub carer: Option<CarerId>,
    /// Whether it was said so in the journal, rather than expected.
    pub settled: bool,
    /// Until when it is put off.
    pub later: Option<Timestamp>,
}

/// Where a turn lies at a moment.
#[must_use]
pub fn hand(book: &Book, place: &Place, standing: &Standing, now: Timestamp) -> Hand {
    let mut hand = Hand::default();
    for event in book.turn_events(&standing.turn, now) {
        match event {
            TurnEvent::Published(carer) => (hand.carer, hand.settled) = (Some(carer), true),
            TurnEvent::Took(carer) => {
                hand = Hand {
                    carer: Some(carer),
                    settled: true,
                    later: None,
                }
            }
            TurnEvent::Cannot(_) => {
                hand = Hand {
                    carer: None,
                    settled: true,
                    later: None,
                }
            }
            TurnEvent::Later(until) => hand.later = Some(until),
        }
    }
    hand.later = hand.later.filter(|until| *until > now);
    let left = hand.carer.is_some_and(|carer| !place.carers.contains_key(&carer));
    if !hand.settled || left {
        hand.carer = expected(place, standing);
        hand.settled = false;
    }
    hand
}

/// Whose turn it is expected to be: the enclosure's carer by habit, else everyone in turn, by the day and the
/// enclosure, so that one enclosure's turns of a day lie in one hand.
#[must_use]
pub fn expected(place: &Place, standing: &Standing) -> Option<CarerId> {
    let enclosure = place.enclosure_of(standing.turn.target);
    let can = |id: &CarerId| {
        place
            .carers
            .get(id)
            .is_some_and(|carer| carer.role != Role::Helper)
    };
    if let Some(habit) = enclosure.and_then(|enclosure| enclosure.carer).filter(can) {
        return Some(habit);
    }
    let all: Vec<CarerId> = place.carers.keys().copied().filter(can).collect();
    let day = days(place.zone.date(standing.due));
    let offset = enclosure.map_or(0, |enclosure| u64::from(enclosure.order));
    let length = u64::try_from(all.len()).ok().filter(|length| *length > 0)?;
    all.get(usize::try_from((day + offset) % length).ok()?).copied()
}

/// Days since 0001-01-01, only to take turns by.
fn days(date: civil::Date) -> u64 {
    let since = date.duration_since(civil::date(1, 1, 1)).as_hours() / 24;
    u64::try_from(since).unwrap_or(0)
}

/// Who is asked when a carer does not answer: their stand-in, else the next one who shares the work.
#[must_use]
pub fn stand_in(place: &Place, carer: Option<CarerId>) -> Option<CarerId> {
    let named = carer.and_then(|carer| place.carers.get(&carer)?.stand_in);
    let able = |id: &CarerId| place.carers.get(id).is_some_and(|one| one.role != Role::Helper);
    named.filter(able).or_else(|| {
        let others = || {
            place
                .carers
                .keys()
                .copied()
                .filter(able)
                .filter(|id| Some(*id) != carer)
        };
        others().find(|id| Some(*id) > carer).or_else(|| others().next())
    })
}

/// Whether a turn was published to someone already.
#[must_use]
pub fn is_published(book: &Book, turn: &TurnKey, now: Timestamp) -> bool {
    book.turn_events(turn, now)
        .any(|event| !matches!(event, TurnEvent::Later(_)))
}
