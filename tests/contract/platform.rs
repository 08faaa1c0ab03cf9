//! Where places and carers are at home on the chat platform, what the process keeps, and what is forgotten.

use wrackline::store::{Change, EntryRow, PhotoRow, ServerRow, StoreError};

use super::{Case, entries, entry};

checks![
    a_place_is_found_by_its_server,
    a_place_moves_to_another_server,
    a_server_is_one_places,
    an_account_is_one_carers_and_a_carer_has_one,
    accounts_of_one_place_are_free_in_another,
    a_change_that_is_refused_links_nothing,
    what_is_kept_is_found_under_its_name,
    photos_are_forgotten_by_when_they_were_logged,
];

fn linked(server: i64, channel: i64) -> Change {
    Change {
        server: Some(ServerRow { server, channel }),
        ..Change::default()
    }
}

fn accounts(list: &[(u32, i64)]) -> Change {
    Change {
        accounts: list.to_vec(),
        ..Change::default()
    }
}

async fn a_place_is_found_by_its_server(case: &Case<'_>) {
    let bare = case.place().await;
    let far = case.place_with(&linked(i64::MAX, 3)).await;
    let near = case.place().await;
    case.commit(near, &linked(5, -3)).await;
    for (server, place) in [(i64::MAX, Some(far)), (5, Some(near)), (3, None), (0, None)] {
        assert_eq!(
            case.store.place_of_server(server).await.expect("a look"),
            place,
            "{server}"
        );
    }
    let (one, other) = (
        ServerRow {
            server: i64::MAX,
            channel: 3,
        },
        ServerRow {
            server: 5,
            channel: -3,
        },
    );
    for (place, row) in [(bare, None), (far, Some(one)), (near, Some(other)), (99, None)] {
        assert_eq!(case.store.server_of(place).await.expect("a look"), row, "{place}");
    }
    assert_eq!(
        case.store.servers().await.expect("a list"),
        [(far, one), (near, other)],
        "in order of place"
    );
}

async fn a_place_moves_to_another_server(case: &Case<'_>) {
    let place = case.place_with(&linked(5, 1)).await;
    case.commit(place, &entries([1])).await;
    assert_eq!(
        case.store.place_of_server(5).await.expect("a look"),
        Some(place),
        "a change that says nothing of it keeps it"
    );
    case.commit(place, &linked(5, 2)).await;
    case.commit(place, &linked(6, 2)).await;
    assert_eq!(case.store.place_of_server(5).await.expect("a look"), None);
    let now = ServerRow {
        server: 6,
        channel: 2,
    };
    assert_eq!(case.store.servers().await.expect("a list"), [(place, now)]);
    let next = case.place_with(&linked(5, 1)).await;
    assert_eq!(
        case.store.place_of_server(5).await.expect("a look"),
        Some(next),
        "what was left is free"
    );
}

async fn a_server_is_one_places(case: &Case<'_>) {
    let first = case.place_with(&linked(5, 1)).await;
    let second = case.place().await;
    let error = case.refused(second, &linked(5, 2)).await;
    assert!(matches!(error, StoreError::Conflict), "{error:?}");
    let made = case.store.create_place(false, &linked(5, 2)).await;
    assert!(matches!(made, Err(StoreError::Conflict)), "{made:?}");
    assert_eq!(case.store.places().await.expect("places"), [first, second]);
    assert_eq!(case.store.place_of_server(5).await.expect("a look"), Some(first));
}

async fn an_account_is_one_carers_and_a_carer_has_one(case: &Case<'_>) {
    let place = case.place_with(&accounts(&[(3, 99), (2, 77)])).await;
    let listed = async || case.store.accounts(place).await.expect("accounts");
    let of = async |account| case.store.carer_of(place, account).await.expect("a look");
    assert_eq!(listed().await, [(2, 77), (3, 99)], "in order of carer");
    assert_eq!(
        (of(77).await, of(99).await, of(0).await),
        (Some(2), Some(3), None)
    );
    case.commit(place, &accounts(&[(2, 99)])).await;
    assert_eq!(listed().await, [(2, 99)], "both are the latest pair's alone");
    assert_eq!((of(77).await, of(99).await), (None, Some(2)));
    case.commit(
        place,
        &accounts(&[(2, 99), (u32::MAX, i64::MAX), (4, 1), (4, 99)]),
    )
    .await;
    assert_eq!(
        listed().await,
        [(4, 99), (u32::MAX, i64::MAX)],
        "within a change too"
    );
}

async fn accounts_of_one_place_are_free_in_another(case: &Case<'_>) {
    let north = case.place_with(&accounts(&[(1, 77)])).await;
    let south = case.place_with(&accounts(&[(2, 77)])).await;
    case.commit(south, &accounts(&[(1, 78)])).await;
    for (place, account, carer) in [(north, 77, Some(1)), (south, 77, Some(2)), (north, 78, None)] {
        assert_eq!(case.store.carer_of(place, account).await.expect("a look"), carer);
    }
    assert_eq!(case.store.accounts(north).await.expect("accounts"), [(1, 77)]);
    assert_eq!(
        case.store.accounts(south).await.expect("accounts"),
        [(1, 78), (2, 77)]
    );
}

async fn a_change_that_is_refused_links_nothing(case: &Case<'_>) {
    let place = case.place_with(&linked(5, 1)).await;
    let change = Change {
        server: Some(ServerRow {
            server: 6,
            channel: 1,
        }),
        accounts: vec![(1, 77)],
        ..entries([9])
    };
    let error = case.refused(place, &change).await;
    assert!(matches!(error, StoreError::Conflict), "{error:?}");
    assert_eq!(case.store.place_of_server(5).await.expect("a look"), Some(place));
    let stale = case.store.commit(place, 9, &accounts(&[(1, 77)])).await;
    assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
    assert_eq!(case.store.carer_of(place, 77).await.expect("a look"), None);
}

async fn what_is_kept_is_found_under_its_name(case: &Case<'_>) {
    let kept = async |name| case.store.kept(name).await.expect("a look");
    assert_eq!(kept("print").await, None);
    for (name, value) in [("print", "one"), ("", "none"), ("print", "it's \"two\" 水")] {
        case.store.keep(name, value).await.expect("a kept value");
    }
    assert_eq!(kept("print").await.as_deref(), Some("it's \"two\" 水"));
    assert_eq!(kept("").await.as_deref(), Some("none"));
    assert_eq!(kept("PRINT").await, None, "names are compared byte for byte");
}

async fn photos_are_forgotten_by_when_they_were_logged(case: &Case<'_>) {
    let logged = |seq, logged_at_ms| EntryRow {
        logged_at_ms,
        at_ms: 1_000_000,
        ..entry(seq)
    };
    let photo = |seq| PhotoRow {
        seq,
        media_type: "image/png".to_owned(),
        bytes: vec![1, 2],
    };
    let change = Change {
        entries: vec![logged(1, 10), logged(2, 20), logged(3, 30)],
        photos: vec![photo(1), photo(2), photo(3)],
        ..Change::default()
    };
    let (north, south) = (case.place_with(&change).await, case.place_with(&change).await);
    let forget = async |before_ms| case.store.forget_photos(before_ms).await.expect("retention");
    assert_eq!(forget(10).await, 0, "what was logged at that moment stays");
    assert_eq!(forget(21).await, 4, "of all places");
    assert_eq!(forget(21).await, 0);
    for place in [north, south] {
        for (seq, is_there) in [(1, false), (2, false), (3, true)] {
            let found = case.store.photo(place, seq).await.expect("a look");
            assert_eq!(found.is_some(), is_there, "{seq}");
        }
        let tail = case.store.tail(place, 0).await.expect("a tail");
        assert_eq!(tail.entries.len(), 3, "the journal stays");
    }
}
