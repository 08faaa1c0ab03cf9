//! Limits of one bucket.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use serde_json::json;

use super::super::{Call, Limits, Refused};
use super::{Server, fine, ms, reply, too_many};
use crate::clock;

fn message(channel: u64) -> Call {
    Call::post(
        format!("/channels/{channel}/messages"),
        json!({"content": "hello"}),
    )
}

#[tokio::test]
async fn an_exhausted_bucket_is_waited_for_until_it_is_full_again() {
    let server = Server::new(|seen| {
        let remaining = if seen.nth % 2 == 0 { "1" } else { "0" };
        let headers = [
            ("x-ratelimit-bucket", "b1"),
            ("x-ratelimit-limit", "2"),
            ("x-ratelimit-remaining", remaining),
            ("x-ratelimit-reset-after", "0.4"),
        ];
        reply(200, &headers, &json!({"id": "1"}))
    })
    .await;
    let sender = server.sender();
    for _ in 0..3 {
        sender.call(message(1)).await.expect("sent");
    }
    let arrivals = server.arrivals();
    assert!(arrivals[1] < ms(300), "{arrivals:?}");
    assert!(arrivals[2] >= arrivals[1] + ms(400), "{arrivals:?}");
    assert_eq!(sender.counts().refused_429, 0);
}

#[tokio::test]
async fn edits_of_different_messages_share_their_bucket() {
    let server = Server::new(|seen| {
        let remaining = if seen.nth == 0 { "0" } else { "5" };
        let headers = [
            ("x-ratelimit-bucket", "edits"),
            ("x-ratelimit-limit", "5"),
            ("x-ratelimit-remaining", remaining),
            ("x-ratelimit-reset-after", "0.3"),
        ];
        reply(200, &headers, &json!({}))
    })
    .await;
    let sender = server.sender();
    for id in [11, 12] {
        let call = Call::patch(format!("/channels/1/messages/{id}"), json!({"content": "x"}));
        sender.call(call).await.expect("sent");
    }
    let arrivals = server.arrivals();
    assert!(arrivals[1] >= ms(300), "{arrivals:?}");
    assert_eq!(server.seen()[1].path, "/api/v10/channels/1/messages/12");
}

#[tokio::test]
async fn a_short_limit_is_waited_for_by_the_longer_of_header_and_body() {
    for scope in ["user", "shared"] {
        let server = Server::new(move |seen| {
            if seen.nth == 0 {
                too_many(scope, 0.35)
            } else {
                fine()
            }
        })
        .await;
        let sender = server.sender();
        let answer = sender.call(message(1)).await.expect("sent in the end");
        assert_eq!(answer["id"], "7");
        let seen = server.seen();
        assert_eq!(seen.len(), 2);
        assert_eq!((&seen[0].body, &seen[0].path), (&seen[1].body, &seen[1].path));
        assert!(server.arrivals()[1] >= ms(350), "{:?}", server.arrivals());
        assert_eq!((sender.counts().refused_429, sender.counts().sent), (1, 2));
    }
}

#[tokio::test]
async fn a_header_longer_than_the_body_is_obeyed() {
    let server = Server::new(|seen| {
        let body = json!({"message": "slow down", "retry_after": 0.1, "global": false});
        let headers = [("retry-after", "1"), ("x-ratelimit-scope", "user")];
        if seen.nth == 0 {
            reply(429, &headers, &body)
        } else {
            fine()
        }
    })
    .await;
    server.sender().call(message(1)).await.expect("sent in the end");
    assert!(server.arrivals()[1] >= ms(1000), "{:?}", server.arrivals());
}

#[tokio::test]
async fn who_waits_for_a_limit_keeps_the_bucket_and_the_others_follow_one_by_one() {
    let (now, most) = (Arc::new(AtomicUsize::new(0)), Arc::new(AtomicUsize::new(0)));
    let (here, highest) = (now.clone(), most.clone());
    let server = Server::slow(move |seen| {
        let (now, most) = (here.clone(), highest.clone());
        Box::pin(async move {
            most.fetch_max(now.fetch_add(1, Ordering::SeqCst) + 1, Ordering::SeqCst);
            clock::wait(ms(20)).await;
            now.fetch_sub(1, Ordering::SeqCst);
            if seen.nth == 0 {
                too_many("user", 0.4)
            } else {
                fine()
            }
        })
    })
    .await;
    let sender = server.sender();
    let calls = (0..6).map(|_| sender.call(message(1)));
    for result in futures_util::future::join_all(calls).await {
        result.expect("sent in the end");
    }
    let arrivals = server.arrivals();
    assert_eq!(arrivals.len(), 7);
    assert!(arrivals[1] >= ms(400), "{arrivals:?}");
    assert_eq!(most.load(Ordering::SeqCst), 1);
}

#[tokio::test]
async fn another_channel_does_not_wait() {
    let server = Server::new(|seen| {
        if seen.path.contains("/channels/1/") && seen.nth == 0 {
            too_many("user", 0.6)
        } else {
            fine()
        }
    })
    .await;
    let sender = server.sender();
    let other = async {
        clock::wait(ms(100)).await;
        sender.call(message(2)).await
    };
    let (first, second) = tokio::join!(sender.call(message(1)), other);
    first.and(second).expect("both sent");
    let seen = server.seen();
    assert!(seen[1].path.contains("/channels/2/"), "{}", seen[1].path);
    assert!(server.arrivals()[1] < ms(500), "{:?}", server.arrivals());
}

#[tokio::test]
async fn a_long_limit_is_reported_at_once_and_the_bucket_stays_closed() {
    let server = Server::new(|seen| {
        if seen.nth == 0 {
            too_many("user", 1.2)
        } else {
            fine()
        }
    })
    .await;
    let limits = Limits {
        wait_max: ms(300),
        ..Limits::default()
    };
    let sender = server.limited(limits);
    let start = clock::monotonic();
    // The second stands in the queue while the first is told: it is told as well, without going out.
    let (first, second) = tokio::join!(sender.call(message(1)), sender.call(message(1)));
    for result in [first, second, sender.call(message(1)).await] {
        match result {
            Err(Refused::Later { wait: Some(wait), .. }) => {
                assert!(wait > ms(800) && wait <= ms(1200), "{wait:?}");
            }
            other => panic!("{other:?}"),
        }
    }
    assert!(start.elapsed() < ms(300), "{:?}", start.elapsed());
    assert_eq!(server.seen().len(), 1);
    sender.call(message(2)).await.expect("another channel is open");
    clock::wait(ms(1200)).await;
    sender.call(message(1)).await.expect("open again");
    let counts = sender.counts();
    assert_eq!((counts.held, counts.failed, counts.answered), (2, 1, 2));
}

#[tokio::test]
async fn a_bucket_exhausted_for_long_is_closed_for_all_its_routes() {
    let server = Server::new(|_| {
        let headers = [
            ("x-ratelimit-bucket", "names"),
            ("x-ratelimit-limit", "2"),
            ("x-ratelimit-remaining", "0"),
            ("x-ratelimit-reset-after", "600"),
        ];
        reply(200, &headers, &json!({}))
    })
    .await;
    let sender = server.sender();
    let name = || Call::patch("/channels/1", json!({"name": "pools"}));
    sender.call(name()).await.expect("sent");
    match sender.call(name()).await {
        Err(Refused::Later { wait: Some(wait), .. }) => assert!(wait > ms(590_000), "{wait:?}"),
        other => panic!("{other:?}"),
    }
    assert_eq!(server.seen().len(), 1);
}

#[tokio::test]
async fn the_callers_own_limit_ends_a_wait_before_it_begins() {
    let server = Server::new(|_| too_many("user", 0.8)).await;
    let sender = server.sender();
    let start = clock::monotonic();
    let refused = sender
        .call(message(1).within(ms(400)))
        .await
        .expect_err("too late");
    assert!(
        matches!(refused, Refused::Later { wait: Some(wait), .. } if wait == ms(800)),
        "{refused:?}"
    );
    assert!(start.elapsed() < ms(400));
}

#[tokio::test]
async fn a_caller_who_gives_up_does_not_let_the_next_one_go_early() {
    let server = Server::new(|seen| {
        if seen.nth == 0 {
            too_many("user", 0.5)
        } else {
            fine()
        }
    })
    .await;
    let sender = server.sender();
    let gave_up = tokio::time::timeout(ms(150), sender.call(message(1))).await;
    assert!(gave_up.is_err());
    sender.call(message(1)).await.expect("sent in the end");
    assert!(server.arrivals()[1] >= ms(500), "{:?}", server.arrivals());
}

#[tokio::test]
async fn answers_to_interactions_stand_in_no_queue() {
    let server = Server::slow(|_| {
        Box::pin(async {
            clock::wait(ms(250)).await;
            reply(200, &[], &json!({}))
        })
    })
    .await;
    let sender = server.sender();
    let start = clock::monotonic();
    let calls = (0..8).map(|id| {
        let path = format!("/interactions/{id}/token-{id}/callback");
        sender.call(Call::post(path, json!({"type": 5})).unsigned())
    });
    for result in futures_util::future::join_all(calls).await {
        result.expect("answered");
    }
    assert!(start.elapsed() < ms(1000), "{:?}", start.elapsed());
}
