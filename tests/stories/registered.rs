//! The lines are registered once, and again only when they have changed.

use std::sync::Arc;
use std::time::Duration;

use wrackline::store::sqlite::SqliteStore;
use wrackline_tests::platform::{DoubleConfig, Route};
use wrackline_tests::stage::Stage;

fn puts(stage: &Stage) -> usize {
    stage.double.requests_of(Route::SetCommands).len()
}

/// Begins a new session, and waits until what it begins with is done.
async fn session_anew(stage: &Stage) {
    let begun = stage.double.gateway().counts().identifies;
    stage.double.gateway().invalidate(false);
    stage
        .double
        .gateway()
        .until(|counts| counts.identifies > begun)
        .await;
    // A line is answered by the new session: it is at work.
    stage.double.gateway().connected(1).await;
    stage.say(stage.maren, "due", &[]).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_second_session_with_the_same_lines_registers_nothing() {
    let store = Arc::new(SqliteStore::open_memory().await.expect("a store"));
    let mut stage = Stage::over(DoubleConfig::default(), store).await;
    stage.connect().await;
    assert_eq!(puts(&stage), 1);
    let name = format!("commands:{}", stage.double.bot());
    // The definitions are out before it is written down that they are.
    let mut print = None;
    for _ in 0..500 {
        print = stage.store.kept(&name).await.expect("the store answers");
        if print.is_some() {
            break;
        }
        wrackline::clock::wait(Duration::from_millis(10)).await;
    }
    assert!(print.is_some_and(|print| print.len() == 64));
    session_anew(&stage).await;
    assert_eq!(puts(&stage), 1);

    // An earlier version had registered others.
    stage
        .store
        .keep(&name, "another version")
        .await
        .expect("the store keeps it");
    session_anew(&stage).await;
    for _ in 0..100 {
        if puts(&stage) > 1 {
            break;
        }
        wrackline::clock::wait(Duration::from_millis(20)).await;
    }
    assert_eq!(puts(&stage), 2);
    stage.double.assert_faultless();
}
