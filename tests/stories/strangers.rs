//! Who shares the work of no place is told, in private, whom to ask.

use wrackline_tests::platform::{ChannelKind, Opt, usual_permissions};
use wrackline_tests::stage::Stage;

use super::{entries, refused};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_member_who_was_not_added_is_told_who_can() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let before = entries(&stage).await;
    let noor = stage.double.member(stage.guild, "Noor Example");
    let text = Opt::text;
    let change = [text("duty", "change"), text("spot", "north salt")];
    for (line, options) in [("due", &[][..]), ("did", &change), ("carer list", &[])] {
        let said = refused(&stage, noor, line, options).await;
        assert!(said.contains("Maren Example can add you"), "/{line}: {said}");
    }
    assert_eq!(entries(&stage).await, before);
    let act = stage
        .double
        .complete(stage.channel, noor, "why", &[], &text("spot", "no"));
    assert!(act.expect("it completes").choices().await.is_empty());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_member_who_was_not_added_answers_no_call() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    stage.at("2026-03-03 08:00");
    stage.turn().await;
    let before = entries(&stage).await;
    let call = stage.posts().remove(0);
    let noor = stage.double.member(stage.guild, "Noor Example");
    for label in [
        "All done",
        "All but…",
        "2 · Did it",
        "2 · Not needed",
        "4 · Did it",
    ] {
        let act = stage.double.press_label(call.id, label, noor).expect("a button");
        let answer = act.shown().await;
        assert!(answer.ephemeral, "{label}");
        assert!(
            answer.text().contains("Maren Example can add you"),
            "{}",
            answer.text()
        );
    }
    assert_eq!(entries(&stage).await, before);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn on_a_server_without_a_place_everyone_is_told_who_may_link_it() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let bare = stage.double.guild("Bare Shore");
    let channel = stage.double.channel(bare, ChannelKind::Text, "general");
    for person in [stage.maren, stage.ilja] {
        stage.double.join(bare, person, usual_permissions());
        let act = stage
            .double
            .command(channel, person, "due", &[])
            .expect("a command");
        let answer = act.shown().await;
        assert!(answer.ephemeral);
        assert!(
            answer.text().contains("who may manage it says /place link"),
            "{}",
            answer.text()
        );
    }
    // What is said there does not reach the place of another server.
    assert!(stage.double.seen_messages(channel).is_empty());
    stage.double.assert_faultless();
}
