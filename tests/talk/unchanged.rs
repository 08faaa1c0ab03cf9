//! A post that would show what it shows already is not edited; one that may show something else always is.

use std::sync::Arc;

use wrackline::chat::blocks::Block;
use wrackline::outbox::Dispatcher;
use wrackline_tests::faults::{FaultyChat, Slip};
use wrackline_tests::house::TestHouse;

use super::{BEA, north, settle_by};

/// The evening round of [`north`], called in a chat that may fail.
async fn called() -> (TestHouse, Arc<FaultyChat>, Dispatcher) {
    let house = north().await;
    let chat = Arc::new(FaultyChat::new(house.clock.clone(), None));
    let mut dispatcher = Dispatcher::new(house.app.house.clone(), chat.clone(), "test".to_owned());
    house.at("2026-03-02 19:30");
    settle_by(&house, &mut dispatcher).await;
    assert!(!chat.shown().is_empty());
    (house, chat, dispatcher)
}

/// Whether a message of the chat lists a turn of a spot as done.
fn shows_done(chat: &FaultyChat, spot: &str) -> bool {
    let shown = chat.shown();
    let items = shown
        .iter()
        .flat_map(|one| &one.blocks)
        .filter_map(|block| match block {
            Block::Items { items } => Some(items),
            _ => None,
        });
    items
        .flatten()
        .any(|item| item.settled && item.text.contains(spot))
}

#[tokio::test]
async fn what_changes_nothing_of_a_call_edits_nothing() {
    let (mut house, chat, mut dispatcher) = called().await;
    let calls = chat.calls();
    // A carer more may change any call; these stay as they are.
    for line in ["/carer add Eve helper", "/place set units metric"] {
        house.say(line).await;
        settle_by(&house, &mut dispatcher).await;
    }
    let rows = house.store.posts(house.place, 0).await.expect("posts");
    assert!(rows.iter().any(|row| row.wanted >= 3), "looked at anew: {rows:?}");
    assert!(rows.iter().all(|row| row.sent == row.wanted), "{rows:?}");
    assert_eq!(chat.calls(), calls);
    let (ok, said) = house.say_as(BEA, "/did change north salt").await;
    assert!(ok, "{said}");
    settle_by(&house, &mut dispatcher).await;
    assert!(chat.calls() > calls);
    assert!(shows_done(&chat, "North salt"));
}

#[tokio::test]
async fn an_edit_whose_reply_was_lost_is_made_good_though_all_is_as_before() {
    let (mut house, chat, mut dispatcher) = called().await;
    chat.set_refusing(Some(Slip::LostReply));
    let (ok, said) = house.say_as(BEA, "/did change north salt").await;
    assert!(ok, "{said}");
    settle_by(&house, &mut dispatcher).await;
    assert!(shows_done(&chat, "North salt"), "people see it");
    chat.set_refusing(None);
    // Nobody recorded that they do. What was taken back would show what was recorded last.
    let (ok, said) = house.say_as(BEA, "/undo").await;
    assert!(ok, "{said}");
    house.at("2026-03-02 19:45");
    settle_by(&house, &mut dispatcher).await;
    assert!(!shows_done(&chat, "North salt"));
    let rows = house.store.posts(house.place, 0).await.expect("posts");
    assert!(rows.iter().all(|row| row.sent == row.wanted), "{rows:?}");
}
