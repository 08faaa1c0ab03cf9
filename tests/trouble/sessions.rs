//! A session that breaks off is taken up again, or another one is begun, and nothing is lost or done twice.

use std::sync::atomic::Ordering;

use wrackline_tests::platform::Route;
use wrackline_tests::stage::{Setting, Stage};

use super::{set_up_in, told_in_private, until};

fn registered(stage: &Stage) -> usize {
    stage.double.requests_of(Route::SetCommands).len()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_was_said_while_the_line_was_cut_is_answered_once() {
    let stage = set_up_in(Setting::default()).await;
    let gateway = stage.double.gateway();
    gateway.cut();
    let answer = stage
        .double
        .command(stage.channel, stage.ilja, "due", &[])
        .expect("a line");
    let shown = answer.shown().await;
    assert!(shown.text().contains("North"), "{}", shown.text());
    gateway.until(|counts| counts.resumes == 1).await;
    let counts = gateway.counts();
    assert_eq!((counts.identifies, counts.refused_resumes), (1, 0), "{counts:?}");
    until("the resumption", 5, || {
        stage.gateway.state.resumed.load(Ordering::SeqCst) == 1
    })
    .await;
    assert!(stage.gateway.state.connected.load(Ordering::SeqCst));
    assert_eq!(answer.answers_refused(), 0);
    assert_eq!(registered(&stage), 1);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn asked_to_connect_anew_it_does_and_goes_on() {
    let stage = set_up_in(Setting::default()).await;
    let gateway = stage.double.gateway();
    gateway.reconnect();
    gateway.until(|counts| counts.resumes == 1).await;
    let answer = stage.say(stage.ilja, "due", &[]).await;
    assert!(answer.text().contains("North"), "{}", answer.text());
    assert_eq!(gateway.counts().identifies, 1);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_session_that_is_refused_for_now_is_taken_up() {
    let stage = set_up_in(Setting::default()).await;
    let gateway = stage.double.gateway();
    gateway.invalidate(true);
    gateway
        .until(|counts| counts.resumes == 1 || counts.identifies == 2)
        .await;
    let answer = stage.say(stage.ilja, "due", &[]).await;
    assert!(answer.text().contains("North"), "{}", answer.text());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn after_a_session_that_is_lost_the_next_one_registers_nothing_and_looks_round() {
    let stage = set_up_in(Setting::default()).await;
    let gateway = stage.double.gateway();
    // The bot is removed between two sessions: nobody tells it.
    gateway.shut(true);
    gateway.invalidate(false);
    gateway.cut();
    stage.double.remove_bot(stage.guild);
    gateway.shut(false);
    let state = &stage.gateway.state;
    until("a second session", 15, || {
        state.sessions.load(Ordering::SeqCst) == 2
    })
    .await;
    until("a private message", 5, || {
        told_in_private(&stage, stage.maren).len() == 1
    })
    .await;
    let told = told_in_private(&stage, stage.maren);
    assert!(
        told[0]
            .text()
            .starts_with("I cannot see the channel of your place"),
        "{}",
        told[0].text()
    );
    assert!(told_in_private(&stage, stage.ilja).is_empty());
    assert_eq!(registered(&stage), 1, "commands are registered once");

    // Yet another session: they know already.
    gateway.invalidate(false);
    until("a third session", 15, || {
        state.sessions.load(Ordering::SeqCst) == 3
    })
    .await;
    stage.double.bring_bot_back(stage.guild);
    let due = super::due(&stage, stage.maren).await;
    assert!(due.contains("takes no posts"), "{due}");
    assert_eq!(told_in_private(&stage, stage.maren).len(), 1);
    assert_eq!(registered(&stage), 1);
    stage.double.assert_faultless();
}
