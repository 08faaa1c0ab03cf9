//! What is offered while a line is being typed.

use wrackline_tests::platform::{Opt, UserId};
use wrackline_tests::stage::Stage;

/// What is offered for an argument while somebody types.
pub(super) async fn offers(stage: &Stage, by: UserId, line: &str, name: &str, typed: &str) -> Vec<String> {
    let focused = Opt::text(name, typed);
    let act = stage.double.complete(stage.channel, by, line, &[], &focused);
    let act = act.unwrap_or_else(|why| panic!("/{line} {name}: {why}"));
    let choices = act.choices().await;
    assert!(choices.len() <= 25);
    choices
        .into_iter()
        .map(|(shown, value)| {
            assert_eq!(value.as_str(), Some(shown.as_str()));
            shown
        })
        .collect()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn pools_duties_people_and_zones_are_offered() {
    let stage = Stage::new().await;
    stage.set_up().await;
    for (line, name, typed, expected) in [
        ("did", "spot", "no", "North salt"),
        ("did", "spot", "sal", "North salt"),
        ("did", "spot", "north fresh and no", "north fresh and North salt"),
        ("did", "duty", "ch", "change"),
        ("did", "by", "il", "Ilja Example"),
        ("why", "spot", "", "North fresh"),
        ("saw", "sighting", "wet", "wet substrate"),
        ("place set", "zone", "lond", "Europe/London"),
        ("rounds set", "round", "eve", "evening"),
        ("carer set", "carer", "mar", "Maren Example"),
        ("help", "line", "di", "did"),
    ] {
        let found = offers(&stage, stage.maren, line, name, typed).await;
        let has = found
            .iter()
            .any(|one| one.to_lowercase() == expected.to_lowercase());
        assert!(has, "/{line} {name} {typed}: {found:?}");
    }
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_a_role_may_not_say_offers_nothing() {
    let stage = Stage::new().await;
    stage.set_up().await;
    for (line, name) in [
        ("pool set", "spot"),
        ("carer retire", "carer"),
        ("rounds retire", "round"),
    ] {
        assert!(
            !offers(&stage, stage.maren, line, name, "").await.is_empty(),
            "/{line}"
        );
        assert!(
            offers(&stage, stage.ilja, line, name, "").await.is_empty(),
            "/{line}"
        );
    }
    assert!(!offers(&stage, stage.ilja, "did", "spot", "").await.is_empty());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn odd_text_breaks_nothing() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let long = "long ".repeat(1_200);
    let odd = [
        "\"",
        "“north",
        "north \" salt",
        "🦀🌊",
        "@everyone <@1> <#2>",
        "```",
        "\\",
        "  ",
        " and ",
        ",,,",
        "\u{202e}north",
        "ﬁ ß İ",
        "-1",
        "north\nsalt",
        long.as_str(),
    ];
    for typed in odd {
        for (line, name) in [
            ("did", "spot"),
            ("did", "duty"),
            ("did", "by"),
            ("did", "part"),
            ("saw", "sighting"),
            ("help", "line"),
            ("place set", "zone"),
            ("place set", "sg"),
            ("rounds set", "round"),
            ("duty retire", "duty"),
        ] {
            let found = offers(&stage, stage.maren, line, name, typed).await;
            assert!(
                found.iter().all(|one| (1..=100).contains(&one.chars().count())),
                "{found:?}"
            );
        }
    }
    // Sent off as it stands, it is refused in a sentence.
    for typed in odd {
        let options = [Opt::text("duty", "change"), Opt::text("spot", typed)];
        let answer = stage.say(stage.maren, "did", &options).await;
        let said = super::read(&answer);
        assert!(
            answer.calls_nobody() && said.chars().count() < 2_000,
            "{typed}: {said}"
        );
    }
    stage.double.assert_faultless();
}
