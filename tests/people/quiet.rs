//! A person's own quiet hours: late calls wait, and nobody is called by name in them but for danger.

use jiff::Timestamp;
use wrackline_core::care::{Duty, board};
use wrackline_core::civil::Zone;
use wrackline_core::journal::{Book, CarerChange, EnclosureChange, Entry, Event, PlaceChange, PoolChange};
use wrackline_core::moment::{Step, call_times, rests, step_times};
use wrackline_core::place::{CarerId, EnclosureId, Life, Place, PoolId, QuietHours, Role, Water};
use wrackline_core::rota::hand;

const KEEPER: CarerId = CarerId(1);
const ILJA: CarerId = CarerId(2);

struct Setting {
    book: Book,
    place: Place,
    now: Timestamp,
}

impl Setting {
    /// A place in London whose one enclosure is Ilja's by habit, with these further settings; two days of 2026 later.
    fn new(further: &[(CarerId, CarerChange)]) -> Self {
        let zone = Zone::get("Europe/London").expect("a zone");
        let start = zone.instant(jiff::civil::date(2026, 3, 1).at(12, 0, 0, 0));
        let enclosure = EnclosureId(1);
        let litres = 8.0;
        let mut events = vec![
            Event::Place(PlaceChange::Zone("Europe/London".to_owned())),
            Event::Carer(KEEPER, CarerChange::Added(Role::Keeper)),
            Event::Carer(ILJA, CarerChange::Added(Role::Regular)),
            Event::Enclosure(
                enclosure,
                EnclosureChange::Added {
                    name: "North".to_owned(),
                    litres: 400.0,
                },
            ),
            Event::Enclosure(enclosure, EnclosureChange::Carer(Some(ILJA))),
            Event::Pool(
                PoolId(1),
                PoolChange::Added {
                    enclosure,
                    water: Water::Salt,
                    litres,
                    life: Life::InUse,
                },
            ),
        ];
        events.extend(
            further
                .iter()
                .map(|(id, change)| Event::Carer(*id, change.clone())),
        );
        let entry = |(seq, event)| Entry::at_once(seq, start, KEEPER, event);
        let book = Book::of((1..).zip(events).map(entry));
        let now = start + jiff::SignedDuration::from_hours(48);
        let place = book.place_at(now);
        Self { book, place, now }
    }

    /// How much later than by the place's own hours each step of the change comes, in minutes.
    fn later(&self) -> Vec<(Step, i64)> {
        let board = board(&self.book, &self.place, self.now);
        let change = board
            .iter()
            .find(|standing| standing.turn.duty == Duty::Change)
            .expect("a change");
        let hand = hand(&self.book, &self.place, change, self.now);
        let plain = step_times(&self.place, change);
        let called = call_times(&self.book, &self.place, change, &hand, self.now);
        assert_eq!(plain.len(), called.len());
        plain
            .iter()
            .zip(&called)
            .map(|((step, before), (same, after))| {
                assert_eq!(step, same);
                (*step, (after.as_second() - before.as_second()) / 60)
            })
            .collect()
    }
}

fn quiet(from: i8, to: i8) -> CarerChange {
    CarerChange::Quiet(Some(QuietHours {
        from: jiff::civil::time(from, 0, 0, 0),
        to: jiff::civil::time(to, 0, 0, 0),
    }))
}

fn all_day() -> CarerChange {
    CarerChange::Quiet(Some(QuietHours {
        from: jiff::civil::time(0, 0, 0, 0),
        to: jiff::civil::time(23, 59, 0, 0),
    }))
}

#[test]
fn without_own_quiet_hours_nothing_waits() {
    assert!(Setting::new(&[]).later().iter().all(|(_, minutes)| *minutes == 0));
}

#[test]
fn a_step_waits_for_the_one_it_calls_and_for_nobody_else() {
    let steps = Setting::new(&[(ILJA, all_day())]).later();
    for (step, minutes) in steps {
        // The keeper is awake: stand-in and keeper are called as ever, and the hazard reaches the keeper.
        assert_eq!(minutes > 0, step == Step::Carer, "{step:?} by {minutes} min");
    }
    let steps = Setting::new(&[(KEEPER, all_day())]).later();
    for (step, minutes) in steps {
        let keepers = matches!(step, Step::StandIn | Step::Keeper);
        assert_eq!(minutes > 0, keepers, "{step:?} by {minutes} min");
    }
}

#[test]
fn their_hours_are_those_of_their_own_zone() {
    let zone = CarerChange::Zone(Some("Asia/Tokyo".to_owned()));
    let setting = Setting::new(&[(ILJA, quiet(21, 7)), (ILJA, zone)]);
    // Noon in London is nine in the evening in Tokyo.
    assert!(rests(&setting.place, ILJA, setting.now));
    assert!(!rests(&setting.place, KEEPER, setting.now));
    let evening = setting.now + jiff::SignedDuration::from_hours(10);
    assert!(!rests(&setting.place, ILJA, evening));
    let woken = wrackline_core::moment::awake(&setting.place, ILJA, setting.now);
    assert_eq!(
        Zone::get("Asia/Tokyo").expect("a zone").civil(woken).time(),
        jiff::civil::time(7, 0, 0, 0)
    );
}
