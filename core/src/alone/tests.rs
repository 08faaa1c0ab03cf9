//! Places left alone whose answers can be told by hand.

use jiff::{Timestamp, civil};

use super::*;
use crate::care::Numbers;
use crate::civil::Zone;
use crate::journal::{EnclosureChange, Entry, Event, GearChange, Part, PlaceChange, PoolChange, RoundChange};
use crate::particulars::GearFact;
use crate::place::{CarerId, EnclosureId, Gear, Life, QuietZone, RoundId, Water};
use crate::pool::shape::Shape;
use crate::quantity::Centimetres;

/// A journal in the making; everything in it is set up at the start of 2026.
pub(super) struct Told {
    pub(super) zone: Zone,
    entries: Vec<Entry>,
    start: Timestamp,
}

pub(super) const FRESH: PoolId = PoolId(1);
pub(super) const SALT: PoolId = PoolId(2);

impl Told {
    /// A place with these rounds and so many enclosures, without pools.
    pub(super) fn new(zone: &str, rounds: &[&str], enclosures: u32) -> Self {
        let zone = Zone::get(zone).unwrap();
        let start = zone.day_start(civil::date(2026, 1, 1));
        let mut told = Self {
            zone,
            entries: Vec::new(),
            start,
        };
        told.sets(Event::Place(PlaceChange::Zone(told.zone.name().to_owned())));
        for (number, time) in (1..).zip(rounds) {
            let time = format!("{time}:00").parse().unwrap();
            let name = (*time_name(number)).to_owned();
            told.sets(Event::Round(RoundId(number), RoundChange::Added { name, time }));
        }
        for number in 1..=enclosures {
            let name = format!("E{number}");
            told.sets(Event::Enclosure(
                EnclosureId(number),
                EnclosureChange::Added { name, litres: 300.0 },
            ));
        }
        told
    }

    /// The instant of a local time of 2026, such as `03-08 08:00`.
    pub(super) fn at(&self, local: &str) -> Timestamp {
        let text = format!("2026-{local}");
        self.zone
            .instant(civil::DateTime::strptime("%Y-%m-%d %H:%M", text).unwrap())
    }

    pub(super) fn add(&mut self, at: Timestamp, event: Event) {
        self.entries.push(Entry::at_once(
            self.entries.len() as u64 + 1,
            at,
            CarerId(1),
            event,
        ));
    }

    pub(super) fn sets(&mut self, event: Event) {
        self.add(self.start, event);
    }

    pub(super) fn pool(&mut self, pool: PoolId, enclosure: u32, water: Water, litres: f64, life: Life) {
        let enclosure = EnclosureId(enclosure);
        let added = PoolChange::Added {
            enclosure,
            water,
            litres,
            life,
        };
        self.sets(Event::Pool(pool, added));
    }

    pub(super) fn did(&mut self, local: &str, duty: Duty, pool: PoolId) {
        let at = self.at(local);
        self.add(at, Event::Did(duty, Target::Pool(pool), Part::Whole));
    }

    pub(super) fn book(&self) -> Book {
        Book::of(self.entries.iter().cloned())
    }

    /// The answer to being away from one local time to another, asked on 7 March at noon.
    fn alone(&self, leave: &str, back: &str) -> Alone {
        let span = Span {
            leave: self.at(leave),
            back: self.at(back),
        };
        alone(&self.book(), self.at("03-07 12:00"), span)
    }

    pub(super) fn local(&self, at: Timestamp) -> String {
        self.zone.civil(at).strftime("%m-%d %H:%M").to_string()
    }

    fn visits(&self, found: &Alone) -> Vec<String> {
        found
            .visits
            .visits
            .iter()
            .map(|visit| self.local(visit.at))
            .collect()
    }
}

fn time_name(number: u32) -> &'static str {
    ["morning", "noon", "evening"][(number as usize - 1) % 3]
}

/// One enclosure with a still fresh pool, last changed on 6 March at 08:00.
fn still() -> Told {
    let mut told = Told::new("Europe/London", &["08:00", "19:30"], 1);
    told.pool(FRESH, 1, Water::Fresh, 8.0, Life::InUse);
    told.did("03-06 08:00", Duty::Change, FRESH);
    told
}

#[test]
fn a_still_pool_fails_four_days_after_it_was_changed_before_leaving() {
    let told = still();
    let found = told.alone("03-07 20:00", "03-16 20:00");
    let duties: Vec<Duty> = found.before.iter().map(|turn| turn.duty).collect();
    // The change conditions the water and tops it up.
    assert_eq!(duties, [Duty::Look, Duty::Change, Duty::Scrub, Duty::Reading]);
    assert_eq!(found.before[1].litres, Some(8.0));
    let first = found.failures[0];
    assert_eq!((first.duty, first.cause), (Duty::Change, Cause::Cadence));
    assert_eq!(told.local(first.at), "03-11 20:00");
    // Left as it stands, it counts from the last change.
    assert_eq!(told.local(found.as_it_stands[0].at), "03-10 08:00");
    // The latest rounds before 08:00 of the fourth day; then from 08:00 and from 19:30 again.
    assert_eq!(told.visits(&found), ["03-11 08:00", "03-14 19:30"]);
    assert_eq!(found.visits.times, Times::Rounds);
    assert!(found.visits.gaps.is_empty());
}

#[test]
fn nothing_fails_in_a_day() {
    let told = still();
    let found = told.alone("03-07 20:00", "03-08 20:00");
    assert_eq!(told.local(found.failures[0].at), "03-11 20:00");
    assert_eq!(found.failures.len(), 1);
    assert!(found.visits.visits.is_empty());
}

#[test]
fn the_return_keeps_the_margin_too() {
    let told = still();
    // The limit is at 20:00 on 11 March.
    assert!(told.alone("03-07 20:00", "03-11 08:00").visits.visits.is_empty());
    let found = told.alone("03-07 20:00", "03-11 08:01");
    assert_eq!(told.visits(&found), ["03-11 08:00"]);
}

#[test]
fn air_that_runs_earns_ten_days_and_a_power_cut_takes_them_back() {
    let mut told = still();
    let at = told.at("03-07 09:00");
    told.add(
        at,
        Event::Gear(FRESH, Gear::Air, GearChange::Added { proven: false }),
    );
    let found = told.alone("03-07 20:00", "03-16 20:00");
    let change = found.failures.iter().find(|limit| limit.duty == Duty::Change);
    // It would be ten days, which is after the return; the top-up comes first.
    assert_eq!(change, None);
    assert_eq!(found.failures[0].duty, Duty::TopUp);
    let [power] = found.power[..] else {
        panic!("{:?}", found.power)
    };
    assert_eq!(told.local(power.running.unwrap()), "03-17 20:00");
    assert_eq!(told.local(power.still), "03-11 20:00");
}

#[test]
fn falling_water_bares_a_fill_line_before_the_top_up_is_a_hazard() {
    let mut told = Told::new("Europe/London", &["08:00", "19:30"], 1);
    told.pool(SALT, 1, Water::Salt, 7.5, Life::InUse);
    let shape = Shape::Box {
        length: Centimetres(30.0),
        width: Centimetres(25.0),
        height: Centimetres(14.0),
    };
    told.sets(Event::Pool(SALT, PoolChange::Shape(shape)));
    told.sets(Event::Gear(
        SALT,
        Gear::Filter,
        GearChange::Added { proven: true },
    ));
    told.did("03-06 08:00", Duty::Change, SALT);
    let days = |line: f64| {
        let mut told = Told {
            zone: told.zone.clone(),
            entries: told.entries.clone(),
            start: told.start,
        };
        told.sets(Event::GearFact(SALT, Gear::Filter, GearFact::FillLine(line)));
        told
    };
    // 10 cm of water; the line lies 4 mm under it.
    let near = days(9.6);
    let found = near.alone("03-07 20:00", "03-16 20:00");
    let level = found.levels.of(SALT).unwrap();
    let [(Bared::FillLine, bared)] = level.bares[..] else {
        panic!("{level:?}")
    };
    let (low, likely, high) = (bared.low.unwrap(), bared.likely.unwrap(), bared.high.unwrap());
    assert!(
        0.5 < low && low < likely && likely < high && high < 60.0,
        "{bared:?}"
    );
    assert!(
        low < 4.0,
        "the fastest evaporation bares it before four days: {low}"
    );
    let first = found.failures[0];
    assert_eq!(first.cause, Cause::Level(Bared::FillLine));
    let hours = (first.at.as_second() - found.span.leave.as_second()) as f64 / 3600.0;
    assert!((hours - low * 24.0).abs() < 0.01, "{hours} h, {low} d");
    // A line far below the water leaves the four days of the catalogue.
    assert_eq!(
        days(2.0).alone("03-07 20:00", "03-16 20:00").failures[0].cause,
        Cause::Cadence
    );
    // One above the water cannot be bared by falling water.
    let above = days(12.0).alone("03-07 20:00", "03-16 20:00");
    assert_eq!(above.levels.of(SALT).unwrap().bare, [Bared::FillLine]);
    // 7.5 L of 35 g/kg: salt stays, water goes.
    let place = near.book().place_at(found.span.leave);
    let then = level
        .salinity(&place.pools[&SALT], crate::quantity::Salinity(35.0), 9.0)
        .unwrap();
    let mass = 7.5 * 1.023_343;
    let want = 35.0 * mass / (mass - level.loss.likely * 9.0 / 1000.0);
    assert!((then.likely - want).abs() < 1e-3, "{then:?}, {want}");
    assert!(35.0 < then.low && then.low < then.likely && then.likely < then.high);
}

#[test]
fn a_limit_shorter_than_the_rounds_are_apart_is_kept_at_whole_hours_or_said() {
    let limit = |hours| {
        let mut told = still();
        let numbers = Numbers {
            hazard_h: Some(hours),
            ..Numbers::default()
        };
        told.sets(Event::Numbers(Rule::ChangeStill, numbers));
        told.alone("03-07 20:00", "03-09 20:00")
    };
    // 24 h less 12: the morning round comes in time, the evening round half an hour before, and so on.
    assert_eq!(limit(26).visits.times, Times::Rounds);
    let found = limit(24);
    assert_eq!((found.visits.times, found.visits.visits.len()), (Times::Hours, 3));
    let found = limit(12);
    let [gap] = found.visits.gaps[..] else {
        panic!("{:?}", found.visits.gaps)
    };
    assert_eq!(
        (gap.limit.duty, gap.limit.target),
        (Duty::Change, Target::Pool(FRESH))
    );
    assert_eq!(gap.after, found.span.leave);
}

/// A nested pool whose leak check is due every 7 days and a hazard after so many hours by the place's own number, last
/// done on 1 March, in an enclosure with a quiet zone.
fn quiet(hazard_h: u32, until: civil::Date) -> Told {
    let mut told = still();
    told.sets(Event::Pool(FRESH, PoolChange::Nested(true)));
    let numbers = Numbers {
        hazard_h: Some(hazard_h),
        ..Numbers::default()
    };
    told.sets(Event::Numbers(Rule::LeakCheck, numbers));
    let spot = "left back".to_owned();
    told.sets(Event::Enclosure(
        EnclosureId(1),
        EnclosureChange::Quiet(Some(QuietZone { spot, until })),
    ));
    told.did("03-01 08:00", Duty::LeakCheck, FRESH);
    told
}

#[test]
fn what_a_quiet_zone_holds_back_waits_for_its_review() {
    // It would be a hazard on 11 March at 18:00, and may be done from the 10th on.
    let told = quiet(250, civil::date(2026, 3, 10));
    let found = told.alone("03-07 20:00", "03-13 20:00");
    assert!(found.before.iter().all(|turn| turn.duty != Duty::LeakCheck));
    assert_eq!(told.visits(&found), ["03-10 19:30"]);
    let leak = |visit: &Visit| visit.turns.iter().any(|turn| turn.duty == Duty::LeakCheck);
    assert!(leak(&found.visits.visits[0]));
    // A limit that lies before the review is a hazard from the review on, whatever anybody does before.
    let told = quiet(200, civil::date(2026, 3, 10));
    let found = told.alone("03-07 20:00", "03-13 20:00");
    let [gap] = found.visits.gaps[..] else {
        panic!("{:?}", found.visits.gaps)
    };
    assert_eq!(
        (gap.limit.duty, told.local(gap.limit.at)),
        (Duty::LeakCheck, "03-10 00:00".to_owned())
    );
    assert!(leak(&found.visits.visits[0]), "the first visit after it does it");
}
