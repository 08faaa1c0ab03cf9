//! Several people answer the same call.

use std::collections::BTreeSet;

use super::round::{called, now, pressed};
use super::{entries, read};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_second_one_is_told_who_did_it() {
    let (stage, call) = called().await;
    pressed(&stage, &call, "3 · Did it", stage.ilja).await;
    let before = entries(&stage).await;
    stage.at("2026-03-03 08:05");
    // The call is not edited yet: the second one still sees the button.
    for label in ["3 · Did it", "3 · Later", "3 · Can't"] {
        let told = pressed(&stage, &call, label, stage.maren).await;
        let said = read(&told);
        assert!(
            said.contains("Ilja Example") && said.contains("08:00"),
            "{label}: {said}"
        );
    }
    assert_eq!(entries(&stage).await, before);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn two_at_the_very_same_moment_make_one_entry() {
    let (mut stage, call) = called().await;
    let before = entries(&stage).await;
    let press = |by| {
        stage
            .double
            .press_label(call.id, "3 · Did it", by)
            .expect("a button")
    };
    let acts = [press(stage.ilja), press(stage.maren)];
    let mut said = BTreeSet::new();
    for act in &acts {
        let answer = act.shown().await;
        assert!(answer.ephemeral);
        said.insert(read(&answer).contains("Next: "));
    }
    assert_eq!(
        said,
        BTreeSet::from([false, true]),
        "one did it, the other is told so"
    );
    assert_eq!(entries(&stage).await, before + 1);
    let call = now(&mut stage, &call).await;
    assert_eq!(read(&call).matches('✓').count(), 1, "{}", read(&call));
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_press_on_last_months_call_is_answered_clearly() {
    let (mut stage, call) = called().await;
    pressed(&stage, &call, "3 · Did it", stage.ilja).await;
    stage.at("2026-04-05 10:00");
    let before = entries(&stage).await;
    let told = pressed(&stage, &call, "3 · Did it", stage.maren).await;
    assert!(read(&told).contains("Ilja Example"), "{}", read(&told));
    assert_eq!(entries(&stage).await, before);
    // The turn that nobody closed is the same one still, and can be answered.
    let done = pressed(&stage, &call, "2 · Did it", stage.maren).await;
    assert!(read(&done).contains("North fresh changed"), "{}", read(&done));
    assert_eq!(entries(&stage).await, before + 1);
    now(&mut stage, &call).await;
    stage.double.assert_faultless();
}
