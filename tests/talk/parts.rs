//! What is done in part: by a fraction, by litres, by steps; and what gear makes of it.

use super::{BEA, entries, north, turn, verify};

#[tokio::test]
async fn half_a_change_counts_half() {
    let mut house = north().await;
    house.at("2026-03-03 08:00");
    house.say("/did change north salt").await;
    house.at("2026-03-05 08:00");
    let said = house.say("/did change north salt part 50%").await;
    assert!(said.contains("50 %"), "{said}");
    assert_eq!(
        turn(&mut house, "/why north salt change", "due").await,
        "2026-03-06T08:00:00-05:00"
    );
    let why = house.say("/why north salt change").await;
    assert!(
        why.contains("50 %") && why.contains("Wednesday 4 March 08:00"),
        "{why}"
    );
    // The other half on the same day makes it whole.
    house.at("2026-03-05 09:00");
    house.say("/did change north salt amount 4 L").await;
    let due = turn(&mut house, "/why north salt change", "due").await;
    assert!(
        due.as_str() > "2026-03-06T08:00" && due.as_str() <= "2026-03-07T08:00:00-05:00",
        "{due}"
    );
    let refused = house.refused("/did change north salt amount 80 L").await;
    assert!(refused.contains("80 L") && refused.contains("8 L"), "{refused}");
    verify(&house).await;
}

#[tokio::test]
async fn steps_by_two_people_complete_each_other() {
    let mut house = north().await;
    house.at("2026-03-03 08:00");
    let said = house.say("/did change north salt steps 1 2").await;
    assert!(said.contains("1 and 2"), "{said}");
    house.at("2026-03-03 08:20");
    let before = entries(&house).await;
    let (ok, said) = house.say_as(BEA, "/did change north salt steps 3 4").await;
    assert!(ok && said.contains("3 and 4"), "{said}");
    assert_eq!(entries(&house).await, before + 1);
    let (ok, said) = house.say_as(BEA, "/did change north salt step 2").await;
    assert!(!ok && said.contains("again"), "{said}");
    assert_eq!(entries(&house).await, before + 1);
    verify(&house).await;
}

#[tokio::test]
async fn when_gear_stops_the_water_is_still_again() {
    let mut house = north().await;
    house.say("/gear add north salt air").await;
    house.at("2026-03-03 08:00");
    house.say("/did change north salt").await;
    assert_eq!(
        turn(&mut house, "/why north salt change", "due").await,
        "2026-03-10T08:00:00-04:00"
    );
    house.at("2026-03-06 10:00");
    house.say("/gear stop north salt air").await;
    let why = house.say("/why north salt change").await;
    assert!(why.contains("stands still since Friday 6 March 10:00"), "{why}");
    assert!(why.contains("every 2 days") && why.contains("08:00"), "{why}");
    // Its two days were over at once: it falls due at the next round.
    assert_eq!(
        turn(&mut house, "/why north salt change", "due").await,
        "2026-03-06T19:30:00-05:00"
    );
    // The day before, the air still ran.
    let then = house.say("/why north salt change at 2026-03-05 10:00").await;
    assert!(then.contains("every 7 days"), "{then}");
    verify(&house).await;
}

#[tokio::test]
async fn a_filter_counts_from_its_proof() {
    let mut house = north().await;
    house.at("2026-03-03 08:00");
    house.say("/did change north salt").await;
    house.say("/gear add north salt filter").await;
    let unproven = house.say("/why north salt change").await;
    assert!(
        unproven.contains("every 2 days") && unproven.contains("not proven"),
        "{unproven}"
    );
    house.at("2026-03-04 08:00");
    house.say("/gear set north salt filter proven").await;
    house.at("2026-03-05 08:00");
    house.say("/did change north salt").await;
    let proven = house.say("/why north salt part change").await;
    assert!(
        proven.contains("every 7 days") && proven.contains("50 %"),
        "{proven}"
    );
    assert_eq!(
        turn(&mut house, "/why north salt part change", "due").await,
        "2026-03-12T08:00:00-04:00"
    );
    verify(&house).await;
}
