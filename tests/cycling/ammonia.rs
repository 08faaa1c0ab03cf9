//! How much of the ammonia is un-ionised, told beside a water test.

use super::{holds, house};

#[tokio::test]
async fn a_danger_is_told_in_the_units_of_the_place() {
    let mut house = house("in use").await;
    house.say("/place set units us").await;
    let text = house.say("/read north salt ammonia 1 mg/L pH 8.4 79F").await;
    // By Bell et al. at 26.11 °C and 35 g/kg: pKa 9.3259, 10.6 % at pH 8.4.
    holds(
        &text,
        &[
            "Un-ionised ammonia 0.11 mg/L as NH3: 10.6 % of ammonia 1 mg/L",
            "pH 8.4, 79 °F, 35 g/kg (assumed)",
            "26.1 °C lies outside the range 5 to 25 °C that the formula was published for.",
            "above 0.025 mg/L",
            "no limit for land hermit crabs is published",
            "/how change north salt",
        ],
    );
}

#[tokio::test]
async fn a_calm_value_carries_its_doubt_and_counts_as_nitrogen_too() {
    let mut house = house("in use").await;
    house.say("/read north salt 32 g/kg 25C pH 7.8").await;
    let text = house.say("/read north salt ammonia 0.25 mg/L as N").await;
    // 0.25 mg/L as N is 0.304 as NH3; pKa 9.3517 at 25 °C and 32 g/kg, 2.73 % at pH 7.8.
    holds(
        &text,
        &[
            "Un-ionised ammonia 0.0083 mg/L as NH3: 2.73 % of ammonia 0.25 mg/L as N",
            "pH 7.8, 25 °C, 32 g/kg. Fish keeping takes 0.025 mg/L",
        ],
    );
    let text = house.say("/read north salt ammonia 0 mg/L").await;
    assert!(!text.contains("Un-ionised"), "{text}");
}

#[tokio::test]
async fn what_feeds_a_cycling_filter_is_no_reason_to_change_the_water() {
    let mut house = house("cycling").await;
    let text = house.say("/read north salt ammonia 2 mg/L pH 8.3 27C").await;
    holds(
        &text,
        &[
            "above 0.025 mg/L",
            "closed to the crabs, and its filter needs this ammonia",
        ],
    );
    assert!(!text.contains("/how change"), "{text}");
}
