//! The group-chat platform for a sitter whose span is over.

use wrackline_tests::platform::Opt;
use wrackline_tests::stage::Stage;

use super::holds;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_account_is_not_heard_after_the_span() {
    let stage = Stage::new().await;
    stage.set_up().await;
    let text = Opt::text;
    let span = [
        text("carer", "Ilja Example"),
        text("role", "sitter"),
        text("starts", "2026-03-01"),
        text("ends", "2026-03-08"),
    ];
    let said = stage.say(stage.maren, "carer set", &span).await;
    holds(&said.text(), &["Ilja Example is sitter now"]);
    stage.at("2026-03-08 20:00");
    let said = stage.say(stage.ilja, "due", &[]).await;
    assert!(!said.ephemeral, "{}", said.text());
    stage.at("2026-03-09 08:00");
    for (line, options) in [
        ("due", Vec::new()),
        ("did", vec![text("duty", "change"), text("spot", "north salt")]),
        ("place link", vec![Opt::channel("channel", stage.channel)]),
    ] {
        let said = stage.say(stage.ilja, line, &options).await;
        assert!(said.ephemeral, "/{line}: {}", said.text());
        if line != "place link" {
            holds(
                &said.text(),
                &["Your span ended on Sunday 8 March: ask Maren Example"],
            );
        }
    }
    stage.double.assert_faultless();
}
