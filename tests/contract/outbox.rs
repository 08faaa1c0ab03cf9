//! Posts: wanted, claimed in turn, raised.

use wrackline::store::{Change, NewPost, PostRow, PostState, Settled};

use super::{Case, MINUTE, names, post, posts, strings};

checks![
    a_new_post_is_pending_from_the_moment_it_is_wanted,
    posts_are_listed_from_a_moment_on,
    a_post_is_found_in_its_own_place_alone,
    a_claim_takes_what_is_due_in_order,
    a_claim_takes_no_more_than_asked_and_leaves_the_rest_in_turn,
    a_claim_reaches_across_places,
    a_lease_keeps_others_away_until_it_ends,
    a_raised_post_that_was_out_is_due_at_once,
    a_raised_post_that_waits_keeps_its_moment,
    only_posts_that_live_are_raised,
    posts_of_another_place_are_not_raised,
];

fn raise(ids: &[i64]) -> Change {
    Change {
        raise: ids.to_vec(),
        ..Change::default()
    }
}

fn sent(version: i64, at_ms: i64) -> Settled {
    Settled::Sent {
        message: format!("m{version}"),
        version,
        at_ms,
        shown: format!("{version}.shown"),
        known: Vec::new(),
    }
}

async fn a_new_post_is_pending_from_the_moment_it_is_wanted(case: &Case<'_>) {
    let wanted = NewPost {
        keys: strings(["nonce", "a", "B"]),
        ..post("nonce", 7 * MINUTE)
    };
    let place = case.place_with(&posts([wanted.clone()])).await;
    let stored = case.store.posts(place, 0).await.expect("posts").remove(0);
    let expected = PostRow {
        id: stored.id,
        place,
        keys: wanted.keys,
        destination: wanted.destination,
        body: wanted.body,
        at_ms: wanted.at_ms,
        not_after_ms: wanted.not_after_ms,
        wanted: 1,
        sent: 0,
        message: None,
        state: PostState::Pending,
        attempts: 0,
        next_at_ms: 7 * MINUTE,
        error: None,
        shown: None,
    };
    assert_eq!(stored, expected);
    assert_eq!(case.post(place, stored.id).await, expected);
}

async fn posts_are_listed_from_a_moment_on(case: &Case<'_>) {
    let place = case
        .place_with(&posts([post("c", 30), post("a", 10), post("b", 20)]))
        .await;
    let since = async |moment| case.store.posts(place, moment).await.expect("posts");
    assert_eq!(names(&since(0).await), ["c", "a", "b"], "in order of number");
    assert_eq!(names(&since(20).await), ["c", "b"]);
    assert!(since(31).await.is_empty());
}

async fn a_post_is_found_in_its_own_place_alone(case: &Case<'_>) {
    let (north, south) = (case.place_with(&posts([post("a", 1)])).await, case.place().await);
    let id = case.store.posts(north, 0).await.expect("posts")[0].id;
    assert_eq!(case.store.post(south, id).await.expect("a look"), None);
    assert_eq!(case.store.post(north, id + 1).await.expect("a look"), None);
    assert!(case.store.posts(south, 0).await.expect("posts").is_empty());
    case.claim(1, "x").await;
    assert!(
        !case
            .store
            .settle(south, id, "x", &sent(1, 1))
            .await
            .expect("an end")
    );
    assert_eq!(case.post(north, id).await.state, PostState::Pending);
}

async fn a_claim_takes_what_is_due_in_order(case: &Case<'_>) {
    let list = [post("late", 21), post("b", 20), post("a", 10), post("tied", 20)];
    let place = case.place_with(&posts(list)).await;
    assert!(case.claim(9, "early").await.is_empty());
    let claimed = case.store.claim(20, 500, "x", 100).await.expect("a claim");
    assert_eq!(names(&claimed), ["a", "b", "tied"]);
    for row in claimed {
        assert_eq!(
            (row.attempts, row.next_at_ms, row.state),
            (1, 500, PostState::Pending)
        );
        assert_eq!(
            case.post(place, row.id).await,
            row,
            "what is returned is what is stored"
        );
    }
}

async fn a_claim_takes_no_more_than_asked_and_leaves_the_rest_in_turn(case: &Case<'_>) {
    // The later a post was wanted, the lower its number: order of insertion must not matter.
    case.place_with(&posts((1..=7).rev().map(|n| post(&n.to_string(), n))))
        .await;
    let mut taken = Vec::new();
    for (limit, lease) in [(0, "none"), (3, "x"), (3, "y"), (3, "z"), (3, "over")] {
        let claimed = case.store.claim(9, 99, lease, limit).await.expect("a claim");
        assert!(claimed.len() as i64 <= limit);
        taken.extend(claimed.iter().map(|post| post.keys[0].clone()));
    }
    assert_eq!(
        taken,
        strings(["1", "2", "3", "4", "5", "6", "7"]),
        "longest waiting first, each once"
    );
}

async fn a_claim_reaches_across_places(case: &Case<'_>) {
    let north = case.place_with(&posts([post("a", 30), post("b", 10)])).await;
    let south = case.place_with(&posts([post("c", 20)])).await;
    let claimed = case.claim(30, "x").await;
    assert_eq!(names(&claimed), ["b", "c", "a"]);
    assert_eq!(
        claimed.iter().map(|post| post.place).collect::<Vec<_>>(),
        [north, south, north]
    );
}

async fn a_lease_keeps_others_away_until_it_ends(case: &Case<'_>) {
    case.place_with(&posts([post("a", 10)])).await;
    let claim = async |now_ms, until_ms, lease: &str| {
        let claimed = case
            .store
            .claim(now_ms, until_ms, lease, 9)
            .await
            .expect("a claim");
        claimed.into_iter().map(|post| post.attempts).collect::<Vec<_>>()
    };
    assert_eq!(claim(10, 100, "x").await, [1]);
    assert!(claim(10, 100, "y").await.is_empty());
    assert!(claim(99, 200, "y").await.is_empty());
    assert_eq!(
        claim(100, 200, "y").await,
        [2],
        "who died in the middle holds nothing up"
    );
}

async fn a_raised_post_that_was_out_is_due_at_once(case: &Case<'_>) {
    let place = case.place_with(&posts([post("a", 10), post("b", 15)])).await;
    let id = case.claim(12, "x").await[0].id;
    assert!(
        case.store
            .settle(place, id, "x", &sent(1, 12))
            .await
            .expect("an end")
    );
    case.commit(place, &raise(&[id])).await;
    let row = case.post(place, id).await;
    let life = (
        row.wanted,
        row.sent,
        row.message.as_deref(),
        row.state,
        row.attempts,
        row.next_at_ms,
    );
    assert_eq!(life, (2, 1, Some("m1"), PostState::Pending, 0, 0));
    assert_eq!(names(&case.claim(13, "y").await), ["a"]);
    assert!(
        case.store
            .settle(place, id, "y", &sent(2, 13))
            .await
            .expect("an end")
    );
    assert_eq!(case.post(place, id).await.state, PostState::Sent);
}

async fn a_raised_post_that_waits_keeps_its_moment(case: &Case<'_>) {
    let place = case.place_with(&posts([post("a", 10)])).await;
    let id = case.store.posts(place, 0).await.expect("posts")[0].id;
    case.commit(place, &raise(&[id])).await;
    let row = case.post(place, id).await;
    assert_eq!(
        (row.wanted, row.attempts, row.next_at_ms),
        (2, 0, 10),
        "not before it is wanted"
    );
    case.claim(10, "x").await;
    let retry = Settled::Retry {
        next_at_ms: 40,
        error: "busy".to_owned(),
    };
    assert!(case.store.settle(place, id, "x", &retry).await.expect("an end"));
    case.commit(place, &raise(&[id])).await;
    let row = case.post(place, id).await;
    assert_eq!(
        (row.wanted, row.attempts, row.next_at_ms),
        (3, 0, 40),
        "not before the transport allows it"
    );
}

async fn only_posts_that_live_are_raised(case: &Case<'_>) {
    let place = case.place_with(&posts([post("old", 10), post("lost", 11)])).await;
    let ids: Vec<i64> = case.claim(20, "x").await.iter().map(|post| post.id).collect();
    let dead = Settled::Dead {
        error: "gone".to_owned(),
    };
    assert!(
        case.store
            .settle(place, ids[0], "x", &Settled::Expired)
            .await
            .expect("an end")
    );
    assert!(
        case.store
            .settle(place, ids[1], "x", &dead)
            .await
            .expect("an end")
    );
    let before = case.store.posts(place, 0).await.expect("posts");
    case.commit(place, &raise(&[ids[0], ids[1], ids[1] + 50])).await;
    assert_eq!(case.store.posts(place, 0).await.expect("posts"), before);
    assert!(case.claim(i64::MAX - 10 * MINUTE, "y").await.is_empty());
}

async fn posts_of_another_place_are_not_raised(case: &Case<'_>) {
    let (north, south) = (case.place_with(&posts([post("a", 1)])).await, case.place().await);
    let before = case.store.posts(north, 0).await.expect("posts");
    case.commit(south, &raise(&[before[0].id])).await;
    assert_eq!(case.store.posts(north, 0).await.expect("posts"), before);
}
