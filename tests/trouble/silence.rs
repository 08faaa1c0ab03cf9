//! A connection that is silent is ended and made anew; and it ends in time whatever the other side does.

use std::sync::atomic::Ordering;
use std::time::{Duration, Instant};

use wrackline::chat::discord::gateway::Keeping;
use wrackline::clock::wait;
use wrackline_tests::platform::{DoubleConfig, GatewayConfig};
use wrackline_tests::stage::{Setting, Stage};

use super::{set_up_in, until};

/// A heartbeat so often, and so long a silence.
fn beating(heartbeat_ms: u64, silence_ms: u64) -> Setting {
    let gateway = GatewayConfig {
        heartbeat: Duration::from_millis(heartbeat_ms),
        sends: 10_000,
        ..GatewayConfig::default()
    };
    Setting {
        double: DoubleConfig {
            gateway,
            patience: Duration::from_secs(25),
            ..DoubleConfig::default()
        },
        keeping: Keeping {
            silence_max: Duration::from_millis(silence_ms),
        },
        ..Setting::default()
    }
}

async fn works(stage: &Stage) {
    let answer = stage.say(stage.ilja, "due", &[]).await;
    assert!(answer.text().contains("North"), "{}", answer.text());
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_connection_whose_heart_beats_is_left_alone() {
    let stage = set_up_in(beating(200, 1_500)).await;
    wait(Duration::from_secs(4)).await;
    assert_eq!(stage.gateway.state.silenced.load(Ordering::SeqCst), 0);
    assert_eq!(stage.double.gateway().counts().identifies, 1);
    assert!(stage.double.gateway().counts().heartbeats > 5);
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn heartbeats_that_nobody_acknowledges_end_the_connection_and_another_is_made() {
    // The library waits for an acknowledgement until its next heartbeat: here the watchdog is first.
    let stage = set_up_in(beating(60_000, 1_500)).await;
    let gateway = stage.double.gateway();
    gateway.acknowledge(false);
    let state = &stage.gateway.state;
    until("the watchdog", 15, || state.silenced.load(Ordering::SeqCst) > 0).await;
    until("another session", 20, || {
        state.sessions.load(Ordering::SeqCst) > 1
    })
    .await;
    works(&stage).await;
    assert_eq!(gateway.sessions(), 1, "the silent one is gone");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_line_that_went_dead_is_given_up_for_another() {
    let stage = set_up_in(beating(300, 2_000)).await;
    let gateway = stage.double.gateway();
    gateway.hush();
    let state = &stage.gateway.state;
    until("another session", 20, || {
        state.sessions.load(Ordering::SeqCst) > 1
    })
    .await;
    works(&stage).await;
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_shard_that_vanished_is_made_anew_and_its_ghost_never_returns() {
    // The library has given its shard up, and tries in vain to begin another, when the watchdog comes.
    let stage = set_up_in(beating(300, 8_000)).await;
    let gateway = stage.double.gateway();
    gateway.shut(true);
    gateway.invalidate(false);
    gateway.cut();
    let state = &stage.gateway.state;
    until("the watchdog", 25, || state.silenced.load(Ordering::SeqCst) > 0).await;
    gateway.shut(false);
    until("another session", 25, || {
        state.sessions.load(Ordering::SeqCst) > 1 && state.connected.load(Ordering::SeqCst)
    })
    .await;
    works(&stage).await;
    // What was begun before it was given up would connect by now.
    wait(Duration::from_secs(11)).await;
    assert_eq!(gateway.sessions(), 1);
    works(&stage).await;
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn it_ends_at_once_in_good_order() {
    let mut stage = set_up_in(Setting::default()).await;
    let begun = Instant::now();
    assert_eq!(stage.disconnect().await, Ok(()));
    assert!(begun.elapsed() < Duration::from_secs(3), "{:?}", begun.elapsed());
    assert_eq!(stage.double.gateway().sessions(), 0);
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn it_ends_in_time_though_nobody_answers_its_goodbye() {
    let mut stage = set_up_in(Setting::default()).await;
    stage.double.gateway().hush();
    let begun = Instant::now();
    assert_eq!(stage.disconnect().await, Ok(()));
    assert!(begun.elapsed() < Duration::from_secs(6), "{:?}", begun.elapsed());
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn it_ends_in_time_while_it_tries_to_connect() {
    let mut stage = set_up_in(Setting::default()).await;
    let gateway = stage.double.gateway();
    gateway.shut(true);
    gateway.cut();
    wait(Duration::from_millis(1_500)).await;
    let begun = Instant::now();
    assert_eq!(stage.disconnect().await, Ok(()));
    assert!(begun.elapsed() < Duration::from_secs(6), "{:?}", begun.elapsed());
}
