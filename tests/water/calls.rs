//! What a round call says is to be prepared.

use wrackline::chat::plain;
use wrackline::desk::posts::render;
use wrackline::desk::tell::Tell;
use wrackline::engine;
use wrackline::words::Words;
use wrackline_core::moment::Subject;
use wrackline_tests::house::TestHouse;

use super::place;

/// The lines of the last call of a round, as it would be sent now.
async fn call(house: &TestHouse) -> Vec<String> {
    let now = house.app.house.clock.now();
    let since = now.as_millisecond() - 3 * 86_400_000;
    let posts = house.store.posts(house.place, since).await.expect("posts");
    let round = posts.iter().rev().find_map(|post| {
        let subject: Subject = serde_json::from_str(&post.body).ok()?;
        matches!(subject, Subject::Round { .. }).then_some((subject, post.id))
    });
    let (subject, post) = round.expect("a call");
    let held = house.app.house.shelf.open(house.place).await.expect("the book");
    let at = held.book().place_at(now);
    let words = Words::english();
    let tell = Tell::to_all(&words, held.book(), &at, now);
    let text = plain::text(&render(&tell, &subject, post, at.zone.date(now)).blocks);
    text.lines().map(str::to_owned).collect()
}

async fn morning(house: &TestHouse, local: &str) {
    house.at(local);
    while engine::step(&house.app.house).await.expect("a step") > 0 {}
}

#[tokio::test]
async fn the_second_line_says_what_to_prepare() {
    let mut house = place().await;
    morning(&house, "2026-03-03 08:00").await;
    // 14 L and 16 L with 5 % more; without a label and a convention these are left out.
    assert_eq!(
        call(&house).await[1],
        "Prepare 14.7 L fresh · 16.8 L salt (601.7 g salt, expect 35 g/kg)"
    );
    house.say("/place set sg 25/25").await;
    house
        .say("/supplies set conditioner \"Tapsafe\" 5 mL per 50 L target 34 margin 10%")
        .await;
    assert_eq!(
        call(&house).await[1],
        "Prepare 15.4 L fresh (conditioner 1.54 mL) · \
         17.6 L salt (611.9 g salt, conditioner 1.74 mL, expect sg 1.0256 (25/25))"
    );
    // What is done needs no more water.
    house.say("/did change north salt and dune salt").await;
    assert_eq!(
        call(&house).await[1],
        "Prepare 15.4 L fresh (conditioner 1.54 mL)"
    );
    house.say("/did change north fresh and dune fresh").await;
    let lines = call(&house).await;
    assert!(!lines.iter().any(|line| line.contains("Prepare")), "{lines:?}");
}

#[tokio::test]
async fn a_call_without_changes_prepares_nothing() {
    let mut house = place().await;
    morning(&house, "2026-03-03 08:00").await;
    house.say("/did change all").await;
    morning(&house, "2026-03-04 08:00").await;
    let lines = call(&house).await;
    assert!(!lines.iter().any(|line| line.contains("Prepare")), "{lines:?}");
    assert!(lines.len() > 1, "{lines:?}");
}
