//! Whoever slept while a step called others is called by name once they are awake, as long as the turn is open.

use wrackline_core::care::{Duty, standing};
use wrackline_core::journal::{CarerChange, Event, RoundChange};
use wrackline_core::moment::{Step, called_at};
use wrackline_core::people::{Free, Weekdays};
use wrackline_core::place::{CarerId, QuietHours, Role, RoundId};
use wrackline_core::rota::hand;
use wrackline_tests::journal::{NORTH_SALT, Script};

use super::{Watch, posts, script};

const ADA: CarerId = CarerId(1);
const BEA: CarerId = CarerId(2);
const CLEO: CarerId = CarerId(3);

/// A change that is Cleo's, which is passed on to the keepers, Ada and Bea, on 5 March 20:00, and a hazard from 6 March
/// 08:00. Bea has quiet hours from 19:00.
fn of_cleo(until: i8, lines: &str) -> Script {
    let mut script = script("08:00", false, "03-02 08:00 change");
    let start = "2026-01-01 00:00";
    script.add(start, Event::Carer(BEA, CarerChange::Added(Role::Keeper)));
    script.add(start, Event::Carer(CLEO, CarerChange::Added(Role::Regular)));
    script.add(start, Event::Carer(BEA, quiet(19, until)));
    let turn = script.turn("2026-03-04 09:00", Duty::Change);
    script.add_by(CLEO, "2026-03-04 09:00", Event::Took { turn });
    script.tell(lines);
    script
}

/// The posts that call people by name for the change: when, for which step, and whom alone.
fn told(script: &Script) -> Vec<(String, Step, Vec<CarerId>)> {
    told_until(script, "03-06 20:00")
}

fn told_until(script: &Script, until: &str) -> Vec<(String, Step, Vec<CarerId>)> {
    let all = posts(script, "03-05 12:00", until);
    let changes = all.iter().flat_map(|(at, post)| {
        let turns = post.subject.turns().iter();
        let change =
            turns.filter(|called| (called.turn.duty, called.turn.target) == (Duty::Change, NORTH_SALT));
        change.filter_map(|called| Some((script.local(*at), called.names?, called.only.clone())))
    });
    changes.collect()
}

fn check(script: &Script, expected: &[(&str, Step, &[CarerId])]) {
    let told = told(script);
    let told: Vec<_> = told
        .iter()
        .map(|(at, step, only)| (at.as_str(), *step, only.as_slice()))
        .collect();
    assert_eq!(told, expected);
}

#[test]
fn a_keeper_who_slept_is_called_when_they_are_awake_and_once() {
    check(
        &of_cleo(23, ""),
        &[
            ("03-05 12:00", Step::StandIn, &[]),
            ("03-05 20:00", Step::Keeper, &[ADA]),
            ("03-05 23:00", Step::Keeper, &[BEA]),
            ("03-06 08:00", Step::Hazard, &[]),
        ],
    );
}

#[test]
fn what_was_done_meanwhile_wakes_nobody() {
    let expected: [(&str, Step, &[CarerId]); 2] = [
        ("03-05 12:00", Step::StandIn, &[]),
        ("03-05 20:00", Step::Keeper, &[ADA]),
    ];
    check(&of_cleo(23, "03-05 22:00 change"), &expected);
}

#[test]
fn what_was_passed_on_further_calls_for_the_step_that_is_reached() {
    check(
        &of_cleo(9, ""),
        &[
            ("03-05 12:00", Step::StandIn, &[]),
            ("03-05 20:00", Step::Keeper, &[ADA]),
            ("03-06 08:00", Step::Hazard, &[ADA, CLEO]),
            ("03-06 09:00", Step::Hazard, &[BEA]),
        ],
    );
}

/// Whom a hazard of the change calls at one moment, as the change stands at another.
fn called_by_hazard(script: &Script, called: &str, stands: &str) -> Vec<CarerId> {
    let [called, stands] = [called, stands].map(|at| script.at(&format!("2026-{at}")));
    let book = script.book();
    let place = book.place_at(stands);
    let standing = standing(&book, &place, Duty::Change, NORTH_SALT, stands).expect("a change");
    let hand = hand(&book, &place, &standing, called);
    called_at(&book, &place, &standing, &hand, Step::Hazard, called)
}

/// Quiet hours of someone from one hour to another.
fn quiet(from: i8, to: i8) -> CarerChange {
    let time = |hour| jiff::civil::time(hour, 0, 0, 0);
    CarerChange::Quiet(Some(QuietHours {
        from: time(from),
        to: time(to),
    }))
}

#[test]
fn whoever_joins_those_who_can_later_was_awake_and_is_not_called() {
    let dora = CarerId(4);
    let evenings = Free {
        days: Weekdays::ALL,
        round: Some(RoundId(2)),
    };
    let mut script = of_cleo(23, "");
    let start = "2026-01-01 00:00";
    let time = jiff::civil::time(18, 0, 0, 0);
    let name = String::new();
    script.add(start, Event::Round(RoundId(2), RoundChange::Added { name, time }));
    script.add(start, Event::Carer(dora, CarerChange::Added(Role::Regular)));
    script.add(start, Event::Carer(dora, CarerChange::Free(Some(vec![evenings]))));
    // Hers are long over as the hazard is told, and come again after it.
    script.add(start, Event::Carer(dora, quiet(1, 5)));
    let hazard = ("03-06 08:00".to_owned(), Step::Hazard, Vec::new());
    let told = told_until(&script, "03-07 20:00");
    assert_eq!(told.last(), Some(&hazard), "{told:?}");
    // That she can do it then is what would have called her.
    assert!(!called_by_hazard(&script, "03-06 08:00", "03-06 18:00").contains(&dora));
    assert!(called_by_hazard(&script, "03-06 18:00", "03-06 18:00").contains(&dora));
}

#[test]
fn what_an_older_house_called_for_calls_nobody_again() {
    // Ada was awake and was called, with no key of hers known.
    let mut script = of_cleo(23, "");
    script.add("2026-01-01 00:00", Event::Carer(BEA, CarerChange::Quiet(None)));
    script.add("2026-01-01 00:00", Event::Carer(ADA, quiet(1, 5)));
    let [from, upgrade, until] =
        ["03-05 12:00", "03-05 21:00", "03-06 20:00"].map(|at| script.at(&format!("2026-{at}")));
    let mut watch = Watch::new(&script, from);
    watch.run(from, upgrade);
    let known = watch.known.len();
    watch.forget_people();
    assert!(watch.known.len() < known);
    let before = watch.posts.len();
    watch.run(upgrade, until);
    let steps = watch.posts[before..]
        .iter()
        .flat_map(|(_, post)| post.subject.turns())
        .filter(|called| called.turn.duty == Duty::Change)
        .filter_map(|called| called.names);
    assert_eq!(steps.collect::<Vec<_>>(), [Step::Hazard]);
}

#[test]
fn a_hazard_calls_the_keepers_and_all_who_can() {
    let check = |lines: &str, expected: &[CarerId]| {
        let mut script = Script::place("UTC", "08:00");
        let start = "2026-01-01 00:00";
        script.add(start, Event::Carer(BEA, CarerChange::Added(Role::Regular)));
        script.add(start, Event::Carer(CLEO, CarerChange::Added(Role::Regular)));
        script.add(start, Event::Carer(CarerId(4), CarerChange::Added(Role::Helper)));
        script.tell("03-02 08:00 change");
        script.tell(lines);
        let called = called_by_hazard(&script, "03-06 08:00", "03-06 08:00");
        assert_eq!(called, expected, "{lines}");
    };
    check("03-04 09:00 took change", &[ADA, BEA, CLEO]);
    // The keeper is called whatever they said: it is theirs to see that somebody does it.
    check("03-04 09:00 cannot change", &[ADA, BEA, CLEO]);
    let mut script = of_cleo(23, "");
    let turn = script.turn("2026-03-05 09:00", Duty::Change);
    script.add_by(CLEO, "2026-03-05 09:00", Event::Cannot { turn });
    let called = called_by_hazard(&script, "03-06 08:00", "03-06 08:00");
    assert_eq!(called, [ADA, BEA], "nobody is asked again who cannot");
}
