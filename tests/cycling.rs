//! A filter's nitrogen cycle: judged by what the journal tells, and what it does to the cadence.

mod ammonia;
mod lapses;
mod proof;

use wrackline_tests::house::TestHouse;

/// A salt pool of 8 L with a filter whose cycle is not proven, kept since 1 March 2026 at noon.
async fn house(life: &str) -> TestHouse {
    let mut house = TestHouse::new("America/New_York").await;
    for line in [
        "/rounds add morning 08:00",
        "/enclosure add North 400 L",
        &format!("/pool add north salt 8 L {life}"),
        "/gear add north salt filter",
    ] {
        house.say(line).await;
    }
    house
}

/// Says lines, each at a local time of March 2026: `05 12:00 /read …`.
async fn told(house: &mut TestHouse, lines: &[&str]) -> String {
    let mut last = String::new();
    for line in lines {
        let (at, line) = line.split_at(8);
        house.at(&format!("2026-03-{}", at.trim()));
        last = house.say(line).await;
    }
    last
}

/// All of these stand in a text.
#[track_caller]
fn holds(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "no “{part}” in:\n{text}");
    }
}

/// No stored mark differs from the journal.
async fn verify(house: &TestHouse) {
    let found = wrackline::commands::verify::differences(&house.store, house.place).await;
    assert_eq!(found.expect("the store"), Vec::<String>::new());
}

/// The tests and doses that prove a cycle from 1 to 30 March.
const PROVING: [&str; 7] = [
    "01 12:10 /read north salt ammonia 0 mg/L nitrite 0 mg/L nitrate 5 mg/L",
    "01 12:20 /read north salt dosed ammonia 2 mg/L",
    "05 12:00 /read north salt ammonia 2 mg/L nitrite 0 mg/L nitrate 5 mg/L 25C",
    "15 12:00 /read north salt ammonia 0.5 mg/L nitrite 2 mg/L nitrate 10 mg/L",
    "28 12:00 /read north salt dosed ammonia 2 ppm",
    "29 12:00 /read north salt ammonia 0 mg/L nitrite 0 mg/L nitrate 40 mg/L",
    "30 12:00 /read north salt ammonia 0 mg/L nitrite 0 mg/L nitrate 40 mg/L",
];
