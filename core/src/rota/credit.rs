//! Who did how much, beside how much was theirs to do.
//!
//! Whenever a turn is done, its minutes are owed by all who share the work at that moment, in proportion to the shares
//! that they want: who is away owes nothing, and so neither gains nor falls behind. Whoever does the turn has done it.

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};

use super::able::shares_at;
use super::{Work, work};
use crate::care::Duty;
use crate::civil::{hold, plus_days};
use crate::journal::{Book, Done, DoneKind, Part, When};
use crate::people::Carer;
use crate::place::{CarerId, Place, Target};

/// How far back credits count, in days: eight weeks.
pub const CREDIT_DAYS: i64 = 56;

/// What someone did in a span of time, beside what was theirs to do.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Credit {
    /// Minutes of the turns that they did.
    pub did: f64,
    /// Minutes that were theirs to do.
    pub owed: f64,
}

impl Credit {
    /// Minutes done beyond what was owed; negative where less was done.
    #[must_use]
    pub fn balance(self) -> f64 {
        self.did - self.owed
    }
}

/// The people between two changes of anything about them.
pub(super) struct Crew {
    /// From when.
    pub(super) from: Timestamp,
    pub(super) people: BTreeMap<CarerId, Carer>,
}

/// The crews of a span of time, in order.
pub(super) fn crews(book: &Book, from: Timestamp, to: Timestamp) -> Vec<Crew> {
    let mut moments: Vec<Timestamp> = book
        .people_changes()
        .filter(|at| from < *at && *at <= to)
        .collect();
    moments.insert(0, from);
    moments.dedup();
    let crew = |at: Timestamp| Crew {
        from: at,
        people: book.people_at(at),
    };
    moments.into_iter().map(crew).collect()
}

/// The shares of those who share the work at a moment, as far as was known at another.
pub(super) fn shares(
    book: &Book,
    people: &BTreeMap<CarerId, Carer>,
    when: &When,
    known: Timestamp,
) -> Vec<(CarerId, f64)> {
    let there = people
        .values()
        .filter(|carer| shares_at(book, carer, when, known));
    there.map(|carer| (carer.id, carer.wants())).collect()
}

/// The rounds held in a span of time, in order.
pub(super) fn held(place: &Place, from: Timestamp, to: Timestamp) -> Vec<When> {
    let first = plus_days(place.zone.date(from), -1);
    let days = (to.as_second() - from.as_second()) / 86_400 + 3;
    let mut all: Vec<When> = (0..=days)
        .flat_map(|day| {
            place
                .rounds
                .iter()
                .map(move |round| (round, plus_days(first, day)))
        })
        .map(|(round, date)| When {
            at: hold(&place.zone, round, date).at,
            round: round.id,
            date,
        })
        .collect();
    all.sort_by_key(|when| when.at);
    all
}

/// The round held nearest to a moment.
pub(super) fn nearest(held: &[When], at: Timestamp) -> usize {
    let after = held.partition_point(|when| when.at < at).min(held.len() - 1);
    let before = after.saturating_sub(1);
    let far = |index: usize| (held[index].at.as_second() - at.as_second()).abs();
    if far(before) < far(after) { before } else { after }
}

/// The minutes that an entry took, in proportion to how much of the duty it did.
#[must_use]
pub fn minutes_of(done: &Done, work: &Work) -> f64 {
    match done.kind {
        DoneKind::NotNeeded { .. } => 0.0,
        DoneKind::Did(Part::Fraction(fraction)) => work.minutes * fraction,
        DoneKind::Did(Part::Steps(mask)) => {
            work.minutes * f64::from(mask.count_ones()) / f64::from(done.duty.steps())
        }
        DoneKind::Did(Part::Whole) | DoneKind::Read => work.minutes,
    }
}

/// Everything that was done in a span of time, its start not included, each with its minutes: what renews another duty
/// counts once, and readings that were taken at one moment are one.
pub fn done_in(book: &Book, place: &Place, from: Timestamp, to: Timestamp) -> Vec<(Done, Target, f64)> {
    let mut all = Vec::new();
    for (family, target) in book.cared_for() {
        let mut takes: BTreeMap<Duty, Work> = BTreeMap::new();
        let mut read = None;
        for done in book.done_since(family, target, from, to) {
            if done.duty.family() != family {
                continue;
            }
            if done.kind == DoneKind::Read && read.replace((done.at, done.by)) == Some((done.at, done.by)) {
                continue;
            }
            let work = takes
                .entry(done.duty)
                .or_insert_with(|| work(place, done.duty, target));
            all.push((*done, target, minutes_of(done, work)));
        }
    }
    all
}

/// What everyone did and owed from one moment, not included, to another, as far as is known then. Those who left are in
/// it too. The minutes are those that a turn takes as the place is at the end.
#[must_use]
pub fn credits(book: &Book, place: &Place, from: Timestamp, to: Timestamp) -> BTreeMap<CarerId, Credit> {
    let mut all: BTreeMap<CarerId, Credit> = BTreeMap::new();
    let crews = crews(book, from, to);
    let held = held(place, from, to);
    let mut known: BTreeMap<(usize, usize), Vec<(CarerId, f64)>> = BTreeMap::new();
    for (done, _, minutes) in done_in(book, place, from, to) {
        if minutes <= 0.0 {
            continue;
        }
        let others = book.together(done.seq);
        let doers = 1.0 + f64::from(u8::from(others.is_some()));
        for doer in [Some(done.by), others].into_iter().flatten() {
            all.entry(doer).or_default().did += minutes / doers;
        }
        let crew = crews.partition_point(|crew| crew.from <= done.at).max(1) - 1;
        let round = nearest(&held, done.at);
        let there = known
            .entry((crew, round))
            .or_insert_with(|| shares(book, &crews[crew].people, &held[round], to));
        let wants = |doer: &Carer| doer.wants() > 0.0;
        let alone = crews[crew].people.get(&done.by).filter(|doer| wants(doer));
        owe(&mut all, there, minutes, alone.map(|doer| doer.id));
    }
    all
}

/// Adds minutes to what is owed by those who are there; where nobody is, they are the doer's own, who may want no share.
fn owe(all: &mut BTreeMap<CarerId, Credit>, there: &[(CarerId, f64)], minutes: f64, doer: Option<CarerId>) {
    let sum: f64 = there.iter().map(|(_, share)| share).sum();
    if let Some(doer) = doer.filter(|_| sum <= 0.0) {
        all.entry(doer).or_default().owed += minutes;
    }
    for (carer, share) in there {
        all.entry(*carer).or_default().owed += minutes * share / sum;
    }
}

/// The start of the time for which credits count, up to a moment.
#[must_use]
pub fn credit_start(now: Timestamp) -> Timestamp {
    now.saturating_sub(SignedDuration::from_hours(CREDIT_DAYS * 24))
        .unwrap_or(Timestamp::MIN)
}
