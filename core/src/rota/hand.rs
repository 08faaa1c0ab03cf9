//! Whose turn it is.

use jiff::{Timestamp, civil};

use super::{Able, Expected, Slot, able, work};
use crate::care::{Standing, TurnKey};
use crate::civil::{plus_minutes, seconds_between};
use crate::journal::{Book, Seq, TurnEvent, When};
use crate::place::{CarerId, Place, Role};

/// Where a turn lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Hand {
    /// Whose turn it is; `None`: free for anyone.
    pub carer: Option<CarerId>,
    /// Whether it was said so in the journal, rather than expected.
    pub settled: bool,
    /// Whether someone said so themselves: they took it, or they cannot.
    pub said: bool,
    /// Until when it is put off.
    pub later: Option<Timestamp>,
    /// To whom it is offered, while the offer stands, and by whom.
    pub offered: Option<Offer>,
    /// Who gave it up, as long as nobody has it since.
    pub freed: Option<Freed>,
    /// When it came to whoever has it, and by which entry, where it had lain elsewhere and they did not take it.
    pub came: Option<(Timestamp, Seq)>,
}

/// A turn that whoever had it gave up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Freed {
    /// Who cannot.
    pub by: CarerId,
    /// When they said so.
    pub at: Timestamp,
    /// The entry that says so.
    pub seq: Seq,
}

/// A turn that its owner offers to someone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Offer {
    /// Whose turn it is.
    pub by: CarerId,
    /// To whom.
    pub to: CarerId,
    /// When the offer lapses by itself.
    pub until: Timestamp,
}

/// What an offer of a turn must not outlive.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// When the turn is due; it may be late already.
    pub due: Timestamp,
    /// When it becomes a hazard; `None`: never, or it is not the next one, of which alone that is known.
    pub hazard: Option<Timestamp>,
}

impl Limits {
    /// Those of a turn as it stands.
    #[must_use]
    pub fn of(standing: &Standing) -> Self {
        Self {
            due: standing.due,
            hazard: standing.hazard,
        }
    }
}

/// For how long an offer stands, in minutes; one of a turn that comes sooner, until then. Common practice, no published
/// source.
pub const OFFER_MIN: i64 = 24 * 60;

/// For how long at most an offer stands of what is a hazard already, in minutes. Common practice, no published source.
const OFFER_HAZARD_MIN: i64 = 60;

/// When an offer lapses: after a day, when the turn is due, or, if it is late already, half-way to its hazard limit, so
/// that there is time left to ask somebody else.
#[must_use]
pub fn lapses(offered: Timestamp, limits: Limits) -> Timestamp {
    let day = plus_minutes(offered, OFFER_MIN);
    if limits.due > offered {
        return day.min(limits.due);
    }
    let Some(hazard) = limits.hazard else {
        return day;
    };
    let left_min = seconds_between(offered, hazard) / 60;
    let stands_min = if left_min > 0 {
        left_min / 2
    } else {
        OFFER_HAZARD_MIN
    };
    day.min(plus_minutes(offered, stands_min))
}

/// Where a turn lies at a moment.
#[must_use]
pub fn hand(book: &Book, place: &Place, standing: &Standing, now: Timestamp) -> Hand {
    let slot = Slot::of(book, &place.zone, standing, now);
    let until = (now, Seq::MAX);
    let mut hand = hand_until(book, &slot, Some(&standing.turn), Limits::of(standing), until);
    let left = hand.carer.is_some_and(|carer| !place.carers.contains_key(&carer));
    if !hand.settled || left {
        hand.carer = expected(place, standing);
        hand.settled = false;
    }
    hand
}

/// What the journal says of where a coming turn lies.
#[must_use]
pub fn hand_of(book: &Book, expected: &Expected, now: Timestamp) -> Hand {
    let (turn, limits) = (expected.turn.as_ref(), expected.limits());
    hand_until(book, &expected.slot, turn, limits, (now, Seq::MAX))
}

/// The same, right before an entry of that time and number; a turn's key is known once it is the next one.
#[must_use]
pub fn hand_until(
    book: &Book,
    slot: &Slot,
    turn: Option<&TurnKey>,
    limits: Limits,
    until: (Timestamp, Seq),
) -> Hand {
    let (now, _) = until;
    let of_slot = book.slot_events(slot, now);
    let of_turn = turn
        .into_iter()
        .flat_map(|turn| book.keyed_turn_events(turn, now));
    let before = |(key, _): &((Timestamp, Seq), TurnEvent)| *key < until;
    let mut all: Vec<_> = of_slot.chain(of_turn).filter(before).collect();
    all.sort_by_key(|(key, _)| *key);
    let mut hand = Hand::default();
    for (key, event) in all {
        hand.take(key, event, limits);
    }
    hand.later = hand.later.filter(|until| *until > now);
    hand.offered = hand.offered.filter(|offer| offer.until > now);
    hand
}

impl Hand {
    fn take(&mut self, (at, seq): (Timestamp, Seq), event: TurnEvent, limits: Limits) {
        let lies = |carer, said| Self {
            carer,
            settled: true,
            said,
            ..Self::default()
        };
        match event {
            TurnEvent::Published(carer) => {
                // An offer of a turn that changed hands meanwhile is void.
                self.offered = self.offered.filter(|offer| offer.by == carer);
                if self.settled && self.carer != Some(carer) {
                    self.came = Some((at, seq));
                }
                (self.carer, self.settled, self.said) = (Some(carer), true, false);
                self.freed = None;
            }
            TurnEvent::Open => *self = lies(None, false),
            TurnEvent::Took(carer) => *self = lies(Some(carer), true),
            // Who cannot do what somebody else has is not asked for it; it stays where it is.
            TurnEvent::Cannot(by) if self.settled && self.carer.is_some_and(|carer| carer != by) => {}
            TurnEvent::Cannot(by) => {
                *self = Self {
                    freed: Some(Freed { by, at, seq }),
                    ..lies(None, true)
                }
            }
            TurnEvent::Later(until) => self.later = Some(until),
            TurnEvent::Offered { by, to, at } => {
                let until = lapses(at, limits);
                self.offered = Some(Offer { by, to, until });
            }
            TurnEvent::Declined(who) => self.offered = self.offered.filter(|offer| offer.to != who),
        }
    }
}

/// Whether someone said of a coming turn that they cannot do it: of the slot, or by `Can't` on a call of it.
#[must_use]
pub fn gave_up(book: &Book, expected: &Expected, carer: CarerId, now: Timestamp) -> bool {
    let of_slot = book.slot_events(&expected.slot, now);
    let of_turn = expected
        .turn
        .iter()
        .flat_map(|turn| book.keyed_turn_events(turn, now));
    of_slot
        .chain(of_turn)
        .any(|(_, event)| event == TurnEvent::Cannot(carer))
}

/// The same of a turn as it stands.
#[must_use]
pub fn gave_up_standing(
    book: &Book,
    place: &Place,
    standing: &Standing,
    carer: CarerId,
    now: Timestamp,
) -> bool {
    let slot = Slot::of(book, &place.zone, standing, now);
    let all = book.slot_events(&slot, now);
    all.chain(book.keyed_turn_events(&standing.turn, now))
        .any(|(_, event)| event == TurnEvent::Cannot(carer))
}

/// Whose turn it is expected to be: the enclosure's carer by habit, else everyone in turn, by the day and the
/// enclosure, so that one enclosure's turns of a day lie in one hand.
#[must_use]
pub fn expected(place: &Place, standing: &Standing) -> Option<CarerId> {
    let enclosure = place.enclosure_of(standing.turn.target);
    let date = place.zone.date(standing.due);
    let can = |id: &CarerId| {
        place
            .carers
            .get(id)
            .is_some_and(|carer| carer.role != Role::Helper && carer.shares_on(date))
    };
    if let Some(habit) = enclosure.and_then(|enclosure| enclosure.carer).filter(can) {
        return Some(habit);
    }
    let all: Vec<CarerId> = place.carers.keys().copied().filter(can).collect();
    let day = days(date);
    let offset = enclosure.map_or(0, |enclosure| u64::from(enclosure.order));
    let length = u64::try_from(all.len()).ok().filter(|length| *length > 0)?;
    all.get(usize::try_from((day + offset) % length).ok()?).copied()
}

/// Days since 0001-01-01, only to take turns by.
fn days(date: civil::Date) -> u64 {
    let since = date.duration_since(civil::date(1, 1, 1)).as_hours() / 24;
    u64::try_from(since).unwrap_or(0)
}

/// Who is asked when a carer does not answer: their stand-in, else the next one who shares the work. Nobody is asked who
/// cannot do the turn now.
#[must_use]
pub fn stand_in(
    book: &Book,
    place: &Place,
    standing: &Standing,
    carer: Option<CarerId>,
    now: Timestamp,
) -> Option<CarerId> {
    // Who wants no share may stand in by name.
    let can = |id: &CarerId| {
        let able = able_now(book, place, standing, *id, now);
        matches!(able, Able::Yes | Able::NoShare) && !gave_up_standing(book, place, standing, *id, now)
    };
    let named = carer.and_then(|carer| place.carers.get(&carer)?.stand_in);
    named.filter(can).or_else(|| {
        let others = all_who_can(book, place, standing, carer, now);
        let after = others.iter().find(|id| Some(**id) > carer);
        after.or(others.first()).copied()
    })
}

/// All who share the work and can do a turn now, but for one of them and for those who said that they cannot.
#[must_use]
pub fn all_who_can(
    book: &Book,
    place: &Place,
    standing: &Standing,
    but: Option<CarerId>,
    now: Timestamp,
) -> Vec<CarerId> {
    let can = |id: &CarerId| {
        Some(*id) != but
            && able_now(book, place, standing, *id, now) == Able::Yes
            && !gave_up_standing(book, place, standing, *id, now)
    };
    place.carers.keys().copied().filter(can).collect()
}

/// The keepers who are asked when nobody else does a turn: those who are there and did not say that they cannot; all of
/// them where there is none such, since somebody has to know.
#[must_use]
pub fn keepers_asked(book: &Book, place: &Place, standing: &Standing, now: Timestamp) -> Vec<CarerId> {
    let is_there = |id: &CarerId| {
        let able = able_now(book, place, standing, *id, now);
        !matches!(able, Able::Away | Able::OutsideSpan) && !gave_up_standing(book, place, standing, *id, now)
    };
    let there: Vec<CarerId> = place.keepers().filter(is_there).collect();
    if there.is_empty() {
        place.keepers().collect()
    } else {
        there
    }
}

/// Whether someone with an account can do a turn now.
fn able_now(book: &Book, place: &Place, standing: &Standing, id: CarerId, now: Timestamp) -> Able {
    let needs = work(place, standing.duty(), standing.turn.target).needs;
    let when = When::of(place, now);
    let asked = place.carers.get(&id).filter(|one| one.role != Role::Helper);
    asked.map_or(Able::NotThere, |one| able(book, one, &needs, &when, now))
}
