//! What a journal says does not depend on the order in which it arrived, nor on what came later.

use std::collections::BTreeSet;

use jiff::{SignedDuration, Timestamp, civil};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use wrackline_core::care::{Duty, Every, Numbers, OwnDuty, Pace, Rule, Schedule, Standing, TurnKey, board};
use wrackline_core::civil::plus_minutes;
use wrackline_core::journal::{
    Book, EnclosureChange, Entry, Event, GearChange, Input, OwnDutyChange, Part, PlaceChange, PoolChange,
    RoundChange,
};
use wrackline_core::place::{EnclosureId, Gear, Life, OwnDutyId, PoolId, QuietZone, RoundId, Target};
use wrackline_core::quantity::{Basis, Measured};
use wrackline_tests::journal::{NORTH, NORTH_ITSELF, NORTH_SALT, SALT, Script};

pub(crate) fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        rng_seed: RngSeed::Fixed(20_260_302),
        failure_persistence: None,
        ..ProptestConfig::with_cases(cases)
    }
}

/// The time that generated journals run over.
pub(crate) const SPAN_MIN: i64 = 40 * 24 * 60;

fn parts() -> impl Strategy<Value = Part> {
    prop_oneof![
        3 => Just(Part::Whole),
        2 => (1_u8..=10).prop_map(|tenths| Part::Fraction(f64::from(tenths) / 10.0)),
        1 => (1_u32..16).prop_map(Part::Steps),
    ]
}

fn duties() -> impl Strategy<Value = Duty> {
    prop_oneof![
        3 => Just(Duty::Change),
        3 => proptest::sample::select(&Duty::ALL[..]),
        1 => Just(Duty::Own(OwnDutyId(1))),
    ]
}

fn target_of(duty: Duty) -> Target {
    match duty {
        Duty::Own(_) => Target::Place,
        duty => super::target_of(duty),
    }
}

fn settings() -> impl Strategy<Value = Event> {
    let gear = (proptest::bool::ANY, 0_u8..6).prop_map(|(air, change)| {
        let change = match change {
            0 => GearChange::Added { proven: false },
            1 => GearChange::Added { proven: true },
            2 => GearChange::Stopped,
            3 => GearChange::Started,
            4 => GearChange::Proven,
            _ => GearChange::Removed,
        };
        Event::Gear(SALT, if air { Gear::Air } else { Gear::Filter }, change)
    });
    let lives = [
        Life::InUse,
        Life::InUse,
        Life::Cycling,
        Life::OutOfUse,
        Life::Planned,
    ];
    let pool = proptest::sample::select(lives.to_vec()).prop_map(PoolChange::Life);
    let litres = (1.0..20.0).prop_map(PoolChange::Litres);
    let pool = prop_oneof![pool, litres, Just(PoolChange::Nested(true))]
        .prop_map(|change| Event::Pool(SALT, change));
    let numbers = (1_u16..9, proptest::option::of(1_u32..50)).prop_map(|(days, grace_h)| {
        Event::Numbers(
            Rule::ChangeStill,
            Numbers {
                every: Some(Every::Days(days)),
                grace_h,
                hazard_h: None,
            },
        )
    });
    let round =
        (0_i8..24).prop_map(|hour| Event::Round(RoundId(1), RoundChange::Time(civil::time(hour, 30, 0, 0))));
    let zone = proptest::sample::select(vec!["America/New_York", "Australia/Lord_Howe", "Europe/London"])
        .prop_map(|name| Event::Place(PlaceChange::Zone(name.to_owned())));
    let quiet = (1_i8..30).prop_map(|day| {
        let zone = QuietZone {
            spot: "left".to_owned(),
            until: civil::date(2026, 3, day),
        };
        Event::Enclosure(NORTH, EnclosureChange::Quiet(Some(zone)))
    });
    let own = proptest::collection::btree_set(1_i8..=7, 1..4).prop_map(|days| {
        let schedule = Schedule::Weekdays {
            days: days.into_iter().collect(),
            at: None,
        };
        let duty = OwnDuty {
            name: "bin".to_owned(),
            target: Target::Place,
            schedule,
            grace_h: 5,
            disturbs: false,
        };
        Event::OwnDuty(OwnDutyId(1), OwnDutyChange::Added(duty))
    });
    prop_oneof![4 => gear, 2 => pool, 1 => numbers, 1 => round, 1 => zone, 1 => quiet, 1 => own]
}

fn events() -> impl Strategy<Value = Event> {
    let did = (duties(), parts()).prop_map(|(duty, part)| Event::Did(duty, target_of(duty), part));
    let not_needed = (duties(), 0_u64..20, proptest::bool::ANY).prop_map(|(duty, from, keeper)| {
        let turn = TurnKey {
            duty: duty.family(),
            target: target_of(duty),
            from,
            on: None,
        };
        Event::NotNeeded { turn, keeper }
    });
    let read = (60.0..95.0).prop_map(|percent| Event::Read(NORTH_ITSELF, Measured::Humidity(percent)));
    let tested =
        (0_u8..3, proptest::sample::select(vec![0.0, 0.0, 0.0, 0.5, 20.0])).prop_map(|(kind, mg_l)| {
            let basis = Basis::Ion;
            let measured = match kind {
                0 => Measured::Ammonia { mg_l, basis },
                1 => Measured::Nitrite { mg_l, basis },
                _ => Measured::Nitrate { mg_l, basis },
            };
            Event::Read(Target::Pool(SALT), measured)
        });
    let put_in = proptest::bool::ANY.prop_map(|fed| {
        let (mg_l, basis) = (2.0, Basis::Ion);
        let input = if fed {
            Input::Fed(Some(Measured::Ammonia { mg_l, basis }))
        } else {
            Input::Tap(Measured::Nitrate { mg_l, basis })
        };
        Event::Input(SALT, input)
    });
    prop_oneof![6 => did, 1 => not_needed, 1 => read, 3 => tested, 1 => put_in, 4 => settings()]
}

/// A journal of a place that has been set up, in order of number, back-dated as it comes; the last lines retract
/// some of the others.
pub(crate) fn journals() -> impl Strategy<Value = (Vec<Entry>, Timestamp)> {
    let lines = proptest::collection::vec((0..SPAN_MIN, events()), 1..24);
    let wrong = proptest::collection::btree_set(0_usize..24, 0..4);
    (lines, wrong).prop_map(|(lines, wrong)| {
        let mut script = Script::place("America/New_York", "08:00 20:00");
        let (start, set_up) = (script.at("2026-03-01 00:00"), script.entries.len());
        let wrong = wrong.into_iter().filter(|index| *index < lines.len());
        let retractions: Vec<Event> = wrong
            .map(|index| Event::Retract((set_up + index + 1) as u64))
            .collect();
        let lines = lines
            .into_iter()
            .chain(retractions.into_iter().map(|event| (SPAN_MIN, event)));
        for (minutes, event) in lines {
            script.add("2026-03-01 00:00", event);
            script.entries.last_mut().expect("the line just added").at = plus_minutes(start, minutes);
        }
        (script.entries, start)
    })
}

fn marks(book: &Book, now: Timestamp) -> Vec<Standing> {
    board(book, &book.place_at(now), now)
}

/// A dozen moments over a journal's time.
fn moments(start: Timestamp) -> impl Iterator<Item = Timestamp> {
    (0..12).map(move |step| start + SignedDuration::from_mins(step * 5 * 24 * 60 + step * 131))
}

fn retracted(entries: &[Entry]) -> BTreeSet<u64> {
    let wrong = |entry: &Entry| {
        if let Event::Retract(seq) = entry.event {
            Some(seq)
        } else {
            None
        }
    };
    entries.iter().filter_map(wrong).collect()
}

proptest! {
    #![proptest_config(config(150))]

    #[test]
    fn any_order_of_arrival_gives_the_same_board(
        ((entries, start), shuffled) in journals().prop_flat_map(|(entries, start)| {
            let shuffled = Just(entries.clone()).prop_shuffle();
            (Just((entries, start)), shuffled)
        }),
    ) {
        let (book, other) = (Book::of(entries), Book::of(shuffled));
        for now in moments(start) {
            prop_assert_eq!(marks(&book, now), marks(&other, now));
        }
    }

    #[test]
    fn what_was_retracted_was_never_logged((entries, start) in journals()) {
        let wrong = retracted(&entries);
        let is_told = |entry: &&Entry| !wrong.contains(&entry.seq) && !matches!(entry.event, Event::Retract(_));
        let book = Book::of(entries.iter().filter(is_told).cloned());
        let whole = Book::of(entries.iter().cloned());
        for now in moments(start) {
            prop_assert_eq!(marks(&whole, now), marks(&book, now));
        }
    }

    #[test]
    fn what_comes_later_changes_no_past_mark((entries, start) in journals()) {
        let wrong = retracted(&entries);
        let told: Vec<Entry> = entries.into_iter().filter(|entry| !wrong.contains(&entry.seq)).collect();
        let whole = Book::of(told.iter().cloned());
        for now in moments(start) {
            let until = Book::of(told.iter().filter(|entry| entry.at <= now).cloned());
            prop_assert_eq!(marks(&whole, now), marks(&until, now));
        }
    }

    #[test]
    fn the_book_before_an_entry_is_that_of_the_earlier_ones((entries, start) in journals(), of in 0_usize..48) {
        let seq = entries[of % entries.len()].seq;
        let before = Book::of(entries.iter().cloned()).before(seq);
        let earlier = Book::of(entries.into_iter().filter(|entry| entry.seq < seq));
        for now in moments(start) {
            prop_assert_eq!(before.place_at(now), earlier.place_at(now));
            prop_assert_eq!(marks(&before, now), marks(&earlier, now));
        }
    }

    #[test]
    fn marks_only_rise_while_nothing_happens((entries, start) in journals(), minutes in 1_i64..60_000) {
        let book = Book::of(entries);
        let now = start + SignedDuration::from_mins(SPAN_MIN);
        let (before, after) = (marks(&book, now), marks(&book, plus_minutes(now, minutes)));
        prop_assert_eq!(before.len(), after.len());
        for (before, after) in before.iter().zip(&after) {
            prop_assert!(before.due <= before.overdue, "{:?}", before);
            // An occurrence of a calendar is superseded by the next one, and then begins anew.
            if matches!(before.cadence.pace, Pace::Interval { .. }) {
                prop_assert_eq!((before.turn, before.due, before.overdue), (after.turn, after.due, after.overdue));
                prop_assert!(before.mark <= after.mark, "{:?} {:?}", before, after);
                if before.held.is_none() {
                    prop_assert_eq!(before.mark_at(plus_minutes(now, minutes)), after.mark);
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(config(500))]

    #[test]
    fn a_turns_key_reads_back(
        duty in duties(),
        target in prop_oneof![
            Just(Target::Place),
            any::<u32>().prop_map(|id| Target::Enclosure(EnclosureId(id))),
            any::<u32>().prop_map(|id| Target::Pool(PoolId(id))),
        ],
        from in any::<u64>(),
        on in proptest::option::of((1_i16..9999, 1_i8..=12, 1_i8..=28, 0_i8..24, 0_i8..60)),
    ) {
        let on = on.map(|(year, month, day, hour, minute)| civil::date(year, month, day).at(hour, minute, 0, 0));
        let turn = TurnKey { duty, target, from, on };
        prop_assert_eq!(turn.to_string().parse::<TurnKey>().ok(), Some(turn));
    }
}

#[test]
fn what_is_no_turns_key_is_refused() {
    for text in [
        "",
        "change",
        "change.p1",
        "change.q1.3",
        "change.p.3",
        "nap.p1.3",
        "change.p1.x",
        "change.p1.3.x",
    ] {
        assert!(text.parse::<TurnKey>().is_err(), "{text:?}");
    }
    let script = super::two_rounds("03-02 08:00 change");
    let turn = script.turn("2026-03-02 09:00", Duty::Change);
    assert_eq!(turn.to_string(), format!("change.p1.{}", script.entries.len()));
    assert_eq!((turn.target, turn.on), (NORTH_SALT, None));
}
