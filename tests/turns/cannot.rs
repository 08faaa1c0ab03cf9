//! `Can't`: the stand-in is asked, then all who can, then the keeper; whoever does it first has done it.

use super::{posted, shared, with};
use crate::talk::{BEA, CLEO, code, codes, entries, posted_at, posts, settle, verify};
use wrackline::chat::blocks::Block;
use wrackline_core::place::CarerId;
use wrackline_core::rota::credits;
use wrackline_tests::house::TestHouse;

/// The code of North's salt pool's change.
const SALT: &str = "change.p2.";

/// At the morning of 3 March: everything else is done, and Bea cannot change North's salt pool. Cleo stands in for her.
pub(super) async fn freed() -> (TestHouse, String, String) {
    let mut house = shared().await;
    house.say("/carer set Bea stand-in Cleo").await;
    // Whoever it was shared out to: it is hers then.
    house
        .say_as(BEA, "/take change north salt 2026-03-03 morning sure")
        .await;
    settle(&house).await;
    let call = posted_at(&house, "2026-03-03 08:00").await;
    let call = call
        .iter()
        .find(|post| post.title().contains("round"))
        .expect("the call");
    let cannot = code(&call.blocks, "cannot.", SALT);
    for did in codes(&call.blocks) {
        if did.starts_with("did.") && !did.contains(SALT) {
            let (ok, said) = house.press(CLEO, &did, Some("80%")).await;
            assert!(ok, "{said}");
        }
    }
    settle(&house).await;
    house.at("2026-03-03 08:10");
    let (ok, said) = house.press(BEA, &cannot, None).await;
    assert!(ok, "{said}");
    (house, said, cannot)
}

#[tokio::test]
async fn it_is_shown_who_is_asked_and_they_are_at_those_times() {
    let (mut house, said, _) = freed().await;
    let lines: Vec<&str> = said.lines().collect();
    assert!(lines[0].contains("Bea can't"), "{said}");
    assert_eq!(lines[1], "Cleo is asked: now", "{said}");
    assert!(lines[2].starts_with("Then Ada and Cleo: "), "{said}");
    assert!(lines[3].starts_with("Then Ada: "), "{said}");
    // The change counts from noon of 1 March, and is a hazard four days later.
    assert_eq!(lines[4], "At risk from Thursday 5 March 12:00", "{said}");
    let check = |posts: &[crate::talk::Posted], carers: &[u32], step: &str| {
        let late = with(posts, "North salt: change");
        assert_eq!(late.len(), 1, "{step}: {posts:?}");
        let carers = carers.to_vec();
        assert!(
            late[0].blocks.contains(&Block::For { carers }),
            "{step}: {late:?}"
        );
    };
    check(&posted(&house).await, &[CLEO], "the stand-in");
    assert!(posted_at(&house, "2026-03-03 19:00").await.is_empty());
    check(
        &posted_at(&house, "2026-03-03 20:00").await,
        &[1, CLEO],
        "all who can",
    );
    let (ok, said) = house.say_as(1, "/why north salt change").await;
    assert!(
        ok && said.contains("Bea can't, so it is free for anyone"),
        "{said}"
    );
    verify(&house).await;
}

#[tokio::test]
async fn who_is_asked_again_is_named_once_and_who_cannot_only_as_the_last() {
    let (mut house, ..) = freed().await;
    house
        .say_as(BEA, "/away from 2026-03-03 to 2026-03-05 sure")
        .await;
    let (ok, said) = house.say_as(1, "/take change north salt sure").await;
    assert!(ok, "{said}");
    house.at("2026-03-03 20:00");
    settle(&house).await;
    house.at("2026-03-03 20:10");
    let (_, due) = house.say_as(1, "/why north salt change").await;
    assert!(due.contains("Ada"), "{due}");
    let posts = posts(&house).await;
    let cannot = posts
        .iter()
        .flat_map(|post| codes(&post.blocks))
        .find(|code| code.starts_with("cannot.") && code.contains(SALT))
        .expect("a press");
    let (ok, said) = house.press(1, &cannot, None).await;
    let lines: Vec<&str> = said.lines().collect();
    assert!(ok && lines[0].contains("Ada can't"), "{said}");
    assert!(lines[1].starts_with("Cleo is asked: now and "), "{said}");
    assert!(
        lines[2].starts_with("Ada is asked all the same, for no other keeper is there: "),
        "{said}"
    );
    assert!(lines[3].starts_with("At risk from "), "{said}");
}

#[tokio::test]
async fn taken_back_it_is_as_it_was() {
    let (mut house, _, cannot) = freed().await;
    let (ok, said) = house.say_as(BEA, "/undo").await;
    assert!(ok, "{said}");
    assert!(with(&posted(&house).await, "Cleo: 1 turn waits").is_empty());
    let (ok, _) = house.press(BEA, &cannot, None).await;
    assert!(ok, "it can be said again");
}

#[tokio::test]
async fn whoever_does_it_first_has_done_it_and_gets_the_credit() {
    let (mut house, _, _) = freed().await;
    settle(&house).await;
    let waiting = with(&posts(&house).await, "waits, North salt: change").len();
    assert_eq!(waiting, 1, "the stand-in is asked");
    let minutes = |house: &TestHouse, carer: u32| {
        let (shelf, place, now) = (house.app.house.clone(), house.place, house.app.house.clock.now());
        async move {
            let held = shelf.shelf.open(place).await.expect("a book");
            let at = held.book().place_at(now);
            let from = now - jiff::SignedDuration::from_hours(24);
            let all = credits(held.book(), &at, from, now);
            all.get(&CarerId(carer)).map_or(0.0, |credit| credit.did)
        }
    };
    house.at("2026-03-03 09:00");
    let before = (minutes(&house, 1).await, minutes(&house, BEA).await);
    let (ok, said) = house.say_as(1, "/did change north salt").await;
    assert!(ok, "{said}");
    let after = (minutes(&house, 1).await, minutes(&house, BEA).await);
    assert!(
        after.0 > before.0 + 5.0 && after.1 == before.1,
        "{before:?} {after:?}"
    );
    assert!(
        posted(&house).await.is_empty(),
        "every call closes without a word"
    );
    let all = posts(&house).await;
    assert!(with(&all, "waits, North salt: change").is_empty());
    let closed = with(&all, "North salt: change · done 09:00, Ada");
    assert_eq!(closed.len(), 2, "the round call and the stand-in's");
    let (ok, refused) = house.say_as(CLEO, "/did change north salt").await;
    assert!(refused.contains("Ada logged the change"), "{ok} {refused}");
    verify(&house).await;
}

#[tokio::test]
async fn what_is_free_for_anyone_is_nobodys_own() {
    let (mut house, ..) = freed().await;
    for carer in [1, CLEO] {
        let (_, said) = house.say_as(carer, "/due mine").await;
        let title = said.lines().next().unwrap_or_default();
        assert!(
            title.starts_with("Nothing of yours is due. 1 is free for anyone."),
            "{title}"
        );
    }
}

/// At the morning of 3 March, when turns are called: what `can't` as a line is answered, and what it writes.
#[tokio::test]
async fn a_called_turn_is_given_up_by_a_line_as_by_its_press() {
    let mut house = shared().await;
    // Whoever is away has none.
    let (ok, said) = house.say_as(CLEO, "/away until tomorrow sure").await;
    assert!(ok, "{said}");
    let (ok, said) = house.say_as(CLEO, "can't").await;
    assert!(
        !ok && said.starts_with("No turn of yours is called now"),
        "{said}"
    );
    for line in ["change north salt", "change south salt"] {
        let (ok, said) = house
            .say_as(BEA, &format!("/take {line} 2026-03-03 morning sure"))
            .await;
        assert!(ok, "{said}");
    }
    let (ok, said) = house.say_as(BEA, "can't change north salt").await;
    assert!(!ok && said.starts_with("That is not called now"), "{said}");
    posted_at(&house, "2026-03-03 08:00").await;
    let count = entries(&house).await;
    let (ok, said) = house.say_as(BEA, "I can’t make it").await;
    let which = "change North salt";
    assert!(
        !ok && said.starts_with("Which one, ") && said.contains(which) && said.contains(" or "),
        "{said}"
    );
    assert_eq!(entries(&house).await, count);

    let (ok, said) = house.say_as(BEA, "Can't do change north salt").await;
    assert!(
        ok && said.contains("Bea can't") && said.contains("asked: "),
        "{said}"
    );
    assert_eq!(entries(&house).await, count + 1);
    // It says no more than the press does, and no less: once is enough, and it is taken back like that.
    let (ok, again) = house.say_as(BEA, "cannot change north salt").await;
    assert!(!ok && again.contains("Nothing was saved"), "{again}");
    let (ok, said) = house.say_as(BEA, "/undo").await;
    assert!(ok, "{said}");
    let (ok, said) = house.say_as(BEA, "can not change north salt").await;
    assert!(ok && said.contains("Bea can't"), "{said}");
    verify(&house).await;
}
