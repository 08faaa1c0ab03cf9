//! Random places: enclosures and pools with their gear, duties of their own, and the people who share the work.

use jiff::{Timestamp, civil};
use wrackline_core::care::{Every, OwnDuty, Schedule};
use wrackline_core::civil::{Zone, plus_days};
use wrackline_core::journal::{
    CarerChange, EnclosureChange, Entry, Event, GearChange, PlaceChange, PoolChange, RoundChange,
};
use wrackline_core::people::{Free, Skills, Span, Weekdays};
use wrackline_core::place::{
    CarerId, EnclosureId, Gear, Life, OwnDutyId, PoolId, Role, RoundId, Target, Water,
};

use super::Dice;

/// The day on which the eight weeks begin; both clock changes of spring lie in them.
pub const FIRST_DAY: civil::Date = civil::date(2026, 3, 2);

/// A random place's journal before its first day.
pub(super) struct Ground {
    pub(super) zone: Zone,
    pub(super) entries: Vec<Entry>,
    pub(super) people: u32,
}

impl Ground {
    /// A place drawn with these dice: 2 to 12 people, 1 to 6 enclosures.
    pub(super) fn new(dice: &mut Dice) -> Self {
        let zone = *dice.one_of(&["Europe/Berlin", "America/New_York", "Asia/Tokyo"]);
        let mut ground = Self {
            zone: Zone::get(zone).expect("a zone"),
            entries: Vec::new(),
            people: dice.between(2, 12),
        };
        ground.add(Event::Place(PlaceChange::Zone(zone.to_owned())));
        let rounds = dice.between(1, 3);
        for (id, hour) in (1..=rounds).zip([8, 19, 13]) {
            let time = civil::time(hour, 0, 0, 0);
            let name = format!("round {id}");
            ground.add(Event::Round(RoundId(id), RoundChange::Added { name, time }));
        }
        for id in 1..=ground.people {
            ground.carer(CarerId(id), rounds, dice);
        }
        let mut pools = 0;
        for id in 1..=dice.between(1, 6) {
            ground.enclosure(EnclosureId(id), &mut pools, dice);
        }
        ground
    }

    fn start(&self) -> Timestamp {
        self.zone.day_start(plus_days(FIRST_DAY, -1))
    }

    fn add(&mut self, event: Event) {
        let at = self.start();
        self.entries.push(Entry::at_once(
            self.entries.len() as u64 + 1,
            at,
            CarerId(1),
            event,
        ));
    }

    /// The first carer is a keeper who can everything; of the others, some are sitters, some helpers with a share, and
    /// each may lack skills, want another share, be there on some weekdays, or have a limit a day.
    fn carer(&mut self, id: CarerId, rounds: u32, dice: &mut Dice) {
        let mut say = |change| self.add(Event::Carer(id, change));
        if id.0 == 1 {
            say(CarerChange::Added(Role::Keeper));
            return;
        }
        let role = match dice.between(1, 10) {
            1 => Role::Sitter,
            2 => Role::Helper,
            _ => Role::Regular,
        };
        say(CarerChange::Added(role));
        if role == Role::Sitter {
            let from = plus_days(FIRST_DAY, i64::from(dice.between(0, 40)));
            let to = plus_days(from, i64::from(dice.between(4, 21)));
            say(CarerChange::Span(Some(Span { from, to })));
        }
        if role == Role::Helper || dice.happens(0.4) {
            say(CarerChange::Share(*dice.one_of(&[0.0, 0.25, 0.5, 0.5, 1.5, 2.0])));
        }
        if dice.happens(0.35) {
            say(CarerChange::Skills(Skills {
                siphon: dice.happens(0.5),
                salt: dice.happens(0.5),
                lift_kg: dice.happens(0.3).then_some(f64::from(dice.between(4, 14))),
            }));
        }
        if dice.happens(0.3) {
            let days = Weekdays(u8::try_from(dice.between(1, 127)).expect("seven bits") | 0x41);
            let round = dice.happens(0.4).then(|| RoundId(dice.between(1, rounds)));
            say(CarerChange::Free(Some(vec![Free { days, round }])));
        }
        if dice.happens(0.15) {
            let most = u16::try_from(dice.between(10, 90)).expect("small");
            say(CarerChange::MinutesMax(Some(most)));
        }
    }

    fn enclosure(&mut self, id: EnclosureId, pools: &mut u32, dice: &mut Dice) {
        self.add(Event::Enclosure(
            id,
            EnclosureChange::Added {
                name: format!("Enclosure {}", id.0),
                litres: 400.0,
            },
        ));
        if dice.happens(0.2) {
            let habit = CarerId(dice.between(1, self.people));
            self.add(Event::Enclosure(id, EnclosureChange::Carer(Some(habit))));
        }
        if dice.happens(0.2) {
            self.add(Event::Enclosure(id, EnclosureChange::Sensor(true)));
        }
        for water in [Water::Fresh, Water::Salt] {
            *pools += 1;
            self.pool(PoolId(*pools), id, water, dice);
        }
        if dice.happens(0.4) {
            let schedule = match dice.between(1, 3) {
                1 => Schedule::Every(Every::Days(u16::try_from(dice.between(1, 9)).expect("small"))),
                2 => Schedule::Every(Every::Hours(dice.between(5, 60))),
                _ => Schedule::Weekdays {
                    days: vec![2, 5],
                    at: None,
                },
            };
            let own = OwnDuty {
                name: format!("own {}", id.0),
                target: if dice.happens(0.7) {
                    Target::Enclosure(id)
                } else {
                    Target::Place
                },
                schedule,
                grace_h: 12,
                disturbs: false,
            };
            self.add(Event::OwnDuty(OwnDutyId(id.0), super::added(own)));
        }
    }

    fn pool(&mut self, id: PoolId, enclosure: EnclosureId, water: Water, dice: &mut Dice) {
        let litres = f64::from(dice.between(4, 30));
        self.add(Event::Pool(
            id,
            PoolChange::Added {
                enclosure,
                water,
                litres,
                life: Life::InUse,
            },
        ));
        if dice.happens(0.5) {
            let added = GearChange::Added { proven: false };
            self.add(Event::Gear(id, Gear::Air, added));
        }
        if dice.happens(0.3) {
            let added = GearChange::Added { proven: true };
            self.add(Event::Gear(id, Gear::Filter, added));
        }
        if dice.happens(0.2) {
            self.add(Event::Pool(id, PoolChange::Nested(true)));
        }
    }
}
