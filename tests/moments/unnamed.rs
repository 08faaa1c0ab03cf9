//! Whoever slept when a call was sent, though not when it was made, was named to nobody: they are called once they are
//! awake, as long as the turn is open and was not passed on any further.

use wrackline_core::care::Duty;
use wrackline_core::journal::{CarerChange, Event};
use wrackline_core::moment::Step;
use wrackline_core::place::{CarerId, QuietHours, Role};
use wrackline_core::rota::Slot;
use wrackline_tests::journal::{NORTH_SALT, Script};

use super::{Watch, script};

const ADA: CarerId = CarerId(1);
const BEA: CarerId = CarerId(2);
const CLEO: CarerId = CarerId(3);

/// A change that is Bea's: to her on 4 March 20:00, to Cleo on 5 March 08:00, to the keepers, Ada and Cleo, at 20:00, a
/// hazard from 6 March 08:00. These have quiet hours from 21:00 to 07:00.
fn of_bea(sleepers: &[CarerId], lines: &str) -> Script {
    let mut script = script("08:00", false, "03-02 08:00 change");
    let start = "2026-01-01 00:00";
    script.add(start, Event::Carer(BEA, CarerChange::Added(Role::Regular)));
    script.add(start, Event::Carer(CLEO, CarerChange::Added(Role::Keeper)));
    script.add(start, Event::Carer(BEA, CarerChange::StandIn(Some(CLEO))));
    for carer in sleepers {
        script.add(start, Event::Carer(*carer, night()));
    }
    let turn = script.turn("2026-03-04 09:00", Duty::Change);
    script.add_by(BEA, "2026-03-04 09:00", Event::Took { turn });
    script.tell(lines);
    script
}

fn night() -> CarerChange {
    CarerChange::Quiet(Some(QuietHours {
        from: jiff::civil::time(21, 0, 0, 0),
        to: jiff::civil::time(7, 0, 0, 0),
    }))
}

type Told<'a> = (&'a str, Option<Step>, &'a [CarerId]);

/// Checks the posts with the change in them after one that was made by a moment was sent at another.
fn check(script: &Script, (made, sent, until): (&str, &str, &str), expected: &[Told<'_>]) {
    let at = |local: &str| script.at(&format!("2026-{local}"));
    let mut watch = Watch::new(script, at("03-04 09:00"));
    watch.run(at("03-04 09:00"), at(made));
    assert_eq!(watch.posts.last().map(|(out, _)| *out), Some(at(made)));
    watch.sent_at(at(sent));
    let before = watch.posts.len();
    // Nobody looks but at the moments that were told before.
    let place = watch.book.place_at(at(made));
    let marks = wrackline_core::care::board(&watch.book, &place, at(made));
    let next = wrackline_core::moment::next_moment(&watch.book, &place, &marks, at(made));
    watch.run(next, at(until));
    let changes = watch.posts[before..].iter().flat_map(|(at, post)| {
        let turns = post.subject.turns().iter();
        let change =
            turns.filter(|called| (called.turn.duty, called.turn.target) == (Duty::Change, NORTH_SALT));
        change.map(|called| (script.local(*at), called.names, called.only.clone()))
    });
    let told: Vec<_> = changes.collect();
    let told: Vec<Told<'_>> = told
        .iter()
        .map(|(at, names, only)| (at.as_str(), *names, only.as_slice()))
        .collect();
    assert_eq!(told, expected);
}

#[test]
fn whoever_is_called_alone_is_called_again() {
    let span = ("03-04 20:00", "03-04 21:05", "03-05 08:00");
    let rest: Told<'_> = ("03-05 08:00", Some(Step::StandIn), &[]);
    let again: Told<'_> = ("03-05 07:00", Some(Step::Carer), &[]);
    check(&of_bea(&[BEA], ""), span, &[again, rest]);
    check(&of_bea(&[], ""), span, &[rest]);
    let awake = ("03-04 20:00", "03-04 20:59", "03-05 08:00");
    check(&of_bea(&[BEA], ""), awake, &[rest]);
    // What was done meanwhile wakes nobody.
    check(&of_bea(&[BEA], "03-04 23:00 change"), span, &[]);
}

#[test]
fn of_several_those_who_slept_are_called_again_and_once() {
    let span = ("03-05 20:00", "03-05 21:05", "03-06 08:00");
    let hazard: Told<'_> = ("03-06 08:00", Some(Step::Hazard), &[]);
    let again = |only| -> Told<'_> { ("03-06 07:00", Some(Step::Keeper), only) };
    check(&of_bea(&[CLEO], ""), span, &[again(&[CLEO]), hazard]);
    check(&of_bea(&[ADA, CLEO], ""), span, &[again(&[]), hazard]);
}

#[test]
fn so_is_whoever_put_it_off() {
    let script = of_bea(&[BEA], "03-04 20:10 later change 03-04 20:30");
    let again: Told<'_> = ("03-05 07:00", Some(Step::Carer), &[]);
    check(&script, ("03-04 20:30", "03-04 21:05", "03-05 07:30"), &[again]);
}

#[test]
fn whoever_gets_a_late_turn_is_called_for_it_though_another_was() {
    let check = |sleepers: &[CarerId], at: &str, expected: &[Told<'_>]| {
        let mut script = of_bea(sleepers, "");
        let zone = &script.zone;
        let standing = script.standing("2026-03-04 09:00", Duty::Change, NORTH_SALT);
        let now = script.at("2026-03-04 09:00");
        let slot = Slot::of(&script.book(), zone, &standing.expect("a change"), now);
        let moved = |to| Event::Shared(vec![(slot, Some(to))]);
        script.add_by(CarerId(0), at, moved(CLEO));
        script.add_by(CarerId(0), "2026-03-05 07:50", moved(CLEO));
        let [from, until] = ["03-04 19:00", "03-05 07:55"].map(|at| script.at(&format!("2026-{at}")));
        let mut watch = Watch::new(&script, from);
        watch.run(from, until);
        let calls = watch.posts.iter().flat_map(|(at, post)| {
            let turns = post.subject.turns().iter();
            let change = turns.filter(|called| called.turn.target == NORTH_SALT);
            let of = change.filter(|called| called.turn.duty == Duty::Change);
            of.map(|called| (script.local(*at), called.carer, called.names))
        });
        let called: Vec<_> = calls.collect();
        let called: Vec<_> = called
            .iter()
            .map(|(at, carer, names)| (at.as_str(), *names, carer.as_slice()))
            .collect();
        assert_eq!(called, expected);
    };
    let to_bea: Told<'_> = ("03-04 20:00", Some(Step::Carer), &[BEA]);
    let to_cleo = |at| -> Told<'_> { (at, Some(Step::Carer), &[CLEO]) };
    check(&[], "2026-03-04 20:10", &[to_bea, to_cleo("03-04 20:10")]);
    check(&[CLEO], "2026-03-04 21:10", &[to_bea, to_cleo("03-05 07:00")]);
    // Before it is late they are called in their turn.
    check(&[], "2026-03-04 19:10", &[to_cleo("03-04 20:00")]);
}

#[test]
fn a_keeper_to_whom_a_helpers_turn_falls_is_called_once_awake() {
    let mut script = script("08:00", false, "03-02 08:00 change");
    let start = "2026-01-01 00:00";
    script.add(start, Event::Carer(BEA, CarerChange::Added(Role::Keeper)));
    script.add(start, Event::Carer(CLEO, CarerChange::Added(Role::Helper)));
    script.add(start, Event::Carer(CLEO, CarerChange::Share(0.0)));
    for keeper in [ADA, BEA] {
        script.add(start, Event::Carer(keeper, CarerChange::Share(0.0)));
    }
    let early = QuietHours {
        from: jiff::civil::time(19, 0, 0, 0),
        to: jiff::civil::time(7, 0, 0, 0),
    };
    script.add(start, Event::Carer(BEA, CarerChange::Quiet(Some(early))));
    let turn = script.turn("2026-03-04 09:00", Duty::Change);
    script.add_by(CLEO, "2026-03-04 09:00", Event::Took { turn });
    let [from, until] = ["03-04 19:00", "03-05 07:30"].map(|at| script.at(&format!("2026-{at}")));
    let mut watch = Watch::new(&script, from);
    watch.run(from, until);
    let calls = watch.posts.iter().flat_map(|(at, post)| {
        let turns = post.subject.turns().iter().filter(|called| called.turn == turn);
        turns.map(|called| (script.local(*at), called.names, called.only.clone()))
    });
    let expected = [
        ("03-04 20:00".to_owned(), Some(Step::Carer), vec![ADA]),
        ("03-05 07:00".to_owned(), Some(Step::Carer), vec![BEA]),
    ];
    assert_eq!(calls.collect::<Vec<_>>(), expected);
}
