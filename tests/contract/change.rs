//! Committing: all or nothing, on the expected version, once for every line that was heard.

use wrackline::store::{Change, NewPost, StoreError};

use super::{Case, entries, heard, post, posts, strings};

checks![
    each_commit_raises_the_version_by_one,
    a_commit_on_another_version_is_a_conflict,
    entries_must_continue_the_numbering,
    the_first_answer_is_kept,
    a_line_heard_before_is_a_repeat_and_changes_nothing,
    a_repeat_is_told_as_such_even_when_its_post_exists,
    an_inbound_id_means_something_in_its_place_alone,
    a_post_key_is_unique_for_ever,
    a_post_needs_a_key,
    covered_keys_are_known_and_call_for_nothing,
    covering_a_key_again_is_harmless,
    keys_of_one_place_are_free_in_another,
];

async fn each_commit_raises_the_version_by_one(case: &Case<'_>) {
    let (place, other) = (case.place().await, case.place().await);
    assert_eq!(
        case.store
            .commit(place, 1, &entries([1]))
            .await
            .expect("a commit"),
        2
    );
    assert_eq!(
        case.store
            .commit(place, 2, &Change::default())
            .await
            .expect("a commit"),
        3
    );
    assert_eq!(case.version(place).await, 3);
    assert_eq!(case.version(other).await, 1);
}

async fn a_commit_on_another_version_is_a_conflict(case: &Case<'_>) {
    let place = case.place_with(&entries([1])).await;
    case.commit(place, &entries([2])).await;
    for stale in [0, 1, 3, -1] {
        let refused = case.store.commit(place, stale, &entries([3])).await;
        assert!(
            matches!(refused, Err(StoreError::Conflict)),
            "version {stale}: {refused:?}"
        );
    }
    let head = case.store.head(place).await.expect("a head").expect("the place");
    assert_eq!((head.version, head.last_seq), (2, 2));
}

async fn entries_must_continue_the_numbering(case: &Case<'_>) {
    let place = case.place_with(&entries(1..=2)).await;
    for wrong in [vec![2], vec![4], vec![3, 3], vec![3, 5], vec![0], vec![4, 3]] {
        let error = case.refused(place, &entries(wrong.clone())).await;
        assert!(matches!(error, StoreError::Conflict), "{wrong:?}: {error:?}");
    }
    case.commit(place, &entries([3, 4])).await;
}

async fn the_first_answer_is_kept(case: &Case<'_>) {
    let place = case.place().await;
    assert_eq!(case.store.inbound(place, "a").await.expect("a look"), None);
    case.commit(
        place,
        &Change {
            inbound: Some(heard("a")),
            ..entries([1])
        },
    )
    .await;
    assert_eq!(
        case.store.inbound(place, "a").await.expect("a look"),
        Some(heard("a").answer)
    );
    assert_eq!(
        case.store.inbound(place, "A").await.expect("a look"),
        None,
        "ids are compared byte for byte"
    );
}

async fn a_line_heard_before_is_a_repeat_and_changes_nothing(case: &Case<'_>) {
    let place = case
        .place_with(&Change {
            inbound: Some(heard("a")),
            ..entries([1])
        })
        .await;
    let mut again = heard("a");
    again.answer = "another answer".to_owned();
    let error = case
        .refused(
            place,
            &Change {
                inbound: Some(again),
                ..entries([2])
            },
        )
        .await;
    assert!(matches!(error, StoreError::Repeat), "{error:?}");
    assert_eq!(
        case.store.inbound(place, "a").await.expect("a look"),
        Some(heard("a").answer)
    );
}

async fn a_repeat_is_told_as_such_even_when_its_post_exists(case: &Case<'_>) {
    let change = Change {
        inbound: Some(heard("a")),
        posts: vec![post("k", 1)],
        ..Change::default()
    };
    let place = case.place_with(&change).await;
    let error = case.refused(place, &change).await;
    assert!(
        matches!(error, StoreError::Repeat),
        "a conflict would be retried for ever: {error:?}"
    );
}

async fn an_inbound_id_means_something_in_its_place_alone(case: &Case<'_>) {
    let (north, south) = (case.place().await, case.place().await);
    case.commit(
        north,
        &Change {
            inbound: Some(heard("a")),
            ..entries([1])
        },
    )
    .await;
    assert_eq!(case.store.inbound(south, "a").await.expect("a look"), None);
    case.commit(
        south,
        &Change {
            inbound: Some(heard("a")),
            ..entries([1])
        },
    )
    .await;
}

async fn a_post_key_is_unique_for_ever(case: &Case<'_>) {
    let two_keys = NewPost {
        keys: strings(["k", "step 2"]),
        ..post("k", 1)
    };
    let place = case.place_with(&posts([two_keys])).await;
    for key in ["k", "step 2"] {
        let error = case
            .refused(
                place,
                &Change {
                    posts: vec![post(key, 9)],
                    ..entries([1])
                },
            )
            .await;
        assert!(matches!(error, StoreError::Conflict), "{key}: {error:?}");
    }
    let error = case
        .refused(place, &posts([post("new", 1), post("new", 1)]))
        .await;
    assert!(
        matches!(error, StoreError::Conflict),
        "twice in one change: {error:?}"
    );
    let known = case
        .store
        .known_keys(place, &strings(["step 2", "new", "k"]))
        .await
        .expect("keys");
    assert_eq!(known, ["k", "step 2"]);
}

async fn a_post_needs_a_key(case: &Case<'_>) {
    let place = case.place().await;
    let error = case
        .refused(
            place,
            &posts([NewPost {
                keys: Vec::new(),
                ..post("", 1)
            }]),
        )
        .await;
    assert!(matches!(error, StoreError::Other { .. }), "{error:?}");
}

async fn covered_keys_are_known_and_call_for_nothing(case: &Case<'_>) {
    let place = case.place().await;
    case.commit(
        place,
        &Change {
            covered: strings(["a", "b"]),
            ..Change::default()
        },
    )
    .await;
    let known = case
        .store
        .known_keys(place, &strings(["b", "c", "a"]))
        .await
        .expect("keys");
    assert_eq!(known, ["a", "b"]);
    assert!(case.store.posts(place, i64::MIN).await.expect("posts").is_empty());
    let error = case.refused(place, &posts([post("a", 1)])).await;
    assert!(matches!(error, StoreError::Conflict), "{error:?}");
    assert!(case.store.known_keys(place, &[]).await.expect("keys").is_empty());
}

async fn covering_a_key_again_is_harmless(case: &Case<'_>) {
    let place = case.place_with(&posts([post("out", 1)])).await;
    let covered = Change {
        covered: strings(["out", "new", "new"]),
        ..Change::default()
    };
    case.commit(place, &covered).await;
    case.commit(place, &covered).await;
    let known = case
        .store
        .known_keys(place, &strings(["out", "new"]))
        .await
        .expect("keys");
    assert_eq!(known, ["new", "out"]);
    assert_eq!(case.store.posts(place, 0).await.expect("posts")[0].keys, ["out"]);
}

async fn keys_of_one_place_are_free_in_another(case: &Case<'_>) {
    let (north, south) = (case.place_with(&posts([post("k", 1)])).await, case.place().await);
    assert!(
        case.store
            .known_keys(south, &strings(["k"]))
            .await
            .expect("keys")
            .is_empty()
    );
    case.commit(south, &posts([post("k", 1)])).await;
    for place in [north, south] {
        let stored = case.store.posts(place, 0).await.expect("posts");
        assert_eq!(stored.iter().map(|post| post.place).collect::<Vec<_>>(), [place]);
    }
}
