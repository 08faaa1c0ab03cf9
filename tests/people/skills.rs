//! Skills: granted after turns done together, and never so that nobody is left who can do a duty.

use wrackline_tests::house::TestHouse;

use super::{BEA, done, holds, north, refused};

#[tokio::test]
async fn a_grant_tells_the_turns_done_together() {
    let mut house = north().await;
    house.say("/carer set Bea skill none").await;
    let said = house.say("/carer set Bea skill siphon").await;
    holds(
        &said,
        &[
            "Bea can do: siphon.",
            "No turn that asks for a siphon was logged as done by Bea together with someone",
            "granted all the same",
        ],
    );
    house.say("/carer set Bea skill none").await;
    house.at("2026-03-03 08:12");
    let said = house.say("/did change north salt with Bea").await;
    holds(&said, &["North salt changed, 08:12, by Ada with Bea."]);
    // With what went in between, and by the other one, it counts as well; what asks for no siphon does not.
    house.at("2026-03-05 08:12");
    done(&mut house, BEA, "/did change north salt amount 8 L with Ada").await;
    house.say("/did look north with Bea").await;
    house.at("2026-03-07 08:12");
    house.say("/did change north salt with Bea").await;
    house.say("/undo").await;
    let said = house.say("/carer set Bea skill siphon and salt").await;
    holds(
        &said,
        &[
            "Bea can do: everything.",
            "Before that Bea did 2 turns that ask for a siphon together with someone.",
            "Before that Bea did 2 turns that ask for mixing salt water together with someone.",
        ],
    );
    // What was said is kept, and told in the units of whoever reads.
    let said = house.say("/carer set Bea lifts 1 lb").await;
    assert!(said.contains("lifts 453.6 g"), "{said}");
    house.say("/carer set me units us").await;
    let said = house.say("/carer list Bea").await;
    assert!(said.contains("lifts 1 lb"), "{said}");
    house.say("/carer set me units none").await;
    // What they can already is not granted again.
    let said = house.say("/carer set Bea lifts 20 kg").await;
    assert!(
        said.contains("lifts 20 kg") && !said.contains("together"),
        "{said}"
    );
}

#[tokio::test]
async fn a_duty_never_is_left_with_nobody_able() {
    let mut house = north().await;
    house.say("/carer set Bea skill none").await;
    for line in [
        "/carer set Ada skill salt",
        "/carer set Ada skill siphon",
        "/carer set Ada lifts 2 kg",
    ] {
        let said = refused(&mut house, 1, line).await;
        let asks = "a siphon, mixing salt water and lifting 8.7 kg";
        holds(
            &said,
            &["Then nobody could do North salt: ", asks, "/carer set NAME skill"],
        );
    }
    // A sitter's span is no lasting help, and a helper without a share none at all.
    house.say("/carer set Kid skill all lifts anything").await;
    assert!(
        refused(&mut house, 1, "/carer set Ada skill none")
            .await
            .contains("nobody could do")
    );
    house.say("/carer set Bea role keeper skill all").await;
    house.say("/carer set Ada skill none").await;
    let said = refused(&mut house, 1, "/carer retire Bea").await;
    holds(&said, &["Then nobody could do"]);
    let said = refused(&mut house, 1, "/carer set Bea role sitter until 2026-04-01").await;
    holds(&said, &["Then nobody could do"]);
    house.say("/carer set Kid share 1").await;
    house.say("/carer retire Bea").await;
}

#[tokio::test]
async fn a_set_up_that_leaves_turns_with_nobody_says_so() {
    let mut house = TestHouse::new("Europe/London").await;
    for line in [
        "/rounds add morning 08:00",
        "/enclosure add North 400 L",
        "/carer set me skill none lifts anything",
    ] {
        house.say(line).await;
    }
    let told = house.say("/pool add north fresh 7 L").await;
    assert!(!told.contains("with nobody"), "{told}");
    let told = house.say("/pool set north fresh stationary").await;
    holds(
        &told,
        &["of the next two weeks are with nobody now: /turns all tells which"],
    );
    // What leaves no more of them says nothing of those that there are.
    let told = house.say("/pool set north fresh nested").await;
    assert!(!told.contains("with nobody"), "{told}");
    let told = house.say("/duty set still every 1 day").await;
    holds(&told, &["of the next two weeks are with nobody now"]);
    let why = house.say("/why north fresh change").await;
    holds(&why, &["Ada is not granted a siphon"]);
    assert!(!why.contains("lifting"), "only what is missing is told: {why}");
    let turns = house.say("/turns all").await;
    holds(&turns, &["it asks for a siphon, granted to nobody who is there"]);
    house.say("/carer set me skill all share 0").await;
    let turns = house.say("/turns all").await;
    holds(&turns, &["nobody who is there and can do it wants a share"]);
    assert!(!turns.contains("nobody is there then"), "{turns}");
    // Where nobody shares the work it goes without saying.
    let told = house.say("/pool add north salt 7 L stationary").await;
    assert!(!told.contains("with nobody"), "{told}");
}
