//! Pools against their enclosure, and what is laid to them, through the lines that people say.

mod box_of_air;
mod gear;
mod journal;
mod rules;
mod told;
mod wrong;

use wrackline_tests::house::TestHouse;

/// Asserts that a text holds each of these.
#[track_caller]
fn holds(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "{part:?} is not in:\n{text}");
    }
}

/// A place of metric units that was told nothing yet but an enclosure of 100 L.
async fn bare() -> TestHouse {
    let mut house = TestHouse::new("Europe/London").await;
    house
        .say("/enclosure add Box 100 L crabs 3 smallest 2 cm largest 5 cm")
        .await;
    house
}

/// The worked box of the fact sheet, section 2: 100 L of air at 27 °C, half an exchange an hour, a room of 21 °C and 45 %, and
/// a still pool at 26 °C.
async fn worked() -> TestHouse {
    let mut house = bare().await;
    for line in [
        "/enclosure set box size 50x50x40 cm substrate none glass 6 mm lid 0.5/h heated 27C",
        "/place set winter 21C 45% summer 45% 21C",
        "/pool add box fresh 2 L box 24.58x10x12 cm",
        "/read box fresh 26C",
    ] {
        house.say(line).await;
    }
    house
}

/// A place of US units with a filtered pool of 2.5 US gal, 3.6 in deep.
async fn american() -> TestHouse {
    let mut house = TestHouse::new("America/New_York").await;
    for line in [
        "/place set units us",
        "/enclosure add North 75 gal smallest 0.8 in largest 2 in",
        "/enclosure set north size 48x18x20 in substrate 6 in glass 0.25 in lid gaps heated 80F",
        "/pool add north fresh 2.5 gal box 16x10x6 in",
        "/gear add north fresh filter proven",
    ] {
        house.say(line).await;
    }
    house
}

/// The first line of an answer.
fn first(text: &str) -> &str {
    text.lines().next().unwrap_or_default()
}
