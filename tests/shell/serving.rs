//! Commands beside a process that serves, and how that process ends.

use std::time::Duration;

use serde_json::Value;

use super::{entries, north, verified};
use wrackline_tests::binary::{Serve, Shell};

/// All texts of the porch's log, as a carer with a session sees it.
fn log(serve: &Serve, cookie: &str) -> String {
    let reply = serve.request("GET /log", cookie, "");
    let (head, body) = reply.split_once("\r\n\r\n").expect("a head and a body");
    assert!(head.starts_with("HTTP/1.1 200"), "{head}");
    body.to_owned()
}

fn enter(shell: &Shell, serve: &Serve) -> String {
    serve.enter(&shell.run(&["link", "--as", "Ada"]).done())
}

#[tokio::test]
async fn a_line_from_the_shell_goes_through_the_serve_and_is_on_the_porch() {
    let shell = north();
    let mut serve = shell.serve();
    let before = entries(&shell.database()).await;
    let said = shell
        .run(&["say", "--as", "Ada", "/read north 82% note seen from the shell"])
        .done();
    assert!(said.contains("82 %"), "{said}");
    assert!(entries(&shell.database()).await > before);
    let cookie = enter(&shell, &serve);
    let shown = log(&serve, &cookie);
    assert!(
        shown.contains("seen from the shell") && shown.contains("82 %"),
        "{shown}"
    );
    let json = shell.run(&["say", "--as", "Ada", "--json", "/why north salt change"]);
    assert_eq!(json.code, 0, "{}", json.err);
    assert_eq!(json.json()["turns"][0]["duty"], "change");
    let refused = shell.run(&["say", "--as", "Ada", "/read north 140%"]).failed(1);
    assert!(refused.contains("140 %"), "{refused}");
    assert_eq!(serve.stop().0, Some(0));
    verified(&shell);
}

#[test]
fn what_would_be_wrong_beside_a_serve_is_refused() {
    let shell = north();
    let mut serve = shell.serve();
    let second = shell.run(&["serve"]);
    assert_eq!(second.code, 2);
    assert!(
        second.err.contains("serve") && second.err.contains("wrackline.db"),
        "{}",
        second.err
    );
    assert_eq!(second.err.lines().count(), 1, "{}", second.err);
    let now = shell.say("2026-03-03T08:00", "/due").failed(1);
    assert!(now.contains("--now"), "{now}");
    shell.run(&["backup", "copy.db"]).done();
    let restored = shell.run(&["restore", "copy.db"]).failed(1);
    assert!(restored.contains("serve"), "{restored}");
    let (code, took) = serve.stop();
    assert_eq!(code, Some(0));
    assert!(took < Duration::from_secs(5), "{took:?}");
    // Afterwards all of them are free again.
    shell.say("2026-03-03T08:00", "/due").done();
    shell.run(&["restore", "copy.db"]).done();
    verified(&shell);
}

#[test]
fn an_open_page_does_not_keep_the_serve_from_stopping() {
    let shell = north();
    let mut serve = shell.serve();
    let cookie = enter(&shell, &serve);
    let (shown, page) = serve.open_stream("GET /events", &cookie);
    assert!(shown.contains("text/event-stream"), "{shown}");
    let (code, took) = serve.stop();
    assert_eq!(code, Some(0));
    assert!(took < Duration::from_secs(5), "{took:?}");
    drop(page);
}

#[tokio::test]
async fn after_a_crash_what_was_acknowledged_is_there() {
    let shell = north();
    let mut serve = shell.serve();
    let before = entries(&shell.database()).await;
    let cookie = enter(&shell, &serve);
    let body = r#"{"id":"crash-line-1","line":"/read north 81%"}"#;
    let reply = serve.request("POST /say", &cookie, body);
    assert!(reply.starts_with("HTTP/1.1 200"), "{reply}");
    shell.run(&["say", "--as", "Ada", "/did look north"]).done();
    serve.kill();
    assert!(
        shell.database().with_file_name("wrackline.db.socket").exists(),
        "the crash left its socket"
    );
    let after = entries(&shell.database()).await;
    assert_eq!(after, before + 2);
    // What the crash left behind blocks nobody: neither a line nor the next serve.
    shell.run(&["say", "--as", "Ada", "/did hygrometer north"]).done();
    let mut again = shell.serve();
    assert!(log(&again, &cookie).contains("81 %"), "the porch remembers");
    let repeat = again.request("POST /say", &cookie, body);
    let (_, repeated) = repeat.split_once("\r\n\r\n").expect("a body");
    assert!(serde_json::from_str::<Value>(repeated).is_ok(), "{repeated}");
    let readings = "SELECT count(*) FROM entry WHERE body LIKE '%umidity%81%'";
    assert_eq!(
        super::count(&shell.database(), readings).await,
        1,
        "a repeated line counts once"
    );
    shell
        .run(&["say", "--as", "Ada", "/did scrub north fresh"])
        .done();
    assert_eq!(again.stop().0, Some(0));
    verified(&shell);
}
