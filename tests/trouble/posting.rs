//! Limits, failures and lost replies on the way of a post.

use std::time::{Duration, Instant};

use wrackline_tests::platform::{Opt, Route, Scope, Trouble};

use super::{alarmed, minutes_pass, saw};

/// Whatever goes wrong with the first tries, the alarm is there once in the end; how long the carrying took.
async fn check(troubles: &[Trouble], minutes: i64) -> Duration {
    let mut stage = alarmed().await;
    stage
        .double
        .trouble(Route::CreateMessage, troubles.iter().cloned());
    let begun = Instant::now();
    stage.turn().await;
    let took = begun.elapsed();
    minutes_pass(&mut stage, minutes).await;
    let posts = stage.posts();
    assert_eq!(posts.len(), 1, "{troubles:?}: {posts:#?}");
    assert_eq!(
        stage
            .double
            .channel_messages(stage.channel)
            .iter()
            .filter(|one| one.interaction.is_none())
            .count(),
        2
    );
    // Among the faults that the platform's double records are requests before the time that a limit named.
    stage.double.assert_faultless();
    took
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn limits_are_waited_out_and_nothing_is_doubled() {
    for scope in [Scope::User, Scope::Global, Scope::Shared] {
        let took = check(&[Trouble::TooMany(scope, Duration::from_millis(700))], 0).await;
        assert!(took >= Duration::from_millis(700), "{scope:?}: {took:?}");
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_long_limit_is_left_to_the_outbox() {
    let mut stage = alarmed().await;
    stage.double.trouble(
        Route::CreateMessage,
        [Trouble::TooMany(Scope::User, Duration::from_secs(12))],
    );
    let begun = Instant::now();
    stage.turn().await;
    assert!(begun.elapsed() < Duration::from_secs(5), "{:?}", begun.elapsed());
    assert_eq!(stage.posts().len(), 0);
    // The outbox tries again after the time that was asked for; what runs there is real time.
    minutes_pass(&mut stage, 1).await;
    wrackline::clock::wait(Duration::from_secs(12).saturating_sub(begun.elapsed())).await;
    minutes_pass(&mut stage, 3).await;
    assert_eq!(stage.posts().len(), 1);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn failures_and_nonsense_are_tried_again() {
    for trouble in [
        Trouble::Status(500),
        Trouble::Status(503),
        Trouble::Reset,
        Trouble::Html,
        Trouble::BrokenJson,
    ] {
        check(&[trouble.clone(), trouble], 3).await;
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_reply_that_is_lost_after_delivery_doubles_nothing() {
    for trouble in [Trouble::Dropped, Trouble::DoneThen(502)] {
        check(&[trouble], 3).await;
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn long_after_the_nonce_is_forgotten_the_post_is_looked_up() {
    check_look_up(0).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn it_is_found_below_what_was_said_since() {
    check_look_up(230).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn it_is_found_where_it_was_wanted_however_much_was_said_since() {
    check_look_up(1_150).await;
}

/// So many lines are answered in the channel between the post whose reply is lost and the next attempt.
async fn check_look_up(lines: usize) {
    use std::sync::Arc;
    use wrackline::store::sqlite::SqliteStore;
    use wrackline_tests::platform::DoubleConfig;
    use wrackline_tests::stage::Stage;
    let config = DoubleConfig {
        nonce_window: Duration::ZERO,
        ..DoubleConfig::default()
    };
    let store = SqliteStore::open_memory().await.expect("a store");
    let mut stage = Stage::over(config, Arc::new(store)).await;
    stage.connect().await;
    stage.set_up().await;
    saw(&stage).await;
    stage.double.trouble(Route::CreateMessage, [Trouble::Dropped]);
    stage.turn().await;
    for _ in 0..lines {
        let options = [Opt::text("spot", "north"), Opt::text("readings", "80 %")];
        stage.say(stage.maren, "read", &options).await;
    }
    minutes_pass(&mut stage, 3).await;
    assert_eq!(stage.posts().len(), 1, "{:#?}", stage.posts());
    let looks = stage.double.requests_of(Route::ListMessages).len();
    let is_long = usize::from(lines > 100);
    assert_eq!(
        looks,
        1 + is_long,
        "the newest ones, and from the moment on at which it was wanted"
    );
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_call_that_was_deleted_is_posted_anew_once() {
    let mut stage = alarmed().await;
    stage.turn().await;
    let alarm = stage.posts().remove(0);
    stage.double.delete_message(alarm.id);
    let options = [
        Opt::text("sighting", "wet substrate"),
        Opt::text("spot", "north"),
        Opt::bool("closed", true),
    ];
    let answer = stage.say(stage.maren, "saw", &options).await;
    stage.turn().await;
    minutes_pass(&mut stage, 2).await;
    let posts = stage.posts();
    let alarms: Vec<String> = posts.iter().map(|post| post.text()).collect();
    assert!(
        posts.len() <= 2 && !posts.is_empty(),
        "{}: {alarms:#?}",
        answer.text()
    );
    let texts: std::collections::BTreeSet<&String> = alarms.iter().collect();
    assert_eq!(texts.len(), alarms.len(), "{alarms:#?}");
    stage.double.assert_faultless();
}
