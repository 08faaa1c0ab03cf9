//! The people who share the work: spans that end by themselves, what each sets, work that waits for a nod, skills.

mod nods;
mod own;
mod platform;
mod quiet;
mod skills;
mod spans;
mod web;

use wrackline_tests::house::TestHouse;

/// The carers beside Ada, the keeper, who is 1: a regular, a sitter and a helper.
const BEA: u32 = 2;
const SVEN: u32 = 3;
const KID: u32 = 4;

/// A place in New York with one enclosure of two pools, two rounds a day, kept since Sunday 1 March at noon.
async fn north() -> TestHouse {
    let mut house = TestHouse::new("America/New_York").await;
    for line in [
        "/rounds add morning 08:00",
        "/rounds add evening 19:30",
        "/carer add Bea regular",
        "/carer add Sven sitter from 2026-03-02 to 2026-03-08",
        "/carer add Kid helper",
        "/enclosure add North 400 L",
        "/pool add north fresh 8 L",
        "/pool add north salt 8 L stationary",
    ] {
        house.say(line).await;
    }
    house
}

/// A refusal of someone's line, after which nothing was written.
async fn refused(house: &mut TestHouse, carer: u32, line: &str) -> String {
    let before = house.store.head(house.place).await.expect("a head");
    let (ok, said) = house.say_as(carer, line).await;
    assert!(!ok, "“{line}” was done: {said}");
    let after = house.store.head(house.place).await.expect("a head");
    assert_eq!(after, before, "“{line}” wrote something");
    said
}

/// A line of someone that is done.
async fn done(house: &mut TestHouse, carer: u32, line: &str) -> String {
    let (ok, said) = house.say_as(carer, line).await;
    assert!(ok, "“{line}” was refused: {said}");
    said
}

/// Asserts that a text holds each of these.
#[track_caller]
fn holds(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "{part:?} is not in:\n{text}");
    }
}
