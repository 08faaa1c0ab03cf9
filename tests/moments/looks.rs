//! Open matters: looked at again and again until they are closed, in the round calls and between them; the keepers'
//! own go to them alone.

use jiff::Timestamp;
use wrackline_core::journal::{CarerChange, Event, Sighting};
use wrackline_core::matter::follow_ups;
use wrackline_core::moment::{Destination, Post, Subject};
use wrackline_core::place::{CarerId, Role};
use wrackline_tests::journal::{NORTH_ITSELF, Script};

use super::{posts, script};

/// Posts that list a look: to whom, when, and how it stands there.
fn looks(script: &Script, from: &str, until: &str) -> Vec<String> {
    let all = posts(script, from, until);
    let told = |(at, post): &(Timestamp, Post)| {
        let kind = if matches!(post.subject, Subject::Round { .. }) {
            "round"
        } else {
            "call"
        };
        let look = |look: &wrackline_core::moment::Look| {
            let late = if look.late { ", late" } else { "" };
            let names = if look.names { ", by name" } else { "" };
            format!("{} {} {kind}{late}{names}", script.local(*at), post.to)
        };
        post.subject.looks().iter().map(look).collect::<Vec<_>>()
    };
    all.iter().flat_map(told).collect()
}

/// A place of which something was seen, and then what befell it: `looked`, `closed` or a line of the script.
fn seen(sighting: Sighting, is_quiet: bool, at: &str, lines: &str) -> Script {
    let mut script = script("08:00 19:30", is_quiet, "");
    let lines: Vec<&str> = lines
        .split(';')
        .map(str::trim)
        .filter(|line| !line.is_empty())
        .collect();
    let before = |line: &&&str| line.split_at(11).1.trim().starts_with("quiet");
    lines.iter().filter(before).for_each(|line| {
        script.tell(line);
    });
    let seq = script.add(&format!("2026-{at}"), Event::Saw(NORTH_ITSELF, sighting));
    for line in lines.iter().filter(|line| !before(line)) {
        let (at, what) = line.split_at(11);
        let event = match what.trim() {
            "looked" => Event::Looked(seq),
            "closed" => Event::Closed(seq),
            other => panic!("{other}"),
        };
        script.add(&format!("2026-{at}"), event);
    }
    script
}

/// What was seen, when, what befell it, until when it is watched, and the posts that list a look.
const LOOKS: [(Sighting, &str, &str, &str, &str); 7] = [
    // A leak: an hour later, late after another; then at every round, as long as nobody looks.
    (
        Sighting::Leak,
        "03-04 09:10",
        "",
        "03-05 09:00",
        "03-04 10:10 chat call, by name; 03-04 11:10 chat call, late, by name; \
         03-04 19:30 chat round, late; 03-05 08:00 chat round, late",
    ),
    // Looked at: the next round. Closed: never again.
    (
        Sighting::Leak,
        "03-04 09:10",
        "03-04 10:00 looked; 03-04 19:40 looked; 03-05 08:10 closed",
        "03-06 09:00",
        "03-04 19:30 chat round, by name; 03-05 08:00 chat round, by name",
    ),
    (
        Sighting::WetSubstrate,
        "03-04 09:10",
        "",
        "03-04 22:00",
        "03-04 19:30 chat round, by name; 03-04 21:30 chat call, late, by name",
    ),
    // Beside a moulting crab: sooner, and again every three hours.
    (
        Sighting::WetSubstrate,
        "03-04 09:10",
        "03-01 08:00 quiet 03-20; 03-04 10:00 looked; 03-04 13:05 looked",
        "03-04 18:00",
        "03-04 13:00 chat call, by name; 03-04 16:05 chat call, by name; 03-04 17:05 chat call, late, by name",
    ),
    // One whose review is over is no quiet zone any more.
    (
        Sighting::WetSubstrate,
        "03-04 09:10",
        "03-01 08:00 quiet 03-04; 03-04 19:40 looked",
        "03-04 23:00",
        "03-04 19:30 chat round, by name",
    ),
    // A crab that is out: in the evening too.
    (
        Sighting::Escape,
        "03-04 09:10",
        "03-04 19:40 looked; 03-04 21:05 looked",
        "03-05 07:00",
        "03-04 19:30 chat round, by name; 03-04 21:00 chat call, by name",
    ),
    // What the daily look finds again has no follow-up.
    (Sighting::Mould, "03-04 09:10", "", "03-06 09:00", ""),
];

#[test]
fn a_matter_is_looked_at_until_it_is_closed() {
    for (sighting, at, lines, until, expected) in LOOKS {
        let found = looks(&seen(sighting, false, at, lines), "03-04 08:30", until);
        assert_eq!(found.join("; "), expected, "{sighting:?} at {at}: {lines}");
    }
}

#[test]
fn a_look_waits_for_the_morning() {
    let script = seen(Sighting::Leak, true, "03-04 21:30", "");
    let found = looks(&script, "03-04 08:30", "03-05 09:00");
    let expected = [
        "03-05 07:00 chat call, late, by name",
        "03-05 08:00 chat round, late",
    ];
    assert_eq!(found, expected);
}

#[test]
fn sickness_goes_to_each_keeper_alone() {
    let mut script = script("08:00 19:30", true, "");
    for (number, role) in [(2, Role::Keeper), (3, Role::Regular)] {
        script.add(
            "2000-01-01 00:00",
            Event::Carer(CarerId(number), CarerChange::Added(role)),
        );
    }
    let seq = script.add_by(
        CarerId(3),
        "2026-03-04 23:10",
        Event::Saw(NORTH_ITSELF, Sighting::Trouble),
    );
    script.add("2026-03-05 20:00", Event::Closed(seq));
    let all = posts(&script, "03-04 12:00", "03-06 12:00");
    let is_about = |post: &Post| match &post.subject {
        Subject::Seen(of) | Subject::SeenSettled(of) => *of == seq,
        subject => subject.looks().iter().any(|look| look.matter == seq),
    };
    let told: Vec<String> = all
        .iter()
        .filter(|(_, post)| is_about(post))
        .map(|(at, post)| format!("{} {} {}", script.local(*at), post.to, post.keys[0]))
        .collect();
    let due = |local: &str| script.at(&format!("2026-{local}")).as_second();
    let expected: Vec<String> = [
        ("03-04 23:10", format!("seen.{seq}")),
        ("03-05 08:00", "round.1.2026-03-05".to_owned()),
        ("03-05 10:00", format!("look.{seq}.{}.late", due("03-05 08:00"))),
        ("03-05 19:30", "round.2.2026-03-05".to_owned()),
        ("03-05 20:00", format!("settled.seen.{seq}")),
    ]
    .iter()
    .flat_map(|(at, key)| [1, 2].map(|carer| format!("{at} carer.{carer} {key}.c{carer}")))
    .collect();
    assert_eq!(told, expected);
    // The round calls of the chat are there, and say nothing of it.
    let rounds = all
        .iter()
        .filter(|(_, post)| post.to == Destination::Chat && matches!(post.subject, Subject::Round { .. }));
    assert_eq!(rounds.count(), 4);
}

#[test]
fn what_is_urgent_is_first_and_what_is_no_longer_kept_is_gone() {
    let mut script = script("08:00", false, "03-01 08:00 quiet 03-20");
    let leak = script.add("2026-03-04 09:00", Event::Saw(NORTH_ITSELF, Sighting::Leak));
    let wet = script.add(
        "2026-03-04 09:05",
        Event::Saw(NORTH_ITSELF, Sighting::WetSubstrate),
    );
    let order = |script: &Script, local: &str| -> Vec<(u64, bool)> {
        let (book, now) = (script.book(), script.at(local));
        let all = follow_ups(&book, &book.place_at(now), now);
        all.iter().map(|turn| (turn.matter.seq, turn.urgent)).collect()
    };
    assert_eq!(order(&script, "2026-03-04 09:30"), [(wet, true), (leak, false)]);
    assert_eq!(order(&script, "2026-03-20 09:30"), [(leak, false), (wet, false)]);
    script.add(
        "2026-03-21 08:00",
        Event::Enclosure(
            wrackline_tests::journal::NORTH,
            wrackline_core::journal::EnclosureChange::Retired,
        ),
    );
    assert_eq!(order(&script, "2026-03-21 09:30"), []);
}
