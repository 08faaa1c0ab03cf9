//! Logging what was done: alone, for one pool, for a set, for someone else, and not twice.

use super::{BEA, answer, codes, entries, north, turn, verify};

#[tokio::test]
async fn did_alone_offers_ones_own_turns() {
    let mut house = north().await;
    house.at("2026-03-03 08:05");
    let offered = answer(&mut house, BEA, "/did").await;
    assert!(offered.ok && offered.private);
    let codes = codes(&offered.blocks);
    assert_eq!(codes.len(), offered.turns.len());
    assert!(
        codes.len() >= 2 && codes.iter().all(|code| code.starts_with("did.")),
        "{codes:?}"
    );
    assert!(
        offered
            .turns
            .iter()
            .all(|turn| turn["carer"] == "Bea" || turn["carer"].is_null())
    );
    let before = entries(&house).await;
    let (ok, said) = house.press(BEA, &codes[0], None).await;
    assert!(ok && said.contains("08:05") && said.contains("Bea"), "{said}");
    assert_eq!(entries(&house).await, before + 1);
    let left = answer(&mut house, BEA, "/did").await;
    assert!(!super::codes(&left.blocks).contains(&codes[0]));
    // What is pressed twice is logged once.
    let (ok, said) = house.press(BEA, &codes[0], None).await;
    assert!(!ok && said.contains("Bea"), "{said}");
    assert_eq!(entries(&house).await, before + 1);
    verify(&house).await;
}

#[tokio::test]
async fn one_line_logs_a_set() {
    let mut house = north().await;
    house.at("2026-03-03 08:05");
    for (line, count) in [
        ("did top-up all", 4),
        ("did change north", 2),
        ("did change salt", 1),
        ("did look all", 2),
    ] {
        let before = entries(&house).await;
        let (ok, said) = house.say_as(BEA, line).await;
        assert!(ok, "{line}: {said}");
        assert_eq!(entries(&house).await, before + count, "{line}: {said}");
    }
    // Of the salt pools North's had been changed a moment before; that is said.
    let (_, said) = house.say_as(BEA, "did change salt again").await;
    assert!(
        said.contains("North salt") && said.contains("South salt"),
        "{said}"
    );
    // A line is taken back whole.
    let before = entries(&house).await;
    let (ok, said) = house.say_as(BEA, "/undo").await;
    assert!(
        ok && said.contains("North salt") && said.contains("South salt"),
        "{said}"
    );
    assert_eq!(entries(&house).await, before + 2);
    verify(&house).await;
}

#[tokio::test]
async fn it_may_be_someone_else_or_another_time() {
    let mut house = north().await;
    house.at("2026-03-03 18:00");
    let said = house
        .say("/did change north salt by Dot at 08:20 note with the small jug")
        .await;
    assert!(said.contains("08:20") && said.contains("by Dot"), "{said}");
    let why = house.say("/why north salt change").await;
    assert!(why.contains("Dot") && why.contains("08:20"), "{why}");
    assert_eq!(
        turn(&mut house, "/why north salt change", "last").await,
        "2026-03-03T08:20:00-05:00"
    );
    let refused = house.refused("/did change north fresh by Zoe").await;
    assert!(refused.contains("Zoe"), "{refused}");
    let refused = house.refused("/did change north fresh at 19:00").await;
    assert!(refused.contains("19:00"), "{refused}");
    verify(&house).await;
}

#[tokio::test]
async fn two_people_do_not_log_the_same_work() {
    let mut house = north().await;
    house.at("2026-03-03 08:12");
    house.say("/did change north salt").await;
    house.at("2026-03-03 08:32");
    let before = entries(&house).await;
    let refused = answer(&mut house, BEA, "/did change north salt").await;
    let said = wrackline::chat::plain::text(&refused.blocks);
    assert!(!refused.ok && refused.private);
    for part in ["Ada", "08:12", "20 minutes ago", "again"] {
        assert!(said.contains(part), "{part}: {said}");
    }
    assert_eq!(entries(&house).await, before);
    let again = codes(&refused.blocks);
    assert_eq!(again.len(), 1, "{again:?}");
    assert!(again[0].starts_with("again."), "{again:?}");
    let (ok, said) = house.press(BEA, &again[0], None).await;
    assert!(ok && said.contains("Bea"), "{said}");
    assert_eq!(entries(&house).await, before + 1);
    // The guard time of a change is 12 h: after it the same line is new work.
    house.at("2026-03-03 20:33");
    house.say("/did change north salt").await;
    verify(&house).await;
}

#[tokio::test]
async fn a_change_takes_care_of_what_it_renews() {
    let mut house = north().await;
    house.at("2026-03-03 08:12");
    house.say("/did change north salt").await;
    for duty in ["condition", "top-up"] {
        let line = format!("/why north salt {duty}");
        assert_eq!(
            turn(&mut house, &line, "last").await,
            "2026-03-03T08:12:00-05:00",
            "{duty}"
        );
    }
    assert_eq!(
        turn(&mut house, "/why north salt condition", "due").await,
        "2026-03-05T08:00:00-05:00"
    );
    // Conditioner goes in with the change: a dose within its guard time is asked about, and logged when insisted on.
    house.at("2026-03-03 09:00");
    let before = entries(&house).await;
    let (ok, said) = house.say_as(BEA, "/did condition north salt").await;
    assert!(
        !ok && said.contains("change") && said.contains("Ada") && said.contains("08:12"),
        "{said}"
    );
    assert_eq!(entries(&house).await, before);
    let (ok, said) = house.say_as(BEA, "/did condition north salt again").await;
    assert!(ok && said.contains("Thursday 5 March"), "{said}");
    assert_eq!(
        turn(&mut house, "/why north salt condition", "due").await,
        "2026-03-05T08:00:00-05:00"
    );
    verify(&house).await;
}

#[tokio::test]
async fn how_far_back_a_log_may_lie() {
    let mut house = north().await;
    house.at("2026-09-01 12:00");
    let (ok, said) = house
        .say_as(BEA, "/did scrub north salt at 2026-05-01 10:00")
        .await;
    assert!(!ok && said.contains("90 days") && said.contains("Ada"), "{said}");
    house.say("/did scrub north salt at 2026-05-01 10:00").await;
    let said = house.refused("/did scrub north salt at 1998-05-01 10:00").await;
    assert!(said.contains("5 years"), "{said}");
    verify(&house).await;
}

#[tokio::test]
async fn a_duty_comes_seldom_enough_for_people() {
    let mut house = north().await;
    let said = house.refused("/duty add \"tick\" cron \"* * * * *\"").await;
    assert!(said.contains("15 min"), "{said}");
    house.say("/duty add \"quarters\" cron \"*/15 8-9 * * *\"").await;
    verify(&house).await;
}

#[tokio::test]
async fn an_amount_is_kept_and_echoed() {
    let mut house = north().await;
    let said = house.say("/did top-up north salt amount 500 ml").await;
    assert!(said.contains("500 mL"), "{said}");
    let said = house.refused("/did top-up north fresh amount 300 L").await;
    assert!(said.contains("more than North fresh holds"), "{said}");
    house.say("/undo").await;
    verify(&house).await;
}
