//! What every chat promises the dispatcher, whatever it is made of.

use std::sync::Arc;

use wrackline::chat::blocks::Block;
use wrackline::chat::porch::PorchChat;
use wrackline::chat::{Chat, ChatError, Outgoing};
use wrackline::replay::Transcript;
use wrackline_core::civil::Zone;
use wrackline_core::moment::Destination;
use wrackline_tests::house::TestHouse;

async fn suite(chat: &dyn Chat, place: i64, shows: impl AsyncFn(&str) -> usize) {
    let block = |text: &str| {
        vec![Block::Title {
            text: text.to_owned(),
        }]
    };
    let (first, second, changed) = (block("one post"), block("another post"), block("a changed post"));
    let message = |nonce, blocks| Outgoing {
        place,
        destination: Destination::Chat,
        nonce,
        blocks,
        at_ms: 1_000,
        wanted_ms: 0,
        resend: false,
    };

    let id = chat.send(message("a", &first)).await.expect("it is sent");
    assert_eq!(shows("one post").await, 1);
    let again = chat
        .send(message("a", &first))
        .await
        .expect("a repeat is no error");
    assert_eq!(again, id, "a nonce has one message");
    assert_eq!(shows("one post").await, 1, "a repeat shows nothing twice");

    let other = chat.send(message("b", &second)).await.expect("it is sent");
    assert_ne!(other, id);

    chat.edit(&id, message("a", &changed))
        .await
        .expect("it is edited");
    assert_eq!(shows("a changed post").await, 1);
    assert_eq!(shows("another post").await, 1, "an edit leaves the others alone");

    for gone in ["999999", "no id"] {
        let edited = chat.edit(gone, message("c", &changed)).await;
        assert_eq!(edited, Err(ChatError::Gone), "{gone}");
    }
}

#[tokio::test]
async fn the_porch_keeps_it() {
    let house = TestHouse::new("Europe/London").await;
    let porch: &Arc<PorchChat> = &house.app.porch;
    let shows = async |text: &str| {
        let rows = house
            .store
            .porch_after(house.place, 0, 100)
            .await
            .expect("the log");
        rows.iter().filter(|row| row.body.contains(text)).count()
    };
    suite(&**porch, house.place, shows).await;
}

#[tokio::test]
async fn the_transcript_keeps_it() {
    let transcript = Transcript::new(Zone::utc());
    let shows = async |text: &str| transcript.text().matches(text).count();
    suite(&transcript, 1, shows).await;
}
