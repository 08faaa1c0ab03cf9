//! The steps of a duty, with today's quantities.

use super::{holds, house};

#[tokio::test]
async fn a_change_tells_the_bucket() {
    let mut house = house("metric").await;
    let text = house.say("/how change great salt").await;
    // 31.5 L at 35 g/kg and 25 °C weigh 32.235 kg: 1128 g of salt in 31.107 kg of water.
    holds(
        &text,
        &[
            "Today, with 5 % for what is spilt: 31.2 L of tap water and 1.13 kg of dry marine mix make 31.5 L in 4 buckets of 10 L.",
            "Expect 35 g/kg, sg 1.0264 (25/25)",
            "Into each bucket 7.8 L of water; marine mix: 282 g, 282 g, 282 g and 282 g.",
            "are common practice",
            "1 · Prepare 30 L of salt water",
        ],
    );
    let text = house.say("/how change small fresh").await;
    holds(
        &text,
        &["Today, with 5 % for what is spilt: 8.4 L of tap water in 1 bucket of 10 L."],
    );
    assert!(!text.contains("marine mix make"), "{text}");
}

#[tokio::test]
async fn a_part_change_follows_the_convention_and_the_warmth_of_the_pool() {
    let mut house = house("metric").await;
    house.say("/place set sg 20/20").await;
    house.say("/read small salt 26C").await;
    let text = house.say("/how part change small salt").await;
    holds(
        &text,
        &[
            "make 4.2 L in 1 bucket of 10 L. Expect 35 g/kg, sg 1.0266 (20/20).",
            "Bring it to 26 °C, as the pool was read.",
            "What is siphoned out fills 1 bucket of 10 L.",
        ],
    );
    assert!(!text.contains("25/25"), "{text}");
    let mut us = super::house("us").await;
    holds(
        &us.say("/how change small salt").await,
        &[
            "of tap water and",
            "10.6 oz of dry marine mix make 2.2 US gal in 1 bucket of 2.6 US gal.",
        ],
    );
}

#[tokio::test]
async fn a_top_up_tells_what_evaporated_if_a_reading_does() {
    let mut house = house("metric").await;
    assert!(!house.say("/how top up small salt").await.contains("evaporated"));
    house.say("/did change small salt").await;
    house.at("2026-03-03 12:00");
    house.say("/read small salt 40 g/kg").await;
    // 1 − 35/40 is an eighth of the pool's mass, 8.2 kg at the line.
    holds(
        &house.say("/how top up small salt").await,
        &["About 1 L has evaporated: 40 g/kg now, 35 g/kg at the line (common practice)."],
    );
    house.say("/did top up small salt").await;
    assert!(!house.say("/how top up small salt").await.contains("evaporated"));
    house.at("2026-03-03 12:30");
    house.say("/read small salt 34 g/kg").await;
    house.at("2026-03-05 12:00");
    house.say("/read small salt 36 g/kg").await;
    holds(
        &house.say("/how top up small salt").await,
        &["36 g/kg now, 34 g/kg when it was last filled."],
    );
}

#[tokio::test]
async fn conditioner_goes_by_its_label_alone() {
    let mut house = house("metric").await;
    let text = house.say("/how condition small fresh").await;
    holds(&text, &["Conditioner for 8 L, by its label."]);
    assert!(!text.contains(" mL"), "{text}");
}
