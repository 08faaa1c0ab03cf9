//! How a duty stands: when it is due, late, and a hazard.

use std::fmt;
use std::str::FromStr;

use jiff::{Timestamp, civil};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::{Anchor, Cadence, Duty, Every, Grace, Pace, Schedule, anchor, cadence};
use crate::civil::{belongs, hold, next_round, plus_days, plus_minutes, second_before, seconds_between};
use crate::journal::{Book, Seq};
use crate::place::{EnclosureId, Place, PoolId, QuietZone, RoundId, Target};

/// How a duty stands, shown as a tide height.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Mark {
    /// Before due.
    Calm,
    /// From due on.
    Due,
    /// From due and grace on.
    Overdue,
    /// Animals or enclosure are at risk.
    Hazard,
}

impl Mark {
    /// Its tide height.
    #[must_use]
    pub fn glyph(self) -> char {
        match self {
            Self::Calm => '▁',
            Self::Due => '▃',
            Self::Overdue => '▅',
            Self::Hazard => '█',
        }
    }

    /// Its word, which always stands beside the height.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Calm => "calm",
            Self::Due => "due",
            Self::Overdue => "overdue",
            Self::Hazard => "hazard",
        }
    }
}

/// One turn: a duty of a target, by the entry it counts from, and by its occurrence where it keeps a calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TurnKey {
    /// The duty's family.
    pub duty: Duty,
    /// What it is about.
    pub target: Target,
    /// The entry it counts from; 0 when it was never done.
    pub from: Seq,
    /// The civil time of its occurrence, for a duty that keeps a calendar.
    pub on: Option<civil::DateTime>,
}

impl fmt::Display for TurnKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.", self.duty.code())?;
        match self.target {
            Target::Place => write!(f, "a")?,
            Target::Enclosure(id) => write!(f, "e{}", id.0)?,
            Target::Pool(id) => write!(f, "p{}", id.0)?,
        }
        write!(f, ".{}", self.from)?;
        self.on
            .map_or(Ok(()), |on| write!(f, ".{}", on.strftime("%Y%m%dT%H%M")))
    }
}

/// The text was no turn's key.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("not a turn's key")]
pub struct NoTurn;

impl FromStr for TurnKey {
    type Err = NoTurn;

    fn from_str(text: &str) -> Result<Self, NoTurn> {
        let mut parts = text.split('.');
        let mut part = || parts.next().ok_or(NoTurn);
        let duty = Duty::from_code(part()?).ok_or(NoTurn)?;
        let target = part()?;
        let number = || target.get(1..).and_then(|n| n.parse().ok()).ok_or(NoTurn);
        let target = match target.as_bytes().first() {
            Some(b'a') => Target::Place,
            Some(b'e') => Target::Enclosure(EnclosureId(number()?)),
            Some(b'p') => Target::Pool(PoolId(number()?)),
            _ => return Err(NoTurn),
        };
        let from = part()?.parse().map_err(|_| NoTurn)?;
        let on = match parts.next() {
            None => None,
            Some(on) => Some(civil::DateTime::strptime("%Y%m%dT%H%M", on).map_err(|_| NoTurn)?),
        };
        Ok(Self {
            duty,
            target,
            from,
            on,
        })
    }
}

impl Serialize for TurnKey {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for TurnKey {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer)?
            .parse()
            .map_err(serde::de::Error::custom)
    }
}

/// How due came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DueBy {
    /// So many civil days on, at the round that the anchor belongs to.
    DayRound {
        /// The round.
        round: RoundId,
        /// The anchor's civil date.
        date: civil::Date,
        /// The days.
        days: u16,
    },
    /// So many civil days on, at the day's first round.
    FirstRound {
        /// The anchor's civil date.
        date: civil::Date,
        /// The days.
        days: u16,
    },
    /// The last round that is at most 2 h after the limit.
    HourRound {
        /// Whence the hours count: the round's time when the entry lay within 2 h of it.
        counted_from: Timestamp,
        /// The time counted from plus the hours.
        limit: Timestamp,
    },
    /// The limit itself, for want of such a round.
    HourLimit {
        /// Whence the hours count.
        counted_from: Timestamp,
    },
    /// An occurrence of the calendar.
    Calendar,
    /// The next round after something set a stricter cadence in force.
    InForce {
        /// When it did.
        at: Timestamp,
    },
    /// The review date of a quiet zone.
    Held,
}

/// How a duty of a target stands at a moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// The turn that is next or due.
    pub turn: TurnKey,
    /// The rule in force.
    pub cadence: Cadence,
    /// What it counts from.
    pub anchor: Anchor,
    /// When it is due.
    pub due: Timestamp,
    /// How that came about.
    pub due_by: DueBy,
    /// When it would be due by the cadence and the anchor alone, and how: another time only where a stricter
    /// cadence came into force late or a quiet zone holds it back.
    pub by_rule: (Timestamp, DueBy),
    /// When it is late.
    pub overdue: Timestamp,
    /// When it becomes a hazard; `None` when it never does.
    pub hazard: Option<Timestamp>,
    /// How it stands.
    pub mark: Mark,
    /// The quiet zone that holds it back.
    pub held: Option<QuietZone>,
}

impl Standing {
    /// The duty as people call it now: a change of a filtered pool is a part change.
    #[must_use]
    pub fn duty(&self) -> Duty {
        if self.cadence.rule == Some(super::Rule::PartChange) {
            Duty::PartChange
        } else {
            self.turn.duty
        }
    }

    /// The mark at another moment, as long as nothing happens.
    #[must_use]
    pub fn mark_at(&self, now: Timestamp) -> Mark {
        if self.hazard.is_some_and(|hazard| hazard <= now) && self.held.is_none() {
            Mark::Hazard
        } else if self.overdue <= now {
            Mark::Overdue
        } else if self.due <= now {
            Mark::Due
        } else {
            Mark::Calm
        }
    }
}

/// An entry within this of a round counts as done at that round.
pub const SNAP_MIN: i64 = 120;

/// How a duty of a target stands at a moment; `None` when it has no such duty then. `place` must be the book's
/// place at that moment.
#[must_use]
pub fn standing(book: &Book, place: &Place, duty: Duty, target: Target, now: Timestamp) -> Option<Standing> {
    let duty = duty.family();
    let cadence = cadence(book, place, duty, target, now)?;
    let anchor = anchor::anchor(book, place, &cadence, duty, target, now);
    let (mut due, mut due_by, mut on) = due(place, &cadence, &anchor, now);
    let by_rule = (due, due_by);
    if let Some(since) = cadence.since.filter(|since| due < *since) {
        (due, due_by) = in_force(book, &anchor, (duty, target), since, by_rule);
    }
    let quiet = quiet_zone(place, &cadence, duty, target);
    if let Some(zone) = quiet {
        let review = hold(&place.zone, &place.rounds[0], zone.until).at;
        if due < review {
            (due, due_by) = (review, DueBy::Held);
        }
    }
    let held = quiet.filter(|zone| place.zone.date(now) < zone.until).cloned();
    let overdue = match cadence.grace {
        Grace::Hours(hours) => plus_minutes(due, i64::from(hours) * 60),
        Grace::NextRound => next_round(&place.zone, &place.rounds, due).at,
    };
    let hazard = cadence
        .hazard_h
        .map(|hours| plus_minutes(anchor.hazard_from, i64::from(hours) * 60));
    if !matches!(cadence.pace, Pace::Calendar(_)) {
        on = None;
    }
    let turn = TurnKey {
        duty,
        target,
        from: anchor.seq,
        on,
    };
    let mut standing = Standing {
        turn,
        cadence,
        anchor,
        due,
        due_by,
        by_rule,
        overdue,
        hazard,
        mark: Mark::Calm,
        held,
    };
    standing.mark = standing.mark_at(now);
    Some(standing)
}

/// Due by the cadence and the anchor alone.
fn due(
    place: &Place,
    cadence: &Cadence,
    anchor: &Anchor,
    now: Timestamp,
) -> (Timestamp, DueBy, Option<civil::DateTime>) {
    match &cadence.pace {
        Pace::Interval { every, first_round } => {
            let (at, by) = due_by_interval(place, *every, *first_round, anchor.from);
            (at, by, None)
        }
        Pace::Calendar(schedule) => {
            let on = occurrence(place, schedule, cadence, anchor, now);
            let at = on.map_or(Timestamp::MAX, |on| place.zone.instant(on));
            (at, DueBy::Calendar, on)
        }
    }
}

/// When the turn after one that was done at a moment is due, by its cadence alone, and at which civil time where it keeps
/// a calendar; `None` when the calendar has no further one.
#[must_use]
pub fn after(
    place: &Place,
    cadence: &Cadence,
    done: Timestamp,
) -> Option<(Timestamp, Option<civil::DateTime>)> {
    match &cadence.pace {
        Pace::Interval { every, first_round } => {
            let (at, _) = due_by_interval(place, *every, *first_round, done);
            Some((at, None))
        }
        Pace::Calendar(schedule) => {
            let on = schedule.next(place, place.zone.civil(done))?;
            Some((place.zone.instant(on), Some(on)))
        }
    }
}

fn due_by_interval(place: &Place, every: Every, first_round: bool, from: Timestamp) -> (Timestamp, DueBy) {
    let (zone, rounds) = (&place.zone, &place.rounds);
    let days = match every {
        Every::Hours(hours) => return due_by_hours(place, from, hours),
        Every::Days(days) => days,
    };
    let held = if first_round {
        hold(zone, &rounds[0], zone.date(from))
    } else {
        belongs(zone, rounds, from)
    };
    let on = plus_days(held.date, i64::from(days));
    let by = if first_round {
        DueBy::FirstRound {
            date: held.date,
            days,
        }
    } else {
        DueBy::DayRound {
            round: held.round.id,
            date: held.date,
            days,
        }
    };
    (hold(zone, held.round, on).at, by)
}

fn due_by_hours(place: &Place, from: Timestamp, hours: u32) -> (Timestamp, DueBy) {
    let (zone, rounds) = (&place.zone, &place.rounds);
    let near = belongs(zone, rounds, from);
    let snaps = seconds_between(near.at, from).abs() <= SNAP_MIN * 60;
    let counted_from = if snaps { near.at } else { from };
    let limit = plus_minutes(counted_from, i64::from(hours) * 60);
    // Two hours over the limit, so that a clock change does not halve an interval.
    let latest = crate::civil::last_round(zone, rounds, plus_minutes(limit, SNAP_MIN));
    if latest.at > counted_from {
        (latest.at, DueBy::HourRound { counted_from, limit })
    } else {
        (limit, DueBy::HourLimit { counted_from })
    }
}

/// The occurrence that is next or due: the first one that no entry covers, or the last one that has come since,
/// which supersedes those before it.
fn occurrence(
    place: &Place,
    schedule: &Schedule,
    cadence: &Cadence,
    anchor: &Anchor,
    now: Timestamp,
) -> Option<civil::DateTime> {
    let first = first_uncovered(place, schedule, cadence, anchor)?;
    let come = schedule.last_come(place, now).filter(|one| *one > first);
    Some(come.unwrap_or(first))
}

/// The first occurrence that no entry covers. An entry covers the occurrence that is nearest to it (a tie: the
/// later).
pub(crate) fn first_uncovered(
    place: &Place,
    schedule: &Schedule,
    cadence: &Cadence,
    anchor: &Anchor,
) -> Option<civil::DateTime> {
    let zone = &place.zone;
    let from = zone.civil(anchor.from);
    let next = schedule.next(place, from)?;
    if anchor.seq == 0 {
        return Some(next);
    }
    let before = schedule
        .last(place, from)
        .filter(|one| zone.instant(*one) >= cadence.begun);
    let to_next = seconds_between(anchor.from, zone.instant(next));
    let covers_next = before.is_none_or(|one| to_next <= seconds_between(zone.instant(one), anchor.from));
    if covers_next {
        schedule.next(place, next)
    } else {
        Some(next)
    }
}

/// A turn that a stricter cadence made due before that cadence came into force falls due at the next round after
/// it did, unless it had been due already.
fn in_force(
    book: &Book,
    anchor: &Anchor,
    (duty, target): (Duty, Target),
    since: Timestamp,
    by_rule: (Timestamp, DueBy),
) -> (Timestamp, DueBy) {
    let before = second_before(since);
    let earlier = book.place_at(before);
    let Some(earlier) = standing(book, &earlier, duty, target, before) else {
        return by_rule;
    };
    let place = book.place_at(since);
    let next = next_round(&place.zone, &place.rounds, before).at;
    // What was done since then has moved the anchor: the turn that was due by then is not this one.
    let is_the_same = earlier.anchor.seq == anchor.seq;
    if is_the_same && earlier.due <= next {
        (earlier.due, earlier.due_by)
    } else {
        (next, DueBy::InForce { at: since })
    }
}

/// The quiet zone that holds back a duty of this target until its review date.
fn quiet_zone<'a>(place: &'a Place, cadence: &Cadence, duty: Duty, target: Target) -> Option<&'a QuietZone> {
    let disturbs = match duty {
        Duty::Own(id) => place.duties.get(&id).is_some_and(|(duty, _)| duty.disturbs),
        duty => duty.disturbs() && cadence.rule.is_some(),
    };
    place.enclosure_of(target)?.quiet.as_ref().filter(|_| disturbs)
}
