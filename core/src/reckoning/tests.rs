//! A reckoning, on a small place whose figures can be added up by hand.

use jiff::{Timestamp, civil};

use super::*;
use crate::care::{Duty, OwnDuty, Schedule, board};
use crate::civil::Zone;
use crate::journal::{CarerChange, Entry, Event, OwnDutyChange, Part, PlaceChange, PoolChange, RoundChange};
use crate::place::{EnclosureId, Life, OwnDutyId, PoolId, Role, RoundId, Target, Water};
use crate::rota::{Gap, HORIZON_DAYS, Slot, Which, share_out};

const SALT: Target = Target::Pool(PoolId(1));

/// Two people and one still pool, which is changed every second day in the morning; all since 1 March 2026.
struct Script {
    zone: Zone,
    book: Book,
}

impl Script {
    fn new() -> Self {
        let zone = Zone::get("Europe/Berlin").expect("a zone");
        let mut script = Self {
            zone,
            book: Book::of([]),
        };
        let time = civil::time(8, 0, 0, 0);
        let name = "morning".to_owned();
        let events = [
            Event::Place(PlaceChange::Zone("Europe/Berlin".to_owned())),
            Event::Round(RoundId(1), RoundChange::Added { name, time }),
            Event::Carer(CarerId(1), CarerChange::Added(Role::Keeper)),
            Event::Carer(CarerId(2), CarerChange::Added(Role::Regular)),
            Event::Enclosure(
                EnclosureId(1),
                crate::journal::EnclosureChange::Added {
                    name: "North".to_owned(),
                    litres: 400.0,
                },
            ),
            Event::Pool(
                PoolId(1),
                PoolChange::Added {
                    enclosure: EnclosureId(1),
                    water: Water::Salt,
                    litres: 12.0,
                    life: Life::InUse,
                },
            ),
        ];
        for event in events {
            script.add((1, 8, 0), 1, event);
        }
        script
    }

    fn at(&self, (day, hour, minute): (i8, i8, i8)) -> Timestamp {
        self.zone
            .instant(civil::date(2026, 3, day).at(hour, minute, 0, 0))
    }

    fn add(&mut self, at: (i8, i8, i8), by: u32, event: Event) {
        let (at, by) = (self.at(at), CarerId(by));
        let seq = self.book.last_seq() + 1;
        self.book.insert(Entry::at_once(seq, at, by, event));
    }

    /// The change of the pool that is next at a moment lies with someone, or with nobody.
    fn lies(&mut self, at: (i8, i8, i8), carer: Option<u32>) {
        let now = self.at(at);
        let place = self.book.place_at(now);
        let all = board(&self.book, &place, now);
        let change = all
            .iter()
            .find(|one| one.turn.duty == Duty::Change)
            .expect("a change");
        let slot = Slot::of(&self.book, &self.zone, change, now);
        self.add(at, 0, Event::Shared(vec![(slot, carer.map(CarerId))]));
    }

    /// Turns are shared out, as the house does it.
    fn shared_out(&mut self, at: (i8, i8, i8)) {
        let now = self.at(at);
        let place = self.book.place_at(now);
        let all = board(&self.book, &place, now);
        let shared = share_out(&self.book, &place, &all, now, HORIZON_DAYS);
        self.add(at, 0, Event::Shared(shared.changes()));
    }

    fn changed(&mut self, at: (i8, i8, i8), by: u32) {
        self.add(at, by, Event::Did(Duty::Change, SALT, Part::Whole));
    }

    fn reckoned(&self, from: i8, to: i8) -> Reckoning {
        reckon(&self.book, self.at((from, 0, 0)), self.at((to, 0, 0)), 1_000)
    }
}

/// Changes on 3, 5, 7 and 9 March. The first is done in time by the one who has it, the second late by the other one,
/// the third nobody has and one of them does it in time, the fourth in time again.
fn lived() -> Script {
    let mut script = Script::new();
    script.lies((2, 8, 0), Some(1));
    script.changed((3, 9, 0), 1);
    script.lies((3, 9, 30), Some(2));
    script.changed((5, 21, 0), 1);
    script.lies((5, 21, 30), None);
    script.changed((7, 9, 0), 2);
    script.lies((7, 9, 30), Some(2));
    script.changed((9, 8, 30), 2);
    script
}

#[test]
fn a_late_turn_is_of_whoever_had_it_and_its_minutes_of_whoever_did_it() {
    let reckoned = lived().reckoned(2, 10);
    let of = |carer: u32| reckoned.people[&CarerId(carer)];
    let one = of(1).did / 2.0;
    assert!(one > 10.0, "{one}");
    assert!((of(2).did - 2.0 * one).abs() < 1e-9, "{:?}", reckoned.people);
    for carer in [1, 2] {
        assert!((of(carer).owed - 2.0 * one).abs() < 1e-9, "{:?}", of(carer));
        assert_eq!(of(carer).load(), Some(1.0));
        assert_eq!(of(carer).wants, Some(1.0));
    }
    assert_eq!(of(1).turns, Turns { all: 1, late: 0 });
    assert_eq!(of(2).turns, Turns { all: 3, late: 1 });
    assert_eq!(of(2).turns.late_share(), Some(1.0 / 3.0));
    assert_eq!((reckoned.unowned, reckoned.hazards), (1, 0));
}

#[test]
fn evenness_is_that_of_the_days_asked_for() {
    let script = lived();
    assert!((script.reckoned(2, 10).whole.jain - 1.0).abs() < 1e-9);
    // The first two changes alone are all of one person.
    let first = script.reckoned(2, 6);
    assert!((first.whole.jain - 0.5).abs() < 1e-9, "{:?}", first.whole);
    assert!((first.whole.bound.most - 1.0).abs() < 1e-3, "{:?}", first.whole);
    assert_eq!(first.people[&CarerId(2)].did, 0.0);
    assert!(first.last.is_none());
    let long = script.reckoned(2, 31);
    let last = long.last.expect("more than four weeks");
    assert_eq!(last.from, script.at((3, 0, 0)));
}

#[test]
fn what_stays_open_past_its_grace_is_late_and_may_be_a_hazard() {
    let mut script = lived();
    script.lies((9, 9, 0), Some(1));
    // Due on 11 March, late that evening, a hazard four days after it was done last.
    let late = script.reckoned(2, 12);
    assert_eq!(late.people[&CarerId(1)].turns, Turns { all: 2, late: 1 });
    assert_eq!(late.hazards, 0);
    let hazard = script.reckoned(2, 15);
    assert_eq!(hazard.people[&CarerId(1)].turns, Turns { all: 2, late: 1 });
    assert!(hazard.hazards >= 1, "{hazard:?}");
}

#[test]
fn sharings_out_are_tried_on_the_journal_as_it_was_before_them() {
    let mut script = Script::new();
    for day in 2..=8 {
        script.shared_out((day, 8, 0));
        if day % 2 == 1 {
            script.changed((day, 9, 0), 1);
        }
    }
    // The first one deals two weeks at once, which nobody can try; each after it one more day.
    let gaps = script.reckoned(2, 9).gaps;
    assert_eq!(gaps.shared, 7);
    assert_eq!(gaps.tried.len(), 6, "{gaps:?}");
    assert!(
        gaps.tried.iter().all(|gap| (2..=1_000).contains(&gap.tried)),
        "{gaps:?}"
    );
    let over = || {
        gaps.tried
            .iter()
            .map(|gap| gap.over().expect("all have somebody"))
    };
    assert!(over().all(|over| over > -1e-9), "{gaps:?}");
    assert_eq!(gaps.best(), over().filter(|over| *over < 1e-6).count());
    assert_eq!(script.reckoned(4, 9).gaps.shared, 5);
}

#[test]
fn what_was_worse_than_the_best_is_told_without_the_rest() {
    let gap = |dealt: f64, best: f64, left: usize| Gap {
        dealt,
        best,
        left,
        left_best: 0,
        turns: 2,
        tried: 4,
    };
    let gaps = Gaps {
        shared: 5,
        tried: vec![
            gap(5.0, 3.0, 0),
            gap(2.0, 2.0, 0),
            gap(2.0 - 1e-9, 2.0, 0),
            gap(9.0, 3.0, 1),
            gap(4.0, 3.0, 0),
        ],
    };
    assert_eq!(gaps.worse().collect::<Vec<_>>(), [2.0, 1.0]);
    assert_eq!((gaps.best(), gaps.leaving_more()), (2, 1));
}

#[test]
fn what_was_never_done_because_the_next_one_came_is_late() {
    let mut script = Script::new();
    let own = OwnDuty {
        name: "feed".to_owned(),
        target: Target::Enclosure(EnclosureId(1)),
        schedule: Schedule::Weekdays {
            days: (1..=7).collect(),
            at: Some(civil::time(10, 0, 0, 0)),
        },
        grace_h: 6,
        disturbs: false,
    };
    let (id, target) = (OwnDutyId(1), own.target);
    script.add((1, 8, 0), 1, Event::OwnDuty(id, OwnDutyChange::Added(own)));
    let slot = |day: i8| Slot {
        duty: Duty::Own(id),
        target,
        which: Which::On(civil::date(2026, 3, day).at(10, 0, 0, 0)),
    };
    for (day, carer) in [(2, 1), (3, 2), (4, 2), (5, 1), (6, 1)] {
        script.add(
            (1, 9, 0),
            0,
            Event::Shared(vec![(slot(day), Some(CarerId(carer)))]),
        );
    }
    script.add((1, 9, 0), 0, Event::Shared(vec![(slot(7), None)]));
    // In time on 2 March, late on the 5th, not on the 3rd, the 4th, nor from the 6th on.
    script.add((2, 11, 0), 1, Event::Did(Duty::Own(id), target, Part::Whole));
    script.add((5, 18, 0), 1, Event::Did(Duty::Own(id), target, Part::Whole));
    let reckoned = script.reckoned(2, 6);
    let of = |reckoned: &Reckoning, carer: u32| reckoned.people[&CarerId(carer)].turns;
    assert_eq!(of(&reckoned, 1), Turns { all: 2, late: 1 });
    assert_eq!(of(&reckoned, 2), Turns { all: 2, late: 2 });
    assert_eq!(reckoned.unowned, 0);
    // Each in the span in which the next one came.
    assert_eq!(of(&script.reckoned(2, 4), 1), Turns { all: 1, late: 0 });
    assert_eq!(of(&script.reckoned(5, 6), 2), Turns { all: 1, late: 1 });
    // The one of the 6th is superseded, the one of the 7th nobody had.
    let after = script.reckoned(6, 9);
    assert_eq!(of(&after, 1), Turns { all: 1, late: 1 });
    assert_eq!(after.unowned, 1);
}
