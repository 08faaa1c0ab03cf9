//! Feeds across both clock changes, kept as data beside what independent readers found in them.
//!
//! ```text
//! WRACKLINE_WRITE_FEEDS=1 cargo test -p wrackline-tests calendar::
//! python tests/reference/make.py calendar_feeds
//! ```

use std::path::{Path, PathBuf};

use jiff::{Timestamp, civil};
use wrackline::desk::feed::{Given, text, uid};
use wrackline::desk::tell::Tell;
use wrackline::words::Words;
use wrackline_core::calendar::{Feed, feed};
use wrackline_core::care::{OwnDuty, Schedule, board};
use wrackline_core::civil::plus_minutes;
use wrackline_core::journal::{Book, CarerChange, EnclosureChange, Event, OwnDutyChange, PlaceChange, Say};
use wrackline_core::place::{CarerId, OwnDutyId, Role};
use wrackline_core::rota::{HORIZON_DAYS, share_out};
use wrackline_tests::journal::{NORTH, NORTH_ITSELF, Script};

/// What ids are hashed with.
const SEED: &str = "5eed";

const ADA: CarerId = CarerId(1);
const BEA: CarerId = CarerId(2);

/// Changes of clocks: the zone, the morning a week or less before the change, and the feeds of the two.
const CHANGES: [(&str, &str, [&str; 2]); 5] = [
    (
        "Europe/Berlin",
        "2026-03-24 06:00",
        [
            "data/calendar/berlin-spring-ada.ics",
            "data/calendar/berlin-spring-bea.ics",
        ],
    ),
    (
        "Europe/Berlin",
        "2026-10-20 06:00",
        [
            "data/calendar/berlin-autumn-ada.ics",
            "data/calendar/berlin-autumn-bea.ics",
        ],
    ),
    (
        "America/New_York",
        "2026-03-03 06:00",
        [
            "data/calendar/new-york-spring-ada.ics",
            "data/calendar/new-york-spring-bea.ics",
        ],
    ),
    (
        "America/New_York",
        "2026-10-27 06:00",
        [
            "data/calendar/new-york-autumn-ada.ics",
            "data/calendar/new-york-autumn-bea.ics",
        ],
    ),
    // Half an hour, and the other way round.
    (
        "Australia/Lord_Howe",
        "2026-09-29 06:00",
        [
            "data/calendar/lord-howe-spring-ada.ics",
            "data/calendar/lord-howe-spring-bea.ics",
        ],
    ),
];

/// Whose feeds those are, and how long before a turn the alarm rings.
const PEOPLE: [(CarerId, Option<u32>); 2] = [(ADA, Some(30)), (BEA, None)];

/// A place whose people wrote what people write, with turns in the hour that is skipped and in the one that comes twice.
fn place(zone: &str, now: &str) -> Book {
    let mut script = Script::place(zone, "08:00 19:30");
    let start = "2026-01-01 00:00";
    script.add(
        start,
        Event::Place(PlaceChange::Name(
            "Club; “Krabben, Sand & Co.” \\ e.V.".to_owned(),
        )),
    );
    script.add(start, Event::Carer(BEA, CarerChange::Added(Role::Regular)));
    script.add(
        start,
        Event::Enclosure(NORTH, EnclosureChange::Room("Flur,\nlinks; hinten".to_owned())),
    );
    let name = "North: das große Becken am Fenster, mit 🦀🦀🦀 und Palmholz; nie allein gelassen".to_owned();
    script.add(start, Event::Enclosure(NORTH, EnclosureChange::Name(name)));
    for (id, name, at) in [(1, "Sand harken, 2 cm", (2, 30)), (2, "Lampe; prüfen", (1, 30))] {
        let schedule = Schedule::Weekdays {
            days: vec![2, 7],
            at: Some(civil::time(at.0, at.1, 0, 0)),
        };
        let duty = OwnDuty {
            name: name.to_owned(),
            target: NORTH_ITSELF,
            schedule,
            grace_h: 12,
            disturbs: false,
        };
        script.add(start, Event::OwnDuty(OwnDutyId(id), OwnDutyChange::Added(duty)));
    }
    for duty in wrackline_core::care::Duty::ALL {
        let target = if duty.is_of_pool() {
            wrackline_tests::journal::NORTH_SALT
        } else {
            NORTH_ITSELF
        };
        let whole = wrackline_core::journal::Part::Whole;
        script.add(&now.replace("06:00", "05:00"), Event::Did(duty, target, whole));
    }
    let (book, moment) = (script.book(), script.at(now));
    let there = book.place_at(moment);
    let shared = share_out(&book, &there, &board(&book, &there, moment), moment, HORIZON_DAYS).changes();
    script.add(now, Event::Shared(shared));
    // One turn of each duty that keeps a calendar passes into other hands, and one that does not.
    let turns = feed(&script.book(), &there, ADA, moment).turns;
    let kept = turns.iter().find(|turn| turn.on.is_some());
    let free = turns.iter().find(|turn| turn.on.is_none());
    for turn in kept.into_iter().chain(free) {
        let slot = turn.code.parse().expect("a slot");
        script.add_by(BEA, now, Event::Coming(slot, Say::Taken));
    }
    let mut book = script.book();
    book.names.insert(ADA, "Ada O’Neil, Esq.".to_owned());
    book.names.insert(BEA, "Bea\\Böhm;".to_owned());
    book
}

/// A feed as it is made and as it is written.
struct Written {
    /// Where it is kept.
    file: &'static str,
    feed: Feed,
    alarm_min: Option<u32>,
    text: String,
}

fn feeds() -> Vec<Written> {
    let words = Words::english();
    let mut all = Vec::new();
    for (zone, now, files) in CHANGES {
        let book = place(zone, now);
        let now = Script::place(zone, "08:00").at(now);
        let place = book.place_at(now);
        let tell = Tell {
            words: &words,
            book: &book,
            place: &place,
            now,
            zone: None,
        };
        for (file, (carer, alarm_min)) in files.into_iter().zip(PEOPLE) {
            let given = Given {
                seed: SEED,
                alarm_min,
                address: "http://127.0.0.1:8765/calendar/0.ics",
            };
            let feed = feed(&book, &place, carer, now);
            let text = text(&tell, &feed, &given);
            all.push(Written {
                file,
                feed,
                alarm_min,
                text,
            });
        }
    }
    all
}

fn path(file: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(file)
}

#[test]
fn feeds_are_written_as_they_were() {
    let writes = std::env::var_os("WRACKLINE_WRITE_FEEDS").is_some_and(|set| set == "1");
    for one in feeds() {
        let (file, turns) = (one.file, &one.feed.turns);
        if writes {
            std::fs::write(path(file), &one.text).expect("the feed is kept");
        }
        let kept = std::fs::read_to_string(path(file)).expect("a feed");
        assert!(kept == one.text, "{file} is written otherwise than it was");
        assert!(
            turns.iter().any(|turn| turn.on.is_some()),
            "{file}: nothing by the clock"
        );
        assert!(
            turns.iter().any(|turn| turn.on.is_none()),
            "{file}: nothing computed"
        );
    }
}

#[test]
fn lines_are_folded_between_letters() {
    for Written { file, text, .. } in feeds() {
        assert!(text.ends_with("END:VCALENDAR\r\n"), "{file}");
        for line in text.split_terminator("\r\n") {
            assert!((1..=75).contains(&line.len()), "{file}: {line:?}");
            assert!(!line.contains(['\r', '\n']), "{file}: {line:?}");
        }
        let folds = text.matches("\r\n ").count();
        assert!(folds > 20, "{file}: {folds} folds");
    }
}

/// What a reader found: one event of a feed.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Found {
    start: String,
    uid: String,
    end: String,
    sequence: String,
    status: String,
    alarm: String,
}

fn utc(at: Timestamp) -> String {
    at.strftime("%Y-%m-%dT%H:%M:%SZ").to_string()
}

/// What a reader is to find.
fn expected(feed: &Feed, alarm_min: Option<u32>) -> Vec<Found> {
    let mut all: Vec<Found> = feed
        .turns
        .iter()
        .map(|turn| Found {
            start: utc(turn.due),
            uid: uid(SEED, &turn.code),
            end: utc(plus_minutes(turn.due, i64::from(turn.minutes))),
            sequence: turn.sequence.to_string(),
            status: if turn.is_cancelled {
                "CANCELLED"
            } else {
                "CONFIRMED"
            }
            .to_owned(),
            alarm: match alarm_min.filter(|_| !turn.is_cancelled) {
                Some(minutes) => format!("-{minutes}"),
                None => String::new(),
            },
        })
        .collect();
    all.sort();
    all
}

#[test]
fn independent_readers_find_the_same() {
    let table = std::fs::read_to_string(path("data/reference/calendar_events.csv")).expect("the table");
    let mut lines = table.lines();
    let source = lines.next().expect("a source");
    assert!(
        source.contains("icalendar ") && source.contains("recurring-ical-events "),
        "{source}"
    );
    assert_eq!(
        lines.next(),
        Some("reader,feed,start,uid,end,sequence,status,alarm")
    );
    let rows: Vec<Vec<&str>> = lines.map(|line| line.split(',').collect()).collect();
    let mut compared = 0;
    for one in feeds() {
        let name = path(one.file);
        let name = name.file_stem().and_then(|name| name.to_str()).expect("a name");
        let expected = expected(&one.feed, one.alarm_min);
        // The zone's own data, and the clock as the feed tells it.
        for reader in ["icalendar", "vtimezone", "recurring-ical-events"] {
            let of_reader = rows.iter().filter(|row| row[0] == reader && row[1] == name);
            let mut found: Vec<Found> = of_reader
                .map(|row| {
                    let [start, uid, end, sequence, status, alarm] = row[2..] else {
                        panic!("{row:?}");
                    };
                    Found {
                        start: start.to_owned(),
                        uid: uid.to_owned(),
                        end: end.to_owned(),
                        sequence: sequence.to_owned(),
                        status: status.to_owned(),
                        alarm: alarm.to_owned(),
                    }
                })
                .collect();
            found.sort();
            assert_eq!(found, expected, "{name} by {reader}");
            compared += found.len();
        }
    }
    assert_eq!(compared, rows.len(), "every row was compared");
    assert!(
        rows.iter().any(|row| row[6] == "CANCELLED" && row[5] == "1"),
        "none passed on"
    );
}

#[test]
fn independent_readers_read_the_words() {
    let table = std::fs::read_to_string(path("data/reference/calendar_words.csv")).expect("the table");
    let said = |what: &str, json: &str| {
        let line = format!("{what},\"{}\"", json.replace('"', "\"\""));
        assert!(table.lines().any(|one| one == line), "{line} is not in:\n{table}");
    };
    // A line break, a backslash, a comma and a semicolon as they were typed; the reader writes them as JSON.
    said("location", r#""Flur,\nlinks; hinten""#);
    said("name", r#""Club; “Krabben, Sand & Co.” \\ e.V.: Bea\\Böhm;""#);
    let enclosure = "North: das große Becken am Fenster, mit 🦀🦀🦀 und Palmholz; nie allein gelassen";
    said("summary", &format!("\"Lampe; prüfen, {enclosure}\""));
}
