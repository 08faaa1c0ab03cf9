//! The journal replayed: turns fall due by the other keeping, and are done as this place does them.
//!
//! Each duty is a lane. While a lane stands alike in both journals, what was done in it stays. From the first moment at which
//! it does not, its own deeds are left out, and turns are done by habit: so long after they fall due, by whoever is
//! furthest behind their share. What another due turn renews is left to that turn, as in a round call.

use std::collections::{BTreeMap, BTreeSet};

use jiff::{SignedDuration, Timestamp};

use super::Plan;
use super::habit::Habit;
use super::moments::{of_all, renewed};
use super::other::{copy, entry};
use crate::care::board::is_folded;
use crate::care::{Duty, Standing, standing};
use crate::civil::seconds_between;
use crate::journal::{Book, DoneKind, Entry, Event, Part, Seq};
use crate::place::{CarerId, Place, Target};
use crate::quantity::Kind;

/// One duty of one target.
struct Lane {
    duty: Duty,
    target: Target,
    /// Whether it has stood alike in both journals so far.
    in_step: bool,
    /// When its next turn is done, once it is out of step.
    planned: Option<Timestamp>,
    habit: Option<Habit>,
    given: BTreeMap<CarerId, i64>,
}

/// What happens at one moment of the journal.
#[derive(Default)]
struct Moment {
    /// Deeds by lane, with what was told of them.
    deeds: Vec<(usize, Vec<Entry>)>,
    /// Whether every lane is looked at.
    all: bool,
}

struct Replay<'a> {
    was: &'a Book,
    would: Book,
    plan: &'a Plan,
    lanes: Vec<Lane>,
    next: Seq,
}

/// Replays a journal. `stays` is the journal under the other keeping with every deed as it was.
pub(super) fn replay(was: &Book, stays: &Book, plan: &Plan, lanes: &[(Duty, Target)]) -> Book {
    let mut moments: BTreeMap<Timestamp, Moment> = BTreeMap::new();
    for at in of_all(was, plan).into_iter().chain(of_all(stays, plan)) {
        moments.entry(at).or_default().all = true;
    }
    let mut left_out = BTreeSet::new();
    for (at, lane) in (0..).zip(lanes) {
        for seq in own_deeds(was, plan, *lane) {
            let told = with_amount(was, seq);
            left_out.extend(told.iter().map(|entry| entry.seq));
            let moment = moments.entry(told[0].at).or_default();
            moment.deeds.push((at, told));
        }
    }
    let before = stays.entries().filter(|entry| !left_out.contains(&entry.seq));
    let lane = |(duty, target): &(Duty, Target)| Lane {
        duty: *duty,
        target: *target,
        in_step: true,
        planned: None,
        habit: None,
        given: BTreeMap::new(),
    };
    let mut replay = Replay {
        was,
        would: copy(stays, before.cloned()),
        plan,
        lanes: lanes.iter().map(lane).collect(),
        next: stays.last_seq().max(was.last_seq()) + 1,
    };
    replay.run(moments);
    replay.would
}

/// The entries of a duty's own deeds in the span, the ones not needed included.
fn own_deeds(book: &Book, plan: &Plan, lane: (Duty, Target)) -> Vec<Seq> {
    let own = renewed(book, plan, lane)
        .filter(|done| done.duty.family() == lane.0 || matches!(done.kind, DoneKind::NotNeeded { .. }));
    own.map(|done| done.seq).collect()
}

/// An entry, and behind it what was told of its amount.
fn with_amount(book: &Book, seq: Seq) -> Vec<Entry> {
    let is_amount =
        |entry: &&Entry| matches!(entry.event, Event::Amount(_) | Event::Drew(..) | Event::Dosed(_));
    let behind = book.entry(seq + 1).filter(is_amount);
    book.entry(seq).into_iter().chain(behind).cloned().collect()
}

impl Replay<'_> {
    fn run(&mut self, mut moments: BTreeMap<Timestamp, Moment>) {
        loop {
            let planned = (0..)
                .zip(&self.lanes)
                .filter_map(|(at, lane)| Some((lane.planned?, at)))
                .min();
            let told = moments.first_key_value().map(|(at, _)| *at);
            match (planned, told) {
                (Some((at, lane)), told) if told.is_none_or(|told| at < told) => self.fire(lane, at),
                (_, Some(at)) => {
                    let moment = moments.remove(&at).unwrap_or_default();
                    self.take(moment, at);
                }
                (_, None) => break,
            }
        }
    }

    /// What the journal tells of a moment.
    fn take(&mut self, moment: Moment, at: Timestamp) {
        let mut touched = BTreeSet::new();
        for (lane, entries) in moment.deeds {
            touched.insert(self.lanes[lane].target);
            if self.lanes[lane].in_step {
                entries.into_iter().for_each(|entry| self.would.insert(entry));
            }
        }
        self.look(at, |target| moment.all || touched.contains(&target));
    }

    /// Looks at the lanes of some targets: whether they are still in step, and when they are done if not.
    fn look(&mut self, at: Timestamp, is_meant: impl Fn(Target) -> bool) {
        let (was, would) = (self.was.place_at(at), self.would.place_at(at));
        for lane in 0..self.lanes.len() {
            let (duty, target) = (self.lanes[lane].duty, self.lanes[lane].target);
            if !is_meant(target) {
                continue;
            }
            let found = standing(&self.would, &would, duty, target, at);
            if self.lanes[lane].in_step {
                let real = standing(self.was, &was, duty, target, at);
                self.lanes[lane].in_step = is_alike(real.as_ref(), found.as_ref());
            }
            if !self.lanes[lane].in_step {
                self.lanes[lane].planned = found.and_then(|found| self.when(lane, &found, at));
            }
        }
    }

    /// When a turn is done: so long after it falls due as the journal's own turns were. One that was done before it was
    /// due is no more than half an interval early.
    fn when(&mut self, lane: usize, turn: &Standing, at: Timestamp) -> Option<Timestamp> {
        let (due, from) = (turn.due, turn.anchor.from);
        if due == Timestamp::MAX {
            return None;
        }
        let given: i64 = self.lanes[lane].given.values().sum();
        let delay = self.habit(lane).delay(usize::try_from(given).unwrap_or_default());
        let moved = |from: Timestamp, seconds: i64| {
            from.saturating_add(SignedDuration::from_secs(seconds))
                .unwrap_or(Timestamp::MAX)
        };
        let earliest = moved(from, (seconds_between(from, due) / 2).max(1));
        let planned = moved(due, delay).max(earliest).max(at);
        (planned <= self.plan.to).then_some(planned)
    }

    /// The habit of a lane: its own, else that of its target, else that of all.
    fn habit(&mut self, lane: usize) -> &Habit {
        if self.lanes[lane].habit.is_none() {
            let of = |one: &Lane| Habit::of(self.was, self.plan, (one.duty, one.target));
            let mut habit = of(&self.lanes[lane]);
            let target = self.lanes[lane].target;
            if habit.is_empty() {
                let near: Vec<Habit> = self
                    .lanes
                    .iter()
                    .filter(|one| one.target == target)
                    .map(of)
                    .collect();
                habit = Habit::like(near.iter());
            }
            if habit.is_empty() {
                let all: Vec<Habit> = self.lanes.iter().map(of).collect();
                habit = Habit::like(all.iter());
            }
            self.lanes[lane].habit = Some(habit);
        }
        self.lanes[lane].habit.get_or_insert_default()
    }

    /// A turn is done, unless another one that is due renews it.
    fn fire(&mut self, lane: usize, at: Timestamp) {
        self.lanes[lane].planned = None;
        let place = self.would.place_at(at);
        let target = self.lanes[lane].target;
        let of_target = self.lanes.iter().filter(|one| one.target == target);
        let board: Vec<Standing> = of_target
            .filter_map(|one| standing(&self.would, &place, one.duty, one.target, at))
            .collect();
        let duty = self.lanes[lane].duty;
        let Some(turn) = board.iter().find(|turn| turn.turn.duty == duty) else {
            return;
        };
        if is_folded(&board, turn) {
            return;
        }
        let who = self.who(lane, &place);
        for event in self.deed(lane, turn.duty(), at) {
            self.would.insert(entry(self.next, at, who, event));
            self.next += 1;
        }
        *self.lanes[lane].given.entry(who).or_insert(0) += 1;
        self.look(at, |one| one == target);
    }

    fn who(&mut self, lane: usize, place: &Place) -> CarerId {
        let given = self.lanes[lane].given.clone();
        let doer = self.habit(lane).doer(&given);
        doer.or_else(|| place.keepers().next()).unwrap_or(CarerId(0))
    }

    /// What is logged of a turn: the duty whole; where readings do it, what was last read before.
    fn deed(&mut self, lane: usize, duty: Duty, at: Timestamp) -> Vec<Event> {
        let target = self.lanes[lane].target;
        let kinds: &[Kind] = match duty {
            Duty::Test => &[Kind::Ammonia, Kind::Nitrite, Kind::Nitrate],
            Duty::Reading => &[Kind::Humidity, Kind::Temperature],
            _ => &[],
        };
        let by_reading = self.habit(lane).by_reading;
        let read = kinds
            .iter()
            .filter(|_| by_reading)
            .filter_map(|kind| self.was.last_reading(target, *kind, at))
            .map(|(_, _, measured)| Event::Read(target, measured));
        let read: Vec<Event> = read.collect();
        if read.is_empty() {
            vec![Event::Did(duty, target, Part::Whole)]
        } else {
            read
        }
    }
}

/// Whether a duty stands alike in two journals: what was done in it then belongs to both.
fn is_alike(one: Option<&Standing>, other: Option<&Standing>) -> bool {
    let told = |turn: &Standing| {
        (
            (turn.due, turn.overdue, turn.hazard),
            (turn.anchor.from, turn.anchor.hazard_from),
            (turn.duty(), turn.held.is_some()),
        )
    };
    one.map(told) == other.map(told)
}
