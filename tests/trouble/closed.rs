//! A channel that refuses posts: its keeper is told once, in private, nothing is hammered, and what is still worth
//! sending arrives where the place moves to.

use std::time::Duration;

use wrackline_tests::platform::{
    ChannelId, ChannelKind, DoubleConfig, Opt, Permissions, UserId, usual_permissions,
};
use wrackline_tests::stage::{Setting, Stage};

use super::{due, set_up_in, told_in_private, tries};

/// How a channel comes to refuse.
#[derive(Clone, Copy, Debug)]
enum Way {
    Deleted,
    Hidden,
    Muted,
    Removed,
}

impl Way {
    fn close(self, stage: &Stage) {
        match self {
            Self::Deleted => stage.double.delete_channel(stage.channel),
            Self::Hidden => stage
                .double
                .bot_may(stage.channel, usual_permissions() - Permissions::VIEW_CHANNEL),
            Self::Muted => stage
                .double
                .bot_may(stage.channel, usual_permissions() - Permissions::SEND_MESSAGES),
            Self::Removed => stage.double.remove_bot(stage.guild),
        }
    }

    fn told(self) -> &'static str {
        match self {
            Self::Deleted => "The channel of your place is gone",
            Self::Hidden | Self::Removed => "I cannot see the channel of your place",
            Self::Muted => "I may not write in the channel of your place",
        }
    }
}

/// What one is told where the stage still has a channel in which lines are said.
async fn due_in(stage: &Stage, channel: ChannelId, by: UserId) -> String {
    let act = stage.double.command(channel, by, "due", &[]);
    act.expect("a line").shown().await.text()
}

async fn refused(way: Way) {
    let mut stage = set_up_in(Setting::default()).await;
    let other = stage.double.channel(stage.guild, ChannelKind::Text, "other");
    way.close(&stage);
    let before = tries(&stage);
    stage.at("2026-03-03 08:00");
    stage.turn().await;
    // Half an hour in steps of ten seconds.
    let steps: usize = 180;
    for _ in 0..steps {
        stage.later(10).await;
    }
    let tried = tries(&stage) - before;
    assert!(tried >= 1, "{way:?}: it is tried");
    assert!(tried <= steps * 10 / 120 + 1, "{way:?}: {tried} times");
    let told = told_in_private(&stage, stage.maren);
    assert_eq!(told.len(), 1, "{way:?}: {told:#?}");
    assert!(told[0].text().starts_with(way.told()), "{}", told[0].text());
    assert!(told[0].calls_nobody());
    assert!(told_in_private(&stage, stage.ilja).is_empty());

    stage.double.bring_bot_back(stage.guild);
    let said = due_in(&stage, other, stage.ilja).await;
    assert!(said.contains("channel takes no posts"), "{way:?}: {said}");

    // The round is still worth calling, so it is called where the place goes.
    let home = stage.channel;
    let link = [Opt::channel("channel", other)];
    stage.channel = other;
    let answer = stage.say(stage.maren, "place link", &link).await;
    assert!(
        !answer.text().contains("Nothing was saved"),
        "{way:?}: {}",
        answer.text()
    );
    let said = due(&stage, stage.ilja).await;
    assert!(!said.contains("channel takes no posts"), "{way:?}: {said}");
    for _ in 0..12 {
        stage.later(60).await;
    }
    let posts = stage.posts();
    assert_eq!(posts.len(), 1, "{way:?}: {posts:#?}");
    assert!(posts[0].text().contains("North"), "{}", posts[0].text());
    stage.channel = home;
    assert_eq!(
        tries(&stage) - before,
        tried,
        "{way:?}: the old one is left alone"
    );
    assert_eq!(told_in_private(&stage, stage.maren).len(), 1, "{way:?}");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_channel_that_is_gone() {
    refused(Way::Deleted).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_channel_that_is_hidden() {
    refused(Way::Hidden).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_channel_where_nothing_may_be_said() {
    refused(Way::Muted).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_server_that_removed_the_bot() {
    refused(Way::Removed).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_call_that_stood_in_a_channel_that_is_gone_is_posted_anew_where_the_place_goes() {
    let mut stage = set_up_in(Setting::default()).await;
    stage.at("2026-03-03 08:00");
    stage.turn().await;
    assert_eq!(stage.posts().len(), 1);
    let other = stage.double.channel(stage.guild, ChannelKind::Text, "other");
    stage.double.delete_channel(stage.channel);
    stage.channel = other;
    let link = [Opt::channel("channel", other)];
    stage.say(stage.maren, "place link", &link).await;
    super::changed(&stage, "North fresh").await;
    for _ in 0..5 {
        stage.later(60).await;
    }
    let posts = stage.posts();
    assert_eq!(posts.len(), 1, "{posts:#?}");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_channel_that_is_put_right_takes_what_waited() {
    // As if it were later than the platform remembers what was told.
    let double = DoubleConfig {
        nonce_window: Duration::ZERO,
        ..DoubleConfig::default()
    };
    let mut stage = set_up_in(Setting {
        double,
        ..Setting::default()
    })
    .await;
    Way::Muted.close(&stage);
    stage.at("2026-03-03 08:00");
    stage.turn().await;
    assert!(stage.posts().is_empty());
    assert!(due(&stage, stage.ilja).await.contains("channel takes no posts"));
    stage.double.bot_may(stage.channel, usual_permissions());
    for _ in 0..4 {
        stage.later(60).await;
    }
    assert_eq!(stage.posts().len(), 1);
    assert!(!due(&stage, stage.ilja).await.contains("channel takes no posts"));

    // Trouble that comes back is told again.
    Way::Muted.close(&stage);
    stage.at("2026-03-03 19:30");
    stage.turn().await;
    let told = told_in_private(&stage, stage.maren);
    assert_eq!(told.len(), 2, "{told:#?}");
    stage.double.assert_faultless();
}

/// A second keeper beside the first.
async fn with_two_keepers() -> Stage {
    let stage = set_up_in(Setting::default()).await;
    let options = [Opt::text("carer", "Ilja Example"), Opt::text("role", "keeper")];
    let answer = stage.say(stage.maren, "carer set", &options).await;
    assert!(!answer.text().contains("Nothing was saved"), "{}", answer.text());
    stage
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn where_one_keeper_takes_no_messages_the_next_is_told() {
    let mut stage = with_two_keepers().await;
    stage.double.takes_dms(stage.maren, false);
    Way::Muted.close(&stage);
    stage.at("2026-03-03 08:00");
    stage.turn().await;
    for _ in 0..60 {
        stage.later(60).await;
    }
    assert!(told_in_private(&stage, stage.maren).is_empty());
    let told = told_in_private(&stage, stage.ilja);
    assert_eq!(told.len(), 1, "{told:#?}");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn where_no_keeper_takes_messages_due_says_it() {
    let mut stage = with_two_keepers().await;
    for keeper in [stage.maren, stage.ilja] {
        stage.double.takes_dms(keeper, false);
    }
    let other = stage.double.channel(stage.guild, ChannelKind::Text, "other");
    Way::Hidden.close(&stage);
    stage.at("2026-03-03 08:00");
    stage.turn().await;
    let asked = stage.double.invalid_requests();
    for _ in 0..60 {
        stage.later(60).await;
    }
    let asked = stage.double.invalid_requests() - asked;
    assert!(asked <= 31, "{asked} refused calls in an hour");
    for keeper in [stage.maren, stage.ilja] {
        assert!(told_in_private(&stage, keeper).is_empty());
    }
    let said = due_in(&stage, other, stage.ilja).await;
    assert!(said.contains("channel takes no posts"), "{said}");
    stage.double.assert_faultless();
}
