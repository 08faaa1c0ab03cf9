//! Keys that let a carer in.

use wrackline::store::StoreError;

use super::Case;

checks![
    a_lasting_key_lets_its_carer_in_until_its_end,
    a_key_for_one_use_works_once,
    a_key_for_one_use_ends_as_well,
    an_unknown_key_lets_nobody_in,
    a_key_may_be_given_another_end,
    a_key_never_changes_hands,
];

async fn a_lasting_key_lets_its_carer_in_until_its_end(case: &Case<'_>) {
    let (north, south) = (case.place().await, case.place().await);
    case.store
        .key_put(north, 7, "n", false, 100)
        .await
        .expect("a key");
    case.store
        .key_put(south, u32::MAX, "s", false, 200)
        .await
        .expect("a key");
    let using = async |hash: &str, now_ms| case.store.key_use(hash, now_ms).await.expect("a look");
    for now_ms in [0, 99, 5] {
        assert_eq!(using("n", now_ms).await, Some((north, 7)));
    }
    assert_eq!(using("n", 100).await, None);
    assert_eq!(using("s", 100).await, Some((south, u32::MAX)));
}

async fn a_key_for_one_use_works_once(case: &Case<'_>) {
    let place = case.place().await;
    case.store.key_put(place, 7, "h", true, 100).await.expect("a key");
    assert_eq!(
        case.store.key_use("h", 1).await.expect("a look"),
        Some((place, 7))
    );
    assert_eq!(case.store.key_use("h", 1).await.expect("a look"), None);
}

async fn a_key_for_one_use_ends_as_well(case: &Case<'_>) {
    let place = case.place().await;
    case.store.key_put(place, 7, "h", true, 100).await.expect("a key");
    assert_eq!(case.store.key_use("h", 100).await.expect("a look"), None);
    assert_eq!(
        case.store.key_use("h", 99).await.expect("a look"),
        Some((place, 7)),
        "a vain try uses nothing up"
    );
}

async fn an_unknown_key_lets_nobody_in(case: &Case<'_>) {
    let place = case.place().await;
    case.store
        .key_put(place, 7, "hash", false, 100)
        .await
        .expect("a key");
    for hash in ["", "HASH", "hash ", "has%"] {
        assert_eq!(
            case.store.key_use(hash, 1).await.expect("a look"),
            None,
            "{hash:?}"
        );
    }
}

async fn a_key_may_be_given_another_end(case: &Case<'_>) {
    let place = case.place().await;
    case.store
        .key_put(place, 7, "h", false, 100)
        .await
        .expect("a key");
    case.store
        .key_put(place, 7, "h", false, 300)
        .await
        .expect("a longer key");
    assert_eq!(
        case.store.key_use("h", 200).await.expect("a look"),
        Some((place, 7))
    );
    case.store
        .key_put(place, 7, "h", false, 0)
        .await
        .expect("a key that is over");
    assert_eq!(case.store.key_use("h", 200).await.expect("a look"), None);
}

async fn a_key_never_changes_hands(case: &Case<'_>) {
    let (north, south) = (case.place().await, case.place().await);
    case.store
        .key_put(north, 7, "h", false, 100)
        .await
        .expect("a key");
    for (place, carer) in [(south, 7), (north, 8)] {
        let refused = case.store.key_put(place, carer, "h", true, 500).await;
        assert!(matches!(refused, Err(StoreError::Conflict)), "{refused:?}");
    }
    assert_eq!(
        case.store.key_use("h", 1).await.expect("a look"),
        Some((north, 7))
    );
    assert_eq!(case.store.key_use("h", 100).await.expect("a look"), None);
}
