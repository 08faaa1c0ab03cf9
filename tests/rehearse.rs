//! A place's own journal under another way of keeping.

mod laws;
mod told;
mod worked;
mod wrong;

use wrackline_tests::house::TestHouse;

/// North with a salt pool of 8 L that Ada and Maren change in turn every second morning, from 2 to 30 March; the clock
/// stands at noon of 30 March.
async fn month() -> TestHouse {
    let mut house = TestHouse::new("Europe/London").await;
    for line in [
        "/enclosure add North 400 L",
        "/pool add north salt 8 L",
        "/carer add Maren",
        "/supplies set conditioner Clear dose 5 mL per 40 L",
    ] {
        house.say(line).await;
    }
    for turn in 0..15 {
        house.at(&format!("2026-03-{:02} 08:20", 2 + 2 * turn));
        let by = if turn % 2 == 0 { "Ada" } else { "Maren" };
        house.say(&format!("/did change north salt by {by}")).await;
    }
    house.at("2026-03-30 12:00");
    house
}
