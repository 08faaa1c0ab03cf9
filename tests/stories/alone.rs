//! Whoever is reminded alone gets late calls of their own in private; the channel hears of them once they are passed on.

use wrackline_tests::platform::{Message, Opt, UserId};
use wrackline_tests::stage::Stage;

use super::{done, read};

/// What a person was told in private.
fn private(stage: &Stage, person: UserId) -> Vec<Message> {
    stage.double.channel_messages(stage.double.dm(person))
}

/// The last that a person was told in private, where it is of late changes.
fn late_change(stage: &Stage, person: UserId) -> Option<Message> {
    let last = private(stage, person).into_iter().last();
    last.filter(|post| read(post).contains("wait") && read(post).contains("change"))
}

/// A house in which both are reminded alone, at the evening of 3 March: changes are late, nothing else is.
async fn late() -> Stage {
    let stage = Stage::new().await;
    stage.set_up().await;
    for who in ["Maren Example", "Ilja Example"] {
        let options = [Opt::text("carer", who), Opt::bool("private", true)];
        let said = done(&stage, stage.maren, "carer set", &options).await;
        assert!(said.contains("reminded alone"), "{said}");
    }
    stage
}

/// Lets the house work at these moments; what stands open in the morning but for the changes is done then.
async fn until(stage: &mut Stage, moments: &[&str]) {
    for at in moments {
        stage.at(at);
        stage.turn().await;
        if at.ends_with("08:00") {
            let reading = [Opt::text("spot", "North"), Opt::text("readings", "80% 26C")];
            done(stage, stage.maren, "read", &reading).await;
            let look = [Opt::text("duty", "look"), Opt::text("spot", "North")];
            done(stage, stage.maren, "did", &look).await;
        }
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_late_call_of_ones_own_comes_in_private_and_is_answered_there() {
    let mut stage = late().await;
    until(&mut stage, &["2026-03-03 08:00", "2026-03-03 19:30"]).await;
    let round = stage.posts().len();
    until(&mut stage, &["2026-03-03 20:00"]).await;
    assert_eq!(stage.posts().len(), round, "{:#?}", stage.posts());
    // Whose turn it was is for the sharing out to say.
    let (owner, name) = [(stage.ilja, "Ilja Example"), (stage.maren, "Maren Example")]
        .into_iter()
        .find(|(person, _)| late_change(&stage, *person).is_some())
        .expect("somebody was told");
    let told = late_change(&stage, owner).expect("the late call");
    assert!(read(&told).contains(&format!("{name}: ")), "{}", read(&told));
    let act = stage
        .double
        .press_label(told.id, "All done", owner)
        .expect("a button");
    act.shown().await;
    stage.turn().await;
    let settled = stage.double.message(told.id).expect("the same message");
    assert!(
        read(&settled).contains("Late turns: all done"),
        "{}",
        read(&settled)
    );
    // The channel's own call of the round closes with it.
    let channel: Vec<String> = stage.posts().iter().map(read).collect();
    assert!(
        channel
            .iter()
            .any(|post| post.contains("done 20:00") && post.contains(name)),
        "{channel:#?}"
    );
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_passed_on_to_several_is_said_in_the_channel() {
    let mut stage = late().await;
    let morning = ["2026-03-03 08:00", "2026-03-03 19:30", "2026-03-03 20:00"];
    until(&mut stage, &morning).await;
    let before = stage.posts().len();
    // The changes are at risk from noon of 5 March.
    until(&mut stage, &["2026-03-05 12:00"]).await;
    let posts = stage.posts().split_off(before);
    let hazard = posts
        .iter()
        .find(|post| read(post).contains("everyone: whoever can, now"));
    let hazard = hazard.unwrap_or_else(|| panic!("{posts:#?}"));
    let called = &hazard.history[0].notified.users;
    assert_eq!(*called, [stage.maren, stage.ilja].into(), "{}", read(hazard));
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn where_no_private_message_gets_through_the_channel_hears_that_they_are_wanted() {
    let mut stage = late().await;
    for person in [stage.maren, stage.ilja] {
        stage.double.takes_dms(person, false);
    }
    until(&mut stage, &["2026-03-03 08:00", "2026-03-03 19:30"]).await;
    let round = stage.posts().len();
    until(&mut stage, &["2026-03-03 20:00"]).await;
    let posts = stage.posts().split_off(round);
    let all: Vec<String> = posts.iter().map(read).collect();
    assert!(
        !all.is_empty() && all.iter().all(|text| text.contains("is wanted: see /due.")),
        "{all:?}"
    );
    for post in &posts {
        assert_eq!(post.history[0].notified.users.len(), 1, "{post:?}");
    }
    stage.double.assert_faultless();
}
