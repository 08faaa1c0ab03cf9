//! A club of twelve before one call: several answer it, some at the hall's screen; one goes away, one offers a turn.

use wrackline_tests::platform::{Message, Opt};

use super::super::round::pressed;
use super::super::typing::offers;
use super::super::{done, read};
use super::{Scene, reads};

const MEMBERS: [&str; 11] = [
    "Bertil", "Cosima", "Dario", "Elke", "Fenno", "Gisla", "Ines", "Kaspar", "Lioba", "Screen", "Henk",
];

async fn called() -> (Scene, Message) {
    let mut scene = Scene::set("club", &MEMBERS).await;
    let mut posts = scene.at("2026-03-02 08:00").await;
    assert_eq!(posts.len(), 1, "{posts:#?}");
    (scene, posts.remove(0))
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn one_call_is_answered_by_several_and_at_the_screen() {
    let (mut scene, call) = called().await;
    reads(
        &call,
        &[
            "Morning round, Monday 2 March · 20 turns",
            "Hall, Dune: morning look · ",
        ],
    );
    for (enclosure, by) in [(1, "Cosima"), (2, "Ines"), (3, "Bertil")] {
        let receipt = scene.answer(&call, &format!("did.look.e{enclosure}."), by).await;
        assert!(receipt.ephemeral, "{}", read(&receipt));
        reads(&receipt, &[&format!("by {by}. Next: Tuesday 3 March, morning.")]);
    }
    // Who has no phone logs at the screen in the hall: it counts as theirs, and everyone reads whose it is.
    let given = [
        Opt::text("duty", "morning look"),
        Opt::text("spot", "spit"),
        Opt::text("by", "Henk"),
    ];
    let said = done(&scene.stage, scene.who("Screen"), "did", &given).await;
    assert!(said.contains("Spit looked at, 08:00, by Henk."), "{said}");
    let call = scene.now(&call).await;
    assert_eq!(read(&call).matches('✓').count(), 4, "{}", read(&call));
    reads(&call, &["done 08:00, Henk", "done 08:00, Cosima"]);
    let listed = done(&scene.stage, scene.who("Screen"), "carer list", &[]).await;
    assert!(listed.contains("Screen") && listed.contains("Kaspar"), "{listed}");
    scene.stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn who_goes_away_sees_what_moves_and_an_offer_is_taken() {
    let (mut scene, _) = called().await;
    let given = [Opt::text("from", "friday"), Opt::text("to", "sunday")];
    let shown = scene.stage.say(scene.who("Ines"), "away", &given).await;
    reads(
        &shown,
        &["Ines away from Friday 6 March to Sunday 8 March", "Not saved yet"],
    );
    let saved = pressed(&scene.stage, &shown, "Yes, away", scene.who("Ines")).await;
    reads(
        &saved,
        &["There again for Monday 9 March", "No turn of anybody else moves"],
    );
    scene.work().await;
    let turns = [Opt::text("carer", "Ines")];
    let hers = done(&scene.stage, scene.who("Ines"), "turns", &turns).await;
    for day in ["Friday 6 March ·", "Saturday 7 March ·", "Sunday 8 March ·"] {
        assert!(!hers.contains(day), "{hers}");
    }
    let gisla = scene.who("Gisla");
    let all = offers(&scene.stage, gisla, "offer", "turn", "").await;
    let turn = all.first().expect("Gisla has a turn");
    let given = [Opt::text("turn", turn), Opt::text("whom", "Fenno")];
    let receipt = scene.stage.say(gisla, "offer", &given).await;
    reads(&receipt, &["offered to Fenno until"]);
    let posts = scene.work().await;
    let [offer] = &posts[..] else { panic!("{posts:#?}") };
    reads(offer, &["Fenno: Gisla offers you"]);
    assert_eq!(scene.called(offer), ["Fenno"]);
    let taken = pressed(&scene.stage, offer, "I'll do it", scene.who("Fenno")).await;
    reads(&taken, &["Fenno does it"]);
    let offer = scene.now(offer).await;
    reads(&offer, &["Fenno does it"]);
    assert!(offer.shown().is_empty(), "{:?}", offer.shown());
    scene.stage.double.assert_faultless();
}
