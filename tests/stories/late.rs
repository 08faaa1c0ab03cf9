//! A late call asks one person, and calls them alone.

use wrackline_tests::platform::Opt;
use wrackline_tests::stage::Stage;

use super::{done, read};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_late_call_mentions_whom_it_asks_and_nobody_else() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    let habit = [Opt::text("spot", "North"), Opt::text("carer", "Ilja Example")];
    done(&stage, stage.maren, "enclosure set", &habit).await;
    let noor = stage.double.member(stage.guild, "Noor Example");
    done(&stage, stage.maren, "carer add", &[Opt::user("member", noor)]).await;
    for at in [
        "2026-03-03 08:00",
        "2026-03-03 19:30",
        "2026-03-03 20:00",
        "2026-03-03 21:00",
    ] {
        stage.at(at);
        stage.turn().await;
        if at.ends_with("08:00") {
            // What nobody answered since yesterday would be passed on to the keeper.
            let reading = [Opt::text("spot", "North"), Opt::text("readings", "80% 26C")];
            done(&stage, stage.maren, "read", &reading).await;
            let look = [Opt::text("duty", "look"), Opt::text("spot", "North")];
            done(&stage, stage.maren, "did", &look).await;
        }
    }
    let posts = stage.posts();
    let told: Vec<String> = posts.iter().map(read).collect();
    let late = posts.iter().find(|post| read(post).contains("wait"));
    let late = late.unwrap_or_else(|| panic!("{told:#?}"));
    // Whose turn it was is for the sharing out to say; whoever it is alone is called.
    let (owner, other) = if read(late).starts_with("**Ilja Example: ") {
        (stage.ilja, stage.maren)
    } else {
        assert!(read(late).starts_with("**Maren Example: "), "{}", read(late));
        (stage.maren, stage.ilja)
    };
    let called = &late.history[0].notified;
    assert_eq!(called.users, [owner].into(), "{}", read(late));
    assert!(!called.users.contains(&other));
    assert!(!called.everyone && called.roles.is_empty());
    let label = late.shown().remove(0).label;
    assert_eq!(label, "All done");
    let act = stage
        .double
        .press_label(late.id, &label, owner)
        .expect("a button");
    act.shown().await;
    stage.turn().await;
    let settled = stage.double.message(late.id).expect("the late call");
    for version in &settled.history {
        assert!(version.notified.users.is_subset(&[owner].into()), "{version:#?}");
    }
    stage.double.assert_faultless();
}
