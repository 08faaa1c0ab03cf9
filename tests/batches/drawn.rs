//! What duties take from a batch.

use super::{first, holds, north, us};

#[tokio::test]
async fn a_change_takes_its_litres_from_the_batch() {
    let mut house = north().await;
    house.say("/batch add Blue can 20 L salt 35 conditioned").await;
    house.say("/batch set blue can salinity 35").await;
    let said = house.say("/did change north salt from BLUE CAN").await;
    holds(first(&said), &["North salt changed, 8 L, 08:00, by Ada."]);
    holds(&said, &["Blue can: 12 L left."]);
    for quiet in ["First:", "never measured", "past its date"] {
        assert!(!said.contains(quiet), "{said}");
    }
    // A part of it, and an amount.
    let said = house.say("/did change dune salt part 50% from blue can").await;
    holds(&said, &["3 L", "Blue can: 9 L left."]);
    let said = house.say("/did change dune salt amount 2 L from blue can").await;
    holds(&said, &["Blue can: 7 L left."]);
    let said = house.refused("/did change north salt again from blue can").await;
    assert_eq!(
        said,
        "Blue can holds 7 L, and 8 L are asked of it; say the amount that came from it. Nothing was saved."
    );
    // A line that was taken back gives its water back.
    house.say("/undo").await;
    holds(&house.say("/batch").await, &["Blue can: 9 L of salt water"]);
    // One line for several pools takes the sum.
    house.at("2026-03-06 08:00");
    house.say("/batch add Red can 14 L salt 35 conditioned").await;
    let said = house.say("/did change salt from red can").await;
    holds(
        &said,
        &[
            "North salt changed, 8 L",
            "Dune salt changed, 6 L",
            "Red can: 0 mL left.",
        ],
    );
}

#[tokio::test]
async fn other_water_is_refused_unless_it_went_in() {
    let mut house = north().await;
    house.say("/batch add Blue can 20 L salt 35 conditioned").await;
    let said = house.refused("/did change north fresh from blue can").await;
    assert_eq!(
        said,
        "Blue can holds salt water, which is not for North fresh; if it went in all the same, add “again”. Nothing was saved."
    );
    let said = house.say("/did change north fresh from blue can again").await;
    holds(
        first(&said),
        &["First: change all of North fresh for fresh treated water"],
    );
    holds(
        &house.say("/trail blue can").await,
        &[
            "North fresh: 35 g/kg now",
            "8 L went in",
            "Correction: change 8 L (100 %)",
        ],
    );
    let said = house.say("/emergency too much salt").await;
    assert!(!said.contains("North fresh"), "nobody read it: {said}");
    let said = house.say("/read north fresh 35 ppt").await;
    holds(
        first(&said),
        &["First: change all of North fresh for fresh treated water"],
    );
    holds(
        &house.say("/emergency too much salt").await,
        &["First: change all of North fresh"],
    );
    let said = house
        .refused("/did top-up north salt amount 1 L from blue can")
        .await;
    holds(&said, &["is topped up with fresh water, since its salt stays"]);
    house.say("/batch add Jug 5 L fresh conditioned").await;
    let said = house.say("/did top-up north salt amount 1 L from jug").await;
    holds(&said, &["Jug: 4 L left."]);
    let said = house.refused("/did top-up dune salt from jug").await;
    holds(&said, &["How much went into Dune salt?"]);
    let said = house.refused("/did condition dune salt from jug").await;
    holds(&said, &["Water from a batch goes with a change or a top-up"]);
    let said = house.refused("/did change dune salt from jug").await;
    holds(&said, &["Jug holds fresh water, which is not for Dune salt"]);
}

#[tokio::test]
async fn what_is_wrong_with_the_water_is_said() {
    let mut house = north().await;
    house.say("/batch add Blue can 20 L salt 35 conditioned").await;
    let said = house.say("/did change north salt from blue can").await;
    holds(&said, &["Blue can was never measured: read the pool now"]);
    house.at("2026-03-20 08:00");
    let said = house.say("/did change dune salt from blue can").await;
    holds(&said, &["Blue can was past its date, Tuesday 17 March."]);
    // Untreated water in a pool is a danger at once.
    house.say("/batch add Red can 20 L fresh").await;
    let said = house.say("/did change north fresh from red can").await;
    assert_eq!(
        first(&said),
        "First: keep the crabs out, then conditioner by its label into North fresh (8 L). Red can was not conditioned."
    );
    holds(
        &said,
        &["veterinarian", "North fresh changed, 8 L, 08:00, by Ada."],
    );
    // What the first line asks for is taken at once, though a change renews conditioning.
    let said = house.say("/did condition north fresh").await;
    holds(first(&said), &["North fresh conditioned"]);
    house.refused("/did condition north fresh").await;
    // It is before its time that cannot be.
    let said = house
        .refused("/did change north salt at 2026-03-19 08:00 from red can")
        .await;
    holds(&said, &["Red can was made only 08:00."]);
}

#[tokio::test]
async fn what_is_at_hand_is_offered_before_more_is_mixed() {
    let mut house = north().await;
    house.at("2026-03-05 08:00");
    assert!(!house.say("/due").await.contains("at hand"));
    house.say("/batch add Blue can 10 L salt 35 conditioned").await;
    house.say("/batch add Red can 20 L fresh").await;
    let said = house.say("/due").await;
    holds(
        &said,
        &[
            "Red can holds 20 L of fresh water that would do once it is conditioned.",
            "Prepared salt water is at hand: 10 L in Blue can, to be measured first, use by Thursday 19 March. 4 L are to be mixed beside it.",
        ],
    );
    let said = house.say("/did change north salt").await;
    holds(
        &said,
        &[
            "at hand: 8 L in Blue can",
            "take this back and say it again with from and the vessel",
        ],
    );
    let said = house.say("/did change dune salt from blue can").await;
    assert!(!said.contains("Prepared salt water"), "{said}");
}

#[tokio::test]
async fn a_back_dated_change_counts_at_its_time() {
    let mut house = us().await;
    house
        .say("/batch add Blue can 5 gal salt 35 conditioned from yesterday 08:00")
        .await;
    house.say("/did change north salt from blue can").await;
    // Said afterwards, of the day before: the water that stands in the pool is today's.
    house
        .say("/did change dune salt at yesterday 09:00 from blue can")
        .await;
    house.say("/did change dune salt at yesterday 23:00").await;
    let said = house.say("/trail blue can").await;
    holds(
        &said,
        &[
            "North salt: 100 % of its water now; 2 US gal went in, the first 08:00",
            "Dune salt: none of it is left; some went in yesterday 09:00, and all water was changed since.",
            "Blue can holds 1 US gal of salt water.",
        ],
    );
}

#[tokio::test]
async fn a_label_gives_the_dose_and_prepared_water_is_offered() {
    let mut house = north().await;
    house
        .say("/supplies set conditioner \"Clear\" 5 mL per 40 L")
        .await;
    house.say("/batch add Red can 20 L fresh").await;
    let said = house.say("/did change north fresh from red can").await;
    assert_eq!(
        first(&said),
        "First: keep the crabs out, then conditioner by its label into North fresh (8 L: 1 mL). Red can was not conditioned."
    );
    let said = house.say("/how condition north fresh").await;
    holds(
        &said,
        &["Conditioner, 1 mL for 8 L, by the label this place entered."],
    );
    let said = house.say("/emergency untreated water").await;
    holds(
        &said,
        &["North fresh holds 8 L: conditioner, 1 mL by the label this place entered."],
    );
    house.say("/batch add Blue can 20 L salt 35 conditioned").await;
    let said = house.say("/mix north salt").await;
    holds(&said, &["Prepared salt water is at hand: 8 L in Blue can"]);
    let said = house.say("/mix 10 L salt 35 at 25C").await;
    holds(
        &said,
        &["To keep it in a vessel for later, say: /batch add VESSEL 10.1 L salt 35"],
    );
    house.say("/supplies set target 33").await;
    house.say("/supplies set bucket 5 L").await;
    let said = house.say("/how change north salt").await;
    holds(&said, &["33 g/kg and buckets of 5 L are this place's supplies."]);
}

#[tokio::test]
async fn water_off_the_target_is_not_offered_and_a_dose_far_over_the_label_is_called_out() {
    let mut house = north().await;
    house.say("/batch add Blue can 20 L salt 27 conditioned").await;
    house.say("/batch set blue can salinity 27").await;
    holds(
        &house.say("/batch").await,
        &["not what the salt pools are to hold"],
    );
    let said = house.say("/mix north salt").await;
    assert!(!said.contains("Prepared salt water"), "{said}");
    let said = house.say("/did change north salt from blue can").await;
    holds(&said, &["Blue can held 27 g/kg", "read the pool now"]);
    house.say("/supplies set conditioner Clear 5 mL per 40 L").await;
    let said = house.say("/did condition dune salt amount 5 mL").await;
    holds(
        first(&said),
        &["Dune salt has had 5 mL, 6.7 times the label’s 0.75 mL"],
    );
    let said = house.say("/how change north fresh").await;
    holds(&said, &["Prepare 8.4 L fresh (conditioner 1.05 mL)"]);
    // What is prepared is taken off what is to be mixed.
    house.say("/batch add Jug 5 L fresh conditioned").await;
    let said = house.say("/mix north fresh").await;
    assert!(
        first(&said).starts_with("Prepare 3.1 L fresh (conditioner 0.39 mL)"),
        "{said}"
    );
}
