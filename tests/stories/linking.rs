//! A server comes to have a place, and the place moves from channel to channel.

use wrackline_tests::platform::{ChannelKind, Opt};
use wrackline_tests::stage::{Stage, ZONE};

use super::{done, entries, has_place, read, refused};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn who_may_not_manage_the_server_links_nothing() {
    let stage = Stage::new().await;
    let options = [Opt::channel("channel", stage.channel)];
    let said = refused(&stage, stage.ilja, "place link", &options).await;
    assert!(said.contains("may manage the server"), "{said}");
    assert!(!has_place(&stage, stage.guild).await);
    assert!(stage.double.seen_messages(stage.channel).is_empty());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn who_manages_the_server_becomes_the_keeper_of_its_place() {
    let stage = Stage::new().await;
    let options = [Opt::channel("channel", stage.channel), Opt::text("zone", ZONE)];
    let said = done(&stage, stage.maren, "place link", &options).await;
    assert!(said.contains("is linked to this server"), "{said}");
    assert!(said.contains("Keepers: Maren Example."), "{said}");
    assert!(said.contains("/enclosure add NAME VOLUME"), "{said}");
    assert!(has_place(&stage, stage.guild).await);
    let seen = stage.double.seen_messages(stage.channel);
    let greeting = seen.iter().find(|message| message.interaction.is_none());
    assert!(read(greeting.expect("a first word")).contains("posted here from now on"));
    assert_eq!(seen.len(), 2);
    let due = stage.say(stage.maren, "due", &[]).await;
    assert!(!read(&due).contains("do not share"), "{}", read(&due));
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_zone_that_is_none_is_refused_before_anything_is_said() {
    let stage = Stage::new().await;
    let options = [
        Opt::channel("channel", stage.channel),
        Opt::text("zone", "Europe/Atlantis"),
    ];
    let said = refused(&stage, stage.maren, "place link", &options).await;
    assert!(said.contains("Europe/Atlantis"), "{said}");
    assert!(!has_place(&stage, stage.guild).await);
    assert!(stage.double.seen_messages(stage.channel).is_empty());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_second_link_moves_the_place_to_another_channel() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    let place = stage.place().await;
    let before = entries(&stage).await;
    let other = stage.double.channel(stage.guild, ChannelKind::Text, "tide pools");
    let options = [Opt::channel("channel", other)];
    done(&stage, stage.maren, "place link", &options).await;
    assert_eq!(stage.place().await, place, "it is the same place");
    assert_eq!(entries(&stage).await, before, "and nobody joined it");
    stage.at("2026-03-03 08:00");
    stage.turn().await;
    assert!(stage.posts().is_empty(), "{:#?}", stage.posts());
    let seen = stage.double.seen_messages(other);
    let call = seen.last().expect("a call");
    assert!(read(call).contains("Morning round"), "{}", read(call));
    assert_eq!(seen.len(), 2, "a first word and the call: {seen:#?}");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn another_who_manages_the_server_becomes_a_keeper_by_linking_it() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let noor = stage.double.member(stage.guild, "Noor Example");
    let may = wrackline_tests::platform::usual_permissions()
        | wrackline_tests::platform::Permissions::ADMINISTRATOR;
    stage.double.join(stage.guild, noor, may);
    let options = [Opt::channel("channel", stage.channel)];
    let said = done(&stage, noor, "place link", &options).await;
    assert!(said.contains("Maren Example and Noor Example"), "{said}");
    let said = done(
        &stage,
        noor,
        "rounds add",
        &[Opt::text("name", "noon"), Opt::text("time", "12:30")],
    )
    .await;
    assert!(said.contains("12:30"), "{said}");
    stage.double.assert_faultless();
}
