//! A sick crab is told to the keepers in private, on their own channel, and to nobody else.

use wrackline_tests::platform::{Message, Opt, UserId};
use wrackline_tests::stage::Stage;

use super::{done, read};

/// What a person was told in private.
fn private(stage: &Stage, person: UserId) -> Vec<Message> {
    stage.double.channel_messages(stage.double.dm(person))
}

async fn set_up() -> Stage {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    stage.turn().await;
    stage
}

async fn sick(stage: &mut Stage) {
    let options = [
        Opt::text("sighting", "trouble"),
        Opt::text("spot", "North"),
        Opt::text("note", "limp and pale"),
    ];
    let answer = stage.say(stage.ilja, "saw", &options).await;
    assert!(answer.ephemeral, "before all eyes: {}", read(&answer));
    assert!(
        read(&answer).contains("in private, and to nobody else"),
        "{}",
        read(&answer)
    );
    stage.turn().await;
}

fn nothing_in_the_channel(stage: &Stage) {
    for post in stage.posts() {
        for version in &post.history {
            let body = version.body.to_string();
            assert!(!body.contains("trouble") && !body.contains("limp"), "{body}");
        }
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_keeper_is_told_and_answers_in_private() {
    let mut stage = set_up().await;
    let before = stage.posts().len();
    sick(&mut stage).await;
    assert_eq!(stage.posts().len(), before);
    assert!(private(&stage, stage.ilja).is_empty());
    let told = private(&stage, stage.maren);
    assert_eq!(told.len(), 1, "{told:#?}");
    assert!(read(&told[0]).contains("limp and pale"), "{}", read(&told[0]));
    // Whoever presses there is told nothing of the channel's; the private message shows it.
    let act = stage
        .double
        .press_label(told[0].id, "I'm going", stage.maren)
        .expect("a button");
    act.shown().await;
    stage.turn().await;
    let told = private(&stage, stage.maren);
    assert!(read(&told[0]).contains("goes to look"), "{}", read(&told[0]));
    let close = stage
        .double
        .press_label(told[0].id, "It's over", stage.maren)
        .expect("a button");
    close.shown().await;
    stage.turn().await;
    assert!(read(&private(&stage, stage.maren)[0]).contains("Over since"));
    nothing_in_the_channel(&stage);
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn where_no_keeper_takes_messages_the_channel_hears_that_one_is_wanted() {
    let mut stage = set_up().await;
    stage.double.takes_dms(stage.maren, false);
    let before = stage.posts().len();
    sick(&mut stage).await;
    let posts = stage.posts().split_off(before);
    assert_eq!(posts.len(), 1, "{posts:#?}");
    let text = read(&posts[0]);
    assert!(text.contains("is wanted: see /due."), "{text}");
    assert_eq!(posts[0].history[0].notified.users, [stage.maren].into(), "{text}");
    nothing_in_the_channel(&stage);
    let due = stage.say(stage.maren, "due", &[]).await;
    assert!(due.ephemeral && read(&due).contains("trouble"), "{}", read(&due));
    let due = stage.say(stage.ilja, "due", &[Opt::text("whose", "all")]).await;
    assert!(
        due.ephemeral,
        "the one who saw it, for their own eyes: {}",
        read(&due)
    );
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn where_one_keeper_is_reached_the_channel_hears_nothing() {
    for unreached in [0, 1] {
        let mut stage = set_up().await;
        let noor = stage.double.member(stage.guild, "Noor Example");
        let options = [Opt::user("member", noor), Opt::text("role", "keeper")];
        done(&stage, stage.maren, "carer add", &options).await;
        stage.turn().await;
        let keepers = [stage.maren, noor];
        stage.double.takes_dms(keepers[unreached], false);
        let before = stage.posts().len();
        sick(&mut stage).await;
        assert_eq!(stage.posts().len(), before, "{:#?}", stage.posts());
        assert_eq!(private(&stage, keepers[1 - unreached]).len(), 1);
        assert!(private(&stage, keepers[unreached]).is_empty());
        let due = stage.say(noor, "due", &[]).await;
        assert!(!read(&due).contains("delivered"), "{}", read(&due));
        stage.double.assert_faultless();
    }
}
