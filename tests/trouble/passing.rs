//! What fails for now is done later, once.

use std::time::Duration;

use wrackline::chat::discord::sender::Limits;
use wrackline_tests::platform::{
    Change, DoubleConfig, Message, Permissions, Route, Scope, Trouble, usual_permissions,
};
use wrackline_tests::stage::{Setting, Stage};

use super::{changed, set_up_in, tries};

const ROUND: &str = "2026-03-03 08:00";

/// A place whose first round is about to be called, on a platform that remembers nonces for so long.
async fn before_a_round(nonce_window: Duration) -> Stage {
    let double = DoubleConfig {
        nonce_window,
        ..DoubleConfig::default()
    };
    let setting = Setting {
        double,
        limits: Limits {
            wait_max: Duration::from_secs(3),
            request_max: Duration::from_millis(800),
            ..Limits::default()
        },
        ..Setting::default()
    };
    let stage = set_up_in(setting).await;
    stage.at(ROUND);
    stage
}

const MINUTES: Duration = Duration::from_secs(180);

/// The one call of the round, which was written once, whatever became of it.
#[track_caller]
fn called_once(stage: &Stage) -> Message {
    let all = stage.double.channel_messages(stage.channel);
    let all = all.into_iter().filter(|message| message.interaction.is_none());
    let mut posts: Vec<Message> = all.skip(1).collect();
    assert_eq!(posts.len(), 1, "{posts:#?}");
    assert!(posts[0].text().contains("North"), "{}", posts[0].text());
    posts.remove(0)
}

async fn limited(scope: Scope) {
    let mut stage = before_a_round(MINUTES).await;
    let before = tries(&stage);
    let wait = Duration::from_millis(1_200);
    stage
        .double
        .trouble(Route::CreateMessage, [Trouble::TooMany(scope, wait)]);
    stage.turn().await;
    called_once(&stage);
    assert_eq!(tries(&stage), before + 2);
    let at: Vec<Duration> = stage.double.requests_of(Route::CreateMessage)[before..]
        .iter()
        .map(|request| request.at)
        .collect();
    assert!(at[1] - at[0] >= wait, "{at:?}");
    // Whoever asks before it is time is at fault there.
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_limit_of_ones_own_is_waited_out() {
    limited(Scope::User).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_limit_over_everything_is_waited_out() {
    limited(Scope::Global).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_limit_that_others_share_is_waited_out() {
    limited(Scope::Shared).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_limit_too_long_to_be_waited_for_is_kept_by_the_next_attempts_too() {
    let mut stage = before_a_round(MINUTES).await;
    let before = tries(&stage);
    let wait = Duration::from_secs(5);
    let trouble = Trouble::TooMany(Scope::User, wait);
    stage.double.trouble(Route::CreateMessage, [trouble]);
    stage.turn().await;
    assert_eq!((stage.posts().len(), tries(&stage)), (0, before + 1));
    // The wall clock is set on, which makes the platform's limit no shorter.
    stage.later(6).await;
    assert_eq!((stage.posts().len(), tries(&stage)), (0, before + 1));
    wrackline::clock::wait(wait).await;
    stage.later(30).await;
    called_once(&stage);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_platform_that_has_trouble_is_tried_again() {
    let mut stage = before_a_round(MINUTES).await;
    let trouble = [
        Trouble::Status(500),
        Trouble::Status(503),
        Trouble::Html,
        Trouble::Reset,
    ];
    stage.double.trouble(Route::CreateMessage, trouble);
    for _ in 0..5 {
        stage.turn().await;
        stage.later(60).await;
    }
    called_once(&stage);
    stage.double.assert_faultless();
}

/// Delivered without a reply: on the platform it stands, and nobody here knows.
async fn lost(stage: &mut Stage, trouble: Trouble) -> usize {
    let looked = stage.double.requests_of(Route::ListMessages).len();
    stage.double.trouble(Route::CreateMessage, [trouble]);
    stage.turn().await;
    called_once(stage);
    stage.later(60).await;
    let call = called_once(stage);
    let post = stage
        .store
        .posts(stage.place().await, 0)
        .await
        .expect("posts")
        .remove(0);
    let known = post.message.expect("it is known where it stands");
    assert!(known.ends_with(&call.id.to_string()), "{known}");
    // And it can be changed from then on.
    let before = call.edits();
    changed(stage, "North fresh").await;
    stage.turn().await;
    assert!(called_once(stage).edits() > before);
    stage.double.assert_faultless();
    stage.double.requests_of(Route::ListMessages).len() - looked
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_lost_reply_soon_after_posts_nothing_twice() {
    lost(&mut before_a_round(MINUTES).await, Trouble::Dropped).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_lost_reply_long_after_posts_nothing_twice_since_it_is_looked_for() {
    let looked = lost(&mut before_a_round(Duration::ZERO).await, Trouble::Dropped).await;
    assert_eq!(looked, 1);
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn trouble_after_the_deed_posts_nothing_twice() {
    lost(&mut before_a_round(Duration::ZERO).await, Trouble::DoneThen(502)).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_answer_that_comes_too_late_posts_nothing_twice() {
    let slow = Trouble::Slow(Duration::from_millis(1_500));
    lost(&mut before_a_round(Duration::ZERO).await, slow).await;
}

/// What is promised where the bot may not read what stands in the channel: its nonce alone keeps a post from being
/// doubled, for as long as the platform remembers it, which is some minutes.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn where_nothing_may_be_read_the_nonce_alone_keeps_it_single() {
    let mut stage = before_a_round(MINUTES).await;
    let may = usual_permissions() - Permissions::READ_MESSAGE_HISTORY;
    stage.double.bot_may(stage.channel, may);
    lost(&mut stage, Trouble::Dropped).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_call_that_somebody_deleted_is_posted_anew_once() {
    let mut stage = before_a_round(MINUTES).await;
    stage.turn().await;
    let call = called_once(&stage);
    stage.double.delete_message(call.id);
    changed(&stage, "North fresh").await;
    stage.turn().await;
    let posts = stage.posts();
    assert_eq!(posts.len(), 1, "{posts:#?}");
    assert_ne!(posts[0].id, call.id);
    stage.later(60).await;
    changed(&stage, "North salt").await;
    stage.turn().await;
    let after = stage.posts();
    assert_eq!(after.len(), 1, "{after:#?}");
    assert_eq!(after[0].id, posts[0].id, "the new one is edited");
    assert!(after[0].edits() > posts[0].edits());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn edits_that_are_too_many_wait_for_ten_minutes() {
    let mut stage = before_a_round(MINUTES).await;
    stage.turn().await;
    let call = called_once(&stage);
    stage
        .double
        .trouble(Route::EditMessage, [Trouble::Refused(400, 30_046)]);
    changed(&stage, "North fresh").await;
    stage.turn().await;
    stage.later(300).await;
    assert_eq!(stage.double.requests_of(Route::EditMessage).len(), 1);
    assert_eq!(called_once(&stage).edits(), call.edits());
    stage.later(310).await;
    let after = called_once(&stage);
    assert_eq!(after.edits(), call.edits() + 1);
    let last = after.history.last().expect("a version");
    assert_eq!(last.change, Change::Edited);
    stage.double.assert_faultless();
}
