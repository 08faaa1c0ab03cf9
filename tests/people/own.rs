//! What each sets for themselves: zone, units, language, when they are there.

use super::{BEA, KID, done, holds, north, refused};

#[tokio::test]
async fn each_sets_their_own_and_a_keeper_the_rest() {
    let mut house = north().await;
    for line in [
        "/carer set Bea zone Asia/Tokyo",
        "/carer set me units us",
        "/carer set me language en",
        "/carer set me free Mon Wed evening, Sat Sun",
        "/carer set me quiet 21:00 to 07:00",
        "/carer set me private yes",
        "/carer set me minutes 30",
        "/carer set me share 0.5",
    ] {
        done(&mut house, BEA, line).await;
    }
    for line in [
        "/carer set me role keeper",
        "/carer set me stand-in Sven",
        "/carer set me skill all",
        "/carer set me lifts anything",
        "/carer set me share 2 skill all",
    ] {
        let said = refused(&mut house, BEA, line).await;
        holds(&said, &["the rest is a keeper's", "Ada"]);
    }
    let others = refused(&mut house, BEA, "/carer set Sven zone UTC").await;
    holds(&others, &["What is set of Sven is a keeper's to set: ask Ada."]);
    assert!(
        refused(&mut house, BEA, "/carer add Tom")
            .await
            .contains("Only a keeper")
    );
}

#[tokio::test]
async fn what_was_set_is_listed_and_is_taken_off_again() {
    let mut house = north().await;
    for line in [
        "/carer set Bea zone Asia/Tokyo units us private yes",
        "/carer set Bea free Mon Wed evening, Sat Sun quiet 21:00 to 07:00",
        "/carer set Bea minutes 30 share 0.5",
    ] {
        house.say(line).await;
    }
    let all = house.say("/carer list Bea").await;
    holds(
        &all,
        &[
            "Bea: regular.",
            "share of 0.5",
            "at most 30 min a day",
            "Mon Wed evening; Sat Sun",
            "From 21:00 to 07:00 only danger calls Bea.",
            "Asia/Tokyo",
            "US gallons",
            "reminded alone",
        ],
    );
    let list = house.say("/carer list").await;
    holds(
        &list,
        &[
            "sitter, 2026-03-02 to 2026-03-08",
            "Mon Wed evening; Sat Sun",
            "0.5",
        ],
    );
    // Each setting is taken off again.
    for line in [
        "/carer set Bea zone none units none free any quiet none minutes any private no",
        "/carer set Bea share none",
    ] {
        house.say(line).await;
    }
    let all = house.say("/carer list Bea").await;
    holds(
        &all,
        &[
            "wants no share of the turns",
            "without a limit of minutes",
            "on any day, in any round",
            "no quiet hours of their own",
            "in the place's zone",
            "in the place's units",
            "before everyone",
        ],
    );
}

#[tokio::test]
async fn what_cannot_be_set_is_refused() {
    let mut house = north().await;
    for (line, part) in [
        (
            "/carer set Bea language de",
            "There are no answers in “de”: English is the one language so far, said as language en.",
        ),
        ("/carer set Bea zone Sea/Nowhere", "Sea/Nowhere"),
        ("/carer set Bea units furlongs", "furlongs"),
        ("/carer set Bea free Mon evning", "There is no round “evning”"),
        ("/carer set Bea free sometimes", "time of the week"),
        ("/carer set Bea quiet 21:00", "21:00"),
        ("/carer set Bea quiet 21:00 to 21:00", "21:00"),
        ("/carer set Bea share 11", "is no share"),
        ("/carer set Bea share -1", "is no share"),
        ("/carer set Bea minutes 0", "number of minutes"),
        ("/carer set Bea minutes 1441", "number of minutes"),
        ("/carer set Bea lifts 101 kg", "is no weight"),
        ("/carer set Bea skill plumbing", "is no skill"),
        ("/carer set Bea", "What is to be set?"),
        ("/carer set Zoe share 1", "There is no carer “Zoe”"),
        (
            "/did change north salt with Ada",
            "Ada cannot do it together with themselves",
        ),
    ] {
        let said = refused(&mut house, 1, line).await;
        assert!(said.contains(part), "{line}: {said}");
    }
}

#[tokio::test]
async fn times_are_told_in_ones_own_zone_with_the_places_beside() {
    let mut house = north().await;
    // New York is five hours behind London in early March.
    house.say("/carer set Bea zone Europe/London").await;
    house.at("2026-03-03 08:12");
    let said = done(&mut house, BEA, "/did change north salt").await;
    holds(
        &said,
        &[
            "North salt changed, 13:12 your time, 08:12 there, by Bea.",
            "Thursday 5 March, morning (13:00 your time)",
        ],
    );
    let others = house.say("/why north salt change").await;
    assert!(!others.contains("your time"), "{others}");
    // Across midnight the day is told of both.
    house.at("2026-03-03 21:00");
    let said = done(&mut house, BEA, "/did top-up north fresh").await;
    holds(&said, &["02:00 your time, 21:00 there"]);
    // The same clock needs no second time.
    house.say("/carer set Bea zone America/Toronto").await;
    let said = done(&mut house, BEA, "/did top-up north salt").await;
    assert!(said.contains("21:00") && !said.contains("your time"), "{said}");
}

#[tokio::test]
async fn amounts_are_read_and_told_in_ones_own_units() {
    let mut house = north().await;
    house.say("/carer set Bea units us").await;
    let theirs = done(&mut house, BEA, "/pool list").await;
    let ours = house.say("/pool list").await;
    assert!(theirs.contains("gal") && !theirs.contains("8 L"), "{theirs}");
    assert!(ours.contains("8 L") && !ours.contains("gal"), "{ours}");
    // What is written is the same litre for everyone.
    let said = done(&mut house, BEA, "/did change north salt amount 1 gal").await;
    assert!(said.contains("1 gal") || said.contains("gal"), "{said}");
    let why = house.say("/why north salt change").await;
    assert!(!why.contains("gal"), "{why}");
    let place = done(&mut house, BEA, "/place list").await;
    holds(&place, &["Amounts are told in litres"]);
}

#[tokio::test]
async fn helpers_and_sitters_are_listed_with_what_they_can() {
    let mut house = north().await;
    let kid = house.say("/carer list Kid").await;
    holds(&kid, &["Kid: helper.", "lifts 5 kg", "wants no share"]);
    house.say("/carer set Kid share 0.25").await;
    holds(&house.say("/carer list Kid").await, &["share of 0.25"]);
    holds(
        &house.say("/carer list Sven").await,
        &["Sven: sitter, 2026-03-02 to 2026-03-08."],
    );
    let (ok, said) = house.say_as(KID, "/carer set me share 1").await;
    assert!(!ok && said.contains("no account"), "{said}");
}

#[tokio::test]
async fn a_change_that_leaves_turns_with_nobody_says_so_and_is_taken_back_by_its_name() {
    let mut house = north().await;
    house.say("/carer set Bea share 0").await;
    house.say("/carer set Sven share 0").await;
    house.say("/carer set Kid share 0").await;
    let told = house.say("/carer set me share 0").await;
    assert!(
        told.contains("of the next two weeks are with nobody now"),
        "{told}"
    );
    let told = house.say("/carer set me share 1").await;
    assert!(!told.contains("with nobody"), "{told}");
    house.say("/away from 2026-03-03 to 2026-03-04 sure").await;
    let undone = house.say("/undo").await;
    assert!(undone.starts_with("Taken back: an absence ("), "{undone}");
}
