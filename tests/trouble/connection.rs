//! The connection: resumed, opened anew, watched, closed within bounds, and led nowhere else.

use std::sync::Arc;
use std::time::{Duration, Instant};

use wrackline::logs::unread_events;
use wrackline::store::sqlite::SqliteStore;
use wrackline_tests::platform::{DoubleConfig, GatewayConfig, Route, Trouble};
use wrackline_tests::stage::Stage;

async fn stage(gateway: GatewayConfig) -> Stage {
    let config = DoubleConfig {
        gateway,
        ..DoubleConfig::default()
    };
    let store = SqliteStore::open_memory().await.expect("a store");
    Stage::over(config, Arc::new(store)).await
}

/// After what happened to the connection a line is answered again, in time.
async fn check(stage: &Stage, what: &str) {
    for _ in 0..100 {
        let act = stage.double.command(stage.channel, stage.maren, "due", &[]);
        let act = act.unwrap_or_else(|why| panic!("{what}: {why}"));
        if act.delivered() > 0 {
            let answer = act.shown().await;
            assert!(answer.text().contains("North"), "{what}: {}", answer.text());
            return;
        }
        wrackline::clock::wait(Duration::from_millis(100)).await;
    }
    panic!("{what}: no session any more");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn sessions_go_on_or_begin_anew_and_lines_are_registered_once() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let gateway = stage.double.gateway();
    gateway.cut();
    gateway.until(|counts| counts.resumes >= 1).await;
    check(&stage, "a cut connection").await;
    gateway.reconnect();
    gateway.until(|counts| counts.resumes >= 2).await;
    check(&stage, "asked to connect anew").await;
    let before = gateway.identifies().len();
    gateway.invalidate(false);
    gateway.until(|counts| counts.identifies > before).await;
    check(&stage, "an invalid session").await;
    assert_eq!(
        stage.double.requests_of(Route::SetCommands).len(),
        1,
        "registered once"
    );
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_line_said_while_the_connection_was_cut_is_answered_once() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let gateway = stage.double.gateway();
    gateway.cut();
    let options = [
        wrackline_tests::platform::Opt::text("duty", "change"),
        wrackline_tests::platform::Opt::text("spot", "north salt"),
    ];
    let answer = stage.say(stage.ilja, "did", &options).await;
    assert!(answer.text().contains("changed"), "{}", answer.text());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_cannot_be_read_is_counted_and_nothing_falls_over() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let before = unread_events();
    stage.double.gateway().broken_event();
    stage.double.gateway().unknown_event();
    check(&stage, "unreadable events").await;
    assert!(unread_events() >= before + 2, "{} of 2", unread_events() - before);
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_connection_without_a_pulse_is_opened_anew() {
    let mut stage = stage(GatewayConfig {
        heartbeat: Duration::from_millis(400),
        ..GatewayConfig::default()
    })
    .await;
    stage.keep_silent_for(Duration::from_millis(1_500));
    stage.connect().await;
    stage.set_up().await;
    let gateway = stage.double.gateway();
    let before = gateway.identifies().len();
    gateway.acknowledge(false);
    wrackline::clock::wait(Duration::from_millis(2_500)).await;
    gateway.acknowledge(true);
    gateway.until(|counts| counts.identifies > before).await;
    check(&stage, "silence").await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_end_comes_within_bounds() {
    let mut stage = Stage::new().await;
    let begun = Instant::now();
    stage.disconnect().await.expect("a good end");
    assert!(begun.elapsed() < Duration::from_secs(7), "{:?}", begun.elapsed());
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn nonsense_at_the_entry_is_asked_again() {
    let mut stage = stage(GatewayConfig::default()).await;
    stage.double.trouble(
        Route::GatewayBot,
        [Trouble::Html, Trouble::BrokenJson, Trouble::Status(503)],
    );
    stage.connect().await;
    stage.set_up().await;
    check(&stage, "nonsense").await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_refused_token_ends_it_with_one_sentence() {
    let mut stage = stage(GatewayConfig::default()).await;
    stage.mistake_token("not-the-token");
    let broken = stage.connect_only().await.expect_err("it is refused");
    assert!(broken.0.contains("WRACKLINE_TOKEN"), "{broken}");
    assert!(!broken.0.contains("not-the-token"), "{broken}");
    assert_eq!(stage.double.gateway().identifies().len(), 0);
}
