//! A place that was made elsewhere comes to a server by a code.

use wrackline::chat::plain;
use wrackline::commands::init::make_place;
use wrackline::house::{Input, Said};
use wrackline::store::PlaceId;
use wrackline_core::civil::Zone;
use wrackline_tests::platform::{ChannelKind, Opt, Permissions, usual_permissions};
use wrackline_tests::stage::{Stage, ZONE};

use super::{done, has_place, refused};

/// A place whose keeper is Ada, and a code that she was given on the porch.
async fn elsewhere(stage: &Stage) -> (PlaceId, String) {
    let zone = Zone::get(ZONE).expect("a zone");
    let place = make_place(&*stage.store, &zone, "Ada", "Saltings", false)
        .await
        .expect("a place");
    (place, code(stage, place, "porch:1").await)
}

async fn code(stage: &Stage, place: PlaceId, id: &str) -> String {
    let said = Said {
        place,
        carer: 1,
        id: id.to_owned(),
        input: Input::Line("/place link".to_owned()),
        photo: None,
    };
    let answer = stage.app.house.hear(said).await;
    assert!(answer.ok && answer.private);
    let text = plain::text(&answer.blocks);
    let code = text
        .split("Code: ")
        .nth(1)
        .and_then(|rest| rest.split('.').next());
    code.expect("a code").to_owned()
}

fn with_code(stage: &Stage, code: &str) -> [Opt; 2] {
    [Opt::channel("channel", stage.channel), Opt::text("code", code)]
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_code_brings_a_place_to_a_server_and_its_keeper_to_an_account() {
    let stage = Stage::new().await;
    let (place, code) = elsewhere(&stage).await;
    let typed = code.to_lowercase().replace('-', " ");
    let said = done(&stage, stage.maren, "place link", &with_code(&stage, &typed)).await;
    assert!(
        said.contains("Saltings is linked") && said.contains("Keepers: Ada."),
        "{said}"
    );
    assert_eq!(stage.place().await, place);
    let said = done(&stage, stage.maren, "carer list", &[]).await;
    assert!(said.contains("1 carer"), "{said}");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_wrong_code_and_a_used_one_link_nothing_and_say_nothing_in_the_channel() {
    let stage = Stage::new().await;
    let (_, code) = elsewhere(&stage).await;
    for wrong in ["00000-00000", "nonsense", "@everyone"] {
        let said = refused(&stage, stage.maren, "place link", &with_code(&stage, wrong)).await;
        assert!(said.contains("wrong, used or too old"), "{wrong}: {said}");
    }
    assert!(!has_place(&stage, stage.guild).await);
    assert!(stage.double.seen_messages(stage.channel).is_empty());

    // Who may not manage the server does not use it up.
    refused(&stage, stage.ilja, "place link", &with_code(&stage, &code)).await;
    done(&stage, stage.maren, "place link", &with_code(&stage, &code)).await;

    let other = stage.double.guild("Second Shore");
    stage.double.join(
        other,
        stage.maren,
        usual_permissions() | Permissions::MANAGE_GUILD,
    );
    let channel = stage.double.channel(other, ChannelKind::Text, "pools");
    let options = [Opt::channel("channel", channel), Opt::text("code", &code)];
    let act = stage.double.command(channel, stage.maren, "place link", &options);
    let answer = act.expect("a command").shown().await;
    assert!(
        answer.ephemeral && answer.text().contains("used"),
        "{}",
        answer.text()
    );
    assert!(!has_place(&stage, other).await);
    assert!(stage.double.seen_messages(channel).is_empty());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_code_that_lay_too_long_is_refused() {
    let stage = Stage::new().await;
    let (_, code) = elsewhere(&stage).await;
    stage.at("2026-03-01 12:16");
    let said = refused(&stage, stage.maren, "place link", &with_code(&stage, &code)).await;
    assert!(said.contains("too old"), "{said}");
    assert!(!has_place(&stage, stage.guild).await);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_server_with_a_place_takes_no_second_one_and_the_code_stays_good() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let mine = stage.place().await;
    let (place, code) = elsewhere(&stage).await;
    let said = refused(&stage, stage.maren, "place link", &with_code(&stage, &code)).await;
    assert!(said.contains("another place's already"), "{said}");
    assert_eq!(stage.place().await, mine);

    let other = stage.double.guild("Second Shore");
    stage.double.join(
        other,
        stage.maren,
        usual_permissions() | Permissions::MANAGE_GUILD,
    );
    let channel = stage.double.channel(other, ChannelKind::Text, "pools");
    let options = [Opt::channel("channel", channel), Opt::text("code", &code)];
    let act = stage.double.command(channel, stage.maren, "place link", &options);
    let answer = act.expect("a command").shown().await;
    assert!(answer.text().contains("Saltings is linked"), "{}", answer.text());
    let server = i64::try_from(other.0).expect("a number");
    let found = stage.store.place_of_server(server).await;
    assert_eq!(found.expect("the store answers"), Some(place));
    stage.double.assert_faultless();
}
