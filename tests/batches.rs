//! Prepared water: batches, what duties take from them, where they went, and doses of conditioner.

mod doses;
mod drawn;
mod followed;
mod kept;
mod trails;

use wrackline_tests::house::TestHouse;

/// A place that reads metric units: Ada keeps it, Bea shares the work.
async fn north() -> TestHouse {
    set_up("metric", ["8 L", "6 L"]).await
}

/// The same in US units.
async fn us() -> TestHouse {
    set_up("us", ["2 gal", "2 gal"]).await
}

async fn set_up(units: &str, [north, dune]: [&str; 2]) -> TestHouse {
    let mut house = TestHouse::new("America/New_York").await;
    for line in [
        format!("/place set units {units}"),
        "/rounds add morning 08:00".to_owned(),
        "/carer add Bea regular".to_owned(),
        "/enclosure add North 400 L".to_owned(),
        "/enclosure add Dune 300 L".to_owned(),
        format!("/pool add north fresh {north}"),
        format!("/pool add north salt {north}"),
        format!("/pool add dune salt {dune}"),
    ] {
        house.say(&line).await;
    }
    house.at("2026-03-03 08:00");
    house
}

/// The first line of an answer.
fn first(said: &str) -> &str {
    said.lines().next().unwrap_or("")
}

/// Holds that an answer holds all of these.
#[track_caller]
fn holds(said: &str, parts: &[&str]) {
    for part in parts {
        assert!(said.contains(part), "“{part}” is not in: {said}");
    }
}
