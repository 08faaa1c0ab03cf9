//! What a duty counts from: the last entry that renewed it, moved by parts.

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};

use super::cadence::fraction_asked;
use super::{Cadence, Duty, catalogue::part_fraction};
use crate::journal::{Book, Done, DoneKind, Part, Seq};
use crate::place::{Place, Target};

/// From this share on a part counts as the whole.
pub const WHOLE_FROM: f64 = 0.9;

/// A part that moved the anchor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartStep {
    /// The entry.
    pub done: Done,
    /// The share of the duty that was done, over 0 and under [`WHOLE_FROM`].
    pub share: f64,
    /// Where the anchor lay before.
    pub before: Timestamp,
    /// Where it lies after.
    pub after: Timestamp,
}

/// What a duty counts from.
#[derive(Clone, Debug, PartialEq)]
pub struct Anchor {
    /// What due counts from.
    pub from: Timestamp,
    /// What the hazard limit counts from; a turn that was not needed does not move it.
    pub hazard_from: Timestamp,
    /// The last entry that did some of it.
    pub last: Option<Done>,
    /// The entry that the next turn counts from; 0 when there is none.
    pub seq: Seq,
    /// The entry that closed the last turn as not needed, if nothing was done since.
    pub not_needed: Option<Done>,
    /// Parts since the last whole one, in order.
    pub parts: Vec<PartStep>,
}

/// The anchor of a duty up to and with a moment.
#[must_use]
pub fn anchor(
    book: &Book,
    place: &Place,
    cadence: &Cadence,
    duty: Duty,
    target: Target,
    now: Timestamp,
) -> Anchor {
    let mut fold = Fold {
        book,
        target,
        duty: duty.family(),
        steps: BTreeMap::new(),
    };
    let floor = match target {
        Target::Pool(id) => place
            .pools
            .get(&id)
            .filter(|pool| pool.returned)
            .map(|pool| pool.since),
        _ => None,
    };
    let after_floor = |done: &&Done| floor.is_none_or(|floor| done.at >= floor);
    // Only entries since the last whole one matter: look back to it, then go forwards.
    let mut since_whole: Vec<&Done> = Vec::new();
    for done in book.done_until(duty, target, now).rev().take_while(after_floor) {
        since_whole.push(done);
        if fold.is_whole(done) {
            break;
        }
    }
    let mut anchor = Anchor {
        from: cadence.begun,
        hazard_from: cadence.begun,
        last: None,
        seq: 0,
        not_needed: None,
        parts: Vec::new(),
    };
    for done in since_whole.into_iter().rev() {
        fold.step(&mut anchor, done);
    }
    anchor
}

/// How much of a duty an entry did, in proportion to what the duty asked for; 1 is the whole.
#[must_use]
pub fn share(book: &Book, duty: Duty, target: Target, done: &Done) -> f64 {
    Fold {
        book,
        target,
        duty: duty.family(),
        steps: BTreeMap::new(),
    }
    .share(done)
}

struct Fold<'a> {
    book: &'a Book,
    target: Target,
    duty: Duty,
    /// The steps done since the last whole one, by the duty whose steps they are.
    steps: BTreeMap<Duty, u32>,
}

impl Fold<'_> {
    fn is_whole(&self, done: &Done) -> bool {
        match done.kind {
            DoneKind::Read => true,
            DoneKind::NotNeeded { .. } | DoneKind::Did(Part::Steps(_)) => false,
            DoneKind::Did(_) => self.share(done) >= WHOLE_FROM,
        }
    }

    fn share(&self, done: &Done) -> f64 {
        let DoneKind::Did(part) = done.kind else {
            return 1.0;
        };
        let fraction = match part {
            Part::Steps(mask) => return self.share_of_steps(mask, done.duty),
            Part::Fraction(fraction) => fraction,
            Part::Whole if done.duty == Duty::PartChange => return self.share_of_part_change(done.at),
            Part::Whole => return 1.0,
        };
        match self.duty {
            Duty::Change => match self.target {
                Target::Pool(id) => {
                    let asked = self
                        .book
                        .pool_at(id, done.at)
                        .map_or(1.0, |pool| fraction_asked(self.book, &pool, done.at));
                    (fraction / asked).min(1.0)
                }
                _ => fraction,
            },
            // Whatever share of the water was changed, the pool is filled to its line again afterwards.
            Duty::TopUp if done.duty.family() == Duty::Change => 1.0,
            // A test or a dose is renewed by the share of the water that is new.
            _ => fraction,
        }
    }

    /// A part change told without its fraction is one of the duty's own fraction.
    fn share_of_part_change(&self, at: Timestamp) -> f64 {
        match (self.duty, self.target) {
            (Duty::Condition, Target::Pool(id)) => self
                .book
                .pool_at(id, at)
                .map_or(1.0, |pool| part_fraction(pool.litres)),
            _ => 1.0,
        }
    }

    /// The share of the work still open that these steps do, beside those done since the last whole one.
    fn share_of_steps(&self, mask: u32, duty: Duty) -> f64 {
        let all = duty.steps();
        let count = |mask: u32| f64::from((mask & ((1 << all) - 1)).count_ones()) / f64::from(all);
        let done = self.steps.get(&duty).copied().unwrap_or(0);
        let (before, after) = (count(done), count(done | mask));
        if before >= 1.0 {
            0.0
        } else {
            (after - before) / (1.0 - before)
        }
    }

    fn step(&mut self, anchor: &mut Anchor, done: &Done) {
        anchor.seq = done.seq;
        if let DoneKind::NotNeeded { keeper } = done.kind {
            anchor.from = done.at;
            if keeper {
                anchor.hazard_from = done.at;
            }
            anchor.not_needed = Some(*done);
            return;
        }
        let share = self.share(done);
        if let DoneKind::Did(Part::Steps(mask)) = done.kind {
            *self.steps.entry(done.duty).or_default() |= mask;
        }
        anchor.last = Some(*done);
        anchor.not_needed = None;
        if share >= WHOLE_FROM {
            (anchor.from, anchor.hazard_from) = (done.at, done.at);
            anchor.parts.clear();
            self.steps.clear();
            return;
        }
        let before = anchor.from;
        anchor.from = moved(before, done.at, share);
        anchor.hazard_from = moved(anchor.hazard_from, done.at, share);
        anchor.parts.push(PartStep {
            done: *done,
            share,
            before,
            after: anchor.from,
        });
    }
}

/// The instant a share of the way from one to another, to the second; never backwards.
fn moved(from: Timestamp, to: Timestamp, share: f64) -> Timestamp {
    if to <= from {
        return from;
    }
    let way = (to.as_second() - from.as_second()) as f64 * share;
    from.saturating_add(SignedDuration::from_secs(way.round() as i64))
        .unwrap_or(to)
}
