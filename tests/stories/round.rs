//! A round is called once, and every way of answering it does what it says.

use wrackline_tests::platform::{Act, Message, UserId};
use wrackline_tests::stage::Stage;

use super::{entries, read};

/// A house at the morning round of 3 March, with its call.
pub(super) async fn called() -> (Stage, Message) {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    stage.at("2026-03-03 08:00");
    stage.turn().await;
    let mut posts = stage.posts();
    assert_eq!(posts.len(), 1, "{posts:#?}");
    (stage, posts.remove(0))
}

fn press(stage: &Stage, call: &Message, label: &str, by: UserId) -> Act {
    let act = stage.double.press_label(call.id, label, by);
    act.unwrap_or_else(|why| panic!("{label}: {why}"))
}

/// Presses, and reads the answer, which only the one who pressed sees.
pub(super) async fn pressed(stage: &Stage, call: &Message, label: &str, by: UserId) -> Message {
    let answer = press(stage, call, label, by).shown().await;
    assert!(
        answer.ephemeral && answer.calls_nobody(),
        "{label}: {}",
        read(&answer)
    );
    answer
}

/// The call as it stands after all was carried: no version of it calls anybody whom the first one did not call.
pub(super) async fn now(stage: &mut Stage, call: &Message) -> Message {
    stage.turn().await;
    let call = stage.double.message(call.id).expect("the call");
    let first = &call.history[0].notified;
    for version in &call.history {
        let called = &version.notified;
        assert!(called.users.is_subset(&first.users), "{}", read(&call));
        assert!(called.roles.is_empty() && !called.everyone, "{}", read(&call));
    }
    call
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_round_is_called_once_and_answered_in_one_tap() {
    let (mut stage, call) = called().await;
    assert!(
        read(&call).starts_with("**Morning round, Tuesday 3 March · 4 turns**"),
        "{}",
        read(&call)
    );
    assert!(
        read(&call).contains("Prepare 8.4 L fresh · 8.4 L salt (300.9 g salt, expect 35 g/kg)"),
        "{}",
        read(&call)
    );
    let before = entries(&stage).await;
    let receipt = pressed(&stage, &call, "All done", stage.ilja).await;
    assert!(
        read(&receipt).contains("North salt changed, 08:00, by Ilja Example"),
        "{}",
        read(&receipt)
    );
    assert_eq!(entries(&stage).await, before + 3);
    let call = now(&mut stage, &call).await;
    assert_eq!(read(&call).matches('✓').count(), 3, "{}", read(&call));
    assert_eq!(stage.posts().len(), 1, "the call is edited, not posted anew");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn did_it_shows_on_the_call() {
    let (mut stage, call) = called().await;
    let receipt = pressed(&stage, &call, "3 · Did it", stage.ilja).await;
    assert!(
        read(&receipt).contains("North salt changed, 08:00, by Ilja Example. Next: "),
        "{}",
        read(&receipt)
    );
    let call = now(&mut stage, &call).await;
    assert!(
        read(&call).contains("✓ 3 · North salt: change · done 08:00, Ilja Example"),
        "{}",
        read(&call)
    );
    assert!(call.button("3 · Did it").is_none() && call.button("2 · Did it").is_some());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn later_asks_when_and_says_so_on_the_call() {
    let (mut stage, call) = called().await;
    let times = pressed(&stage, &call, "3 · Later", stage.maren).await;
    let labels: Vec<String> = times.shown().into_iter().map(|one| one.label).collect();
    assert!(labels.len() >= 3 && labels[0].contains("09:00"), "{labels:?}");
    let receipt = pressed(&stage, &times, &labels[0], stage.maren).await;
    assert!(read(&receipt).contains("09:00"), "{}", read(&receipt));
    let call = now(&mut stage, &call).await;
    assert!(
        read(&call).contains("3 · North salt: change · ") && read(&call).contains(" · put off until 09:00"),
        "{}",
        read(&call)
    );
    stage.at("2026-03-03 09:00");
    stage.turn().await;
    assert_eq!(stage.posts().len(), 2, "it comes back then");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn cannot_frees_the_turn_and_another_takes_it() {
    let (mut stage, call) = called().await;
    let is_marens = read(&call).contains("North salt: change · Maren");
    let owner = if is_marens { stage.maren } else { stage.ilja };
    let receipt = pressed(&stage, &call, "3 · Can't", owner).await;
    assert!(receipt.button("I'll do it").is_some(), "{:?}", receipt.shown());
    let free = now(&mut stage, &call).await;
    assert!(
        read(&free).contains("3 · North salt: change · anyone"),
        "{}",
        read(&free)
    );
    pressed(&stage, &receipt, "I'll do it", owner).await;
    let call = now(&mut stage, &call).await;
    let name = if is_marens {
        "Maren Example"
    } else {
        "Ilja Example"
    };
    assert!(
        read(&call).contains(&format!("3 · North salt: change · {name}")),
        "{}",
        read(&call)
    );
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn not_needed_asks_for_the_reason() {
    let (mut stage, call) = called().await;
    let act = press(&stage, &call, "3 · Not needed", stage.maren);
    let modal = act.modal().await;
    assert!(
        modal["title"]
            .as_str()
            .is_some_and(|title| title.contains("Why is it not needed")),
        "{modal}"
    );
    let blank = stage.double.submit(&act, &[("text", "   ")]).expect("a modal");
    let said = read(&blank.shown().await);
    assert!(said.contains("A word is enough. Nothing was saved"), "{said}");
    let act = press(&stage, &call, "3 · Not needed", stage.maren);
    act.modal().await;
    let sent = stage
        .double
        .submit(&act, &[("text", "filled anew last night")])
        .expect("a modal");
    let receipt = sent.shown().await;
    assert!(
        receipt.ephemeral && read(&receipt).contains("filled anew last night"),
        "{}",
        read(&receipt)
    );
    let call = now(&mut stage, &call).await;
    assert!(
        read(&call).contains("✓ 3 · North salt: change · not needed, Maren Example 08:00"),
        "{}",
        read(&call)
    );
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_reading_asks_for_its_values_and_wrong_ones_can_be_given_again() {
    let (mut stage, call) = called().await;
    let before = entries(&stage).await;
    for wrong in ["soon", "140%", "82"] {
        let act = press(&stage, &call, "4 · Did it", stage.ilja);
        act.modal().await;
        let sent = stage.double.submit(&act, &[("text", wrong)]).expect("a modal");
        let said = sent.shown().await;
        assert!(said.ephemeral, "{wrong}: {}", read(&said));
        assert_eq!(entries(&stage).await, before, "{wrong}: {}", read(&said));
    }
    let act = press(&stage, &call, "4 · Did it", stage.ilja);
    act.modal().await;
    let sent = stage
        .double
        .submit(&act, &[("text", "82% 26.5C")])
        .expect("a modal");
    let said = read(&sent.shown().await);
    assert!(said.contains("82 %, 26.5 °C"), "{said}");
    let call = now(&mut stage, &call).await;
    assert!(read(&call).contains("✓ 4 · North: reading"), "{}", read(&call));
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn all_but_leaves_what_is_named_and_a_settled_call_has_no_buttons() {
    let (mut stage, call) = called().await;
    for wrong in ["0", "9", "two"] {
        let act = press(&stage, &call, "All but…", stage.ilja);
        act.modal().await;
        let sent = stage.double.submit(&act, &[("text", wrong)]).expect("a modal");
        let said = read(&sent.shown().await);
        assert!(said.contains(wrong) && said.contains('4'), "{said}");
    }
    let act = press(&stage, &call, "All but…", stage.ilja);
    act.modal().await;
    let sent = stage.double.submit(&act, &[("text", "2")]).expect("a modal");
    sent.shown().await;
    let open = now(&mut stage, &call).await;
    assert_eq!(read(&open).matches('✓').count(), 2, "{}", read(&open));
    pressed(&stage, &open, "All done", stage.maren).await;
    let open = now(&mut stage, &call).await;
    let readings = [("text", "80% 26C")];
    // One turn is left: its buttons bear no number, or the one it had.
    let label = open
        .shown()
        .into_iter()
        .find(|one| one.custom_id.starts_with("did.reading"));
    let act = press(&stage, &open, &label.expect("the reading").label, stage.maren);
    act.modal().await;
    stage
        .double
        .submit(&act, &readings)
        .expect("a modal")
        .shown()
        .await;
    let settled = now(&mut stage, &call).await;
    assert!(read(&settled).contains("all done"), "{}", read(&settled));
    assert!(settled.shown().is_empty(), "{:?}", settled.shown());
    assert!(settled.edits() >= 3 && stage.posts().len() == 1);
    stage.double.assert_faultless();
}
