//! Doses of conditioner: a second one inside the guard time is called out with the total.

use super::{first, holds, north, us};

#[tokio::test]
async fn a_second_dose_names_the_total() {
    let mut house = north().await;
    house.at("2026-03-05 08:00");
    let said = house.say("/did condition north salt amount 2.3 mL").await;
    holds(first(&said), &["North salt conditioned, 2.3 mL, 08:00, by Ada."]);
    house.at("2026-03-05 18:00");
    let said = house.refused("/did condition north salt amount 2 mL").await;
    holds(
        &said,
        &[
            "Not logged again.",
            "North salt had 1 dose, 2.3 mL within 24 h; with this one it would be 2 doses, 4.3 mL.",
        ],
    );
    let said = house.say("/did condition north salt amount 2 mL again").await;
    holds(
        &said,
        &[
            "North salt has had 2 doses, 4.3 mL within 24 h. Hold that against the label, and give no more in that time.",
        ],
    );
    // Without amounts the doses are counted.
    let said = house.say("/did condition north salt again").await;
    holds(&said, &["3 doses, 4.3 mL said of 2 of them"]);
    house.at("2026-03-05 20:00");
    house.say("/did condition dune salt").await;
    let said = house.refused("/did condition dune salt").await;
    holds(
        &said,
        &["Dune salt had 1 dose within 24 h; with this one it would be 2 doses."],
    );
    // A dose that was taken back does not count, nor one whose time is over.
    house.say("/undo").await;
    house.say("/did condition dune salt amount 1 mL").await;
    house.at("2026-03-06 20:30");
    let said = house.say("/did condition dune salt amount 1 mL").await;
    assert!(!said.contains("doses"), "{said}");
}

#[tokio::test]
async fn a_dose_is_told_in_millilitres_everywhere() {
    let mut house = us().await;
    house.at("2026-03-05 08:00");
    let said = house.say("/did condition north salt amount 2 mL").await;
    holds(first(&said), &["North salt conditioned, 2 mL, 08:00"]);
    house.at("2026-03-07 08:00");
    let said = house.refused("/did condition north salt amount 2 gal").await;
    assert_eq!(
        said,
        "2 US gal is no dose of conditioner for 2 US gal; say what went in of the bottle, such as amount 2 mL. Nothing was saved."
    );
    // The litres of a top-up stay litres.
    let said = house.say("/did top-up north salt amount 0.25 gal").await;
    holds(first(&said), &["0.25 US gal"]);
}
