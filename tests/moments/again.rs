//! What is seen again while it is open is the same matter; it stands by itself where the first sighting is taken back.

use std::collections::BTreeSet;

use jiff::Timestamp;
use proptest::prelude::*;
use wrackline_core::civil::plus_minutes;
use wrackline_core::journal::{Book, Entry, Event, Matter, Seq, Sighting};
use wrackline_core::matter::follow_ups;
use wrackline_tests::journal::{NORTH_ITSELF, NORTH_SALT, Script};

use crate::care::order::config;

const LEAK: Event = Event::Saw(NORTH_SALT, Sighting::Leak);

fn place() -> Script {
    Script::place("UTC", "08:00 20:00")
}

/// The matters at a moment of 2026: number, when it was seen, when again, when closed.
fn told(script: &Script, moment: &str) -> Vec<String> {
    let book = script.book();
    let at = |at: Timestamp| script.local(at);
    let line = |matter: Matter| {
        let again = matter.again.map_or("once".to_owned(), |(again, who)| {
            format!("{} {}", at(again), who.0)
        });
        let closed = matter.closed.map_or("open".to_owned(), at);
        format!("{}: {}, {again}, {closed}", matter.seq, at(matter.at))
    };
    book.matters(script.at(&format!("2026-{moment}")))
        .map(line)
        .collect()
}

/// When the next look at each matter is due.
fn looks(script: &Script, moment: &str) -> Vec<String> {
    let (book, now) = (script.book(), script.at(&format!("2026-{moment}")));
    let all = follow_ups(&book, &book.place_at(now), now);
    all.iter().map(|turn| script.local(turn.due)).collect()
}

#[test]
fn one_matter_is_seen_twice() {
    let mut script = place();
    let first = script.add("2026-03-02 09:00", LEAK);
    assert_eq!(looks(&script, "03-02 09:00"), ["03-02 10:00"]);
    script.add("2026-03-02 09:30", Event::Looked(first));
    assert_eq!(
        looks(&script, "03-02 09:30"),
        ["03-02 20:00"],
        "looked at, still open"
    );
    let second = script.add("2026-03-02 12:00", LEAK);
    let again = format!("{first}: 03-02 09:00, 03-02 12:00 1, open");
    assert_eq!(told(&script, "03-02 12:00"), [again]);
    assert_eq!(
        looks(&script, "03-02 12:00"),
        ["03-02 13:00"],
        "as soon as what was seen first"
    );
    // As it was known before.
    assert_eq!(
        told(&script, "03-02 11:59"),
        [format!("{first}: 03-02 09:00, once, open")]
    );
    let mut closed = script.clone();
    closed.add("2026-03-02 14:00", Event::Closed(second));
    let over = format!("{first}: 03-02 09:00, 03-02 12:00 1, 03-02 14:00");
    assert_eq!(
        told(&closed, "03-02 14:00"),
        std::slice::from_ref(&over),
        "closed by either"
    );
    // Once it is over, it is another one.
    let third = closed.add("2026-03-02 15:00", LEAK);
    assert_eq!(
        told(&closed, "03-02 15:00"),
        [over, format!("{third}: 03-02 15:00, once, open")]
    );
    // Taken back, the first one leaves the second to itself.
    script.add("2026-03-02 12:30", Event::Retract(first));
    assert_eq!(
        told(&script, "03-02 12:30"),
        [format!("{second}: 03-02 12:00, once, open")]
    );
    assert_eq!(looks(&script, "03-02 12:30"), ["03-02 13:00"]);
}

#[test]
fn what_is_elsewhere_or_of_a_crab_is_another_one() {
    let mut script = place();
    for (target, sighting) in [
        (NORTH_SALT, Sighting::Leak),
        (NORTH_ITSELF, Sighting::Leak),
        (NORTH_SALT, Sighting::Splashing),
        (NORTH_ITSELF, Sighting::Escape),
        (NORTH_ITSELF, Sighting::Escape),
        (NORTH_ITSELF, Sighting::Trouble),
        (NORTH_ITSELF, Sighting::Trouble),
    ] {
        script.add("2026-03-02 09:00", Event::Saw(target, sighting));
    }
    assert_eq!(told(&script, "03-02 09:00").len(), 7);
}

/// Sightings of three kinds at two spots, and what was done about them; each a minute of a week, and what it says.
fn deeds() -> impl Strategy<Value = Vec<Entry>> {
    let sightings = [Sighting::Leak, Sighting::Mould, Sighting::Escape];
    let saw = (proptest::bool::ANY, proptest::sample::select(sightings.to_vec()))
        .prop_map(|(salt, sighting)| Event::Saw(if salt { NORTH_SALT } else { NORTH_ITSELF }, sighting));
    let one = prop_oneof![
        4 => saw,
        1 => (1_u64..24).prop_map(Event::Looked),
        2 => (1_u64..24).prop_map(Event::Closed),
        1 => (1_u64..24).prop_map(Event::Retract),
    ];
    proptest::collection::vec((0_i64..7 * 24 * 60, one), 1..24).prop_map(|lines| {
        let mut script = place();
        let (start, before) = (script.at("2026-03-02 00:00"), script.entries.len() as u64);
        for (minutes, event) in lines {
            // Numbers count from the first line.
            let event = match event {
                Event::Looked(of) => Event::Looked(before + of),
                Event::Closed(of) => Event::Closed(before + of),
                Event::Retract(of) => Event::Retract(before + of),
                event => event,
            };
            script.add("2026-03-02 00:00", event);
            script.entries.last_mut().expect("the line just added").at = plus_minutes(start, minutes);
        }
        script.entries
    })
}

fn moments() -> impl Iterator<Item = Timestamp> {
    let start = place().at("2026-03-02 00:00");
    (0..=15).map(move |half_day| plus_minutes(start, half_day * 12 * 60))
}

fn matters(book: &Book, now: Timestamp) -> Vec<Matter> {
    book.matters(now).collect()
}

proptest! {
    #![proptest_config(config(400))]

    #[test]
    fn of_one_spot_one_is_open_and_no_sighting_is_lost(entries in deeds()) {
        let book = Book::of(entries.clone());
        for now in moments() {
            let all = matters(&book, now);
            let open = all.iter().filter(|one| one.closed.is_none() && one.sighting.is_of_spot());
            let open: Vec<_> = open.map(|one| (one.target, one.sighting)).collect();
            prop_assert_eq!(open.iter().collect::<BTreeSet<_>>().len(), open.len(), "{:?}", all);
            // Every sighting that counts is of exactly one matter.
            let of_each = all.iter().flat_map(|one| book.sightings_of(one.seq, now));
            let mut told: Vec<Seq> = of_each.collect();
            told.sort_unstable();
            let seen = entries.iter().filter(|entry| {
                entry.at <= now && matches!(entry.event, Event::Saw(..)) && !book.is_void(entry.seq)
            });
            prop_assert_eq!(told, seen.map(|entry| entry.seq).collect::<Vec<_>>());
        }
    }

    #[test]
    fn what_was_taken_back_was_never_seen(entries in deeds()) {
        let book = Book::of(entries.clone());
        let kept = entries.iter().filter(|entry| {
            !book.is_void(entry.seq) && !matches!(entry.event, Event::Retract(_))
        });
        let without = Book::of(kept.cloned());
        for now in moments() {
            prop_assert_eq!(matters(&book, now), matters(&without, now));
        }
    }

    #[test]
    fn any_order_of_arrival_and_what_comes_later_tell_the_same(
        (entries, shuffled) in deeds().prop_flat_map(|entries| (Just(entries.clone()), Just(entries).prop_shuffle())),
    ) {
        let (book, other) = (Book::of(entries.clone()), Book::of(shuffled));
        let taken_back: BTreeSet<Seq> = entries.iter().map(|entry| entry.seq).filter(|seq| book.is_void(*seq)).collect();
        let told = || entries.iter().filter(|entry| !taken_back.contains(&entry.seq));
        let whole = Book::of(told().cloned());
        for now in moments() {
            prop_assert_eq!(matters(&book, now), matters(&other, now));
            let until = Book::of(told().filter(|entry| entry.at <= now).cloned());
            prop_assert_eq!(matters(&whole, now), matters(&until, now));
        }
    }
}
