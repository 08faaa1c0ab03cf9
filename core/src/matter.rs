//! Open matters: the turns by which something seen is followed up until it is closed, and who may know of it.

use jiff::{Timestamp, civil};

use crate::care::Mark;
use crate::civil::{next_round, plus_days, plus_minutes};
use crate::journal::{Book, Matter, Sighting};
use crate::place::{CarerId, Place, Role, Target};

/// How an open matter is followed up. At every round it is looked at in any case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LookPace {
    /// What was seen.
    pub sighting: Sighting,
    /// Whether the row is for an enclosure with a quiet zone.
    pub quiet_zone: bool,
    /// Minutes from the sighting to the first look, where no round comes before.
    pub first_min: Option<i64>,
    /// Minutes from one look to the next, where no round comes before.
    pub every_min: Option<i64>,
    /// A time of day at which it is looked at as well.
    pub evening: Option<civil::Time>,
    /// Minutes after which a look that is due is late, and passed on to the keepers.
    pub grace_min: i64,
}

/// What is followed up, and how: common practice, no published source. Water goes on running, so it is looked at
/// sooner than the next round, and soonest where a crab moults and cannot move away. Land hermit crabs walk about at
/// night, so one that is out is searched for in the evening too. Mould, condensation and splashing have no row: the
/// daily look at their enclosure finds them again.
pub const LOOK_PACES: [LookPace; 6] = [
    LookPace {
        first_min: Some(60),
        grace_min: 60,
        ..row(Sighting::Leak)
    },
    LookPace {
        quiet_zone: true,
        first_min: Some(60),
        every_min: Some(180),
        grace_min: 60,
        ..row(Sighting::WetSubstrate)
    },
    row(Sighting::WetSubstrate),
    LookPace {
        first_min: Some(60),
        ..row(Sighting::TippedFilter)
    },
    LookPace {
        evening: Some(civil::Time::constant(21, 0, 0, 0)),
        ..row(Sighting::Escape)
    },
    row(Sighting::Trouble),
];

const fn row(sighting: Sighting) -> LookPace {
    LookPace {
        sighting,
        quiet_zone: false,
        first_min: None,
        every_min: None,
        evening: None,
        grace_min: 120,
    }
}

/// A round or an evening that comes sooner after a look than this, in minutes, asks for no further one.
pub const LOOK_GAP_MIN: i64 = 30;

/// The next look at an open matter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FollowUpTurn {
    /// The matter.
    pub matter: Matter,
    /// Its row of [`LOOK_PACES`].
    pub pace: LookPace,
    /// Whether it is urgent: see [`is_urgent`].
    pub urgent: bool,
    /// When it was looked at last, or seen, whichever is later.
    pub last: Timestamp,
    /// When it is to be looked at.
    pub due: Timestamp,
    /// When that is late.
    pub overdue: Timestamp,
    /// Who said that they go, if they still share the work; `None`: anyone looks, or a keeper where it is private.
    pub carer: Option<CarerId>,
}

impl FollowUpTurn {
    /// How the look stands at a moment.
    #[must_use]
    pub fn mark(&self, now: Timestamp) -> Mark {
        match now {
            now if now >= self.overdue => Mark::Overdue,
            now if now >= self.due => Mark::Due,
            _ => Mark::Calm,
        }
    }

    /// Who is called by name for the look, each once: who goes, and the keepers where it is theirs, urgent or late.
    #[must_use]
    pub fn asked(&self, place: &Place, late: bool) -> Vec<CarerId> {
        let of_keepers = late || self.urgent || is_private(self.matter.sighting);
        let keepers = place.keepers().filter(|_| of_keepers);
        let mut who: Vec<CarerId> = keepers.chain(self.carer).collect();
        who.sort();
        who.dedup();
        who
    }
}

/// Whether what was seen is told to the keepers alone: sickness is for those who answer for the animals.
#[must_use]
pub fn is_private(sighting: Sighting) -> bool {
    sighting == Sighting::Trouble
}

/// Whether a carer may know of a matter: all of what is public, else the keepers and who saw it.
#[must_use]
pub fn may_know(place: &Place, matter: &Matter, who: CarerId) -> bool {
    may_know_of(place, matter.sighting, matter.by, who)
}

/// The same of something that one carer saw, closed, taken back or not.
#[must_use]
pub fn may_know_of(place: &Place, sighting: Sighting, by: CarerId, who: CarerId) -> bool {
    let is_keeper = || place.carers.get(&who).is_some_and(|one| one.role == Role::Keeper);
    !is_private(sighting) || by == who || is_keeper()
}

/// Whether something seen is urgent: wet substrate in an enclosure with a quiet zone whose review is ahead, since a
/// moulting crab cannot move away from water.
#[must_use]
pub fn is_urgent(place: &Place, target: Target, sighting: Sighting, now: Timestamp) -> bool {
    let quiet = place.enclosure_of(target).and_then(|one| one.quiet.as_ref());
    sighting == Sighting::WetSubstrate && quiet.is_some_and(|zone| place.zone.date(now) < zone.until)
}

/// The next look at every open matter that is followed up: urgent ones first, then in walking order, then by number.
/// What was seen of something that is no longer kept is followed up no more.
#[must_use]
pub fn follow_ups(book: &Book, place: &Place, now: Timestamp) -> Vec<FollowUpTurn> {
    let open = book.matters(now).filter(|matter| matter.closed.is_none());
    let mut all: Vec<FollowUpTurn> = open.filter_map(|matter| follow_up(place, matter, now)).collect();
    let walk: Vec<_> = place.walk().iter().map(|enclosure| enclosure.id).collect();
    all.sort_by_key(|turn| {
        let enclosure = place.enclosure_of(turn.matter.target).map(|one| one.id);
        let at = walk.iter().position(|id| Some(*id) == enclosure);
        (!turn.urgent, at, turn.matter.seq)
    });
    all
}

fn follow_up(place: &Place, matter: Matter, now: Timestamp) -> Option<FollowUpTurn> {
    place.enclosure_of(matter.target)?;
    let urgent = is_urgent(place, matter.target, matter.sighting, now);
    let pace = *LOOK_PACES
        .iter()
        .find(|pace| pace.sighting == matter.sighting && pace.quiet_zone == urgent)?;
    // What is seen again is looked at as what was seen first.
    let seen = matter.again.map_or(matter.at, |(at, _)| at);
    let looked = matter.follow_up.looked.map(|(at, _)| at).filter(|at| *at >= seen);
    let last = looked.unwrap_or(seen);
    let due = due(place, &pace, last, looked.is_none());
    let going = matter.follow_up.going;
    Some(FollowUpTurn {
        matter,
        pace,
        urgent,
        last,
        due,
        overdue: plus_minutes(due, pace.grace_min),
        carer: going.filter(|who| place.carers.contains_key(who) && may_know(place, &matter, *who)),
    })
}

/// When a matter is to be looked at after its last look, or after it was seen.
fn due(place: &Place, pace: &LookPace, last: Timestamp, first: bool) -> Timestamp {
    let settled = plus_minutes(last, LOOK_GAP_MIN);
    let round = next_round(&place.zone, &place.rounds, settled).at;
    let minutes = pace.first_min.filter(|_| first).or(pace.every_min);
    let soon = minutes.map(|minutes| plus_minutes(last, minutes));
    let evening = pace.evening.and_then(|time| {
        let today = place.zone.date(settled);
        let evenings = (0..=2).map(|day| place.zone.instant(plus_days(today, day).to_datetime(time)));
        evenings.into_iter().find(|at| *at > settled)
    });
    [soon, evening].into_iter().flatten().fold(round, Timestamp::min)
}
