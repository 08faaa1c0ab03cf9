//! A pool that stands is raised or lowered.

use super::{holds, one_sentence, place};

#[tokio::test]
async fn a_pool_is_lowered_by_swaps() {
    let mut house = place().await;
    let said = house.say("/mix lower north salt from 35 to 30").await;
    // Five g/kg in three steps; today 1 − 33.33/35 of 8 L.
    assert!(
        said.starts_with(
            "From 35 g/kg to 30 g/kg in 3 steps, a day apart: today take 381 mL out of North salt and put 391 mL in."
        ),
        "{said}"
    );
    // At once a seventh of it: 1 − 30/35. If it is only low, 8.19 kg at 35 take 1.37 L on top.
    holds(
        &said,
        &[
            "1.1 L, 14.3 % of the pool",
            "up to 5.71 % at once",
            "2 g/kg a day: common practice",
            "1.4 L of fresh water on top",
            "made up with fresh water alone",
            "never into a pool with crabs",
        ],
    );
    let once = house.say("/mix north salt from 33.5 to 32").await;
    assert!(
        once.starts_with(
            "Take 358.2 mL out of North salt and put 367.2 mL in: 8 L go from 33.5 g/kg to 32 g/kg."
        ),
        "{once}"
    );
}

#[tokio::test]
async fn a_pool_is_raised_by_salt_dissolved_outside() {
    let mut house = place().await;
    let said = house.say("/mix north salt from 33 to 34").await;
    // 8 L at 33 g/kg weigh 8.175 kg: M(S2 − S1)/(1000 − S2) is 8.5 g.
    assert!(
        said.starts_with("Dissolve 8.5 g of salt in 111.2 mL drawn from North salt, outside of it, and pour that back slowly: 8 L go from 33 g/kg to 34 g/kg."),
        "{said}"
    );
    let days = house.say("/mix raise north salt from 30 to 35").await;
    holds(
        &days,
        &[
            "From 30 g/kg to 35 g/kg in 3 steps",
            "14 g of salt in 177 mL",
            "At once it would be 42.3 g of salt.",
        ],
    );
    // Stronger water does it as well: (35 − 34)/(40 − 34) of it would.
    let with = house.say("/mix north salt from 34 to 35 with 40").await;
    holds(&with, &["Take 1.3 L out of North salt", "40 g/kg"]);
}

#[tokio::test]
async fn the_last_reading_is_where_it_starts() {
    let mut house = place().await;
    one_sentence(
        &house.refused("/mix north salt to 35").await,
        &["never read", "from 30 to 35"],
    );
    house.say("/read north salt 36.5 ppt").await;
    house.at("2026-03-01 15:00");
    house.say("/read north salt sg 1.0269 25/25").await;
    let said = house.say("/mix north salt to 35").await;
    // sg 1.0269 at 25/25 is 35.7 g/kg.
    holds(
        &said,
        &["from 35.7 g/kg to 35 g/kg", "It was read as 35.7 g/kg, 15:00."],
    );
    let same = house.say("/mix north salt from 35 to 35").await;
    assert!(
        same.starts_with("Nothing to do: North salt holds 35 g/kg."),
        "{same}"
    );
}

#[tokio::test]
async fn a_bare_volume_stands_for_a_pool() {
    let mut house = place().await;
    let said = house.say("/mix 8 L from 33 to 34").await;
    holds(&said, &["8.5 g of salt", "the pool"]);
}

#[tokio::test]
async fn what_cannot_be_reached_is_one_sentence() {
    let mut house = place().await;
    for (line, words) in [
        (
            "/mix north salt from 30 to 35 with 33",
            &["35 g/kg", "33 g/kg", "no swap"][..],
        ),
        ("/mix north salt from 35 to 30 with 33", &["30 g/kg", "no swap"]),
        ("/mix north fresh from 30 to 35", &["North fresh", "fresh pool"]),
        ("/mix all from 30 to 35", &["not one pool"]),
        ("/mix north salt from 30", &["to"]),
        ("/mix north salt with 40", &["from 30 to 35"]),
        ("/mix north salt from 30 to 90", &["90"]),
        ("/mix north salt from sg 1.02 to 35", &["25/25"]),
    ] {
        let said = house.refused(line).await;
        holds(&said, words);
        assert_eq!(said.lines().count(), 1, "{line}: {said}");
    }
    house.say("/supplies set source 1").await;
    let said = house.refused("/mix north salt from 35 to 0.5").await;
    holds(&said, &["0.5 g/kg", "1 g/kg"]);
    let said = house.refused("/mix 10 L salt 0.5").await;
    one_sentence(&said, &["0.5 g/kg is below the 1 g/kg"]);
}
