//! Answers that are pressed: each changes what it says, and can be taken back.

use super::{BEA, CLEO, code, codes, entries, north, posted_at, turn, verify};
use wrackline::chat::blocks::Block;
use wrackline::house::Input;
use wrackline_tests::house::TestHouse;

/// A house at the morning round of 3 March, with the call that it posted.
async fn called() -> (TestHouse, Vec<Block>) {
    let house = north().await;
    let mut posted = posted_at(&house, "2026-03-03 08:00").await;
    let call = posted.remove(0);
    assert!(call.text().contains("North salt: change"), "{}", call.text());
    (house, call.blocks)
}

/// The key of North salt's change, by its number: it is the second pool.
const SALT: &str = ".change.p2.";

#[tokio::test]
async fn did_it() {
    let (mut house, call) = called().await;
    house.at("2026-03-03 08:10");
    let (ok, said) = house.press(BEA, &code(&call, "did", SALT), None).await;
    assert!(ok && said.contains("08:10") && said.contains("Bea"), "{said}");
    assert_eq!(
        turn(&mut house, "/why north salt change", "due").await,
        "2026-03-05T08:00:00-05:00"
    );
    for verb in ["did", "later", "cannot"] {
        let before = entries(&house).await;
        let (ok, said) = house.press(CLEO, &code(&call, verb, SALT), None).await;
        assert!(
            !ok && said.contains("Bea") && said.contains("08:10"),
            "{verb}: {said}"
        );
        assert_eq!(entries(&house).await, before, "{verb}");
    }
    verify(&house).await;
}

#[tokio::test]
async fn later_brings_the_turn_back_then() {
    let (mut house, call) = called().await;
    let times = house
        .hear(
            BEA,
            Input::Press {
                code: code(&call, "later", SALT),
                text: None,
            },
        )
        .await;
    assert!(times.ok && times.private);
    let puts = codes(&times.blocks);
    assert!(
        puts.len() >= 3
            && puts
                .iter()
                .all(|put| put.starts_with("put.") && put.contains(SALT)),
        "{puts:?}"
    );
    let (ok, said) = house.press(BEA, &puts[0], None).await;
    assert!(ok && said.contains("09:00"), "{said}");
    let due = house.say("/due all").await;
    assert!(due.contains("put off until 09:00"), "{due}");
    let quiet = posted_at(&house, "2026-03-03 08:59").await;
    assert!(quiet.is_empty(), "{quiet:?}");
    let back = posted_at(&house, "2026-03-03 09:00").await;
    assert_eq!(back.len(), 1, "{back:?}");
    assert!(
        back[0].text().contains("North salt: change"),
        "{}",
        back[0].text()
    );
    // A time that has passed is no time to come back.
    let (ok, _) = house.press(BEA, &puts[0], None).await;
    assert!(!ok);
    verify(&house).await;
}

#[tokio::test]
async fn nothing_waits_past_its_hazard_limit() {
    let (mut house, call) = called().await;
    // Kept since noon of 1 March, four days: the limit is noon of 5 March.
    house.at("2026-03-05 11:30");
    let (ok, said) = house.press(BEA, &code(&call, "later", SALT), None).await;
    assert!(!ok && said.contains("12:00"), "{said}");
    let turn = code(&call, "did", SALT).replacen("did.", "", 1);
    let after = jiff::Timestamp::from_second(1_772_737_200)
        .expect("a moment")
        .as_second();
    let before = entries(&house).await;
    let (ok, said) = house.press(BEA, &format!("put.{after}.{turn}"), None).await;
    assert!(!ok, "{said}");
    assert_eq!(entries(&house).await, before);
}

#[tokio::test]
async fn cannot_frees_the_turn_and_another_takes_it() {
    let (mut house, call) = called().await;
    let owner = turn(&mut house, "/why north salt change", "carer").await;
    let carers = [("Ada", 1), ("Bea", BEA), ("Cleo", CLEO)];
    let (mine, others): (Vec<_>, Vec<_>) = carers.into_iter().partition(|(name, _)| *name == owner);
    let ([(_, mine)], [(other, others), (third, thirds)]) = (mine.as_slice(), others.as_slice()) else {
        panic!("{owner}");
    };
    let cannot = code(&call, "cannot", SALT);
    // Who cannot do what somebody else has takes nothing from them, and says so once.
    let (ok, said) = house.press(*others, &cannot, None).await;
    assert!(ok && said.contains(&format!("stays with {owner}")), "{said}");
    assert_eq!(turn(&mut house, "/why north salt change", "carer").await, owner);
    let (ok, said) = house.press(*others, &cannot, None).await;
    assert!(!ok && said.contains("You said already"), "{said}");
    let (ok, said) = house.press(*mine, &cannot, None).await;
    assert!(ok && said.contains(&owner), "{said}");
    assert!(
        said.contains("asked: now") && !said.lines().skip(1).any(|line| line.contains(other)),
        "who cannot is not asked: {said}"
    );
    assert_eq!(turn(&mut house, "/why north salt change", "carer").await, "");
    let take = code(&call, "did", SALT).replacen("did.", "take.", 1);
    let (ok, said) = house.press(*thirds, &take, None).await;
    assert!(ok && said.contains(third), "{said}");
    assert_eq!(turn(&mut house, "/why north salt change", "carer").await, *third);
    // Whoever comes second sees whose it is now, and nothing is written.
    let before = entries(&house).await;
    let (ok, said) = house.press(*others, &take, None).await;
    assert!(
        ok && said.contains(&format!("is {third}'s")) && said.contains("Not saved yet"),
        "{said}"
    );
    assert_eq!(entries(&house).await, before);
    verify(&house).await;
}

#[tokio::test]
async fn not_needed_wants_a_reason_and_has_a_limit() {
    let (mut house, call) = called().await;
    let press = code(&call, "notneeded", SALT);
    let before = entries(&house).await;
    for reason in [None, Some("  ")] {
        let (ok, said) = house.press(BEA, &press, reason).await;
        assert!(!ok, "{said}");
    }
    // The next turn would come at 5 March 08:00, within the limit of noon: a regular may say so once.
    let (ok, said) = house
        .press(BEA, &press, Some("filled yesterday by the guest"))
        .await;
    assert!(ok && said.contains("filled yesterday by the guest"), "{said}");
    assert_eq!(entries(&house).await, before + 1);
    assert_eq!(
        turn(&mut house, "/why north salt change", "due").await,
        "2026-03-05T08:00:00-05:00"
    );
    assert_eq!(
        turn(&mut house, "/why north salt change", "hazard").await,
        "2026-03-05T12:00:00-05:00"
    );
    let mut posted = posted_at(&house, "2026-03-05 08:00").await;
    let second = code(&posted.remove(0).blocks, "notneeded", SALT);
    let before = entries(&house).await;
    let (ok, said) = house.press(BEA, &second, Some("looks clean")).await;
    assert!(!ok && said.contains("12:00") && said.contains("Ada"), "{said}");
    assert_eq!(entries(&house).await, before);
    let (ok, said) = house.press(1, &second, Some("looks clean")).await;
    assert!(ok, "the keeper may: {said}");
    verify(&house).await;
}

#[tokio::test]
async fn take_back_and_why_on_a_receipt() {
    let (mut house, _) = called().await;
    let receipt = house
        .hear(BEA, Input::Line("/did change north salt".to_owned()))
        .await;
    let (back, why) = (
        code(&receipt.blocks, "undo.", ""),
        code(&receipt.blocks, "why.", ""),
    );
    let (ok, said) = house.press(CLEO, &why, None).await;
    assert!(
        ok && said.contains("every 2 days") && said.contains("Bea"),
        "{said}"
    );
    let (ok, said) = house.press(CLEO, &back, None).await;
    assert!(!ok && said.contains("Bea"), "{said}");
    let (ok, said) = house.press(BEA, &back, None).await;
    assert!(ok && said.contains("North salt"), "{said}");
    assert_eq!(turn(&mut house, "/why north salt change", "last").await, "");
    let (ok, _) = house.press(BEA, &back, None).await;
    assert!(!ok, "once is enough");
    verify(&house).await;
}

#[tokio::test]
async fn a_code_from_nowhere_is_refused() {
    let (mut house, _) = called().await;
    let before = entries(&house).await;
    for press in [
        "",
        "did",
        "did.",
        "did.change",
        "frobnicate.1",
        "undo.x",
        "undo.9999",
        "close.1",
        "put.1",
        "all.77",
        "but.x",
    ] {
        let (ok, said) = house.press(1, press, Some("1")).await;
        assert!(!ok && !said.contains('['), "{press}: {said}");
    }
    assert_eq!(entries(&house).await, before);
}
