//! The limit over everything.

use serde_json::json;

use super::super::{Call, Refused};
use super::{Server, fine, ms, per_s, reply, too_many};
use crate::clock;

fn read(channel: usize) -> Call {
    Call::get(format!("/channels/{channel}"))
}

#[tokio::test]
async fn two_hundred_calls_at_fifty_a_second_take_three_seconds() {
    let server = Server::new(|_| fine()).await;
    let sender = server.sender();
    let start = clock::monotonic();
    let calls = (0..200).map(|channel| sender.call(read(channel)));
    for result in futures_util::future::join_all(calls).await {
        result.expect("sent");
    }
    let took = start.elapsed();
    assert!(took >= ms(3000) && took <= ms(4600), "{took:?}");
    // Any one second has no more than fifty; the requests' own way may shift them by a little.
    let mut arrivals = server.arrivals();
    arrivals.sort();
    for pair in arrivals.windows(51) {
        assert!(pair[50] - pair[0] >= ms(900), "{pair:?}");
    }
}

#[tokio::test]
async fn two_full_seconds_do_not_meet_at_the_edge() {
    let server = Server::new(|_| fine()).await;
    let sender = server.limited(per_s(10));
    sender.call(read(0)).await.expect("sent");
    clock::wait(ms(850)).await;
    let calls = (1..16).map(|channel| sender.call(read(channel)));
    for result in futures_util::future::join_all(calls).await {
        result.expect("sent");
    }
    let mut arrivals = server.arrivals();
    arrivals.sort();
    for pair in arrivals.windows(11) {
        assert!(pair[10] - pair[0] >= ms(900), "{arrivals:?}");
    }
}

#[tokio::test]
async fn after_a_limit_over_everything_one_tries_alone_and_the_rest_keep_their_distance() {
    let server = Server::slow(|seen| {
        Box::pin(async move {
            if seen.nth == 0 {
                return too_many("global", 0.5);
            }
            clock::wait(ms(100)).await;
            fine()
        })
    })
    .await;
    let sender = server.limited(per_s(20));
    let first = sender.call(read(0));
    let others = async {
        clock::wait(ms(150)).await;
        futures_util::future::join_all((1..9).map(|channel| sender.call(read(channel)))).await
    };
    let (first, others) = tokio::join!(first, others);
    first.expect("sent in the end");
    assert!(others.into_iter().all(|result| result.is_ok()));
    let arrivals = server.arrivals();
    assert_eq!(arrivals.len(), 10);
    assert!(arrivals[1] >= ms(500), "{arrivals:?}");
    assert!(
        arrivals[2] >= arrivals[1] + ms(100),
        "the first is alone: {arrivals:?}"
    );
    for pair in arrivals[2..].windows(2) {
        assert!(pair[1] - pair[0] >= ms(25), "an even pace: {arrivals:?}");
    }
    let span = arrivals[9] - arrivals[2];
    assert!(span >= ms(7 * 50 - 25), "{arrivals:?}");
}

#[tokio::test]
async fn a_limit_over_everything_leaves_interactions_alone() {
    let server = Server::new(|seen| {
        if seen.path.ends_with("/channels/1") {
            too_many("global", 30.0)
        } else {
            fine()
        }
    })
    .await;
    let sender = server.sender();
    for channel in [1, 2] {
        let refused = sender.call(read(channel)).await.expect_err("closed");
        assert!(
            matches!(refused, Refused::Later { wait: Some(_), .. }),
            "{refused:?}"
        );
    }
    assert_eq!(server.seen().len(), 1);
    let callback = Call::post("/interactions/5/its-token/callback", json!({"type": 5}));
    sender.call(callback.unsigned()).await.expect("not bound");
    let follow_up = Call::post("/webhooks/9/its-token", json!({"content": "hello"}));
    sender.call(follow_up.unsigned()).await.expect("not bound");
    assert!(
        server.seen()[1..]
            .iter()
            .all(|seen| seen.header("authorization").is_none())
    );
}

#[tokio::test]
async fn follow_ups_are_not_counted_in_the_limit_over_everything() {
    let server = Server::new(|_| fine()).await;
    let sender = server.limited(per_s(2));
    let start = clock::monotonic();
    for id in 0..12 {
        let path = format!("/webhooks/9/token-{id}/messages/@original");
        sender
            .call(Call::patch(path, json!({"content": "x"})).unsigned())
            .await
            .expect("sent");
    }
    assert!(start.elapsed() < ms(900), "{:?}", start.elapsed());
}

#[tokio::test]
async fn what_stands_in_front_of_the_platform_limits_the_whole_address() {
    let server = Server::new(|_| {
        let mut page = reply(429, &[("retry-after", "60")], &json!(null));
        *page.body_mut() = "<html>slow down</html>".into();
        page
    })
    .await;
    let sender = server.sender();
    for channel in [1, 2] {
        let refused = sender.call(read(channel)).await.expect_err("closed");
        assert!(matches!(refused, Refused::Later { wait: Some(wait), .. } if wait > ms(59_000)));
    }
    assert_eq!(server.seen().len(), 1);
}
