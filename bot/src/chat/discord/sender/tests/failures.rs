//! What fails, and how sure one can be of it.

use std::time::Duration;

use serde_json::{Value, json};
use tokio::io::AsyncReadExt;
use tokio::net::TcpListener;

use super::super::{BaseUrl, Call, Limits, Refused, Sender};
use super::{Server, fine, ms, per_s, reply, token, too_many};
use crate::clock;

fn message() -> Call {
    Call::post("/channels/1/messages", json!({"content": "hello"}))
}

async fn refused(status: u16, body: Value) -> Refused {
    let server = Server::new(move |_| reply(status, &[], &body)).await;
    server.sender().call(message()).await.expect_err("refused")
}

#[tokio::test]
async fn a_no_says_what_the_platform_said() {
    let no = refused(403, json!({"message": "Missing\n Permissions", "code": 50013})).await;
    assert_eq!(no, Refused::no(403, 50013, "Missing Permissions"));
    assert_eq!(
        no.to_string(),
        "The platform said no (403, code 50013): Missing Permissions."
    );
    let long = refused(400, json!({"message": "é".repeat(900), "code": 0})).await;
    assert_eq!(long, Refused::no(400, 0, "é".repeat(200)));
    assert!(matches!(
        refused(404, json!({})).await,
        Refused::No {
            status: 404,
            code: 0,
            ..
        }
    ));
    assert!(matches!(
        refused(404, json!("gone")).await,
        Refused::Nonsense { status: 404, .. }
    ));
}

#[tokio::test]
async fn trouble_at_the_platform_is_for_later_and_not_repeated() {
    for status in [500, 502, 503, 504] {
        let server = Server::new(move |_| reply(status, &[], &json!({"message": "oh"}))).await;
        let sender = server.sender();
        let refused = sender.call(message()).await.expect_err("trouble");
        assert!(
            matches!(refused, Refused::Later { wait: None, .. }),
            "{refused:?}"
        );
        assert_eq!(server.seen().len(), 1);
        assert_eq!(sender.counts().failed, 1);
    }
}

#[tokio::test]
async fn an_empty_success_is_null() {
    let server = Server::new(|_| {
        let mut empty = fine();
        *empty.status_mut() = axum::http::StatusCode::NO_CONTENT;
        *empty.body_mut() = axum::body::Body::empty();
        empty
    })
    .await;
    let sender = server.sender();
    let answer = sender.call(Call::delete("/channels/1/messages/2")).await;
    assert_eq!(answer, Ok(Value::Null));
    let seen = server.seen();
    assert_eq!(seen[0].method, "DELETE");
    assert_eq!(
        seen[0].header("authorization"),
        Some("Bot MTIz.secret-of-the-bot.abc")
    );
    let agent = seen[0].header("user-agent").expect("a name");
    assert!(
        agent.starts_with("DiscordBot (") && agent.ends_with(')'),
        "{agent}"
    );
}

#[tokio::test]
async fn a_page_is_no_answer() {
    let server = Server::new(|_| {
        let mut page = fine();
        *page.body_mut() = "<html>welcome</html>".into();
        page
    })
    .await;
    let refused = server.sender().call(message()).await.expect_err("a page");
    assert!(
        matches!(refused, Refused::Nonsense { status: 200, .. }),
        "{refused:?}"
    );
}

#[tokio::test]
async fn an_answer_without_end_is_not_read_to_its_end() {
    let server = Server::new(|_| {
        let mut large = fine();
        *large.body_mut() = format!("\"{}\"", "x".repeat(5 * 1024 * 1024)).into();
        large
    })
    .await;
    let refused = server.sender().call(message()).await.expect_err("too large");
    assert!(
        matches!(refused, Refused::Nonsense { status: 200, .. }),
        "{refused:?}"
    );
}

#[tokio::test]
async fn nobody_is_followed_elsewhere() {
    let other = Server::new(|_| fine()).await;
    let elsewhere = format!("http://127.0.0.1:{}/api/v10/users/@me", other.port);
    for status in [301, 302, 307, 308] {
        let to = elsewhere.clone();
        let server = Server::new(move |_| reply(status, &[("location", &to)], &json!({}))).await;
        let refused = server.sender().call(message()).await.expect_err("elsewhere");
        assert!(matches!(refused, Refused::Nonsense { .. }), "{refused:?}");
    }
    assert_eq!(other.seen().len(), 0);
}

#[tokio::test]
async fn a_closed_port_is_for_later() {
    let listener = TcpListener::bind("127.0.0.1:0").await.expect("a port");
    let address = listener.local_addr().expect("an address");
    drop(listener);
    let base = BaseUrl::parse(&format!("http://{address}")).expect("an address");
    let sender = Sender::new(&base, token()).expect("a sender");
    for call in [message(), Call::get("/channels/1")] {
        let refused = sender.call(call).await.expect_err("closed");
        assert!(
            matches!(refused, Refused::Later { wait: None, .. }),
            "{refused:?}"
        );
        assert!(
            !refused.to_string().contains(&address.port().to_string()),
            "{refused}"
        );
    }
}

#[tokio::test]
async fn many_calls_that_cannot_connect_all_come_to_their_end() {
    let listener = TcpListener::bind("127.0.0.1:0").await.expect("a port");
    let address = listener.local_addr().expect("an address");
    drop(listener);
    let base = BaseUrl::parse(&format!("http://{address}")).expect("an address");
    let sender = Sender::with_limits(&base, token(), per_s(10)).expect("a sender");
    let calls = (0..25).map(|channel| sender.call(Call::get(format!("/channels/{channel}"))));
    for result in futures_util::future::join_all(calls).await {
        assert!(
            matches!(result, Err(Refused::Later { wait: None, .. })),
            "{result:?}"
        );
    }
    let counts = sender.counts();
    assert_eq!((counts.sent, counts.failed, counts.held), (25, 25, 0));
}

#[tokio::test]
async fn a_call_without_a_body_says_so() {
    let server = Server::new(|_| fine()).await;
    let base = BaseUrl::parse(&format!("http://localhost:{}", server.port)).expect("an address");
    let sender = Sender::new(&base, token()).expect("a sender");
    for call in [
        Call::put("/channels/1/messages/2/reactions/x/@me", Value::Null),
        Call::post("/channels/1/typing", Value::Null),
    ] {
        sender.call(call).await.expect("sent");
    }
    for seen in server.seen() {
        assert_eq!(
            (seen.header("content-length"), seen.body.len()),
            (Some("0"), 0),
            "{seen:?}"
        );
    }
}

/// A server that reads a request and then leaves it, at once or after a while.
async fn leaving(after: Duration) -> (BaseUrl, tokio::task::JoinHandle<String>) {
    let listener = TcpListener::bind("127.0.0.1:0").await.expect("a port");
    let address = listener.local_addr().expect("an address");
    let task = tokio::spawn(async move {
        let (mut stream, _) = listener.accept().await.expect("a connection");
        let mut text = Vec::new();
        while !text.ends_with(b"}") {
            assert!(stream.read_buf(&mut text).await.expect("a request") > 0);
        }
        clock::wait(after).await;
        String::from_utf8(text).expect("text")
    });
    let base = BaseUrl::parse(&format!("http://{address}")).expect("an address");
    (base, task)
}

#[tokio::test]
async fn a_reply_lost_after_delivery_is_unsure() {
    let (base, delivered) = leaving(Duration::ZERO).await;
    let sender = Sender::new(&base, token()).expect("a sender");
    let refused = sender.call(message()).await.expect_err("lost");
    assert!(matches!(refused, Refused::Unsure { .. }), "{refused:?}");
    let request = delivered.await.expect("delivered");
    assert!(
        request.contains("hello") && request.contains("content-length: 19"),
        "{request}"
    );
    assert_eq!(sender.counts().unsure, 1);
}

#[tokio::test]
async fn silence_after_delivery_is_unsure() {
    let (base, delivered) = leaving(ms(1000)).await;
    let limits = Limits {
        request_max: ms(300),
        ..Limits::default()
    };
    let sender = Sender::with_limits(&base, token(), limits).expect("a sender");
    let start = clock::monotonic();
    let refused = sender.call(message()).await.expect_err("silence");
    assert!(matches!(refused, Refused::Unsure { .. }), "{refused:?}");
    assert!(start.elapsed() >= ms(300) && start.elapsed() < ms(900));
    assert!(delivered.await.expect("delivered").contains("hello"));
}

#[tokio::test]
async fn a_refused_token_is_not_tried_again() {
    let server = Server::new(|seen| {
        if seen.header("authorization").is_some() {
            reply(401, &[], &json!({"message": "401: Unauthorized", "code": 0}))
        } else {
            fine()
        }
    })
    .await;
    let sender = server.sender();
    for _ in 0..3 {
        let refused = sender.call(message()).await.expect_err("refused");
        assert_eq!(refused, Refused::no(401, 0, "401: Unauthorized"));
    }
    assert_eq!(server.seen().len(), 1);
    let follow_up = Call::post("/webhooks/9/its-token", json!({"content": "hello"}));
    sender.call(follow_up.unsigned()).await.expect("needs no token");
}

#[tokio::test]
async fn many_refusals_stop_every_call_until_there_is_room_again() {
    let server = Server::new(|seen| {
        if seen.path.contains("/channels/2/") {
            return too_many("shared", 0.0);
        }
        reply(403, &[], &json!({"message": "Missing Access", "code": 50001}))
    })
    .await;
    let sender = server.guarded(3, ms(700));
    // Shared limits are not held against the bot: it tries five times and is as free as before.
    let shared = Call::post("/channels/2/messages", json!({"content": "x"}));
    assert!(matches!(sender.call(shared).await, Err(Refused::Later { .. })));
    assert_eq!(server.seen().len(), 5);
    for _ in 0..3 {
        assert!(matches!(
            sender.call(message()).await,
            Err(Refused::No { code: 50001, .. })
        ));
    }
    for call in [message(), Call::get("/users/@me"), message().unsigned()] {
        let refused = sender.call(call).await.expect_err("put off");
        assert!(
            matches!(refused, Refused::Later { wait: Some(wait), .. } if wait <= ms(700)),
            "{refused:?}"
        );
    }
    assert_eq!((server.seen().len(), sender.counts().held), (8, 3));
    clock::wait(ms(700)).await;
    assert!(matches!(sender.call(message()).await, Err(Refused::No { .. })));
}
