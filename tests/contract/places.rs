//! Places: made, listed, found when they are due.

use wrackline::store::{Change, Head, Settled, StoreError};

use super::{Case, MINUTE, entries, post, posts};

checks![
    a_new_place_has_version_1_and_its_first_entries,
    a_place_may_be_for_practice,
    places_are_listed_in_order_of_number,
    an_unknown_place_has_no_head_no_journal_and_takes_nothing,
    a_place_that_cannot_be_written_whole_is_not_made,
    due_places_come_earliest_first_and_no_more_than_asked,
    the_next_look_is_set_kept_and_taken_away,
    the_next_moment_is_the_earliest_of_places_and_pending_posts,
];

async fn a_new_place_has_version_1_and_its_first_entries(case: &Case<'_>) {
    let change = Change {
        next_at_ms: Some(Some(70)),
        seen_at_ms: Some(60),
        ..entries(1..=2)
    };
    let place = case.place_with(&change).await;
    let head = case.store.head(place).await.expect("a head");
    let expected = Head {
        version: 1,
        last_seq: 2,
        next_at_ms: Some(70),
        seen_at_ms: 60,
        practice: false,
    };
    assert_eq!(head, Some(expected));
    assert_eq!(
        case.store.tail(place, 0).await.expect("a tail").entries,
        change.entries
    );
}

async fn a_place_may_be_for_practice(case: &Case<'_>) {
    let place = case
        .store
        .create_place(true, &Change::default())
        .await
        .expect("a place");
    let head = case.store.head(place).await.expect("a head");
    let expected = Head {
        version: 1,
        last_seq: 0,
        next_at_ms: None,
        seen_at_ms: 0,
        practice: true,
    };
    assert_eq!(head, Some(expected));
}

async fn places_are_listed_in_order_of_number(case: &Case<'_>) {
    assert!(case.store.places().await.expect("places").is_empty());
    let mut made = vec![case.place().await, case.place().await, case.place().await];
    made.sort_unstable();
    made.dedup();
    assert_eq!(made.len(), 3);
    assert_eq!(case.store.places().await.expect("places"), made);
}

async fn an_unknown_place_has_no_head_no_journal_and_takes_nothing(case: &Case<'_>) {
    let unknown = case.place().await + 1;
    assert_eq!(case.store.head(unknown).await.expect("a head"), None);
    let tail = case.store.tail(unknown, 0).await;
    assert!(matches!(tail, Err(StoreError::Other { .. })), "{tail:?}");
    let commit = case.store.commit(unknown, 1, &entries([1])).await;
    assert!(matches!(commit, Err(StoreError::Conflict)), "{commit:?}");
    let line = case.store.porch_add(unknown, "a", 1, None, "{}").await;
    assert!(matches!(line, Err(StoreError::Other { .. })), "{line:?}");
    let key = case.store.key_put(unknown, 1, "hash", false, 1).await;
    assert!(matches!(key, Err(StoreError::Other { .. })), "{key:?}");
}

async fn a_place_that_cannot_be_written_whole_is_not_made(case: &Case<'_>) {
    let gap = case.store.create_place(false, &entries([1, 3])).await;
    assert!(matches!(gap, Err(StoreError::Conflict)), "{gap:?}");
    let late_start = case.store.create_place(false, &entries([2])).await;
    assert!(matches!(late_start, Err(StoreError::Conflict)), "{late_start:?}");
    assert!(case.store.places().await.expect("places").is_empty());
}

async fn due_places_come_earliest_first_and_no_more_than_asked(case: &Case<'_>) {
    let at = |at_ms: Option<i64>| Change {
        next_at_ms: Some(at_ms),
        ..Change::default()
    };
    let second = case.place_with(&at(Some(20))).await;
    let first = case.place_with(&at(Some(10))).await;
    let tied = case.place_with(&at(Some(20))).await;
    let later = case.place_with(&at(Some(31))).await;
    case.place_with(&at(None)).await;
    let due = async |now_ms, limit| case.store.due_places(now_ms, limit).await.expect("places");
    assert!(due(9, 10).await.is_empty());
    assert_eq!(due(10, 10).await, [first]);
    assert_eq!(due(30, 10).await, [first, second, tied]);
    assert_eq!(due(30, 2).await, [first, second]);
    assert!(due(30, 0).await.is_empty());
    assert_eq!(due(i64::MAX, 10).await, [first, second, tied, later]);
}

async fn the_next_look_is_set_kept_and_taken_away(case: &Case<'_>) {
    let change = Change {
        next_at_ms: Some(Some(10)),
        seen_at_ms: Some(5),
        ..Change::default()
    };
    let place = case.place_with(&change).await;
    let looks = async || {
        case.store
            .head(place)
            .await
            .expect("a head")
            .map(|h| (h.next_at_ms, h.seen_at_ms))
    };
    case.commit(place, &Change::default()).await;
    assert_eq!(looks().await, Some((Some(10), 5)), "an empty change keeps both");
    case.commit(
        place,
        &Change {
            next_at_ms: Some(Some(30)),
            ..Change::default()
        },
    )
    .await;
    assert_eq!(looks().await, Some((Some(30), 5)));
    case.commit(
        place,
        &Change {
            seen_at_ms: Some(25),
            ..Change::default()
        },
    )
    .await;
    assert_eq!(looks().await, Some((Some(30), 25)));
    case.commit(
        place,
        &Change {
            next_at_ms: Some(None),
            ..Change::default()
        },
    )
    .await;
    assert_eq!(looks().await, Some((None, 25)));
    assert!(
        case.store
            .due_places(i64::MAX, 10)
            .await
            .expect("places")
            .is_empty()
    );
}

async fn the_next_moment_is_the_earliest_of_places_and_pending_posts(case: &Case<'_>) {
    let next = async || case.store.next_moment().await.expect("a moment");
    let place = case.place().await;
    assert_eq!(next().await, None);
    case.commit(
        place,
        &Change {
            next_at_ms: Some(Some(5 * MINUTE)),
            ..Change::default()
        },
    )
    .await;
    assert_eq!(next().await, Some(5 * MINUTE));
    case.commit(place, &posts([post("a", 2 * MINUTE)])).await;
    assert_eq!(next().await, Some(2 * MINUTE));
    let claimed = case
        .store
        .claim(2 * MINUTE, 3 * MINUTE, "x", 1)
        .await
        .expect("a claim");
    assert_eq!(next().await, Some(3 * MINUTE), "the end of a lease is a moment");
    let settled = Settled::Sent {
        message: "m".to_owned(),
        version: 1,
        at_ms: 2 * MINUTE,
        shown: "1.0".to_owned(),
        known: Vec::new(),
    };
    assert!(
        case.store
            .settle(place, claimed[0].id, "x", &settled)
            .await
            .expect("an end")
    );
    assert_eq!(next().await, Some(5 * MINUTE), "a post that is out wants nothing");
}
