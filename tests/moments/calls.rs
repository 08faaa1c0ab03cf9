//! Round calls: one for each round and civil date, and one alone after a stop.

use std::collections::BTreeMap;

use wrackline_core::civil::plus_minutes;
use wrackline_core::journal::{Event, RoundChange};
use wrackline_core::moment::{Subject, round_key};
use wrackline_core::place::RoundId;

use super::{Watch, script, tale, told};

#[test]
fn one_call_for_each_round_and_date() {
    let script = script("08:00 20:00", false, "03-01 08:00 change");
    let [from, until] = ["2026-03-02 00:00", "2026-03-15 23:59"].map(|local| script.at(local));
    let mut watch = Watch::new(&script, from);
    watch.run(from, until);
    let rounds: Vec<&String> = watch
        .known
        .iter()
        .filter(|key| key.starts_with("round."))
        .collect();
    assert_eq!(rounds.len(), 2 * 14, "{rounds:?}");
    // A call is made at its round's own time and says so by saying nothing.
    for (at, post) in &watch.posts {
        if let Subject::Round {
            round, date, held, ..
        } = &post.subject
        {
            assert_eq!(post.keys[0], round_key(*round, *date));
            let time = if *round == RoundId(1) { "08:00" } else { "20:00" };
            assert_eq!(script.local(*at), format!("{} {time}", date.strftime("%m-%d")));
            assert_eq!(*held, None);
        }
    }
}

#[test]
fn a_round_with_nothing_to_do_is_not_called() {
    let done = "03-02 07:00 change; 03-02 07:00 look; 03-02 07:00 reading; 03-02 07:00 scrub";
    let script = script("08:00", false, &format!("{done}; 03-02 07:00 hygrometer"));
    assert_eq!(tale(&script, "03-02 07:30", "03-03 07:30", "round"), [""; 0]);
    assert_eq!(
        tale(&script, "03-02 07:30", "03-03 08:30", "round"),
        ["03-03 08:00 round"]
    );
}

#[test]
fn a_round_that_moves_after_its_call_is_not_called_again() {
    let mut script = script("08:00", false, "03-02 08:00 change");
    let time = jiff::civil::time(8, 30, 0, 0);
    script.add(
        "2026-03-04 08:10",
        Event::Round(RoundId(1), RoundChange::Time(time)),
    );
    let found = tale(&script, "03-03 12:00", "03-05 12:00", "round");
    assert_eq!(
        found,
        ["03-04 08:00 round: change", "03-05 08:30 round: change, stand-in"]
    );
    let mut script = super::script("08:00", false, "03-02 08:00 change");
    script.add(
        "2026-03-04 07:50",
        Event::Round(RoundId(1), RoundChange::Time(time)),
    );
    let found = tale(&script, "03-03 12:00", "03-04 12:00", "round");
    assert_eq!(found, ["03-04 08:30 round: change"]);
}

#[test]
fn after_three_days_stop_there_is_one_call() {
    let script = script("08:00 20:00", false, "03-01 08:00 change");
    let [start, stop, again] =
        ["2026-03-02 00:00", "2026-03-04 09:00", "2026-03-07 10:00"].map(|local| script.at(local));
    let mut watch = Watch::new(&script, start);
    watch.run(start, stop);
    let before = watch.posts.len();
    let next = watch.deal(again);
    let calls: Vec<_> = watch.posts[before..]
        .iter()
        .filter(|(_, post)| !post.subject.turns().is_empty())
        .collect();
    let [(_, call)] = calls.as_slice() else {
        panic!("not one call: {calls:?}")
    };
    assert_eq!(told(call), "round, held back: change, hazard");
    let Subject::Round { held, date, .. } = &call.subject else {
        panic!("no round: {call:?}")
    };
    assert_eq!(held.map(|at| script.local(at)).as_deref(), Some("03-07 08:00"));
    assert_eq!(*date, jiff::civil::date(2026, 3, 7));
    // It stands for all that was missed, so that nothing of it is called later.
    let rounds: Vec<&String> = call.keys.iter().filter(|key| key.starts_with("round.")).collect();
    let missed = [
        "round.1.2026-03-07",
        "round.2.2026-03-04",
        "round.1.2026-03-05",
        "round.2.2026-03-05",
        "round.1.2026-03-06",
        "round.2.2026-03-06",
    ];
    assert_eq!(rounds, missed);
    watch.deal(plus_minutes(again, 1));
    assert_eq!(watch.posts.len(), before + 1);
    assert_eq!(script.local(next), "03-07 20:00");
}

#[test]
fn rounds_older_than_the_catch_up_window_are_not_called() {
    let script = script("08:00", false, "03-01 08:00 change");
    let mut watch = Watch::new(&script, script.at("2026-03-02 09:00"));
    watch.deal(script.at("2026-03-20 12:00"));
    let found: Vec<&str> = watch
        .posts
        .iter()
        .flat_map(|(_, post)| &post.keys)
        .map(String::as_str)
        .filter(|key| key.starts_with("round"))
        .collect();
    assert_eq!(
        found,
        ["round.1.2026-03-20", "round.1.2026-03-18", "round.1.2026-03-19"]
    );
}

#[test]
fn a_stop_that_ends_in_the_night_is_caught_up_in_the_morning() {
    let script = script("08:00 20:00", true, "03-03 08:00 change");
    let mut watch = Watch::new(&script, script.at("2026-03-04 09:00"));
    let next = watch.deal(script.at("2026-03-05 03:00"));
    assert!(watch.posts.is_empty(), "{:?}", watch.posts);
    assert_eq!(script.local(next), "03-05 07:00");
    watch.deal(next);
    let [(_, call)] = watch.posts.as_slice() else {
        panic!("not one post: {:?}", watch.posts)
    };
    let Subject::Round { held: Some(held), .. } = &call.subject else {
        panic!("no late call: {call:?}")
    };
    assert_eq!(script.local(*held), "03-04 20:00");
}

#[test]
fn a_round_in_the_quiet_hours_is_called_when_they_end() {
    let script = script("06:00 20:00", true, "03-03 08:00 change");
    let found = tale(&script, "03-03 21:00", "03-05 21:00", "round");
    let calls = [
        "03-04 07:00 round",
        "03-04 20:00 round",
        "03-05 07:00 round: change",
        "03-05 20:00 round: change, carer",
    ];
    assert_eq!(found, calls);
}

#[test]
fn a_week_is_summed_up_once_at_the_first_round_of_its_monday() {
    let weeks = |from: &str, until: &str| {
        let mut script = wrackline_tests::journal::Script::place("America/New_York", "02:30 20:00");
        script.tell("01-05 08:00 change");
        let found = super::posts(&script, from, until);
        let weeks = found.into_iter().filter_map(|(at, post)| match post.subject {
            Subject::Week { monday } => Some((monday.to_string(), script.zone.rfc3339(at))),
            _ => None,
        });
        weeks.collect::<BTreeMap<_, _>>()
    };
    let check = |from, until, expected: &[(&str, &str)]| {
        let expected = expected
            .iter()
            .map(|(monday, at)| ((*monday).to_owned(), (*at).to_owned()))
            .collect();
        assert_eq!(weeks(from, until), expected);
    };
    check(
        "02-28 00:00",
        "03-17 00:00",
        &[
            ("2026-02-23", "2026-03-02T02:30:00-05:00"),
            ("2026-03-02", "2026-03-09T02:30:00-04:00"),
            ("2026-03-09", "2026-03-16T02:30:00-04:00"),
        ],
    );
    check(
        "10-25 00:00",
        "11-10 00:00",
        &[
            ("2026-10-19", "2026-10-26T02:30:00-04:00"),
            ("2026-10-26", "2026-11-02T02:30:00-05:00"),
            ("2026-11-02", "2026-11-09T02:30:00-05:00"),
        ],
    );
}
