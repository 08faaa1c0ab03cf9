//! Posts through the port, and through the whole dispatcher.

use std::sync::Arc;

use async_trait::async_trait;
use jiff::Timestamp;
use jiff::civil::date;
use wrackline::app::App;
use wrackline::chat::{Chat, ChatError, Outgoing};
use wrackline::clock::SetClock;
use wrackline::house::founding;
use wrackline::outbox::Dispatcher;
use wrackline::shelf::row;
use wrackline::store::{Change, NewPost, Settled, Store};
use wrackline_core::civil::Zone;
use wrackline_core::moment::{Destination, Subject};

use super::BATCH;

/// When all of it happens, in milliseconds since the epoch: an hour of the day at which nobody sleeps.
const NOW_MS: i64 = 1_772_452_800_000;

/// Makes places with posts that are due: twenty in each.
pub(crate) async fn fill(store: &dyn Store, posts: i64) {
    let zone = Zone::get("Europe/London").expect("a zone");
    let subject = Subject::Week {
        monday: date(2026, 2, 23),
    };
    let body = serde_json::to_string(&subject).expect("JSON");
    for _ in 0..posts / 20 {
        let post = |number: i64| NewPost {
            keys: vec![format!("week.{number}")],
            destination: Destination::Chat.to_string(),
            body: body.clone(),
            at_ms: NOW_MS,
            not_after_ms: NOW_MS + 86_400_000,
        };
        let change = Change {
            entries: founding(&zone, "").iter().map(row).collect(),
            posts: (0..20).map(post).collect(),
            ..Change::default()
        };
        store.create_place(true, &change).await.expect("a place");
    }
}

/// Claims, sends nowhere and settles until nothing is due; how many there were.
pub(crate) async fn carry(store: &dyn Store) -> i64 {
    let mut count = 0;
    loop {
        let lease = format!("bench.{count}");
        let claimed = store
            .claim(NOW_MS, NOW_MS + 30_000, &lease, BATCH)
            .await
            .expect("a claim");
        if claimed.is_empty() {
            return count;
        }
        for post in claimed {
            let settled = Settled::Sent {
                message: "1".to_owned(),
                version: post.wanted,
                at_ms: NOW_MS,
                shown: "1.0".to_owned(),
                known: Vec::new(),
            };
            assert!(
                store
                    .settle(post.place, post.id, &lease, &settled)
                    .await
                    .expect("it is settled")
            );
            count += 1;
        }
    }
}

/// The same by the dispatcher, which renders each post too.
pub(crate) async fn dispatch(store: &Arc<dyn Store>) -> i64 {
    let now = Timestamp::from_millisecond(NOW_MS).expect("a time");
    let app = App::new(store.clone(), Arc::new(SetClock::at(now)));
    let mut dispatcher = Dispatcher::new(app.house.clone(), Arc::new(Nowhere), "bench".to_owned());
    let mut count = 0;
    loop {
        let carried = dispatcher.step().await.expect("a step");
        if carried == 0 {
            return count;
        }
        count += i64::try_from(carried).expect("a small number");
    }
}

/// A chat that takes everything and shows nothing.
struct Nowhere;

#[async_trait]
impl Chat for Nowhere {
    async fn send(&self, _: Outgoing<'_>) -> Result<String, ChatError> {
        Ok("1".to_owned())
    }

    async fn edit(&self, _: &str, _: Outgoing<'_>) -> Result<(), ChatError> {
        Ok(())
    }
}
