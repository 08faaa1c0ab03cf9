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
            "Prepare 31.5 L salt (1.13 kg salt, expect 35 g/kg)",
            "Salt, in buckets of up to 10 L: tap water, 4 buckets with 7.8 L each; the salt, 4 buckets with 282 g each.",
            "sg 1.0264 (25/25)",
            "5 % more than the pool takes, for what is spilt. That margin, 35 g/kg and buckets of 10 L are common practice",
            "1 · Prepare the salt water: tap water",
        ],
    );
    // One number, in the words of the call.
    let prepare = text
        .lines()
        .find(|line| line.starts_with("Prepare"))
        .expect("what to prepare");
    assert!(
        house.say("/mix great salt").await.starts_with(prepare),
        "{prepare}"
    );
    let text = house.say("/how change small fresh").await;
    holds(
        &text,
        &[
            "Prepare 8.4 L fresh",
            "Fresh, in buckets of up to 10 L: tap water, 8.4 L.",
        ],
    );
    assert!(!text.contains("g salt"), "{text}");
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
            "Prepare 4.2 L salt (150.4 g salt, expect sg 1.0266 (20/20))",
            "Bring it to 26 °C, as the pool was read.",
            "What is siphoned out fills 1 bucket of 10 L, about ",
            " min with carrying (common practice; the tube is told by /plumb small salt).",
        ],
    );
    assert!(!text.contains("25/25"), "{text}");
    let mut us = super::house("us").await;
    holds(
        &us.say("/how change small salt").await,
        &[
            "Prepare 2.2 US gal salt (10.6 oz (300.9 g) salt",
            "Salt, in buckets of up to 2.6 US gal: tap water, 2.2 US gal",
        ],
    );
}

#[tokio::test]
async fn why_it_is_no_part_change_yet() {
    let mut house = house("metric").await;
    house.say("/gear add small fresh filter").await;
    for (pool, because) in [
        (
            "great salt",
            "Great salt is not filtered: its own turn is a change of all 30 L.",
        ),
        (
            "small fresh",
            "The filter of Small fresh is not proven yet: its own turn is a change of all 8 L.",
        ),
    ] {
        holds(&house.say(&format!("/how part change {pool}")).await, &[because]);
    }
    house.at("2026-03-02 12:00");
    house.say("/gear add great salt filter proven").await;
    holds(
        &house.say("/how part change great salt").await,
        &[
            "The filter of Great salt is proven, and its first change under it is still to come: that one is of all 30 L",
        ],
    );
    house.say("/gear stop great salt filter").await;
    holds(
        &house.say("/how part change great salt").await,
        &["The filter of Great salt stands still"],
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
