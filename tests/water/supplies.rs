//! `/supplies`: what the place mixes with, and what it learns of its salt.

use super::{holds, one_sentence, place};

#[tokio::test]
async fn nothing_set_is_common_practice_and_said_so() {
    let mut house = place().await;
    let said = house.say("/supplies").await;
    holds(
        &said,
        &[
            "no label was entered",
            "Salt pools: 35 g/kg. (Common practice",
            "Spill margin: 5 %. (Common practice",
            "Bucket: 10 L. (Common practice",
            "chlorine. (Common practice",
        ],
    );
    house
        .say("/supplies set target 34 margin 10% bucket 12 L source 0.3 mains chloramine")
        .await;
    let said = house.say("/supplies list").await;
    for set in [
        "Salt pools: 34 g/kg.",
        "Spill margin: 10 %.",
        "Bucket: 12 L.",
        "Tap water: 0.3 g/kg",
    ] {
        let line = said
            .lines()
            .find(|line| line.contains(set))
            .unwrap_or_else(|| panic!("{set} in {said}"));
        assert!(!line.contains("Common practice"), "{line}");
    }
}

#[tokio::test]
async fn a_label_decides_the_dose() {
    let mut house = place().await;
    let said = house
        .say("/supplies set conditioner \"Tapsafe\" 5 mL per 40 L hold 24 h")
        .await;
    // 5 mg/L of chlorine take 35 mg of crystals, in 0.125 mL: 280 mg in a mL.
    holds(
        &said,
        &[
            "Tapsafe: 5 mL for 40 L",
            "24 h, by its label",
            "5 mg/L of chlorine, the most that any authority allows in drinking water (WHO), takes up to 35 mg",
            "280 mg in a mL",
        ],
    );
    let mixed = house.say("/mix 8 L").await;
    assert!(
        mixed.starts_with("8 L of fresh water: conditioner 1 mL."),
        "{mixed}"
    );
    // Without quotation marks and with other units.
    let said = house
        .say("/supplies set conditioner Tap safe 1 fl oz per 50 gal")
        .await;
    holds(
        &said,
        &[
            "Tap safe: 29.6 mL for 189.3 L",
            "48 h are taken (common practice)",
        ],
    );
    let said = house.say("/supplies set conditioner none").await;
    assert!(said.contains("no dose is told"), "{said}");
    let mixed = house.say("/mix 8 L").await;
    assert!(mixed.contains("the label of the bottle decides"), "{mixed}");
    // A label that no bottle can keep.
    let said = house
        .say("/supplies set conditioner \"Thin\" 0.01 mL per 100 L")
        .await;
    holds(&said, &["Check the label's figures"]);
}

#[tokio::test]
async fn chloramine_doubles_where_the_label_says_so_alone() {
    let mut house = place().await;
    let said = house.say("/supplies set mains chloramine").await;
    // 4 mg/L of chloramine as chlorine: 0.79 mg/L of nitrogen.
    holds(
        &said,
        &[
            "standing for a day does not remove",
            "(US EPA)",
            "0.79 mg/L of ammonia as N",
        ],
    );
    let dose = "/mix 40 L";
    house
        .say("/supplies set conditioner \"Tapsafe\" 5 mL per 40 L chloramine double")
        .await;
    let said = house.say(dose).await;
    holds(
        &said,
        &["conditioner 10 mL.", "Doubled for chloramine, as its label says."],
    );
    house
        .say("/supplies set conditioner \"Tapsafe\" 5 mL per 40 L chloramine same")
        .await;
    let said = house.say(dose).await;
    assert!(
        said.contains("conditioner 5 mL.") && !said.contains("chloramine"),
        "{said}"
    );
    let said = house
        .say("/supplies set conditioner \"Tapsafe\" 5 mL per 40 L binds ammonia")
        .await;
    holds(&said, &["the label says nothing of it", "ammonia test"]);
    let said = house.say(dose).await;
    holds(
        &said,
        &[
            "conditioner 5 mL.",
            "the label says nothing of it",
            "an ammonia test in this water may mislead",
        ],
    );
}

#[tokio::test]
async fn a_salt_is_learnt_from_what_was_measured() {
    let mut house = place().await;
    house.say("/supplies set salt \"Reef mix\"").await;
    let said = house
        .say("/supplies set salt measured 34.1 after 10 L 358 g")
        .await;
    // 358 g in 9.9705 kg of water would be 34.66 g/kg.
    assert!(
        said.starts_with("Measured 34.1 g/kg where 34.66 were to be expected: the salt counts 0.984 of dry salt, learnt from 1 batch."),
        "{said}"
    );
    let mixed = house.say("/mix 10 L salt 35 at 25C").await;
    // 361.62 over 0.9838.
    holds(
        &mixed,
        &[
            "367.6 g of Reef mix",
            "Reef mix counts 0.98 of dry salt, learnt from 1 measured batch",
        ],
    );
    // The next batch is expected by what was learnt: it makes what it should, and the factor stays.
    house
        .say("/supplies set salt measured 35 after 10 L with 367.6 g")
        .await;
    holds(
        &house.say("/supplies list").await,
        &["Reef mix: counts 0.984 of dry salt, learnt from 2 batches"],
    );
    // Taken back, one is left; another salt begins anew.
    let undone = house.say("/undo").await;
    assert!(undone.contains("supplies"), "{undone}");
    holds(&house.say("/supplies list").await, &["learnt from 1 batch"]);
    house.say("/supplies set salt \"Other\"").await;
    holds(
        &house.say("/mix 10 L salt 35 at 25C").await,
        &["361.6 g of Other", "taken for dry salt"],
    );
    let said = house.say("/supplies set factor 0.95").await;
    assert!(said.contains("0.95"), "{said}");
    holds(
        &house.say("/mix 10 L salt 35 at 25C").await,
        &["380.7 g of Other", "by the keeper's word"],
    );
}

#[tokio::test]
async fn supplies_that_cannot_be_are_refused() {
    let mut house = place().await;
    for (line, word) in [
        ("/supplies set", "/supplies set"),
        ("/supplies set conditioner \"Tapsafe\"", "5 mL per 40 L"),
        ("/supplies set dose 5 mL per 40 L", "label"),
        (
            "/supplies set conditioner \"Tapsafe\" 500 L per 40 L",
            "500000 mL",
        ),
        ("/supplies set salt measured 34.1", "after 10 L with 358 g"),
        (
            "/supplies set salt measured 12 after 10 L with 358 g",
            "more than any salt explains",
        ),
        (
            "/supplies set salt measured sg 1.025 after 10 L with 358 g",
            "25/25",
        ),
        ("/supplies set factor 2", "between 0.7 and 1.3"),
        ("/supplies set target 90", "90"),
        ("/supplies set margin 140%", "140"),
        ("/supplies set target 5", "15 to 45 g/kg"),
        ("/supplies set bucket 50 L", "0.5 to 30 L"),
        ("/supplies set conditioner Clear 5 L per 1 L", "no label’s dose"),
        ("/supplies set mains bromine", "bromine"),
    ] {
        let said = house.refused(line).await;
        assert!(said.contains(word), "{line}: {said}");
        assert_eq!(said.lines().count(), 1, "{line}: {said}");
    }
    let (ok, said) = house.say_as(2, "/supplies set target 34").await;
    assert!(!ok, "{said}");
    let (ok, said) = house.say_as(2, "/supplies list").await;
    assert!(ok, "{said}");
    let said = house.refused("/supplies set bucket 2000 L").await;
    one_sentence(&said, &["2000 L"]);
}

#[tokio::test]
async fn no_margin_at_all_may_be_set() {
    let mut house = place().await;
    for nothing in ["0 %", "0", "none"] {
        house.say("/supplies set margin 10%").await;
        let said = house.say(&format!("/supplies set margin {nothing}")).await;
        holds(&said, &["Spill margin: 0 %."]);
    }
    holds(&house.say("/mix north salt").await, &["Prepare 8 L salt"]);
    house.refused("/supplies set margin -5%").await;
}
