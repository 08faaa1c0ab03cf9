//! What the platform delivers twice is answered once, with all that belongs to it.

use std::time::Duration;

use wrackline_tests::platform::{Act, Opt, Route};
use wrackline_tests::stage::Stage;

use super::{done, entries, read};

/// Lets whatever is still on its way arrive.
async fn rest() {
    wrackline::clock::wait(Duration::from_millis(700)).await;
}

fn change() -> [Opt; 2] {
    [Opt::text("duty", "change"), Opt::text("spot", "north salt")]
}

fn give(stage: &Stage, line: &str, options: &[Opt]) -> Act {
    let act = stage.double.command(stage.channel, stage.maren, line, options);
    act.expect("a command")
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_link_delivered_twice_makes_one_place() {
    let stage = Stage::new().await;
    let act = give(&stage, "place link", &[Opt::channel("channel", stage.channel)]);
    act.again();
    assert!(read(&act.shown().await).contains("is linked to this server"));
    rest().await;
    assert_eq!(stage.store.places().await.expect("the store answers").len(), 1);
    let seen = stage.double.seen_messages(stage.channel);
    assert_eq!(seen.len(), 2, "one first word and one answer: {seen:#?}");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_answer_of_several_messages_is_not_continued_twice() {
    let stage = Stage::new().await;
    stage.set_up().await;
    for number in 1..=6 {
        let name = format!("Long gallery shelf {number} by the window");
        let tank = [Opt::text("name", &name), Opt::text("volume", "300 L")];
        done(&stage, stage.maren, "enclosure add", &tank).await;
        let pool = [
            Opt::text("enclosure", &name),
            Opt::text("water", "salt"),
            Opt::text("volume", "5 L"),
        ];
        done(&stage, stage.maren, "pool add", &pool).await;
    }
    let once = give(&stage, "week", &[Opt::bool("full", true)]);
    once.shown().await;
    rest().await;
    let count = once.follow_ups(1).await.len();
    let act = give(&stage, "week", &[Opt::bool("full", true)]);
    act.again();
    act.shown().await;
    rest().await;
    assert_eq!(act.follow_ups(1).await.len(), count);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_slow_answer_that_was_delivered_twice_is_filled_in_once() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let before = entries(&stage).await;
    let held = stage
        .app
        .house
        .shelf
        .open(stage.place().await)
        .await
        .expect("the book");
    let act = give(&stage, "did", &change());
    act.again();
    let first = act.first().await;
    assert_eq!(first.kind, 5);
    assert!(first.took < Duration::from_secs(2), "{:?}", first.took);
    drop(held);
    let answer = act.shown().await;
    assert!(read(&answer).contains("North salt changed"), "{}", read(&answer));
    rest().await;
    assert_eq!(entries(&stage).await, before + 1);
    let answer = stage.double.message(answer.id).expect("the answer");
    assert_eq!(answer.edits(), 1, "{:#?}", answer.history);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_slow_refusal_takes_its_placeholder_away_once() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let held = stage
        .app
        .house
        .shelf
        .open(stage.place().await)
        .await
        .expect("the book");
    let act = give(
        &stage,
        "read",
        &[Opt::text("spot", "north"), Opt::text("readings", "140%")],
    );
    act.again();
    assert_eq!(act.first().await.kind, 5);
    drop(held);
    let answers = act.follow_ups(1).await;
    assert!(answers[0].ephemeral && read(&answers[0]).contains("Nothing was saved"));
    rest().await;
    assert_eq!(act.follow_ups(1).await.len(), 1);
    assert_eq!(stage.double.requests_of(Route::DeleteResponse).len(), 1);
    let seen = stage.double.seen_messages(stage.channel);
    assert!(
        seen.iter().all(|message| !message.is_loading()),
        "a placeholder stands there still"
    );
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_answer_whose_filling_in_is_lost_is_filled_in_again() {
    use wrackline_tests::platform::Trouble;
    let stage = Stage::new().await;
    stage.set_up().await;
    let held = stage
        .app
        .house
        .shelf
        .open(stage.place().await)
        .await
        .expect("the book");
    stage
        .double
        .trouble(Route::EditResponse, [Trouble::Reset, Trouble::Status(503)]);
    let act = give(&stage, "did", &change());
    assert_eq!(act.first().await.kind, 5);
    drop(held);
    let answer = act.shown().await;
    assert!(read(&answer).contains("North salt changed"), "{}", read(&answer));
    stage.double.assert_faultless();
}
