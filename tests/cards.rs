//! Cards for emergencies, and the steps of a duty with today's quantities.

mod emergency;
mod how;

use wrackline_tests::house::TestHouse;

/// Two enclosures, a large and a small one, the small one with both pools and a filter.
async fn house(units: &str) -> TestHouse {
    let mut house = TestHouse::new("America/New_York").await;
    for line in [
        &format!("/place set units {units}"),
        "/rounds add morning 08:00",
        "/enclosure add Great 600 L",
        "/enclosure add Small 100 L",
        "/pool add small fresh 8 L",
        "/pool add small salt 8 L",
        "/pool add great salt 30 L",
        "/gear add small salt filter proven",
        "/gear add great salt air",
    ] {
        house.say(line).await;
    }
    house
}

/// All of these stand in a text, in this order.
#[track_caller]
fn holds(text: &str, parts: &[&str]) {
    let mut rest = text;
    for part in parts {
        let Some(at) = rest.find(part) else {
            panic!("no “{part}” there in:\n{text}");
        };
        rest = &rest[at + part.len()..];
    }
}
