//! A round is called, answered in one tap, and shows it.

use wrackline_tests::stage::Stage;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_round_is_called_and_answered_in_one_tap() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    stage.at("2026-03-03 08:00");
    stage.turn().await;
    let posts = stage.posts();
    assert_eq!(posts.len(), 1, "{posts:#?}");
    let call = &posts[0];
    println!("{}\n{:#?}", call.text(), call.shown());
    let act = stage
        .double
        .press_label(call.id, "All done", stage.ilja)
        .expect("a button");
    let receipt = act.shown().await;
    println!("{} {}", receipt.ephemeral, receipt.text());
    stage.turn().await;
    let call = stage.double.message(call.id).expect("the call");
    println!("{}", call.text());
    assert_eq!(stage.posts().len(), 1);
    stage.double.assert_faultless();
}
