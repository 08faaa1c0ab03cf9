//! What is caught up while those sleep whom it calls: it waits for the first of them to be awake, and nobody is lost.

use wrackline_core::care::Duty;
use wrackline_core::journal::{CarerChange, Event};
use wrackline_core::moment::{Destination, Step};
use wrackline_core::place::{CarerId, QuietHours, Role};
use wrackline_tests::journal::{NORTH_SALT, Script};

use super::{Watch, script};

const ADA: CarerId = CarerId(1);
const BEA: CarerId = CarerId(2);
const CLEO: CarerId = CarerId(3);

const ALL: Destination = Destination::Chat;

/// A change that is Bea's: to her on 4 March 20:00, to Cleo on 5 March 08:00, to the keepers, Ada and Cleo, at 20:00, a
/// hazard from 6 March 08:00. These have quiet hours from 23:00 to 07:00.
fn of_bea(sleepers: &[CarerId], lines: &str) -> Script {
    let mut script = script("08:00", false, "03-02 08:00 change");
    let start = "2026-01-01 00:00";
    script.add(start, Event::Carer(BEA, CarerChange::Added(Role::Regular)));
    script.add(start, Event::Carer(CLEO, CarerChange::Added(Role::Keeper)));
    script.add(start, Event::Carer(BEA, CarerChange::StandIn(Some(CLEO))));
    for carer in sleepers {
        let night = QuietHours {
            from: jiff::civil::time(23, 0, 0, 0),
            to: jiff::civil::time(7, 0, 0, 0),
        };
        script.add(start, Event::Carer(*carer, CarerChange::Quiet(Some(night))));
    }
    let turn = script.turn("2026-03-04 09:00", Duty::Change);
    script.add_by(BEA, "2026-03-04 09:00", Event::Took { turn });
    script.tell(lines);
    script
}

type Told<'a> = (&'a str, Destination, Option<Step>, &'a [CarerId]);

/// Checks the posts with the change in them, nobody having looked after it on a day from noon until 23:30.
fn check(script: &Script, day: &str, until: &str, expected: &[Told<'_>]) {
    let at = |local: &str| script.at(&format!("2026-{local}"));
    let mut watch = Watch::new(script, at("03-04 09:00"));
    watch.run(at("03-04 09:00"), at(&format!("{day} 12:00")));
    let before = watch.posts.len();
    watch.run(at(&format!("{day} 23:30")), at(until));
    let changes = watch.posts[before..].iter().flat_map(|(at, post)| {
        let turns = post.subject.turns().iter();
        let change =
            turns.filter(|called| (called.turn.duty, called.turn.target) == (Duty::Change, NORTH_SALT));
        change.map(|called| (script.local(*at), post.to, called.names, called.only.clone()))
    });
    let told: Vec<_> = changes.collect();
    let told: Vec<Told<'_>> = told
        .iter()
        .map(|(at, to, names, only)| (at.as_str(), *to, *names, only.as_slice()))
        .collect();
    assert_eq!(told, expected);
}

#[test]
fn a_call_for_one_waits_until_they_are_awake() {
    let rest: Told<'_> = ("03-05 08:00", ALL, Some(Step::StandIn), &[]);
    let called = |at, to| -> Told<'_> { (at, to, Some(Step::Carer), &[]) };
    check(
        &of_bea(&[], ""),
        "03-04",
        "03-05 12:00",
        &[called("03-04 23:30", ALL), rest],
    );
    let mut script = of_bea(&[BEA], "");
    check(
        &script,
        "03-04",
        "03-05 12:00",
        &[called("03-05 07:00", ALL), rest],
    );
    script.add("2026-01-01 00:00", Event::Carer(BEA, CarerChange::Private(true)));
    let to_bea = called("03-05 07:00", Destination::Carer(BEA));
    check(&script, "03-04", "03-05 12:00", &[to_bea, rest]);
}

#[test]
fn so_does_what_was_put_off_and_comes_back() {
    let lines = "03-04 10:00 later change 03-04 15:00";
    let script = of_bea(&[BEA], lines);
    let called: Told<'_> = ("03-05 07:00", ALL, Some(Step::Carer), &[]);
    check(&script, "03-04", "03-05 07:30", &[called]);
}

#[test]
fn a_call_for_several_waits_for_the_first_of_them_and_calls_the_rest_later() {
    let called = |at, only| -> Told<'_> { (at, ALL, Some(Step::Keeper), only) };
    check(
        &of_bea(&[ADA, CLEO], ""),
        "03-05",
        "03-06 07:30",
        &[called("03-06 07:00", &[])],
    );
    check(
        &of_bea(&[CLEO], ""),
        "03-05",
        "03-06 07:30",
        &[called("03-05 23:30", &[ADA]), called("03-06 07:00", &[CLEO])],
    );
}

#[test]
fn a_hazard_is_told_at_once_and_calls_each_once_they_are_awake() {
    let told: [Told<'_>; 2] = [
        ("03-06 23:30", ALL, None, &[]),
        ("03-07 07:00", ALL, Some(Step::Hazard), &[]),
    ];
    // Changed at 16:00 once more, it becomes a hazard at 16:00.
    let script = of_bea(&[ADA, BEA, CLEO], "03-02 16:00 change");
    check(&script, "03-06", "03-07 07:30", &told);
}
