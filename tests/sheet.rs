//! Handover: the sheet as a message and as a page on two sides of paper, and what is posted when a span begins and ends.

mod asked;
mod page;
mod posts;
mod print;

use wrackline_tests::house::TestHouse;
use wrackline_tests::served::hash;

/// The carers beside Ada, the keeper, who is 1: the sitter, and a regular.
const SVEN: u32 = 2;
const BEA: u32 = 3;

/// A club with three enclosures, two pools in each, and two rounds a day, at noon of Sunday 1 March. Sven sits from
/// Monday 2 to Sunday 15 March; nobody else wants a share.
async fn club() -> TestHouse {
    let mut house = TestHouse::new("Europe/London").await;
    for line in [
        "/place set sg 25/25",
        "/rounds add morning 08:00",
        "/rounds add evening 19:30",
        "/carer add Sven sitter from 2026-03-02 to 2026-03-15",
        "/carer add Bea regular",
        "/carer set Sven stand-in Bea",
        "/carer set Ada share 0",
        "/carer set Bea share 0",
        "/enclosure add Dune 340 L room Hall crabs 6",
        "/enclosure add Reef 420 L room Study crabs 9",
        "/enclosure add Cove 150 L room Hall crabs 3",
        "/enclosure set cove quarantine yes",
        "/pool add dune fresh 7.8 L nested",
        "/pool add dune salt 7.7 L nested",
        "/pool add reef fresh 8 L stationary",
        "/pool add reef salt 10 L stationary",
        "/pool add cove fresh 2 L",
        "/pool add cove salt 2 L",
        "/gear add reef fresh filter proven",
        "/gear add reef salt filter proven",
        "/gear add reef salt air",
        "/duty add \"night food dish\" reef every 2 days",
        "/duty add \"lid seals\" on Sat",
        "/supplies set conditioner Clear dose 5 mL per 40 L",
        "/enclosure set reef quiet \"left back\" until 2026-03-20",
        "/read dune 81% 26.2C",
        "/read dune salt 34.6 g/kg",
    ] {
        house.say(line).await;
    }
    house
}

/// Asserts that a text holds each of these.
#[track_caller]
fn holds(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "{part:?} is not in:\n{text}");
    }
}

/// Gives someone a link that opens the porch, once, or a session of theirs.
async fn key(house: &TestHouse, carer: u32, text: &str, once: bool) {
    let hashed = hash(text);
    let put = house
        .store
        .key_put(house.place, carer, &hashed, once, i64::MAX / 2);
    put.await.expect("a key");
}
