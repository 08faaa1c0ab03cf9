//! A family: one does her turns at once, one is late and called by name, and the child's work waits for a nod.

use wrackline_tests::platform::Opt;

use super::super::round::pressed;
use super::super::{entries, read};
use super::{Scene, reads, turns};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn who_is_late_is_called_by_name_and_whoever_did_it_is_not() {
    let mut scene = Scene::set("family", &["Bo", "Mika"]).await;
    let posts = scene.at("2026-03-02 07:00").await;
    let [call] = &posts[..] else { panic!("{posts:#?}") };
    reads(call, &["Morning round, Monday 2 March · 8 turns"]);
    // Everyone does theirs, but Bo the last one of his.
    let all = turns(call);
    assert_eq!(all.len(), 8, "{}", read(call));
    for (number, what, whose) in &all {
        let label = format!("{number} · Did it");
        if what.ends_with("Cove: reading") {
            assert_eq!(whose, "Bo", "{}", read(call));
        } else if what.ends_with(": reading") {
            let told = scene.press_with(call, &label, whose, "78% 26C").await;
            reads(&told, &["Dune: 78 %, 26 °C"]);
        } else {
            let receipt = pressed(&scene.stage, call, &label, scene.who(whose)).await;
            reads(
                &receipt,
                &[&format!("by {whose}. Next: Tuesday 3 March, morning.")],
            );
        }
    }
    let call = scene.now(call).await;
    assert_eq!(read(&call).matches('✓').count(), 7, "{}", read(&call));
    // Twelve hours on what Bo left is called again, and he alone by name.
    assert_eq!(scene.at("2026-03-02 18:30").await.len(), 1, "the evening's call");
    let posts = scene.at("2026-03-02 19:00").await;
    let [late] = &posts[..] else { panic!("{posts:#?}") };
    reads(late, &["Bo: 1 turn waits, Cove: reading", "late since 19:00"]);
    assert_eq!(scene.called(late), ["Bo"]);
    let did = late
        .shown()
        .into_iter()
        .find(|one| one.custom_id.starts_with("did."));
    let label = did.expect("an answer").label;
    let told = scene.press_with(late, &label, "Bo", "79% 26.9C").await;
    reads(&told, &["Cove: 79 %, 26.9 °C"]);
    let late = scene.now(late).await;
    reads(&late, &["Late turns: all done"]);
    assert!(late.shown().is_empty(), "{:?}", late.shown());
    scene.stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_childs_work_waits_for_a_parents_nod() {
    let mut scene = Scene::set("family", &["Bo", "Mika"]).await;
    let posts = scene.at("2026-03-02 07:00").await;
    let [call] = &posts[..] else { panic!("{posts:#?}") };
    let given = [
        Opt::text("duty", "top-up"),
        Opt::text("spot", "dune fresh"),
        Opt::text("by", "Pip"),
    ];
    let logged = scene.stage.say(scene.who("Asta"), "did", &given).await;
    reads(
        &logged,
        &["Dune fresh topped up, 07:00, by Pip.", "Waits for a nod"],
    );
    assert!(logged.calls_nobody(), "the child has no account");
    let waiting = scene.now(call).await;
    reads(&waiting, &["done 07:00 by Pip, waits for a nod"]);
    assert_eq!(read(&waiting).matches('✓').count(), 0, "{}", read(&waiting));
    scene.stage.at("2026-03-02 07:40");
    let count = entries(&scene.stage).await;
    let nodded = pressed(&scene.stage, &logged, "Nod", scene.who("Bo")).await;
    reads(&nodded, &["Dune fresh topped up, 07:00, by Pip.", "Bo nodded."]);
    assert_eq!(entries(&scene.stage).await, count + 1);
    let call = scene.now(call).await;
    reads(&call, &["done 07:00, Pip"]);
    assert_eq!(read(&call).matches('✓').count(), 1, "{}", read(&call));
    let again = pressed(&scene.stage, &logged, "Nod", scene.who("Asta")).await;
    reads(&again, &["Bo nodded at it already"]);
    scene.stage.double.assert_faultless();
}
