//! A call that the chat takes only when those sleep whom it names: they are called once they are awake.

use std::sync::Arc;

use wrackline::chat::blocks::Block;
use wrackline::chat::plain;
use wrackline::outbox::Dispatcher;
use wrackline_tests::faults::{FaultyChat, Slip};
use wrackline_tests::house::TestHouse;

use super::{north, settle_by};

/// [`north`] on the evening of 3 March, when what nobody did since the day before is late; all have quiet hours from
/// 20:30 on. The chat takes nothing between 20:00 and 21:00.
async fn late(private: bool) -> (TestHouse, Arc<FaultyChat>, Dispatcher) {
    let mut house = north().await;
    for name in ["Ada", "Bea", "Cleo"] {
        house
            .say(&format!("/carer set {name} quiet 20:30 to 06:30"))
            .await;
        if private {
            house.say(&format!("/carer set {name} private yes")).await;
        }
    }
    let chat = Arc::new(FaultyChat::new(house.clock.clone(), None));
    let mut dispatcher = Dispatcher::new(house.app.house.clone(), chat.clone(), "test".to_owned());
    for at in ["2026-03-02 19:30", "2026-03-03 08:00", "2026-03-03 19:30"] {
        house.at(at);
        settle_by(&house, &mut dispatcher).await;
    }
    (house, chat, dispatcher)
}

/// What a chat shows more than so many messages: the text of each, and whom it calls.
fn shown(chat: &FaultyChat, before: usize) -> Vec<(String, Vec<u32>)> {
    let called = |block: &Block| match block {
        Block::For { carers } => Some(carers.clone()),
        _ => None,
    };
    let all = chat.shown().into_iter().skip(before);
    all.map(|one| {
        let called = one.blocks.iter().filter_map(called).flatten();
        (plain::text(&one.blocks), called.collect())
    })
    .collect()
}

/// Lets the chat refuse from 20:00 to 21:00, and says what it shows more by 21:00 and by 7 o'clock.
async fn through_the_night(private: bool) -> [Vec<(String, Vec<u32>)>; 2] {
    let (house, chat, mut dispatcher) = late(private).await;
    let before = chat.shown().len();
    chat.set_refusing(Some(Slip::Passing(None)));
    house.at("2026-03-03 20:00");
    settle_by(&house, &mut dispatcher).await;
    assert_eq!(chat.shown().len(), before);
    chat.set_refusing(None);
    house.at("2026-03-03 21:00");
    settle_by(&house, &mut dispatcher).await;
    let evening = shown(&chat, before);
    let before = chat.shown().len();
    house.at("2026-03-04 07:00");
    settle_by(&house, &mut dispatcher).await;
    [evening, shown(&chat, before)]
}

#[tokio::test]
async fn who_sleeps_as_a_call_is_sent_is_called_in_the_morning() {
    let [evening, morning] = through_the_night(false).await;
    assert!(
        evening.iter().any(|(text, _)| text.contains("change")),
        "{evening:#?}"
    );
    assert!(
        evening.iter().all(|(_, called)| called.is_empty()),
        "{evening:#?}"
    );
    let again = |(text, called): &(String, Vec<u32>)| text.contains("change") && !called.is_empty();
    assert!(morning.iter().any(again), "{morning:#?}");
}

#[tokio::test]
async fn what_goes_to_one_alone_waits_until_they_are_awake() {
    let [evening, morning] = through_the_night(true).await;
    assert!(evening.is_empty(), "{evening:#?}");
    assert!(
        morning
            .iter()
            .any(|(text, called)| text.contains("change") && called.len() == 1),
        "{morning:#?}"
    );
}
