//! A sitter alone with the place: a power cut, a leak that is looked at until it is over, and the day after the span.

use wrackline_tests::platform::Opt;

use super::super::round::pressed;
use super::super::{done, entries, read, refused};
use super::{Scene, reads};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn in_a_power_cut_the_sitter_is_told_what_to_do_first() {
    let mut scene = Scene::set("sitter", &["Rike"]).await;
    scene.at("2026-06-06 08:00").await;
    scene.stage.at("2026-06-06 16:30");
    let rike = scene.who("Rike");
    let card = [Opt::text("card", "power cut")];
    let said = done(&scene.stage, rike, "emergency", &card).await;
    for words in [
        "Power cut: unplug heater, pump and filter",
        "People: unplug from a dry place",
        "Animals: keep the lid shut",
        "Filters that stop: Reef salt.",
        "Air that stops: Dune salt.",
    ] {
        assert!(said.contains(words), "“{words}” is not in: {said}");
    }
    // The keeper, five zones away, sets down when the filter stopped, in the place's time.
    let stop = [
        Opt::text("spot", "reef salt"),
        Opt::text("gear", "filter"),
        Opt::text("from", "16:15"),
    ];
    let said = done(&scene.stage, scene.who("Nadja"), "gear stop", &stop).await;
    assert!(said.contains("11:15 your time, 16:15 there"), "{said}");
    let told = done(&scene.stage, rike, "why", &[Opt::text("spot", "reef salt")]).await;
    assert!(told.contains("16:15") && !told.contains("your time"), "{told}");
    scene.stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_leak_calls_the_keeper_and_comes_back_until_it_is_over() {
    let mut scene = Scene::set("sitter", &["Rike"]).await;
    scene.at("2026-06-09 19:00").await;
    scene.stage.at("2026-06-09 19:50");
    let rike = scene.who("Rike");
    let seen = [
        Opt::text("sighting", "leak"),
        Opt::text("spot", "dune salt"),
        Opt::text("note", "a wet ring under the tub"),
    ];
    done(&scene.stage, rike, "saw", &seen).await;
    let posts = scene.work().await;
    let [alarm] = &posts[..] else { panic!("{posts:#?}") };
    reads(
        alarm,
        &[
            "Leak: Parlour, Dune salt. Seen by Rike, 19:50",
            "a wet ring under the tub",
            "switch off at the wall before hands go in",
        ],
    );
    assert_eq!(scene.called(alarm), ["Nadja"]);
    let posts = scene.at("2026-06-09 20:50").await;
    let [look] = &posts[..] else { panic!("{posts:#?}") };
    reads(look, &["Dune salt: leak, look again"]);
    let looked = pressed(&scene.stage, look, "Looked: still open", rike).await;
    reads(
        &looked,
        &["Rike looked: still open.", "Look again tomorrow 08:00."],
    );
    let posts = scene.at("2026-06-10 08:00").await;
    let round = posts.iter().find(|post| read(post).contains("Morning round"));
    let round = round.expect("the morning's call");
    reads(round, &["Dune salt: leak, look again"]);
    let over = scene.answer(round, "close.", "Rike").await;
    reads(&over, &["It is over, says Rike."]);
    let posts = scene.work().await;
    let [settled] = &posts[..] else {
        panic!("{posts:#?}")
    };
    reads(settled, &["Settled: Dune salt, leak. Closed by Rike"]);
    let posts = scene.at("2026-06-10 19:00").await;
    assert!(
        posts.iter().all(|post| !read(post).contains("leak")),
        "{posts:#?}"
    );
    scene.stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_day_after_the_span_the_sitter_is_refused() {
    let mut scene = Scene::set("sitter", &["Rike"]).await;
    let posts = scene.at("2026-06-14 19:00").await;
    let call = posts.last().expect("the last evening's call");
    let rike = scene.who("Rike");
    let given = [Opt::text("duty", "top-up"), Opt::text("spot", "dune fresh")];
    done(&scene.stage, rike, "did", &given).await;
    scene.stage.at("2026-06-15 00:00");
    let ended = "Your span ended on Sunday 14 June: ask Nadja for another one.";
    let before = entries(&scene.stage).await;
    for (line, options) in [("due", &[][..]), ("did", &given), ("emergency", &[])] {
        let said = refused(&scene.stage, rike, line, options).await;
        assert!(said.contains(ended), "/{line}: {said}");
    }
    let label = call.shown()[0].label.clone();
    let act = scene
        .stage
        .double
        .press_label(call.id, &label, rike)
        .expect("a button");
    let answer = act.shown().await;
    reads(&answer, &[ended]);
    assert!(answer.ephemeral);
    assert_eq!(entries(&scene.stage).await, before);
    // The work is the keeper's again.
    let posts = scene.at("2026-06-15 08:00").await;
    let round = posts.iter().find(|post| read(post).contains("Morning round"));
    let round = round.expect("the morning's call");
    assert!(
        read(round).contains("· Nadja") && !read(round).contains("· Rike"),
        "{}",
        read(round)
    );
    scene.stage.double.assert_faultless();
}
