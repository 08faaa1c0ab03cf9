//! Events that cannot be read: counted, told of in the log, and survived; what a person did is not lost with them.

use serde_json::json;
use wrackline::logs::{to_stderr, unread_events};
use wrackline_tests::platform::Route;
use wrackline_tests::stage::Setting;

use super::{set_up_in, until};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_cannot_be_read_is_counted_and_the_connection_lives_on() {
    // What the library alone notices is counted where it tells of it.
    to_stderr(false);
    let stage = set_up_in(Setting::default()).await;
    let gateway = stage.double.gateway();
    let before = unread_events();
    gateway.broken_event();
    until("the first", 5, || unread_events() == before + 1).await;
    gateway.unknown_event();
    until("the second", 5, || unread_events() == before + 2).await;
    gateway.event("CHANNEL_DELETE", &json!({"id": {"deep": []}}));
    until("the third", 5, || unread_events() == before + 3).await;
    gateway.frame("{\"op\": 0, \"s\": 7, \"t\": \"READY\", \"d\": {\"v\"");
    until("the fourth", 5, || unread_events() == before + 4).await;
    gateway.frame("[]");
    until("the fifth", 5, || unread_events() == before + 5).await;
    let answer = stage.say(stage.ilja, "due", &[]).await;
    assert!(answer.text().contains("North"), "{}", answer.text());
    assert_eq!(gateway.counts().connections, 1, "{:?}", gateway.counts());
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_lacks_a_field_of_no_use_here_is_heard_all_the_same() {
    let stage = set_up_in(Setting::default()).await;
    for field in [
        "attachment_size_limit",
        "authorizing_integration_owners",
        "app_permissions",
        "entitlements",
        "locale",
        "version",
        "context",
        "guild_locale",
        "channel",
    ] {
        stage.double.gateway().leave_out(&[field]);
        let act = stage.double.command(stage.channel, stage.ilja, "due", &[]);
        let answer = act.expect("a line").shown().await;
        assert!(
            answer.text().contains("North"),
            "without {field}: {}",
            answer.text()
        );
    }
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_beyond_mending_is_answered_in_private() {
    let stage = set_up_in(Setting::default()).await;
    let before = unread_events();
    stage.double.gateway().leave_out(&["data", "entitlements"]);
    let answer = stage.say(stage.ilja, "due", &[]).await;
    let text = answer.text();
    assert!(
        text.contains("That line is of another version; type / again"),
        "{text}"
    );
    assert!(answer.ephemeral);
    assert!(unread_events() > before);

    // Without what one answers by there is nothing to be answered.
    let callbacks = stage.double.requests_of(Route::Callback).len();
    stage.double.gateway().leave_out(&["data", "token"]);
    let before = unread_events();
    let act = stage.double.command(stage.channel, stage.ilja, "due", &[]);
    drop(act.expect("a line"));
    until("it is counted", 5, || unread_events() > before).await;
    assert_eq!(stage.double.requests_of(Route::Callback).len(), callbacks);
    stage.double.gateway().leave_out(&[]);
    let answer = stage.say(stage.ilja, "due", &[]).await;
    assert!(answer.text().contains("North"), "{}", answer.text());
    stage.double.assert_faultless();
}
