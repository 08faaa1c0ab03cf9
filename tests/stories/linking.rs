//! A server gets its place, and its members their accounts.

use wrackline::house::{Input, Said};
use wrackline_tests::platform::{ChannelKind, Opt, Permissions, UserId, usual_permissions};
use wrackline_tests::stage::Stage;

/// Says `/place link` for a channel; the answer's text, and whether the server has a place after it.
async fn link(stage: &Stage, by: UserId, options: &[Opt]) -> (String, bool) {
    let answer = stage.say(by, "place link", options).await;
    let server = i64::try_from(stage.guild.0).expect("a number");
    let place = stage
        .store
        .place_of_server(server)
        .await
        .expect("the store answers");
    (answer.text(), place.is_some())
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn who_may_manage_the_server_links_it_and_becomes_its_keeper() {
    let mut stage = Stage::new().await;
    let here = [Opt::channel("channel", stage.channel)];
    let nobody_yet = stage.say(stage.maren, "due", &[]).await;
    assert!(
        nobody_yet.ephemeral && nobody_yet.text().contains("/place link"),
        "{}",
        nobody_yet.text()
    );
    let (text, linked) = link(&stage, stage.ilja, &here).await;
    assert!(!linked && text.contains("may manage"), "{text}");
    let (text, linked) = link(&stage, stage.maren, &here).await;
    assert!(
        linked && text.contains("Maren Example") && text.contains("/place set zone"),
        "{text}"
    );
    let stranger = stage.say(stage.ilja, "due", &[]).await;
    assert!(
        stranger.ephemeral && stranger.text().contains("Maren Example"),
        "{}",
        stranger.text()
    );

    // Another channel of the same server: the place moves, and its posts with it.
    let pools = stage.double.channel(stage.guild, ChannelKind::Text, "pools two");
    let (text, _) = link(&stage, stage.maren, &[Opt::channel("channel", pools)]).await;
    assert!(text.contains("linked"), "{text}");
    let place = stage.place().await;
    let row = stage
        .store
        .server_of(place)
        .await
        .expect("the store answers")
        .expect("a server");
    assert_eq!(row.channel, i64::try_from(pools.0).expect("a number"));
    assert_eq!(stage.store.places().await.expect("places").len(), 1);
    stage.turn().await;
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_channel_that_cannot_be_used_links_nothing() {
    let stage = Stage::new().await;
    let hidden = stage.double.channel(stage.guild, ChannelKind::Text, "hidden");
    stage.double.bot_may(hidden, Permissions::empty());
    let mute = stage.double.channel(stage.guild, ChannelKind::Text, "mute");
    stage
        .double
        .bot_may(mute, usual_permissions() - Permissions::SEND_MESSAGES);
    for (channel, word) in [(hidden, "cannot see"), (mute, "may not write")] {
        let (text, linked) = link(&stage, stage.maren, &[Opt::channel("channel", channel)]).await;
        assert!(!linked && text.contains(word), "{word}: {text}");
    }
    let voices = stage.double.channel(stage.guild, ChannelKind::Voice, "voices");
    if let Ok(act) = stage.double.command(
        stage.channel,
        stage.maren,
        "place link",
        &[Opt::channel("channel", voices)],
    ) {
        let text = act.shown().await.text();
        assert!(text.contains("text channel"), "{text}");
    }
    let (text, linked) = link(&stage, stage.maren, &[]).await;
    assert!(!linked && text.contains("text channel"), "{text}");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_place_that_is_there_comes_along_by_a_code() {
    let stage = Stage::new().await;
    let zone = wrackline_core::civil::Zone::get("Europe/London").expect("a zone");
    let made = wrackline::commands::init::make_place(&*stage.store, &zone, "Ada", "Reef house", true);
    let place = made.await.expect("a place");
    let said = Said {
        place,
        carer: 1,
        id: "porch:1".to_owned(),
        input: Input::Line("/place link".to_owned()),
        photo: None,
    };
    let answer = stage.app.house.hear(said).await;
    let text = wrackline::chat::plain::text(&answer.blocks);
    let code = text
        .split_once("Code: ")
        .and_then(|(_, rest)| rest.split('.').next())
        .expect("a code");
    let with = |code: &str| [Opt::channel("channel", stage.channel), Opt::text("code", code)];
    let (text, linked) = link(&stage, stage.maren, &with("wrong-code")).await;
    assert!(!linked && text.contains("wrong, used or too old"), "{text}");
    let (text, linked) = link(&stage, stage.maren, &with(code.trim())).await;
    assert!(linked && text.contains("Reef house"), "{text}");
    assert_eq!(stage.place().await, place);
    let account = i64::try_from(stage.maren.0).expect("a number");
    assert_eq!(
        stage
            .store
            .carer_of(place, account)
            .await
            .expect("the store answers"),
        Some(1)
    );
    let (text, _) = link(&stage, stage.maren, &with(code.trim())).await;
    assert!(text.contains("wrong, used or too old"), "{text}");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn members_become_carers_and_cease_to_be() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let due = stage.say(stage.ilja, "due", &[]).await;
    assert!(due.text().contains("North"), "{}", due.text());
    let may_not = [Opt::text("name", "South"), Opt::text("volume", "300 L")];
    let refused = stage.say(stage.ilja, "enclosure add", &may_not).await;
    assert!(
        refused.ephemeral && refused.text().contains("Maren Example"),
        "{}",
        refused.text()
    );
    let again = stage
        .say(stage.maren, "carer add", &[Opt::user("member", stage.ilja)])
        .await;
    assert!(again.text().contains("Ilja Example"), "{}", again.text());
    let odd = stage.double.member(stage.guild, "Ilja Example");
    stage
        .say(stage.maren, "carer add", &[Opt::user("member", odd)])
        .await;
    let list = stage.say(stage.maren, "carer list", &[]).await;
    assert_eq!(list.text().matches("Ilja Example").count(), 2, "{}", list.text());
    stage
        .say(
            stage.maren,
            "carer retire",
            &[Opt::text("carer", "Ilja Example 2")],
        )
        .await;
    let gone = stage.say(odd, "due", &[]).await;
    assert!(
        gone.ephemeral && !gone.text().contains("North"),
        "{}",
        gone.text()
    );
    stage.double.assert_faultless();
}
