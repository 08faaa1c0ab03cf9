//! Trouble with the platform: connections that break, calls that fail, channels that refuse; and what never shows.

mod beside;
mod channels;
mod closed;
mod connection;
mod entry;
mod passing;
mod posting;
mod secrets;
mod sessions;
mod silence;
mod unread;

use std::sync::Arc;
use std::time::{Duration, Instant};

use wrackline::clock::wait;
use wrackline::store::sqlite::SqliteStore;
use wrackline_tests::platform::{Message, Opt, Route, UserId};
use wrackline_tests::stage::{Setting, Stage};

/// A stage in a setting of its own that has not connected yet.
async fn apart(setting: Setting) -> Stage {
    let store = SqliteStore::open_memory().await.expect("a store in memory");
    Stage::with(setting, Arc::new(store)).await
}

/// A connected stage in a setting of its own, with its place set up.
async fn set_up_in(setting: Setting) -> Stage {
    let mut stage = apart(setting).await;
    stage.connect().await;
    stage.set_up().await;
    stage
}

/// Waits until something holds.
async fn until(what: &str, seconds: u64, holds: impl Fn() -> bool) {
    let end = Instant::now() + Duration::from_secs(seconds);
    while !holds() {
        assert!(Instant::now() < end, "{what} does not come about");
        wait(Duration::from_millis(20)).await;
    }
}

/// What a person is told by `/due`.
async fn due(stage: &Stage, by: UserId) -> String {
    stage.say(by, "due", &[]).await.text()
}

/// A line that changes the call of the first round.
async fn changed(stage: &Stage, spot: &str) {
    let options = [Opt::text("duty", "change"), Opt::text("spot", spot)];
    let answer = stage.say(stage.ilja, "did", &options).await;
    assert!(!answer.text().contains("Nothing was saved"), "{}", answer.text());
}

/// What the bot told a person in private.
fn told_in_private(stage: &Stage, person: UserId) -> Vec<Message> {
    stage.double.seen_messages(stage.double.dm(person))
}

/// How often it was tried to post in the stage's channel.
fn tries(stage: &Stage) -> usize {
    let path = format!("/channels/{}/messages", stage.channel);
    let requests = stage.double.requests_of(Route::CreateMessage);
    requests.iter().filter(|request| request.path == path).count()
}

/// A house that is set up, and somebody who saw wet substrate: one alarm waits to be posted.
async fn alarmed() -> Stage {
    let stage = Stage::new().await;
    stage.set_up().await;
    saw(&stage).await;
    stage
}

async fn saw(stage: &Stage) -> Message {
    saw_what(stage, "wet substrate").await
}

async fn saw_what(stage: &Stage, sighting: &str) -> Message {
    let options = [Opt::text("sighting", sighting), Opt::text("spot", "north")];
    stage.say(stage.ilja, "saw", &options).await
}

/// Lets time pass and posts be carried, so many times a minute further.
async fn minutes_pass(stage: &mut Stage, minutes: i64) {
    use wrackline::clock::Clock;
    for _ in 0..minutes {
        let now = stage.clock.now();
        stage.clock.put(now + jiff::SignedDuration::from_mins(1));
        stage.turn().await;
    }
}
