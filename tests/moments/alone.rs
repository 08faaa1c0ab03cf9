//! People who are reminded alone: a late call that is for one of them goes to them, whatever is for several to all.

use wrackline_core::care::Duty;
use wrackline_core::journal::{CarerChange, Event};
use wrackline_core::moment::{Destination, Step};
use wrackline_core::place::{CarerId, QuietHours, Role};
use wrackline_tests::journal::{NORTH_SALT, Script};

use super::{posts, script};

const BEA: CarerId = CarerId(2);
const CLEO: CarerId = CarerId(3);

/// A change that is Bea's, late from 4 March 20:00, a hazard from 6 March 08:00; Cleo stands in for her.
fn of_bea(rounds: &str, lines: &str, alone: &[CarerId]) -> Script {
    let mut script = script(rounds, false, "03-02 08:00 change");
    let start = "2026-01-01 00:00";
    for carer in [BEA, CLEO] {
        script.add(start, Event::Carer(carer, CarerChange::Added(Role::Regular)));
    }
    script.add(start, Event::Carer(BEA, CarerChange::StandIn(Some(CLEO))));
    for carer in alone {
        script.add(start, Event::Carer(*carer, CarerChange::Private(true)));
    }
    let turn = script.turn("2026-03-04 09:00", Duty::Change);
    script.add_by(BEA, "2026-03-04 09:00", Event::Took { turn });
    script.tell(lines);
    script
}

/// The posts with the change in them: when, to whom, and for which step they call people by name.
fn told(script: &Script) -> Vec<(String, Destination, Option<Step>)> {
    let all = posts(script, "03-04 09:00", "03-06 09:00");
    let changes = all.iter().flat_map(|(at, post)| {
        let turns = post.subject.turns().iter();
        let change =
            turns.filter(|called| (called.turn.duty, called.turn.target) == (Duty::Change, NORTH_SALT));
        change.map(|called| (script.local(*at), post.to, called.names))
    });
    changes.collect()
}

fn check(script: &Script, expected: &[(&str, Destination, Option<Step>)]) {
    let told = told(script);
    let told: Vec<_> = told
        .iter()
        .map(|(at, to, names)| (at.as_str(), *to, *names))
        .collect();
    assert_eq!(told, expected);
}

const ALL: Destination = Destination::Chat;
const TO_BEA: Destination = Destination::Carer(BEA);
const TO_CLEO: Destination = Destination::Carer(CLEO);

#[test]
fn the_first_step_goes_to_whoever_wants_it_alone_and_what_follows_to_all() {
    let rest = [
        ("03-05 08:00", ALL, Some(Step::StandIn)),
        ("03-05 20:00", ALL, Some(Step::Keeper)),
        ("03-06 08:00", ALL, Some(Step::Hazard)),
    ];
    let first = |to| [("03-04 20:00", to, Some(Step::Carer))];
    check(&of_bea("08:00", "", &[]), &[&first(ALL)[..], &rest].concat());
    check(
        &of_bea("08:00", "", &[BEA]),
        &[&first(TO_BEA)[..], &rest].concat(),
    );
    // Whoever else is reminded alone changes nothing of what is Bea's.
    check(
        &of_bea("08:00", "", &[CarerId(1)]),
        &[
            &first(ALL)[..],
            &rest[..1],
            &[("03-05 20:00", Destination::Carer(CarerId(1)), Some(Step::Keeper))],
            &rest[2..],
        ]
        .concat(),
    );
}

#[test]
fn what_calls_several_goes_to_all_whoever_of_them_sleeps() {
    let ada = CarerId(1);
    let mut script = of_bea("08:00", "", &[ada, CLEO]);
    let start = "2026-01-01 00:00";
    let evening = QuietHours {
        from: jiff::civil::time(19, 0, 0, 0),
        to: jiff::civil::time(23, 0, 0, 0),
    };
    script.add(start, Event::Carer(CLEO, CarerChange::Role(Role::Keeper)));
    script.add(start, Event::Carer(CLEO, CarerChange::Quiet(Some(evening))));
    check(
        &script,
        &[
            ("03-04 20:00", ALL, Some(Step::Carer)),
            ("03-05 08:00", TO_CLEO, Some(Step::StandIn)),
            ("03-05 08:00", ALL, None),
            // Ada alone is awake, then Cleo alone was left out.
            ("03-05 20:00", ALL, Some(Step::Keeper)),
            ("03-05 23:00", ALL, Some(Step::Keeper)),
            ("03-06 08:00", ALL, Some(Step::Hazard)),
        ],
    );
}

#[test]
fn at_a_round_the_common_call_lists_it_without_a_name() {
    check(
        &of_bea("08:00 20:00", "", &[BEA, CLEO]),
        &[
            ("03-04 20:00", TO_BEA, Some(Step::Carer)),
            ("03-04 20:00", ALL, None),
            ("03-05 08:00", TO_CLEO, Some(Step::StandIn)),
            ("03-05 08:00", ALL, None),
            ("03-05 20:00", ALL, Some(Step::Keeper)),
            ("03-06 08:00", ALL, Some(Step::Hazard)),
        ],
    );
}

#[test]
fn what_was_put_off_comes_back_to_them_alone() {
    let lines = "03-04 10:00 later change 03-04 15:00; 03-04 16:00 change";
    for (alone, to) in [(&[BEA][..], TO_BEA), (&[], ALL)] {
        // Done then, it is called again in its next round.
        let next = ("03-06 08:00", ALL, None);
        check(
            &of_bea("08:00", lines, alone),
            &[("03-04 15:00", to, Some(Step::Carer)), next],
        );
    }
}

#[test]
fn what_bea_gave_up_comes_to_the_stand_in_alone_and_then_to_all_who_can() {
    let mut script = of_bea("08:00", "", &[CLEO]);
    let turn = script.turn("2026-03-04 21:00", Duty::Change);
    script.add_by(BEA, "2026-03-04 21:00", Event::Cannot { turn });
    let told = told(&script);
    let freed: Vec<_> = told
        .iter()
        .filter(|(at, ..)| at.as_str() >= "03-04 21:00")
        .collect();
    assert_eq!((freed[0].1, freed[0].2), (TO_CLEO, Some(Step::Carer)), "{told:?}");
    assert!(freed[1..].iter().all(|(_, to, _)| *to == ALL), "{told:?}");
    assert!(
        freed[1..].iter().any(|(.., names)| *names == Some(Step::StandIn)),
        "{told:?}"
    );
}
