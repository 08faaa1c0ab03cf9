//! Many calls due together: how long until the last one is there, beside what the limit itself takes.

use std::sync::Arc;
use std::time::{Duration, Instant};

use jiff::civil::date;
use wrackline::house::founding;
use wrackline::outbox::Dispatcher;
use wrackline::shelf::row;
use wrackline::store::sqlite::SqliteStore;
use wrackline::store::{Change, NewPost, ServerRow};
use wrackline_core::civil::Zone;
use wrackline_core::moment::{Destination, Subject};
use wrackline_tests::platform::{ChannelId, ChannelKind, Double, DoubleConfig};
use wrackline_tests::stage::{Stage, ZONE};

use super::Scale;

/// The platform's limit for all of a bot, per second.
const LIMIT: f64 = 50.0;

pub(crate) async fn run(scale: Scale) {
    let folder = tempfile::tempdir().expect("a folder");
    let store = SqliteStore::open(&folder.path().join("house.db"))
        .await
        .expect("a store");
    let stage = Stage::over(DoubleConfig::default(), Arc::new(store)).await;
    let mut channels = Vec::new();
    for number in 0..scale.posts {
        channels.push(place(&stage, number).await);
    }
    let house = stage.app.house.clone();
    let dispatcher = Dispatcher::new(house, stage.app.way_out(Some(&stage.gateway)), "bench".to_owned());
    let begun = Instant::now();
    let running = tokio::spawn(dispatcher.run());
    loop {
        let there = channels
            .iter()
            .filter(|one| is_there(&stage.double, **one))
            .count();
        if there == channels.len() {
            break;
        }
        let posts = channels.len();
        assert!(
            begun.elapsed() < Duration::from_secs(120),
            "{there} of {posts} posts are there"
        );
        wrackline::clock::wait(Duration::from_millis(20)).await;
    }
    let took = begun.elapsed().as_secs_f64();
    running.abort();
    // The first second's worth may go at once.
    let least = (scale.posts as f64 - LIMIT) / LIMIT;
    let doubled = channels
        .iter()
        .filter(|channel| stage.double.channel_messages(**channel).len() > 1)
        .count();
    println!("{} posts due together at {LIMIT} a second", scale.posts);
    println!("  the limit's own time   {least:.2} s");
    println!(
        "  until the last is there {took:.2} s: {:.2}, aim ≤ 1.1; doubled {doubled}",
        took / least
    );
    println!("  refused by the limit   {}", stage.double.throttled());
    stage.double.assert_faultless();
}

/// A place with a channel of its own and a week to post.
async fn place(stage: &Stage, number: usize) -> ChannelId {
    let guild = stage.double.guild(&format!("Hall {number}"));
    let channel = stage.double.channel(guild, ChannelKind::Text, "pools");
    let zone = Zone::get(ZONE).expect("a zone");
    let subject = Subject::Week {
        monday: date(2026, 2, 23),
    };
    let at_ms = stage.app.house.clock.now().as_millisecond();
    let number = |id: u64| i64::try_from(id).expect("a number");
    let change = Change {
        entries: founding(&zone, "").iter().map(row).collect(),
        server: Some(ServerRow {
            server: number(guild.0),
            channel: number(channel.0),
        }),
        posts: vec![NewPost {
            keys: vec!["week".to_owned()],
            destination: Destination::Chat.to_string(),
            body: serde_json::to_string(&subject).expect("JSON"),
            at_ms,
            not_after_ms: at_ms + 86_400_000,
        }],
        ..Change::default()
    };
    stage.store.create_place(true, &change).await.expect("a place");
    channel
}

fn is_there(double: &Double, channel: ChannelId) -> bool {
    !double.channel_messages(channel).is_empty()
}
