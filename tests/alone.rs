//! A place left alone: what fails first, what to do before leaving, and the fewest visits, through the lines that people
//! say.

mod demo;
mod portions;
mod wrong;

use wrackline_tests::house::TestHouse;

/// Asserts that a text holds each of these.
#[track_caller]
fn holds(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "{part:?} is not in:\n{text}");
    }
}

/// A place with two rounds and one enclosure of two still pools of 8 L, changed on 7 March at 08:00; it is noon of that day,
/// a Saturday.
async fn still() -> TestHouse {
    let mut house = TestHouse::new("Europe/London").await;
    for line in [
        "/rounds add morning 08:00",
        "/rounds add evening 19:30",
        "/carer add Bea regular",
        "/enclosure add North 400 L room Hall crabs 4 largest 5 cm",
        "/pool add north fresh 8 L",
        "/pool add north salt 8 L",
    ] {
        house.say(line).await;
    }
    house.at("2026-03-07 08:00");
    house.say("/did change north").await;
    house.at("2026-03-07 12:00");
    house
}

#[tokio::test]
async fn the_first_line_is_the_first_failure_with_the_visits_that_prevent_it() {
    let mut house = still().await;
    let text = house.say("/alone 9d").await;
    let first = text.lines().next().expect("a first line");
    assert_eq!(
        first,
        "First to fail: North fresh, change, Wednesday 11 March 12:00, hour 96 after leaving. 2 visits prevent it: \
         Tuesday 10 March, evening; Friday 13 March, evening."
    );
    holds(
        &text,
        &[
            "nobody sees a leak",
            "veterinarian who treats exotic animals",
            "Before leaving, Saturday 7 March 12:00, in walking order:",
            "Hall, North fresh: change (8 L)",
            // Changed at 08:00, so that it would fail four hours sooner.
            "Left as it stands now, the first to fail is North fresh, change: Wednesday 11 March 08:00, hour 92 after leaving.",
            "no shape was told",
            "/pool set north fresh shape box 30x20x12 cm",
            "Overdue meanwhile, without a hazard: morning look (North)",
            "Visit 1, Tuesday 10 March, evening:",
            "Visit 2, North salt: ",
            "fewer would not do",
        ],
    );
}

#[tokio::test]
async fn a_short_time_needs_no_visit() {
    let mut house = still().await;
    let text = house.say("/alone until Monday").await;
    let first = text.lines().next().expect("a first line");
    assert_eq!(
        first,
        "Nothing reaches its limit until Monday 9 March 19:30; the first would be North fresh, change, Wednesday 11 \
         March 12:00. No visit is needed."
    );
}

#[tokio::test]
async fn air_filters_levels_and_batches_are_told_before_leaving() {
    let mut house = still().await;
    for line in [
        "/enclosure set north size 100x50x60 cm substrate 15 cm lid gaps heated 27C",
        "/pool set north salt shape box 40x25x14 cm depth 8 cm",
        "/gear add north salt filter proven",
        "/gear set north salt filter fill line 7.6 cm",
        "/gear add north fresh air",
        "/did change north again",
        "/batch add blue can 10 L salt 35 conditioned",
    ] {
        house.say(line).await;
    }
    let text = house.say("/alone 20 days").await;
    holds(
        &text,
        &[
            "North salt loses ",
            "the filter's fill line is bare after",
            "its salt goes from 35 to ",
            "since no shape was told",
            "Longer limits hang on moved water in North fresh and North salt",
            "Wednesday 11 March 12:00 as a still pool",
            "stone under something heavy",
            "has to prove its cycle again",
            "blue can: 10 L of salt water, use by Saturday 21 March, before the return",
            "North salt, top-up (the water falls to the filter's fill line)",
        ],
    );
}

#[tokio::test]
async fn what_no_visit_can_hold_is_said_first() {
    let mut house = still().await;
    house.say("/duty set still every 6 h grace 1 h hazard 12 h").await;
    let text = house.say("/alone 2 days").await;
    holds(
        &text,
        &[
            "North fresh, change: its limit (Sunday 8 March 00:00) comes too soon for any visit",
            "No visit holds it.",
        ],
    );
}

#[tokio::test]
async fn what_is_open_is_told_before_anybody_leaves_and_who_logs_what_to_those_who_stay() {
    let mut house = still().await;
    let text = house.say("/alone 2 days").await;
    assert!(!text.contains("Still open"), "{text}");
    house.say("/saw leak north salt").await;
    let text = house.say("/alone 2 days").await;
    holds(&text, &["Still open: North salt: leak."]);
    let (ok, card) = house.say_as(2, "/emergency leak").await;
    assert!(ok && card.contains("a keeper logs: tell Ada"), "{card}");
    let card = house.say("/emergency leak").await;
    assert!(!card.contains("a keeper logs"), "{card}");
}
