//! What is posted when a sitter's span begins and ends.

use wrackline::chat::plain;
use wrackline::desk::posts::render;
use wrackline::desk::tell::Tell;
use wrackline::engine;
use wrackline::words::Words;
use wrackline_core::moment::Subject;
use wrackline_core::people::Span;
use wrackline_tests::house::TestHouse;

use super::{SVEN, club, holds};

/// The spans that were posted, and each of these posts as it would be sent now.
async fn handovers(house: &TestHouse) -> Vec<(bool, Span, String)> {
    let now = house.app.house.clock.now();
    let posts = house.store.posts(house.place, 0).await.expect("posts");
    let held = house.app.house.shelf.open(house.place).await.expect("the book");
    let at = held.book().place_at(now);
    let words = Words::english();
    let tell = Tell::to_all(&words, held.book(), &at, now);
    let told = posts.iter().filter_map(|post| {
        let subject: Subject = serde_json::from_str(&post.body).ok()?;
        let Subject::Handover { carer, span, begins } = subject else {
            return None;
        };
        assert_eq!(carer.0, SVEN);
        let rendered = render(&tell, &subject, post.id, at.zone.date(now));
        Some((begins, span, plain::text(&rendered.blocks)))
    });
    told.collect()
}

async fn step(house: &TestHouse, local: &str) {
    house.at(local);
    while engine::step(&house.app.house).await.expect("a step") > 0 {}
}

#[tokio::test]
async fn a_span_is_posted_once_when_it_begins_and_once_when_it_has_ended() {
    let mut house = club().await;
    step(&house, "2026-03-01 19:30").await;
    assert!(handovers(&house).await.is_empty());
    step(&house, "2026-03-02 07:59").await;
    assert!(handovers(&house).await.is_empty(), "nothing early");
    step(&house, "2026-03-02 08:00").await;
    let begun = handovers(&house).await;
    let [(true, _, told)] = begun.as_slice() else {
        panic!("{begun:#?}");
    };
    holds(
        told,
        &[
            "The span of Sven begins: Monday 2 March to Sunday 15 March",
            "Monday 2 March, morning: Hall, Dune: morning look",
            "/sheet Sven",
        ],
    );
    for (local, line) in [
        ("2026-03-02 08:20", "/did look dune"),
        ("2026-03-03 08:20", "/did change dune salt"),
        ("2026-03-03 08:30", "/did change dune fresh"),
        ("2026-03-04 08:30", "/read dune 90% 26C"),
        ("2026-03-04 08:31", "/read dune 80% 26C"),
        ("2026-03-04 20:00", "/saw condensation dune"),
    ] {
        step(&house, local).await;
        let (ok, said) = house.say_as(SVEN, line).await;
        assert!(ok, "{line}: {said}");
    }
    step(&house, "2026-03-15 19:30").await;
    assert_eq!(handovers(&house).await.len(), 1);
    step(&house, "2026-03-16 07:59").await;
    assert_eq!(handovers(&house).await.len(), 1);
    step(&house, "2026-03-16 08:00").await;
    step(&house, "2026-03-16 19:30").await;
    let all = handovers(&house).await;
    let [_, (false, span, told)] = all.as_slice() else {
        panic!("{all:#?}");
    };
    assert_eq!(
        (span.from.to_string(), span.to.to_string()),
        ("2026-03-02".into(), "2026-03-15".into())
    );
    // 7.8 L and 7.7 L with 5 % more make 8.19 L and 8.085 L: 5 mL for each 40 L of the tap water in them.
    holds(
        told,
        &[
            "The span of Sven has ended: Monday 2 March to Sunday 15 March",
            "Sven did 5 turns, about ",
            "Change: 2, about ",
            "Reading: 2, about 4 min",
            "Still late: ",
            "Seen: condensation, Dune, Wednesday 4 March 20:00, still open.",
            "Out of the band: Dune, humidity: 1 of 2 readings.",
            "as /mix reckons it with its margin: 8.2 L of fresh water, 8.1 L of salt water, 289.6 g of salt, conditioner 2.02 mL.",
        ],
    );
}

#[tokio::test]
async fn a_house_that_stood_still_posts_what_began_meanwhile_and_nothing_of_long_ago() {
    let house = club().await;
    step(&house, "2026-03-01 19:30").await;
    step(&house, "2026-03-04 12:00").await;
    assert_eq!(handovers(&house).await.len(), 1, "two days late");
    let house = club().await;
    step(&house, "2026-03-01 19:30").await;
    step(&house, "2026-03-10 12:00").await;
    assert!(handovers(&house).await.is_empty(), "eight days late");
}

#[tokio::test]
async fn a_span_that_is_set_anew_ends_with_its_new_last_day() {
    let mut house = club().await;
    step(&house, "2026-03-02 08:00").await;
    house.say("/carer set Sven until 2026-03-04").await;
    step(&house, "2026-03-05 08:00").await;
    let all = handovers(&house).await;
    let kinds: Vec<(bool, String)> = all
        .iter()
        .map(|(begins, span, _)| (*begins, span.to.to_string()))
        .collect();
    assert_eq!(
        kinds,
        [(true, "2026-03-15".to_owned()), (false, "2026-03-04".to_owned())]
    );
    step(&house, "2026-03-16 08:00").await;
    assert_eq!(handovers(&house).await.len(), 2);
}
