//! The rules of thumb of the fact sheet, section 10 (common practice), asked through lines.

use wrackline_tests::house::TestHouse;

use super::first;

/// Asks of a still pool in a tank kept at 27 °C, of which the size is told and the rest is usual: the first line.
async fn asked(house: &mut TestHouse, name: &str, gallons: u32, size: &str, pool: &str) -> String {
    for line in [
        format!("/enclosure add {name} {gallons} US gal"),
        format!("/enclosure set {name} size {size} heated 27C"),
        format!("/pool add {name} fresh {pool}"),
    ] {
        house.say(&line).await;
    }
    let text = house.say(&format!("/fit {name}")).await;
    first(&text).to_owned()
}

#[tokio::test]
async fn a_box_that_serves_seventy_five_is_too_big_for_forty() {
    let mut house = TestHouse::new("Europe/London").await;
    let pool = "8 L box 40x20x15 cm";
    for (name, gallons, size, verdict) in [
        ("Ninety", 90, "122x46x60 cm", "Ninety: fits."),
        ("Seventy", 75, "122x46x50 cm", "Seventy: fits."),
        ("Forty", 40, "91x46x36 cm", "Forty: too much water surface."),
    ] {
        let said = asked(&mut house, name, gallons, size, pool).await;
        assert!(said.starts_with(verdict), "{said}");
    }
}

#[tokio::test]
async fn a_box_that_suits_forty_is_at_the_edge_in_twenty() {
    let mut house = TestHouse::new("Europe/London").await;
    let pool = "2.2 L box 20x14x12 cm";
    let said = asked(&mut house, "Forty", 40, "91x46x36 cm", pool).await;
    assert!(said.starts_with("Forty: fits."), "{said}");
    let said = asked(&mut house, "Twenty", 20, "76x31x32 cm", pool).await;
    assert!(said.starts_with("Twenty: at the humid edge."), "{said}");
    let text = house.say("/fit twenty").await;
    assert!(text.contains("a shallower pool with a smaller surface"), "{text}");
}

/// 700 US gal in all, 500 of them substrate and floor, 200 topper: the gross volume and the air are two figures.
#[tokio::test]
async fn ten_gallons_are_not_too_big_for_seven_hundred() {
    let mut house = TestHouse::new("Europe/London").await;
    house.say("/enclosure add Hall 700 US gal").await;
    house
        .say("/enclosure set hall size 200x100x132 cm substrate 94.6 cm heated 27C")
        .await;
    house.say("/pool add hall fresh 10 US gal box 50x40x25 cm").await;
    let text = house.say("/fit hall").await;
    let said = first(&text);
    for word in ["too much", "humid"] {
        assert!(!said.contains(word), "{said}");
    }
    assert!(text.contains("In all 2649.8 L, of it air 757.8 L."), "{text}");
}
