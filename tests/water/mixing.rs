//! `/mix` for the changes of a round and for pools that are named.

use super::{holds, place};

#[tokio::test]
async fn the_next_round_says_what_it_takes() {
    let mut house = place().await;
    house.say("/place set sg 25/25").await;
    house
        .say("/supplies set conditioner \"Tapsafe\" 5 mL per 40 L")
        .await;
    // Never changed since noon of 1 March: all four are due on the 3rd; north's salt pool is changed a day later.
    house.at("2026-03-02 09:00");
    house.say("/did change north salt").await;
    house.at("2026-03-02 21:00");
    let said = house.say("/mix").await;
    // 14 L of fresh and 8 L of salt water with 5 % more: 14.7 L, and 8.4 L with 300.9 g of salt in 8.32 L.
    assert!(
        said.starts_with(
            "Prepare 14.7 L fresh (conditioner 1.84 mL) · \
             8.4 L salt (300.9 g salt, conditioner 1.04 mL, expect sg 1.0264 (25/25))"
        ),
        "{said}"
    );
    assert!(
        said.contains("Study, Dune salt") && !said.contains("North salt"),
        "{said}"
    );
    holds(
        &said,
        &[
            "5 % more than the pools take",
            "fresh, 1 of 2",
            "fresh, 2 of 2",
            "salt, 1 of 1",
            "Tapsafe: 5 mL for 40 L, by its label.",
            "No bucket was set",
            "measure it, no reading of the last days is at hand",
            "The salt is taken for dry salt (common practice)",
        ],
    );
}

#[tokio::test]
async fn named_pools_are_mixed_for_whatever_is_due() {
    let mut house = place().await;
    house.say("/supplies set bucket 5 L margin 10% target 34").await;
    house.say("/read north salt 26.1C").await;
    let said = house.say("/mix north salt").await;
    // 8.8 L at 34 g/kg: 8.8·1.02259·34 = 306 g.
    assert!(
        said.starts_with("Prepare 8.8 L salt (306 g salt, expect 34 g/kg)"),
        "{said}"
    );
    holds(
        &said,
        &[
            "10 % more than the pools take",
            "salt, 1 of 2",
            "153 g",
            "North salt 26.1 °C",
            "sg 1.0256 (25/25)",
            "Buckets of up to 5 L",
            "by label",
        ],
    );
    let all = house.say("/mix all").await;
    holds(&all, &["15.4 L fresh", "17.6 L salt", "North fresh", "Dune salt"]);
    let other = house.say("/mix north salt 30").await;
    holds(&other, &["8.8 L salt", "expect 30 g/kg"]);
    let fresh = house.say("/mix north fresh").await;
    assert!(
        fresh.starts_with("Prepare 8.8 L fresh") && !fresh.contains("sg "),
        "{fresh}"
    );
}

#[tokio::test]
async fn a_filtered_pool_takes_its_part_alone() {
    let mut house = place().await;
    house.say("/gear add north salt filter proven").await;
    // Until its first change under the filter the whole of it is asked for.
    house.at("2026-03-01 18:00");
    house.say("/did change north salt").await;
    let said = house.say("/mix north salt").await;
    // Half of the water from 2 US gal up: 4 L, 4.2 L with the margin.
    assert!(said.starts_with("Prepare 4.2 L salt (150.4 g salt"), "{said}");
}

#[tokio::test]
async fn very_many_buckets_stand_in_one_row() {
    let mut house = place().await;
    let said = house.say("/mix 80 L finished salt 35 at 25C").await;
    holds(&said, &["salt, each of 8"]);
    assert!(!said.contains("1 of 8"), "{said}");
    house.say("/supplies set bucket 0.5 L").await;
    let refused = house.refused("/mix 1000 L salt 35").await;
    holds(&refused, &["buckets", "/supplies set bucket"]);
}

#[tokio::test]
async fn a_place_in_us_units_reads_them_and_grams() {
    let mut house = place().await;
    house.say("/place set units us sg 60F/60F").await;
    let said = house.say("/mix 2 gal salt 35 at 77F").await;
    // 273.8 g are 9.66 oz.
    holds(
        said.lines().next().unwrap_or_default(),
        &["9.7 oz (273.8 g) of dry salt", "2 US gal", "35 g/kg"],
    );
    holds(&said, &["sg 1.0269 (60F/60F)", "77 °F"]);
    assert!(!said.contains("25/25") && !said.contains("25 °C"), "{said}");
}

#[tokio::test]
async fn an_amount_for_a_pool_takes_its_water_and_its_temperature() {
    let mut house = place().await;
    house.say("/read dune salt 24C").await;
    let said = house.say("/mix dune salt 6 L").await;
    holds(&said, &["into 6 L of tap water", "35 g/kg", "24 °C"]);
    let fresh = house.say("/mix 6 L dune fresh").await;
    assert!(fresh.starts_with("6 L of fresh water"), "{fresh}");
}

#[tokio::test]
async fn where_no_water_is_changed_nothing_is_mixed() {
    let mut house = wrackline_tests::house::TestHouse::new("UTC").await;
    let said = house.refused("/mix").await;
    super::one_sentence(&said, &["no change to mix for", "/mix 10 L salt 35"]);
    house.say("/enclosure add North 400 L").await;
    house.refused("/mix all").await;
}

#[tokio::test]
async fn outside_of_a_published_range_it_is_said() {
    let mut house = place().await;
    let said = house.say("/mix 10 L salt 45").await;
    holds(&said, &["45 lies outside the range 2 to 42"]);
    let usual = house.say("/mix 10 L salt 35").await;
    assert!(!usual.contains("outside the range"), "{usual}");
}

#[tokio::test]
async fn water_that_nobody_mixes_is_refused() {
    let mut house = place().await;
    for (line, sentence) in [
        (
            "/mix 10 L salt 35 at -3C",
            "Water of -3 °C is not mixed; say a temperature between 0 °C and 45 °C.",
        ),
        (
            "/mix north salt at 46C",
            "Water of 46 °C is not mixed; say a temperature between 0 °C and 45 °C.",
        ),
        (
            "/mix north salt from 30 to 35 at 50C",
            "Water of 50 °C is not mixed; say a temperature between 0 °C and 45 °C.",
        ),
        (
            "/mix 10 L salt 0",
            "Salt water of 0 g/kg would be fresh water; say fresh, or salt with what it is to hold, such as salt 35.",
        ),
    ] {
        let said = house.refused(line).await;
        assert_eq!(said, sentence, "{line}");
    }
    house.say("/mix 10 L salt 35 at 0C").await;
    house.say("/place set units us").await;
    let said = house.refused("/mix 10 L salt 35 at 20F").await;
    holds(&said, &["between 32 °F and 113 °F"]);
}

#[tokio::test]
async fn the_steps_say_what_goes_into_each_bucket() {
    let mut house = place().await;
    house
        .say("/supplies set bucket 10 L conditioner \"Tapsafe\" 5 mL per 40 L")
        .await;
    // 24 L in the end: 23.76 L of tap water and 860 g of salt, in three buckets of 8 L.
    let said = house.say("/mix 24 L finished salt 35 at 25C").await;
    holds(
        &said,
        &[
            "Fill in tap water, about as warm as the pool: 3 buckets with 7.9 L each.",
            "Conditioner in, before any salt: 3 buckets with 0.99 mL each.",
            "while you stir: 2 buckets with 287 g each, 1 bucket with 286 g.",
        ],
    );
    let said = house.say("/mix 8 L salt 35 at 25C").await;
    holds(
        &said,
        &[
            "289.3 g of dry salt into 8 L of tap water, with 1 mL of conditioner in it first, makes 8.1 L at 35 g/kg.",
            "Fill in tap water, about as warm as the pool: 8 L.",
            "while you stir: 289.3 g.",
        ],
    );
    let said = house.say("/mix north").await;
    holds(
        &said,
        &[
            "about as warm as the pool: fresh: 8.4 L; salt: 8.3 L.",
            "while you stir: 300.9 g.",
        ],
    );
}

#[tokio::test]
async fn what_is_mixed_into_a_vessel_is_a_batch() {
    let mut house = place().await;
    house
        .say("/supplies set conditioner \"Tapsafe\" 5 mL per 40 L")
        .await;
    let said = house
        .say("/mix 8 L salt 35 at 25C into Blue can conditioned")
        .await;
    holds(
        &said,
        &[
            "289.3 g of dry salt into 8 L of tap water",
            "Blue can: 8.1 L of salt water, 35 g/kg",
            "Before it is used: not measured.",
        ],
    );
    assert!(!said.contains("To keep it in a vessel"), "{said}");
    holds(
        &house.say("/batch list").await,
        &["Blue can: 8.1 L of salt water"],
    );
    let said = house.refused("/mix 8 L fresh into blue can").await;
    holds(&said, &["Blue can still holds 8.1 L of salt water"]);
    house.say("/undo").await;
    let said = house.say("/mix 8 L fresh into blue can").await;
    holds(&said, &["Before it is used: not conditioned."]);
    let said = house.refused("/mix north salt into red can").await;
    holds(&said, &["say the amount"]);
}
