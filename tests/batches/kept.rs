//! Batches made, measured, listed, poured away.

use super::{first, holds, north, us};

#[tokio::test]
async fn a_batch_is_made_measured_conditioned_and_listed() {
    let mut house = north().await;
    assert_eq!(house.say("/batch list").await, "There is no prepared water.");
    let said = house.say("/batch add Blue can 20 L salt 35").await;
    assert_eq!(
        first(&said),
        "Blue can: 20 L of salt water, 35 g/kg. Use by Tuesday 17 March (two weeks: common practice)."
    );
    holds(&said, &["Before it is used: not conditioned and not measured."]);
    let said = house.say("/batch list").await;
    assert_eq!(first(&said), "No prepared water is ready to be used.");
    holds(
        &said,
        &[
            "Blue can: 20 L of salt water · 35 g/kg · use by Tuesday 17 March · not conditioned · not measured",
        ],
    );
    // 1.0256 at 25/25 is 34 g/kg or nearly so.
    let said = house
        .say("/batch set blue can sg 1.0256 25/25 conditioned by 2026-03-10")
        .await;
    holds(
        first(&said),
        &["Blue can: ", "34 g/kg", "Use by Tuesday 10 March."],
    );
    assert!(!said.contains("Before it is used"), "{said}");
    house.say("/batch add Red can 10 L fresh conditioned").await;
    let said = house.say("/batch").await;
    holds(
        first(&said),
        &["Use first: Red can, 10 L of fresh water and Blue can, 20 L of salt water."],
    );
    // On its last day it is good, on the next it is not.
    house.at("2026-03-10 23:00");
    holds(first(&house.say("/batch").await), &["Blue can"]);
    house.at("2026-03-11 08:00");
    let said = house.say("/batch").await;
    assert!(!first(&said).contains("Blue can"), "{said}");
    holds(&said, &["past its date"]);
    let said = house.say("/batch retire red can").await;
    assert_eq!(first(&said), "Red can: 10 L poured away.");
    assert!(!house.say("/batch").await.contains("Red can"));
}

#[tokio::test]
async fn what_cannot_be_is_refused_in_one_sentence() {
    let mut house = north().await;
    house.say("/batch add Blue can 20 L fresh").await;
    for (line, why) in [
        (
            "/batch add Blue can 5 L fresh",
            "Blue can still holds 20 L of fresh water; if that was poured away, say /batch retire Blue can first. Nothing was saved.",
        ),
        (
            "/batch add Red can 5 L salt",
            "How salty is it? Say salt 35, or what was read, as in /batch add \"Red can\" 20 L salt sg 1.0264 25/25. Nothing was saved.",
        ),
        (
            "/batch add Red can 5 L salt sg 1.0264",
            "A specific gravity of 1.0264 needs its two temperatures, as in sg 1.0264 25/25; a keeper sets them for all with /place set sg 25/25. Nothing was saved.",
        ),
        (
            "/batch add Red can 5 L fresh 35",
            "Water of 35 g/kg is not fresh; say salt. Nothing was saved.",
        ),
        (
            "/batch add Red can 5 L salt 0",
            "Salt water without salt is fresh; say fresh. Nothing was saved.",
        ),
        (
            "/batch add Red can 5 L salt 35 from 2026-03-05 08:00",
            "is still to come",
        ),
        (
            "/batch set Green can conditioned",
            "There is no vessel “Green can”",
        ),
        ("/trail Green can", "There is no vessel “Green can”"),
    ] {
        let said = house.refused(line).await;
        holds(&said, &[why]);
    }
    // Where the place has stated its convention, a gravity alone is enough.
    house.say("/place set sg 25/25").await;
    let said = house.say("/batch add Red can 5 L salt sg 1.0264").await;
    holds(first(&said), &["g/kg, sg 1.0264 (25/25)"]);
    assert!(!said.contains("not measured"), "{said}");
}

#[tokio::test]
async fn everyone_but_a_helper_says_it_and_takes_it_back() {
    let mut house = north().await;
    house.say("/carer add Dot helper").await;
    let (ok, said) = house
        .say_as(2, "/batch add Blue can 20 L fresh conditioned")
        .await;
    assert!(ok, "{said}");
    let (ok, said) = house.say_as(3, "/batch add Red can 20 L fresh").await;
    assert!(!ok && said.contains("A helper has no account"), "{said}");
    let (ok, said) = house.say_as(2, "/undo").await;
    assert!(ok, "{said}");
    holds(&said, &["Taken back: Blue can: made (08:00)"]);
    assert_eq!(house.say("/batch").await, "There is no prepared water.");
    // Its number does not come back with another meaning.
    house.say("/batch add Blue can 4 L fresh conditioned").await;
    house.say("/batch set blue can by 2026-03-06").await;
    holds(&house.say("/undo").await, &["Blue can: use-by date"]);
    holds(
        &house.say("/batch").await,
        &["Blue can: 4 L of fresh water · use by Tuesday 17 March"],
    );
}

#[tokio::test]
async fn gallons_are_told_as_gallons() {
    let mut house = us().await;
    let said = house.say("/batch add Blue can 5 gal salt 35 conditioned").await;
    holds(first(&said), &["Blue can: 5 US gal of salt water, 35 g/kg."]);
    house.say("/did change north salt from blue can").await;
    holds(
        first(&house.say("/batch").await),
        &["Blue can, 3 US gal of salt water"],
    );
}

#[tokio::test]
async fn a_date_far_off_is_none() {
    let mut house = north().await;
    house.say("/batch add Jug 10 L fresh conditioned").await;
    let said = house.refused("/batch set jug by 9999-12-31").await;
    holds(
        &said,
        &[
            "9999-12-31 is too far off for prepared water; the last day of its use lies 8 weeks ahead at most.",
        ],
    );
    house.say("/batch set jug by 2026-04-28").await;
}
