//! People come to share the work by a member of the server, or by a name alone.

use wrackline_tests::platform::Opt;
use wrackline_tests::stage::Stage;

use super::{done, entries, read, refused};

fn text(name: &str, value: &str) -> Opt {
    Opt::text(name, value)
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_member_joins_under_the_name_of_the_server() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let noor = stage.double.member(stage.guild, "Noor Example");
    let said = done(&stage, stage.maren, "carer add", &[Opt::user("member", noor)]).await;
    assert!(said.contains("Noor Example shares the work as regular"), "{said}");
    assert!(said.contains("may now log"), "{said}");
    let change = [text("duty", "change"), text("spot", "north salt")];
    let said = done(&stage, noor, "did", &change).await;
    assert!(said.contains("by Noor Example"), "{said}");
    let said = refused(&stage, stage.maren, "carer add", &[Opt::user("member", noor)]).await;
    assert!(said.contains("Noor Example's already"), "{said}");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn odd_names_are_made_to_fit() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let names = [
        ("@everyone <@123> **Bo**", "everyone 123 Bo"),
        ("\"by\"", "by 2"),
        ("all", "all 2"),
        ("***", "Someone"),
        ("🦀🦀", "Someone 2"),
        ("ilja example", "ilja example 2"),
        ("Note by Part", "Note by Part 2"),
        ("Zoë 🦀 Ñandú", "Zoë 🦀 Ñandú"),
    ];
    for (name, fitting) in names {
        let member = stage.double.member(stage.guild, name);
        let answer = stage
            .say(stage.maren, "carer add", &[Opt::user("member", member)])
            .await;
        let said = read(&answer);
        assert!(
            said.contains(&format!("{fitting} shares the work as regular")),
            "{name}: {said}"
        );
        assert!(answer.calls_nobody(), "{name}");
        // They can be named in a line, as they stand in the list.
        let options = [
            text("duty", "change"),
            text("spot", "north salt"),
            text("by", fitting),
            Opt::bool("again", true),
        ];
        let said = done(&stage, stage.maren, "did", &options).await;
        assert!(said.contains(&format!("by {fitting}")), "{name}: {said}");
    }
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_helper_has_no_account_until_they_are_more() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let noor = stage.double.member(stage.guild, "noor_the_second");
    let said = done(
        &stage,
        stage.maren,
        "carer add",
        &[text("name", "Noor"), text("role", "helper")],
    )
    .await;
    assert!(said.contains("Noor shares the work as helper"), "{said}");
    let member = [text("carer", "Noor"), Opt::user("member", noor)];
    let said = refused(&stage, stage.maren, "carer set", &member).await;
    assert!(said.contains("has no account; say another role"), "{said}");
    let options = [
        text("carer", "Noor"),
        text("role", "regular"),
        Opt::user("member", noor),
    ];
    let said = done(&stage, stage.maren, "carer set", &options).await;
    assert!(
        said.contains("Noor is regular now") && said.contains("may now log"),
        "{said}"
    );
    let said = done(
        &stage,
        noor,
        "did",
        &[text("duty", "look"), text("spot", "north")],
    )
    .await;
    assert!(said.contains("by Noor."), "{said}");
    let taken = [text("carer", "Ilja Example"), Opt::user("member", noor)];
    let said = refused(&stage, stage.maren, "carer set", &taken).await;
    assert!(said.contains("Noor's already"), "{said}");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn who_no_longer_shares_the_work_is_refused_and_may_come_back() {
    let stage = Stage::new().await;
    stage.set_up().await;
    done(
        &stage,
        stage.maren,
        "carer retire",
        &[text("carer", "Ilja Example")],
    )
    .await;
    let before = entries(&stage).await;
    let change = [text("duty", "change"), text("spot", "north salt")];
    for (line, options) in [("due", &[][..]), ("did", &change)] {
        let said = refused(&stage, stage.ilja, line, options).await;
        assert!(said.contains("do not share the work"), "/{line}: {said}");
    }
    assert_eq!(entries(&stage).await, before);
    let said = done(
        &stage,
        stage.maren,
        "carer add",
        &[Opt::user("member", stage.ilja)],
    )
    .await;
    assert!(said.contains("Ilja Example shares the work"), "{said}");
    let said = done(&stage, stage.ilja, "did", &change).await;
    assert!(said.contains("by Ilja Example"), "{said}");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn roles_hold_as_on_the_porch() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let before = entries(&stage).await;
    let lines: [(&str, Vec<Opt>); 4] = [
        ("rounds add", vec![text("name", "noon"), text("time", "12:30")]),
        ("place set", vec![text("quiet", "22:00 to 07:00")]),
        ("carer add", vec![text("name", "Noor")]),
        ("pool retire", vec![text("spot", "north salt")]),
    ];
    for (line, options) in &lines {
        let said = refused(&stage, stage.ilja, line, options).await;
        assert!(
            said.contains("Only a keeper sets things up: ask Maren Example"),
            "/{line}: {said}"
        );
    }
    assert_eq!(entries(&stage).await, before);
    let said = done(&stage, stage.ilja, "pool list", &[]).await;
    assert!(said.contains("2 pools"), "{said}");
    stage.double.assert_faultless();
}
