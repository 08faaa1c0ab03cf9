//! Times that cannot be, and who may not ask.

use super::{holds, still};
use wrackline_tests::house::TestHouse;

#[tokio::test]
async fn a_time_that_cannot_be_is_refused_in_one_sentence() {
    let mut house = still().await;
    for (line, part) in [
        ("/alone", "How long nobody is there"),
        ("/alone 0 days", "no time at all"),
        ("/alone -9d", "a span of time"),
        ("/alone 61 days", "60 days are the most"),
        ("/alone from 2026-03-12 to 2026-03-10", "ends before it begins"),
        ("/alone from 2026-03-01 for 3 days", "is over; say a time to come"),
        ("/alone until yesterday", "ends before it begins"),
        ("/alone 9d until Sunday", "exclude each other"),
        ("/alone until the cows come", "the cows come"),
        ("/alone 900 days", "60 days are the most"),
    ] {
        let text = house.refused(line).await;
        holds(&text, &[part]);
        assert!(!text.trim().contains('\n'), "{line}: {text}");
        assert_eq!(text.matches(". ").count(), 0, "{line}: {text}");
    }
}

#[tokio::test]
async fn the_longest_time_is_planned() {
    let mut house = still().await;
    let text = house.say("/alone 60 days").await;
    holds(&text, &["visits prevent it", "and ", "Visit 15"]);
}

#[tokio::test]
async fn a_place_without_water_has_nothing_to_be_left() {
    let mut house = TestHouse::new("Europe/London").await;
    house.say("/enclosure add North 400 L").await;
    let text = house.refused("/alone 9d").await;
    holds(&text, &["No pool here is in use or cycling"]);
    house.say("/pool add north fresh 8 L life planned").await;
    house.refused("/alone 9d").await;
}

#[tokio::test]
async fn it_is_the_keepers_to_ask() {
    let mut house = still().await;
    let (ok, text) = house.say_as(2, "/alone 9d").await;
    assert!(!ok, "{text}");
    holds(&text, &["Ada"]);
}
