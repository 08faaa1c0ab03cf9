//! Answers come once and in time, whatever is slow, lost or repeated.

use std::time::Duration;

use wrackline_tests::platform::{Opt, Route, Trouble};
use wrackline_tests::stage::Stage;

fn change() -> [Opt; 2] {
    [Opt::text("duty", "change"), Opt::text("spot", "north salt")]
}

/// How many entries the place has.
async fn entries(stage: &Stage) -> i64 {
    let head = stage.store.head(stage.place().await).await.expect("a head");
    head.expect("the place").last_seq
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_same_line_delivered_twice_is_heard_once() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let before = entries(&stage).await;
    let act = stage
        .double
        .command(stage.channel, stage.ilja, "did", &change())
        .expect("a command");
    let first = act.shown().await;
    act.again();
    wrackline::clock::wait(Duration::from_millis(300)).await;
    assert_eq!(entries(&stage).await, before + 1);
    assert_eq!(act.shown().await.text(), first.text());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_takes_long_is_put_off_and_filled_in() {
    let stage = Stage::new().await;
    stage.set_up().await;
    for (options, private) in [
        (change().to_vec(), false),
        (vec![Opt::text("duty", "chnge")], true),
    ] {
        let place = stage.place().await;
        // Whoever else is at work in this place keeps its book.
        let held = stage.app.house.shelf.open(place).await.expect("the book");
        let act = stage
            .double
            .command(stage.channel, stage.ilja, "did", &options)
            .expect("a command");
        let first = act.first().await;
        assert_eq!(first.kind, 5, "{:?}", first.data);
        let took = first.took;
        assert!(
            took >= Duration::from_millis(1_400) && took < Duration::from_millis(2_500),
            "{took:?}"
        );
        drop(held);
        if private {
            let answers = act.follow_ups(1).await;
            assert!(answers[0].ephemeral, "{}", answers[0].text());
            assert!(
                answers[0].text().contains("Nothing was saved"),
                "{}",
                answers[0].text()
            );
        } else {
            let answer = act.shown().await;
            assert!(
                !answer.ephemeral && answer.text().contains("changed"),
                "{}",
                answer.text()
            );
        }
    }
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_first_reply_that_is_lost_is_given_again_and_counts_once() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let before = entries(&stage).await;
    for trouble in [Trouble::Dropped, Trouble::Reset, Trouble::Status(503)] {
        stage.double.trouble(Route::Callback, [trouble.clone()]);
        let act = stage
            .double
            .command(stage.channel, stage.ilja, "due", &[])
            .expect("a command");
        let answer = act.shown().await;
        assert!(answer.text().contains("North"), "{trouble:?}: {}", answer.text());
    }
    assert_eq!(entries(&stage).await, before);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_was_retired_meanwhile_is_refused_in_one_sentence() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let typed = Opt::text("spot", "nor");
    let offers = stage.double.complete(
        stage.channel,
        stage.ilja,
        "did",
        &[Opt::text("duty", "change")],
        &typed,
    );
    let offers = offers.expect("it completes").choices().await;
    assert!(
        offers
            .iter()
            .any(|(name, _)| name.eq_ignore_ascii_case("north salt")),
        "{offers:?}"
    );
    stage
        .say(stage.maren, "pool retire", &[Opt::text("spot", "north salt")])
        .await;
    let answer = stage.say(stage.ilja, "did", &change()).await;
    assert!(
        answer.ephemeral && answer.text().contains("Nothing was saved"),
        "{}",
        answer.text()
    );
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn whatever_is_typed_is_completed_or_left_alone() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let long = "north ".repeat(900);
    for typed in ["", "n", "\"", "🦀", "@everyone", "<@1>", long.trim()] {
        let typed = Opt::text("spot", typed);
        let act = stage
            .double
            .complete(stage.channel, stage.ilja, "did", &[], &typed)
            .expect("it completes");
        assert!(act.choices().await.len() <= 25);
    }
    let people = stage
        .double
        .complete(stage.channel, stage.ilja, "did", &[], &Opt::text("by", "mar"));
    let people = people.expect("it completes").choices().await;
    assert_eq!(people.len(), 1, "{people:?}");
    let keepers_alone = stage.double.complete(
        stage.channel,
        stage.ilja,
        "pool retire",
        &[],
        &Opt::text("spot", "n"),
    );
    assert!(keepers_alone.expect("it completes").choices().await.is_empty());
    stage.double.assert_faultless();
}
