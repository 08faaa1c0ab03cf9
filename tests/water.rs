//! Water: what is mixed, what part changes do, what the place mixes with, and what a call says of it.
//!
//! The figures that are expected here were computed apart from the product, by hand or from the published equation of
//! state of 1980.

mod alone;
mod calls;
mod dilution;
mod mixing;
mod standing;
mod supplies;

use wrackline_tests::house::TestHouse;

/// A place with two enclosures of two pools each, two rounds a day, set up on 1 March at noon.
async fn place() -> TestHouse {
    let mut house = TestHouse::new("Europe/London").await;
    for line in [
        "/rounds add morning 08:00",
        "/rounds add evening 19:30",
        "/carer add Bea regular",
        "/enclosure add North 400 L room Hall",
        "/enclosure add Dune 300 L room Study",
        "/pool add north fresh 8 L",
        "/pool add north salt 8 L",
        "/pool add dune fresh 6 L",
        "/pool add dune salt 8 L",
    ] {
        house.say(line).await;
    }
    house
}

/// Holds that a text has all of these in it.
#[track_caller]
fn holds(text: &str, all: &[&str]) {
    for one in all {
        assert!(text.contains(one), "{one}\nis not in\n{text}");
    }
}

/// Holds that a refusal is one sentence, and has all of these in it.
#[track_caller]
fn one_sentence(text: &str, all: &[&str]) {
    holds(text, all);
    let text = text.trim();
    assert!(text.ends_with('.'), "{text}");
    assert_eq!(text.matches(". ").count(), 0, "{text}");
    assert!(!text.contains('\n'), "{text}");
}
