//! `/take`: an open or offered turn at once, somebody else's after it was shown.

use super::{change_of, name, owners, plan, posted, said, shared, with};
use crate::talk::{BEA, CLEO, answer, code, entries, verify};
use wrackline::chat::blocks::Block;
use wrackline::chat::plain;
use wrackline::house::Input;
use wrackline_core::place::CarerId;

#[tokio::test]
async fn somebody_elses_turn_is_shown_first_and_they_are_told() {
    let mut house = shared().await;
    let (before, plan) = (owners(&house).await, plan(&house).await);
    let turn = change_of(&plan, &[1]);
    let owner = turn.carer.expect("somebody").0;
    let other = if owner == BEA { CLEO } else { BEA };
    let count = entries(&house).await;
    let line = format!("/take {}", said(turn));
    let shown = answer(&mut house, other, &line).await;
    let text = plain::text(&shown.blocks);
    assert!(
        shown.ok
            && text.contains(&format!("is {}'s", name(owner)))
            && text.contains("it moves, and nothing else"),
        "{text}"
    );
    assert_eq!(entries(&house).await, count);
    let (ok, receipt) = house
        .press(other, &code(&shown.blocks, "takefrom.", ""), None)
        .await;
    assert!(
        ok && receipt.contains(&format!("{} does it", name(other))),
        "{receipt}"
    );
    let after = owners(&house).await;
    let changed: Vec<_> = before
        .iter()
        .zip(&after)
        .filter(|(one, other)| one != other)
        .collect();
    let slot = turn.expected.slot;
    assert_eq!(
        changed,
        [(&(slot, Some(CarerId(owner))), &(slot, Some(CarerId(other))))]
    );
    let told = posted(&house).await;
    let post = with(&told, "for you");
    assert_eq!(post.len(), 1, "{told:?}");
    assert!(
        post[0]
            .title()
            .starts_with(&format!("{}: {} does North salt", name(owner), name(other))),
        "{post:?}"
    );
    assert!(post[0].blocks.contains(&Block::For { carers: vec![owner] }));
    let (ok, refused) = house.say_as(other, &line).await;
    assert!(!ok && refused.contains("yours already"), "{refused}");
    let (ok, said) = house.say_as(other, "/undo").await;
    assert!(ok, "{said}");
    assert_eq!(owners(&house).await, before);
    verify(&house).await;
}

#[tokio::test]
async fn an_open_turn_is_taken_in_one_line_and_nobody_is_told() {
    let (mut house, ..) = super::cannot::freed().await;
    posted(&house).await;
    let (ok, receipt) = house.say_as(CLEO, "/take change north salt").await;
    assert!(
        ok && receipt.contains("North salt: change") && receipt.contains("Cleo does it"),
        "{receipt}"
    );
    assert!(posted(&house).await.is_empty());
    let all = crate::talk::posts(&house).await;
    let shown = with(&all, "North salt: change · Cleo");
    assert!(!shown.is_empty(), "the calls show whose it is now");
    let (_, list) = house.say_as(CLEO, "/turns today").await;
    assert!(list.contains("salt change"), "{list}");
    let (ok, refused) = house.say_as(CLEO, "/take change north salt 2026-03-03").await;
    assert!(!ok && refused.contains("yours already"), "{refused}");
    let (ok, said) = house.say_as(CLEO, "/undo").await;
    assert!(ok, "{said}");
    let told = house.say("/turns all today").await;
    assert!(told.contains("Bea can't; free for anyone"), "{told}");
    verify(&house).await;
}

#[tokio::test]
async fn sure_takes_it_at_once() {
    let mut house = shared().await;
    let plan = plan(&house).await;
    let turn = change_of(&plan, &[1]);
    let slot = turn.expected.slot;
    house.say(&format!("/take {} sure", said(turn))).await;
    let after = owners(&house).await;
    assert!(after.contains(&(slot, Some(CarerId(1)))));
}

#[tokio::test]
async fn an_older_press_on_a_call_tells_the_one_who_had_it() {
    let (mut house, _, cannot) = super::cannot::freed().await;
    posted(&house).await;
    let (ok, said) = house.say_as(CLEO, "/take change north salt").await;
    assert!(ok, "{said}");
    posted(&house).await;
    let take = cannot.replacen("cannot.", "take.", 1);
    let (ok, refused) = house.press(CLEO, &take, None).await;
    assert!(!ok && refused.contains("yours already"), "{refused}");
    // Cleo took it herself meanwhile, so that is shown first.
    let press = Input::Press {
        code: take.clone(),
        text: None,
    };
    let shown = house.hear(1, press).await;
    let text = plain::text(&shown.blocks);
    assert!(shown.ok && text.contains("is Cleo's"), "{text}");
    let sure = code(&shown.blocks, "takefrom.", "");
    let (ok, said) = house.press(1, &sure, None).await;
    assert!(ok && said.contains("Ada does it"), "{said}");
    let (ok, again) = house.press(CLEO, &sure, None).await;
    assert!(
        ok && again.contains("is Ada's"),
        "it is not Cleo's any more: {again}"
    );
    let told = posted(&house).await;
    let told = with(&told, "Cleo: Ada does North salt: change");
    assert_eq!(told.len(), 1);
    assert!(
        told[0].blocks.contains(&Block::For { carers: vec![CLEO] }),
        "{told:?}"
    );
    // Whoever cannot do it now does not get it by an old press either.
    house.say("/carer set Bea skill none").await;
    let count = entries(&house).await;
    let (ok, refused) = house.press(BEA, &take, None).await;
    assert!(!ok && refused.contains("Bea"), "{refused}");
    assert_eq!(entries(&house).await, count);
    verify(&house).await;
}
