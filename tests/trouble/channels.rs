//! Channels that are gone, hidden or closed to the bot: a keeper is told once, and nothing is hammered.

use wrackline_tests::platform::{ChannelKind, Message, Opt, Permissions, Route, UserId, usual_permissions};
use wrackline_tests::stage::Stage;

use super::{alarmed, minutes_pass, saw, saw_what};

/// What a person was told in private.
fn private(stage: &Stage, person: UserId) -> Vec<Message> {
    stage.double.channel_messages(stage.double.dm(person))
}

/// A channel refuses from now on. The keeper is told once, `/due` says it, and after a move the alarm arrives.
async fn check(word: &str, refuse: impl FnOnce(&Stage)) {
    let mut stage = alarmed().await;
    let talk = stage.double.channel(stage.guild, ChannelKind::Text, "talk");
    refuse(&stage);
    stage.turn().await;
    minutes_pass(&mut stage, 6).await;
    let told = private(&stage, stage.maren);
    assert_eq!(told.len(), 1, "{word}: {told:#?}");
    assert!(told[0].text().contains(word), "{}", told[0].text());
    assert_eq!(private(&stage, stage.ilja).len(), 0, "{word}");
    let tries = stage.double.requests_of(Route::CreateMessage).len();
    assert!(tries <= 2 + 4 + 1, "{word}: {tries} tries in six minutes");

    stage.channel = talk;
    let due = stage.say(stage.ilja, "due", &[]).await;
    assert!(due.text().contains("takes no posts"), "{word}: {}", due.text());
    let linked = stage
        .say(stage.maren, "place link", &[Opt::channel("channel", talk)])
        .await;
    assert!(linked.text().contains("linked"), "{}", linked.text());
    minutes_pass(&mut stage, 4).await;
    let posts = stage.posts();
    assert_eq!(posts.len(), 1, "{word}: {posts:#?}");
    let due = stage.say(stage.ilja, "due", &[]).await;
    assert!(!due.text().contains("takes no posts"), "{word}: {}", due.text());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_channel_that_is_gone() {
    check("is gone", |stage| stage.double.delete_channel(stage.channel)).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_channel_that_is_hidden() {
    check("cannot see", |stage| {
        stage.double.bot_may(stage.channel, Permissions::empty());
    })
    .await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_channel_without_leave_to_write() {
    check("may not write", |stage| {
        let may = usual_permissions() - Permissions::SEND_MESSAGES;
        stage.double.bot_may(stage.channel, may);
    })
    .await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn who_takes_no_private_messages_is_passed_over() {
    let mut stage = alarmed().await;
    let keeper = [Opt::text("carer", "Ilja"), Opt::text("role", "keeper")];
    stage.say(stage.maren, "carer set", &keeper).await;
    stage.double.takes_dms(stage.maren, false);
    stage.double.delete_channel(stage.channel);
    stage.turn().await;
    minutes_pass(&mut stage, 3).await;
    assert_eq!(private(&stage, stage.maren).len(), 0);
    assert_eq!(private(&stage, stage.ilja).len(), 1);
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn where_no_keeper_can_be_reached_due_says_it() {
    let mut stage = alarmed().await;
    let talk = stage.double.channel(stage.guild, ChannelKind::Text, "talk");
    stage.double.takes_dms(stage.maren, false);
    stage.double.delete_channel(stage.channel);
    stage.turn().await;
    minutes_pass(&mut stage, 3).await;
    stage.channel = talk;
    let due = stage.say(stage.ilja, "due", &[]).await;
    assert!(due.text().contains("takes no posts"), "{}", due.text());
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_bot_that_was_removed_lives_on_and_comes_back() {
    let mut stage = alarmed().await;
    stage.turn().await;
    stage.double.remove_bot(stage.guild);
    minutes_pass(&mut stage, 2).await;
    stage.double.bring_bot_back(stage.guild);
    minutes_pass(&mut stage, 3).await;
    // What is out already is edited, and what is seen for the first time is posted.
    saw(&stage).await;
    saw_what(&stage, "leak").await;
    minutes_pass(&mut stage, 3).await;
    let posts = stage.posts();
    assert_eq!(posts.len(), 2, "{posts:#?}");
    assert!(posts[0].text().contains("Seen again"), "{posts:#?}");
}
