//! The demo's club, left alone for nine days.

use wrackline::replay::Scenario;
use wrackline_core::alone::{MARGIN_H, Span, alone};
use wrackline_core::care::{Duty, board};
use wrackline_core::civil::{hold, plus_days};
use wrackline_core::journal::{Book, Entry, Event, Part};
use wrackline_core::place::{CarerId, Target};
use wrackline_tests::house::TestHouse;

use jiff::{SignedDuration, Timestamp};

use super::holds;

/// The club as its scenario sets it up, with all of its water changed in the evening of 6 March.
async fn club() -> TestHouse {
    let scenario = Scenario::load("demo").expect("the demo's scenario");
    let mut house = TestHouse::new(&scenario.zone).await;
    for line in &scenario.set_up {
        house.say(line).await;
    }
    house.at("2026-03-06 19:40");
    house.say("/did change all").await;
    house.at("2026-03-07 18:00");
    house
}

fn write(book: &mut Book, duty: Duty, target: Target, at: Timestamp) {
    book.insert(Entry::at_once(
        book.last_seq() + 1,
        at,
        CarerId(1),
        Event::Did(duty, target, Part::Whole),
    ));
}

/// Whether visits, at each of which all is done, keep every mark half a day from its hazard; hour by hour.
fn keeps(prepared: &Book, visits: &[Timestamp], span: Span) -> bool {
    let mut book = prepared.clone();
    let hours = (span.back.as_second() - span.leave.as_second()) / 3600;
    (0..=hours).all(|hour| {
        let at = span.leave + SignedDuration::from_hours(hour);
        let due: Vec<Timestamp> = visits
            .iter()
            .copied()
            .filter(|visit| *visit <= at && *visit > at - SignedDuration::from_hours(1))
            .collect();
        for visit in due {
            for one in board(&book, &book.place_at(visit), visit) {
                if one.held.is_none() {
                    write(&mut book, one.duty(), one.turn.target, visit);
                }
            }
        }
        let limit = at + SignedDuration::from_hours(MARGIN_H);
        let all = board(&book, &book.place_at(at), at);
        all.iter()
            .all(|one| one.hazard.is_none_or(|hazard| limit <= hazard))
    })
}

#[tokio::test]
async fn the_club_learns_its_first_failure_and_its_fewest_visits() {
    let mut house = club().await;
    let text = house.say("/alone 9d").await;
    let first = text.lines().next().expect("a first line");
    // Pool, duty, hour.
    assert_eq!(
        first,
        "First to fail: Dune fresh, change, Wednesday 11 March 18:00, hour 96 after leaving. 2 visits prevent it: \
         Tuesday 10 March, evening; Friday 13 March, evening."
    );
    holds(
        &text,
        &[
            "Hall, Dune fresh: change (7.8 L)",
            "Study, Reef salt: part change (5 L)",
            "Longer limits hang on moved water in Reef fresh and Reef salt",
            "Visit 1, Dune salt: ",
        ],
    );
    let held = house.app.house.shelf.open(house.place).await.expect("a book");
    let now = house.zone.instant(jiff::civil::date(2026, 3, 7).at(18, 0, 0, 0));
    let span = Span {
        leave: now,
        back: house.zone.instant(jiff::civil::date(2026, 3, 16).at(18, 0, 0, 0)),
    };
    let found = alone(held.book(), now, span);
    let mut prepared = held.book().clone();
    for turn in &found.before {
        write(&mut prepared, turn.duty, turn.target, now);
    }
    let visits: Vec<Timestamp> = found.visits.visits.iter().map(|visit| visit.at).collect();
    assert!(keeps(&prepared, &visits, span));
    // No single round does, nor none.
    let place = prepared.place_at(now);
    let rounds = (0..=9).flat_map(|day| {
        let date = plus_days(place.zone.date(now), day);
        let all: Vec<Timestamp> = place
            .rounds
            .iter()
            .map(|round| hold(&place.zone, round, date).at)
            .collect();
        all
    });
    let rounds: Vec<Timestamp> = rounds.filter(|at| span.leave < *at && *at < span.back).collect();
    assert_eq!(rounds.len(), 18);
    assert!(!keeps(&prepared, &[], span));
    assert!(rounds.iter().all(|round| !keeps(&prepared, &[*round], span)));
}
