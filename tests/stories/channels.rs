//! A channel that cannot be a place's is refused, and nothing is linked.

use wrackline_tests::platform::{ChannelId, ChannelKind, Opt, Permissions, usual_permissions};
use wrackline_tests::stage::Stage;

use super::{done, has_place, refused};

async fn check(stage: &Stage, channel: ChannelId, told: &[&str]) {
    let options = [Opt::channel("channel", channel)];
    let said = refused(stage, stage.maren, "place link", &options).await;
    for part in told {
        assert!(said.contains(part), "{part}: {said}");
    }
    assert!(!has_place(stage, stage.guild).await, "{said}");
    assert!(stage.store.places().await.expect("the store answers").is_empty());
    assert!(stage.double.seen_messages(channel).is_empty(), "{said}");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn channels_that_take_no_posts_are_refused_with_what_would_be_right() {
    let stage = Stage::new().await;
    // The app lets nobody choose a voice channel here; one of an earlier definition may.
    let voice = stage.double.channel(stage.guild, ChannelKind::Voice, "talking");
    let options = [Opt::channel("channel", voice)];
    if stage
        .double
        .command(stage.channel, stage.maren, "place link", &options)
        .is_ok()
    {
        check(&stage, voice, &["name a text channel"]).await;
    }
    let unseen = stage.double.channel(stage.guild, ChannelKind::Text, "unseen");
    stage.double.bot_may(unseen, Permissions::empty());
    check(&stage, unseen, &["cannot see", "View Channel"]).await;
    let mute = stage.double.channel(stage.guild, ChannelKind::Text, "mute");
    stage.double.bot_may(mute, Permissions::VIEW_CHANNEL);
    check(&stage, mute, &["may not write", "Send Messages"]).await;
    let gone = stage.double.channel(stage.guild, ChannelKind::Text, "gone");
    stage.double.delete_channel(gone);
    check(&stage, gone, &["gone", "name another"]).await;
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn once_it_is_put_right_the_same_channel_is_linked() {
    let stage = Stage::new().await;
    stage.double.bot_may(stage.channel, Permissions::VIEW_CHANNEL);
    check(&stage, stage.channel, &["may not write"]).await;
    stage.double.bot_may(stage.channel, usual_permissions());
    let options = [Opt::channel("channel", stage.channel)];
    done(&stage, stage.maren, "place link", &options).await;
    assert!(has_place(&stage, stage.guild).await);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_link_without_a_channel_says_how_it_is_said() {
    let stage = Stage::new().await;
    let said = refused(&stage, stage.maren, "place link", &[]).await;
    assert!(said.contains("Name a text channel"), "{said}");
    assert!(!has_place(&stage, stage.guild).await);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_place_that_cannot_move_stays_where_it_is() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    let mute = stage.double.channel(stage.guild, ChannelKind::Text, "mute");
    stage.double.bot_may(mute, Permissions::VIEW_CHANNEL);
    let options = [Opt::channel("channel", mute)];
    refused(&stage, stage.maren, "place link", &options).await;
    stage.at("2026-03-03 08:00");
    stage.turn().await;
    assert_eq!(stage.posts().len(), 1, "{:#?}", stage.posts());
    stage.double.assert_faultless();
}
