//! How an attempt to send ends, and what a lost lease or a change in the middle does to it.

use wrackline::store::{Change, PlaceId, PostState, Settled};

use super::{Case, MINUTE, names, post, posts};

checks![
    a_post_that_was_sent_is_done,
    what_is_known_once_it_is_out_is_known_with_its_end_alone,
    a_retry_waits_for_its_moment,
    an_expired_post_is_done,
    a_dead_post_is_done_and_says_why,
    sending_clears_the_error_of_an_earlier_attempt,
    a_lost_lease_settles_nothing,
    an_attempt_is_settled_once,
    a_post_that_was_never_claimed_is_not_settled,
    a_change_in_the_middle_is_sent_after_it,
    a_version_that_is_not_the_newest_leaves_the_post_due,
    a_retry_after_a_change_in_the_middle_starts_counting_anew,
];

/// A place with one post, claimed at 10 under the lease "x".
async fn claimed(case: &Case<'_>) -> (PlaceId, i64) {
    let place = case.place_with(&posts([post("a", 10)])).await;
    (place, case.claim(10, "x").await[0].id)
}

fn sent(version: i64, at_ms: i64) -> Settled {
    sent_with(version, at_ms, &[])
}

/// The same, some keys being known from then on.
fn sent_with(version: i64, at_ms: i64, known: &[&str]) -> Settled {
    Settled::Sent {
        message: format!("m{version}"),
        version,
        at_ms,
        shown: format!("{version}.shown"),
        known: keys(known),
    }
}

fn keys(all: &[&str]) -> Vec<String> {
    all.iter().map(|key| (*key).to_owned()).collect()
}

fn retry(next_at_ms: i64) -> Settled {
    Settled::Retry {
        next_at_ms,
        error: "busy".to_owned(),
    }
}

async fn a_post_that_was_sent_is_done(case: &Case<'_>) {
    let (place, id) = claimed(case).await;
    assert!(
        case.store
            .settle(place, id, "x", &sent(1, 12))
            .await
            .expect("an end")
    );
    let row = case.post(place, id).await;
    let life = (
        row.state,
        row.wanted,
        row.sent,
        row.message.as_deref(),
        row.attempts,
    );
    assert_eq!(life, (PostState::Sent, 1, 1, Some("m1"), 1));
    assert!(case.claim(100 * MINUTE, "y").await.is_empty());
}

async fn what_is_known_once_it_is_out_is_known_with_its_end_alone(case: &Case<'_>) {
    let (place, id) = claimed(case).await;
    let sent = sent_with(1, 12, &["two"]);
    for (lease, held) in [("lost", false), ("x", true), ("x", false)] {
        let settled = case.store.settle(place, id, lease, &sent).await;
        assert_eq!(settled.expect("an end"), held);
        let known = case.store.known_keys(place, &keys(&["one", "two"])).await;
        let known = known.expect("keys");
        let expected = if lease == "x" { keys(&["two"]) } else { Vec::new() };
        assert_eq!(known, expected);
    }
    assert_eq!(case.post(place, id).await.state, PostState::Sent);
}

async fn a_retry_waits_for_its_moment(case: &Case<'_>) {
    let (place, id) = claimed(case).await;
    assert!(
        case.store
            .settle(place, id, "x", &retry(50))
            .await
            .expect("an end")
    );
    let row = case.post(place, id).await;
    let life = (row.state, row.attempts, row.next_at_ms, row.error.as_deref());
    assert_eq!(life, (PostState::Pending, 1, 50, Some("busy")));
    assert!(case.claim(49, "y").await.is_empty());
    assert_eq!(case.claim(50, "y").await[0].attempts, 2);
}

async fn an_expired_post_is_done(case: &Case<'_>) {
    let (place, id) = claimed(case).await;
    assert!(
        case.store
            .settle(place, id, "x", &Settled::Expired)
            .await
            .expect("an end")
    );
    let row = case.post(place, id).await;
    assert_eq!((row.state, row.sent, row.error), (PostState::Expired, 0, None));
    assert!(case.claim(100 * MINUTE, "y").await.is_empty());
}

async fn a_dead_post_is_done_and_says_why(case: &Case<'_>) {
    let (place, id) = claimed(case).await;
    let dead = Settled::Dead {
        error: "no such channel".to_owned(),
    };
    assert!(case.store.settle(place, id, "x", &dead).await.expect("an end"));
    let row = case.post(place, id).await;
    assert_eq!(
        (row.state, row.error.as_deref()),
        (PostState::Dead, Some("no such channel"))
    );
    assert!(case.claim(100 * MINUTE, "y").await.is_empty());
}

async fn sending_clears_the_error_of_an_earlier_attempt(case: &Case<'_>) {
    let (place, id) = claimed(case).await;
    assert!(
        case.store
            .settle(place, id, "x", &retry(50))
            .await
            .expect("an end")
    );
    assert_eq!(case.claim(50, "y").await[0].error.as_deref(), Some("busy"));
    assert!(
        case.store
            .settle(place, id, "y", &sent(1, 51))
            .await
            .expect("an end")
    );
    assert_eq!(case.post(place, id).await.error, None);
}

async fn a_lost_lease_settles_nothing(case: &Case<'_>) {
    let (place, id) = claimed(case).await;
    let end_of_lease = 10 + 10 * MINUTE;
    assert_eq!(names(&case.claim(end_of_lease, "y").await), ["a"]);
    let before = case.post(place, id).await;
    let dead = Settled::Dead {
        error: "late".to_owned(),
    };
    for settled in [sent(1, end_of_lease), retry(1), Settled::Expired, dead] {
        let held = case.store.settle(place, id, "x", &settled).await.expect("an end");
        assert!(!held, "{settled:?}");
        assert_eq!(case.post(place, id).await, before);
    }
    assert!(
        case.store
            .settle(place, id, "y", &sent(1, end_of_lease))
            .await
            .expect("an end")
    );
}

async fn an_attempt_is_settled_once(case: &Case<'_>) {
    for settled in [
        sent(1, 12),
        retry(50),
        Settled::Expired,
        Settled::Dead {
            error: "no".to_owned(),
        },
    ] {
        let (place, id) = claimed(case).await;
        assert!(case.store.settle(place, id, "x", &settled).await.expect("an end"));
        let before = case.post(place, id).await;
        assert!(
            !case
                .store
                .settle(place, id, "x", &sent(1, 13))
                .await
                .expect("a second end"),
            "{settled:?}"
        );
        assert_eq!(case.post(place, id).await, before);
    }
}

async fn a_post_that_was_never_claimed_is_not_settled(case: &Case<'_>) {
    let place = case.place_with(&posts([post("a", 10)])).await;
    let before = case.store.posts(place, 0).await.expect("posts");
    for lease in ["", "x"] {
        assert!(
            !case
                .store
                .settle(place, before[0].id, lease, &sent(1, 12))
                .await
                .expect("an end")
        );
    }
    assert_eq!(case.store.posts(place, 0).await.expect("posts"), before);
}

async fn a_change_in_the_middle_is_sent_after_it(case: &Case<'_>) {
    let (place, id) = claimed(case).await;
    case.commit(
        place,
        &Change {
            raise: vec![id],
            ..Change::default()
        },
    )
    .await;
    assert!(
        case.claim(12, "y").await.is_empty(),
        "the lease holds while the sender is at it"
    );
    assert!(
        case.store
            .settle(place, id, "x", &sent(1, 12))
            .await
            .expect("an end")
    );
    let row = case.post(place, id).await;
    let life = (
        row.state,
        row.wanted,
        row.sent,
        row.message.as_deref(),
        row.attempts,
        row.next_at_ms,
    );
    assert_eq!(life, (PostState::Pending, 2, 1, Some("m1"), 0, 12));
    assert!(
        !case
            .store
            .settle(place, id, "x", &retry(90))
            .await
            .expect("an end"),
        "the lease is over"
    );
    assert_eq!(case.claim(12, "z").await[0].attempts, 1);
    assert!(
        case.store
            .settle(place, id, "z", &sent(2, 13))
            .await
            .expect("an end")
    );
    let row = case.post(place, id).await;
    assert_eq!(
        (row.state, row.sent, row.message.as_deref()),
        (PostState::Sent, 2, Some("m2"))
    );
}

async fn a_version_that_is_not_the_newest_leaves_the_post_due(case: &Case<'_>) {
    let place = case.place_with(&posts([post("a", 10)])).await;
    let id = case.store.posts(place, 0).await.expect("posts")[0].id;
    case.commit(
        place,
        &Change {
            raise: vec![id],
            ..Change::default()
        },
    )
    .await;
    assert_eq!(case.claim(10, "x").await[0].wanted, 2);
    assert!(
        case.store
            .settle(place, id, "x", &sent(1, 12))
            .await
            .expect("an end")
    );
    let row = case.post(place, id).await;
    assert_eq!(
        (row.state, row.sent, row.attempts, row.next_at_ms),
        (PostState::Pending, 1, 0, 12)
    );
}

async fn a_retry_after_a_change_in_the_middle_starts_counting_anew(case: &Case<'_>) {
    let (place, id) = claimed(case).await;
    case.commit(
        place,
        &Change {
            raise: vec![id],
            ..Change::default()
        },
    )
    .await;
    assert!(
        case.store
            .settle(place, id, "x", &retry(50))
            .await
            .expect("an end")
    );
    let row = case.post(place, id).await;
    assert_eq!(
        (row.state, row.wanted, row.attempts, row.next_at_ms),
        (PostState::Pending, 2, 0, 50)
    );
}
