//! Whose turn it is, on small places.

mod bounded;
mod dealt;
mod evened;
mod exchanged;
mod handed;
mod several;

use std::collections::BTreeMap;

use jiff::{Timestamp, civil};

use super::*;
use crate::care::{Duty, board};
use crate::civil::{Zone, plus_days, plus_minutes, seconds_between};
use crate::journal::{
    Absence, CarerChange, EnclosureChange, Entry, Part, PlaceChange, PoolChange, RoundChange, Say,
};
use crate::people::{Free, Skills, Weekdays};
use crate::place::{CarerId, EnclosureId, Life, PoolId, Role, RoundId, Target, Water};

/// A journal in the making.
pub(super) struct Script {
    zone: Zone,
    entries: Vec<Entry>,
}

impl Script {
    /// Three people, two enclosures with two pools each, two rounds; all since the year 2026.
    pub(super) fn place() -> Self {
        let mut script = Self {
            zone: Zone::get("Europe/Berlin").expect("a zone"),
            entries: Vec::new(),
        };
        let start = script.at(0, 0);
        let mut add = |event| script.add(start, 1, event);
        add(Event::Place(PlaceChange::Zone("Europe/Berlin".to_owned())));
        for (id, hour) in [(1, 8), (2, 19)] {
            let time = civil::time(hour, 0, 0, 0);
            let name = format!("round {id}");
            add(Event::Round(RoundId(id), RoundChange::Added { name, time }));
        }
        add(Event::Carer(CarerId(1), CarerChange::Added(Role::Keeper)));
        for id in 2..=3 {
            add(Event::Carer(CarerId(id), CarerChange::Added(Role::Regular)));
        }
        for id in 1..=2 {
            let name = format!("Enclosure {id}");
            let added = EnclosureChange::Added { name, litres: 400.0 };
            add(Event::Enclosure(EnclosureId(id), added));
            for (pool, water) in [(2 * id - 1, Water::Fresh), (2 * id, Water::Salt)] {
                let added = PoolChange::Added {
                    enclosure: EnclosureId(id),
                    water,
                    litres: 12.0,
                    life: Life::InUse,
                };
                add(Event::Pool(PoolId(pool), added));
            }
        }
        script
    }

    /// A moment: so many days after 1 March 2026, at an hour.
    pub(super) fn at(&self, day: i64, hour: i8) -> Timestamp {
        let date = plus_days(civil::date(2026, 3, 1), day);
        self.zone.instant(date.at(hour, 0, 0, 0))
    }

    pub(super) fn add(&mut self, at: Timestamp, by: u32, event: Event) {
        self.entries.push(Entry::at_once(
            self.entries.len() as u64 + 1,
            at,
            CarerId(by),
            event,
        ));
    }

    pub(super) fn book(&self) -> Book {
        Book::of(self.entries.iter().cloned())
    }

    pub(super) fn shared(&self, now: Timestamp) -> SharedOut {
        let book = self.book();
        let place = book.place_at(now);
        share_out(&book, &place, &board(&book, &place, now), now, HORIZON_DAYS)
    }

    /// Shares out and publishes.
    /// What a round makes of it.
    fn evened(&self, now: Timestamp) -> SharedOut {
        let book = self.book();
        let place = book.place_at(now);
        even_out(&book, &place, &board(&book, &place, now), now, HORIZON_DAYS)
    }

    fn share(&mut self, now: Timestamp) -> SharedOut {
        let shared = self.shared(now);
        self.add(now, 0, Event::Shared(shared.changes()));
        shared
    }
}

fn minutes(shared: &SharedOut) -> BTreeMap<Option<CarerId>, f64> {
    let mut all = BTreeMap::new();
    for turn in &shared.turns {
        *all.entry(turn.carer).or_insert(0.0) += turn.expected.work.minutes;
    }
    all
}

#[test]
fn a_change_takes_the_top_up_with_it_and_every_turn_has_a_slot_of_its_own() {
    let script = Script::place();
    let now = script.at(0, 7);
    let shared = script.shared(now);
    let mut slots: Vec<Slot> = shared.turns.iter().map(|turn| turn.expected.slot).collect();
    let count = slots.len();
    slots.sort();
    slots.dedup();
    assert_eq!(slots.len(), count, "a slot comes twice");
    let of = |duty: Duty, pool: u32| {
        let target = Target::Pool(PoolId(pool));
        let fits = |turn: &&Turn| turn.expected.slot.duty == duty && turn.expected.target == target;
        shared.turns.iter().filter(fits).count()
    };
    // A change every other day from the third on, and topping up on the days between.
    assert_eq!((of(Duty::Change, 1), of(Duty::TopUp, 1)), (6, 7));
}

#[test]
fn loads_are_even_and_follow_the_shares_that_people_want() {
    let mut script = Script::place();
    let even = minutes(&script.shared(script.at(0, 7)));
    assert!(jain(even.values().map(|load| (*load, 1.0))) > 0.98, "{even:?}");
    let start = script.at(0, 0);
    script.add(start, 3, Event::Carer(CarerId(3), CarerChange::Share(0.5)));
    let uneven = minutes(&script.shared(script.at(0, 7)));
    let share = |carer: &Option<CarerId>| if *carer == Some(CarerId(3)) { 0.5 } else { 1.0 };
    let index = jain(uneven.iter().map(|(carer, load)| (*load, share(carer))));
    assert!(index > 0.98, "{uneven:?}");
}

#[test]
fn nobody_gets_a_turn_who_is_away_lacks_a_skill_or_is_not_there() {
    let mut script = Script::place();
    let start = script.at(0, 0);
    let skills = Skills {
        siphon: true,
        salt: false,
        lift_kg: None,
    };
    script.add(start, 1, Event::Carer(CarerId(2), CarerChange::Skills(skills)));
    let evenings = Free {
        days: Weekdays::ALL,
        round: Some(RoundId(2)),
    };
    let free = CarerChange::Free(Some(vec![evenings]));
    script.add(start, 1, Event::Carer(CarerId(3), free));
    let (from, to) = (script.at(3, 0), script.at(6, 0));
    script.add(start, 1, Event::Away(Absence::Span { from, to }));
    let shared = script.shared(script.at(0, 7));
    for turn in &shared.turns {
        let at = turn.expected.when.at;
        match turn.carer {
            Some(CarerId(1)) => assert!(at < from || at >= to, "away: {turn:?}"),
            Some(CarerId(2)) => assert!(!turn.expected.work.needs.salt, "unskilled: {turn:?}"),
            Some(CarerId(3)) => assert_eq!(turn.expected.when.round, RoundId(2), "{turn:?}"),
            _ => {
                // Salt water of the mornings of the keeper's absence is nobody's.
                assert!(
                    (from..to).contains(&at) && turn.expected.work.needs.salt,
                    "{turn:?}"
                );
            }
        }
    }
    assert!(shared.turns.iter().any(|turn| turn.carer.is_none()));
}

#[test]
fn an_absence_moves_the_turns_of_the_one_who_is_away_and_no_other() {
    let mut script = Script::place();
    script.share(script.at(0, 7));
    let (from, to) = (script.at(2, 0), script.at(9, 0));
    let now = script.at(0, 9);
    script.add(now, 2, Event::Away(Absence::Span { from, to }));
    let after = script.shared(now);
    let moved: Vec<&Turn> = after.turns.iter().filter(|turn| turn.moves()).collect();
    assert!(!moved.is_empty());
    for turn in moved {
        assert_eq!(turn.was, Some(CarerId(2)));
        assert!((from..to).contains(&turn.expected.when.at));
        assert!(turn.carer.is_some_and(|carer| carer != CarerId(2)));
    }
    // Nothing is left to do once that is published.
    script.add(now, 0, Event::Shared(after.changes()));
    assert_eq!(script.shared(now).changes(), Vec::new());
}

#[test]
fn a_turn_keeps_its_owner_when_it_is_dated_anew() {
    let mut script = Script::place();
    let before = script.share(script.at(0, 7));
    let second = before
        .turns
        .iter()
        .filter(|turn| turn.expected.duty == Duty::Change && turn.expected.target == Target::Pool(PoolId(1)))
        .nth(1)
        .expect("a second change")
        .clone();
    // The first change is done a day late.
    let done = Event::Did(Duty::Change, Target::Pool(PoolId(1)), Part::Whole);
    script.add(script.at(3, 8), 1, done);
    let after = script.shared(script.at(3, 9));
    let same = after
        .turns
        .iter()
        .find(|turn| turn.expected.slot == second.expected.slot)
        .expect("the same turn");
    assert!(same.expected.due > second.expected.due);
    assert_eq!(same.carer, second.carer);
}

#[test]
fn an_offer_stands_until_it_is_declined_taken_or_lapses() {
    let check = |said: &[(i8, u32, Say)], hour: i8, carer: u32, offered: Option<u32>| {
        let mut script = Script::place();
        let shared = script.share(script.at(0, 7));
        let later = |turn: &&Turn| turn.expected.when.at > script.at(3, 0);
        let turn = shared.turns.iter().find(later).expect("a turn").clone();
        let slot = turn.expected.slot;
        // Whoever has it says what number 1 says here.
        let owner = turn.carer.expect("an owner").0;
        let who = |number: u32| if number == 1 { owner } else { owner % 3 + 1 };
        for (hour, by, say) in said {
            let say = match say {
                Say::Offered(to) => Say::Offered(CarerId(who(to.0))),
                other => *other,
            };
            script.add(script.at(0, *hour), who(*by), Event::Coming(slot, say));
        }
        let now = script.at(0, 0) + jiff::SignedDuration::from_hours(i64::from(hour));
        let hand = hand_of(&script.book(), &turn.expected, now);
        assert_eq!(hand.carer, Some(CarerId(who(carer))), "{said:?}");
        assert_eq!(
            hand.offered.map(|offer| offer.to),
            offered.map(|to| CarerId(who(to))),
            "{said:?}"
        );
    };
    let offer = (9, 1, Say::Offered(CarerId(2)));
    check(&[offer], 10, 1, Some(2));
    check(&[offer], 9 + 24, 1, None);
    check(&[offer, (11, 2, Say::Declined)], 12, 1, None);
    check(&[offer, (11, 2, Say::Taken)], 12, 2, None);
}

#[test]
fn an_offer_of_what_is_late_leaves_room_before_the_hazard() {
    let script = Script::place();
    let offered = script.at(0, 8);
    let check = |due_h: i64, hazard_h: Option<i64>, stands_h: f64| {
        let at = |hours| plus_minutes(offered, hours * 60);
        let limits = Limits {
            due: at(due_h),
            hazard: hazard_h.map(at),
        };
        let stands = seconds_between(offered, lapses(offered, limits));
        assert_eq!(
            stands as f64 / 3600.0,
            stands_h,
            "due {due_h}, hazard {hazard_h:?}"
        );
    };
    check(40, Some(60), 24.0);
    check(5, Some(6), 5.0);
    check(-5, None, 24.0);
    check(-5, Some(60), 24.0);
    check(-5, Some(30), 15.0);
    check(-5, Some(1), 0.5);
    check(-50, Some(-1), 1.0);
}

#[test]
fn an_absence_is_neither_a_debt_nor_a_gain() {
    let mut script = Script::place();
    let start = script.at(0, 0);
    let (from, to) = (start, script.at(10, 0));
    script.add(start, 3, Event::Away(Absence::Span { from, to }));
    for day in 0..10 {
        let doer = u32::try_from(day % 2).expect("small") + 1;
        let done = Event::Did(Duty::TopUp, Target::Pool(PoolId(1)), Part::Whole);
        script.add(script.at(day, 8), doer, done);
    }
    let (book, now) = (script.book(), script.at(10, 0));
    let credits = credits(&book, &book.place_at(now), start, now);
    assert_eq!(credits.get(&CarerId(3)), None);
    let balance: f64 = credits.values().map(|credit| credit.balance()).sum();
    assert!(balance.abs() < 1e-9);
    assert_eq!(credits[&CarerId(1)].did, 5.0 * duty_minutes(Duty::TopUp));
    assert!(credits[&CarerId(1)].balance().abs() < 1e-9);
}
