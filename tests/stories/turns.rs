//! Turns from hand to hand on the platform: an offer calls the one it is made to, an absence is shown before it is saved.

use wrackline_tests::platform::Opt;
use wrackline_tests::stage::Stage;

use super::round::pressed;
use super::typing::offers;
use super::{entries, read};

/// A house whose turns were shared out at the morning round of 2 March.
async fn shared() -> Stage {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    stage.at("2026-03-02 08:00");
    stage.turn().await;
    stage
}

/// The first coming change of North's salt pool that is Ilja's, as it is offered while somebody types.
async fn change_of_ilja(stage: &Stage) -> String {
    let all = offers(stage, stage.ilja, "offer", "turn", "change north salt").await;
    let found = all.iter().find(|choice| choice.starts_with("change North salt"));
    found.unwrap_or_else(|| panic!("no change among {all:?}")).clone()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_offer_calls_the_other_who_takes_it_by_a_press() {
    let mut stage = shared().await;
    let turn = change_of_ilja(&stage).await;
    let before = stage.posts().len();
    let receipt = stage
        .say(
            stage.ilja,
            "offer",
            &[Opt::text("turn", &turn), Opt::text("whom", "Maren Example")],
        )
        .await;
    assert!(
        read(&receipt).contains("offered to Maren Example until"),
        "{}",
        read(&receipt)
    );
    assert!(receipt.calls_nobody(), "the receipt calls nobody");
    stage.turn().await;
    let posts = stage.posts();
    assert_eq!(posts.len(), before + 1, "{posts:#?}");
    let post = posts.last().expect("the offer");
    assert!(
        read(post).contains("Maren Example: Ilja Example offers you North salt: change"),
        "{}",
        read(post)
    );
    assert!(post.history[0].notified.users.contains(&stage.maren), "{post:?}");
    assert!(!post.history[0].notified.users.contains(&stage.ilja), "{post:?}");
    let count = entries(&stage).await;
    let refused = pressed(&stage, post, "I'll do it", stage.ilja).await;
    assert!(
        read(&refused).contains("offered to Maren Example"),
        "{}",
        read(&refused)
    );
    assert_eq!(entries(&stage).await, count);
    let taken = pressed(&stage, post, "I'll do it", stage.maren).await;
    assert!(read(&taken).contains("Maren Example does it"), "{}", read(&taken));
    stage.turn().await;
    let now = stage.double.message(post.id).expect("the offer");
    assert!(read(&now).contains("Maren Example does it"), "{}", read(&now));
    assert!(now.shown().is_empty(), "nothing is left to press");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_absence_is_shown_and_then_saved_by_a_press() {
    let stage = shared().await;
    let count = entries(&stage).await;
    let given = [Opt::text("from", "wednesday"), Opt::text("to", "sunday")];
    let shown = stage.say(stage.ilja, "away", &given).await;
    assert!(read(&shown).contains("Not saved yet"), "{}", read(&shown));
    assert_eq!(entries(&stage).await, count);
    let made = pressed(&stage, &shown, "Yes, away", stage.ilja).await;
    assert!(
        read(&made).contains("Ilja Example is away from Wednesday 4 March to Sunday 8 March"),
        "{}",
        read(&made)
    );
    let turns = stage.say(stage.ilja, "turns", &[]).await;
    for day in ["Wednesday 4", "Thursday 5", "Friday 6", "Saturday 7"] {
        assert!(
            !read(&turns).contains(&format!("{day} March ·")),
            "{}",
            read(&turns)
        );
    }
    let back = pressed(&stage, &made, "Take back", stage.ilja).await;
    assert!(read(&back).contains("Taken back"), "{}", read(&back));
    let turns = stage.say(stage.ilja, "turns", &[]).await;
    assert!(read(&turns).contains("Ilja Example"), "{}", read(&turns));
    stage.double.assert_faultless();
}
