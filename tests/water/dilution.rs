//! `/dilute`: the plans beside each other, and what is kept under a limit while something comes in.

use super::{holds, place};

fn rows(said: &str) -> Vec<Vec<&str>> {
    said.lines()
        .map(|line| line.split_whitespace().collect())
        .collect()
}

#[tokio::test]
async fn other_parts_stand_beside_it() {
    let mut house = place().await;
    let said = house
        .say("/dilute nitrate from 80 to 20 source 5 change 25%")
        .await;
    let rows = rows(&said);
    // By hand: 0.9^16 and 0.5^3 of the distance of 75 are left; one change takes 60 of 75.
    for row in [
        ["10", "%", "16", "18.9", "1.6"],
        ["50", "%", "3", "14.38", "1.5"],
        ["80", "%", "1", "20", "0.8"],
    ] {
        assert!(rows.iter().any(|found| *found == row), "{row:?} in {said}");
    }
    holds(
        &said,
        &[
            "40 mg/L of nitrate is fish practice",
            "No limit for land hermit crabs is published",
        ],
    );
}

#[tokio::test]
async fn without_a_part_one_change_comes_first() {
    let mut house = place().await;
    let said = house.say("/dilute from 80 to 20 source 5").await;
    assert!(
        said.starts_with("One change of 80 % brings 80 to 20 mg/L."),
        "{said}"
    );
    let said = house.say("/dilute from 80 to 20").await;
    assert!(
        said.starts_with("One change of 75 % brings 80 to 20 mg/L."),
        "{said}"
    );
    holds(&said, &["taken to hold none of it"]);
    let said = house.say("/dilute from 20 to 20 change 25%").await;
    assert!(
        said.starts_with("Nothing to do: 20 mg/L is what is there."),
        "{said}"
    );
}

#[tokio::test]
async fn changes_may_lie_further_apart() {
    let mut house = place().await;
    let said = house
        .say("/dilute from 80 to 40 source 5 change 50% every 3 days")
        .await;
    assert!(
        said.starts_with("2 changes of 50 %, 3 days apart: from 80 to 40 mg/L, ending at 23.75 mg/L."),
        "{said}"
    );
    assert!(rows(&said).contains(&vec!["2", "4", "23.75"]), "{said}");
    let said = house
        .say("/dilute ammonia from 2 to 1 change 30% every 12 h")
        .await;
    assert!(said.starts_with("2 changes of 30 %, 12 hours apart"), "{said}");
    holds(&said, &["do not end it"]);
}

#[tokio::test]
async fn what_comes_in_daily_settles_under_a_limit() {
    let mut house = place().await;
    // (40 − 5)·0.25/2 = 4.375 days; at 4 days it settles between 5 + 8·0.75/0.25 and 5 + 8/0.25.
    let said = house
        .say("/dilute from 20 under 40 source 5 change 25% adds 2 mg/L a day")
        .await;
    assert!(
        said.starts_with("25 % every 4 days keeps it under 40 mg/L: it settles between 29 and 37 mg/L."),
        "{said}"
    );
    holds(
        &said,
        &[
            "From 20 mg/L, it is 28 mg/L before the first change",
            "Without any change it reaches 40 mg/L in 10 days",
        ],
    );
    let rows = rows(&said);
    for row in [
        ["10", "%", "1", "23–25"],
        ["25", "%", "4", "29–37"],
        ["50", "%", "8", "21–37"],
    ] {
        assert!(rows.iter().any(|found| *found == row), "{row:?} in {said}");
    }
    let said = house
        .say("/dilute from 20 under 40 source 5 change 25% every 7 days adds 2 mg/L a day")
        .await;
    assert!(
        said.starts_with("25 % every 7 days is too seldom for 40 mg/L: it settles at 61 mg/L before a change; every 4.37 days"),
        "{said}"
    );
    // The way there: it begins above the limit, although it settles under it.
    let said = house
        .say("/dilute from 80 under 40 source 5 change 25% every 2 days adds 2")
        .await;
    holds(
        &said,
        &[
            "84 mg/L at its highest on the way",
            "It stands over 40 mg/L now: 3 changes of 25 %",
        ],
    );
}

#[tokio::test]
async fn what_is_taken_up_is_counted() {
    let mut house = place().await;
    // Facts of the keeping: p 2, r 0.1, k 7, f 0.3, s 5 settles between 13.10 and 16.57.
    let said = house
        .say("/dilute from 10 under 40 source 5 change 30% every 7 days adds 2 mg/L a day removes 10%")
        .await;
    holds(
        said.lines().next().unwrap_or_default(),
        &["13.1", "16.57 mg/L", "any other interval does"],
    );
}

#[tokio::test]
async fn a_plan_of_very_many_changes_is_cut() {
    let mut house = place().await;
    let said = house.say("/dilute from 80 to 20 source 5 change 5%").await;
    // 0.95^32 of 75 is the first that is not over 15.
    assert!(said.starts_with("32 changes of 5 %"), "{said}");
    assert!(said.lines().count() < 35, "{said}");
    assert!(rows(&said).iter().any(|row| row.first() == Some(&"32")), "{said}");
}

#[tokio::test]
async fn a_plan_that_nobody_keeps_is_refused() {
    let mut house = place().await;
    // 0.99^n of a distance of 75 down to 0.0000001: about 2034 changes.
    let said = house
        .refused("/dilute from 80 to 5.0000001 source 5 change 1%")
        .await;
    holds(&said, &["changes, and a plan has 100 at most; say a larger part"]);
    house.say("/dilute from 80 to 5.1 source 5 change 10%").await;
}

#[tokio::test]
async fn nitrogen_and_ion_are_not_mixed() {
    let mut house = place().await;
    let said = house
        .refused("/dilute nitrate from 80 mg/L to 5 mg/L as N source 0 change 25%")
        .await;
    assert_eq!(
        said,
        "“80 mg/L” and “5 mg/L as N” are not counted alike, and nitrogen (N) is not the ion; say all of them the same \
         way, such as all in mg/L as N."
    );
    let said = house
        .say("/dilute nitrate from 18 mg/L as N to 5 mg/L as N source 1 mg/L as N change 25%")
        .await;
    holds(
        &said,
        &[
            "All figures as nitrogen (N)",
            "9 mg/L of nitrate as N (40 as nitrate) is fish practice",
        ],
    );
}
