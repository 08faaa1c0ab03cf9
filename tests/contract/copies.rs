//! Backup, restore, and the end of a store.

use wrackline::store::{Change, PhotoRow, PlaceId, ServerRow, Settled, StandingRow, Store, StoreError};

use super::{Case, entries, heard, post, posts, strings};

checks![
    a_restored_backup_equals_what_was_backed_up,
    a_backup_is_not_touched_by_what_comes_after,
    a_backup_overwrites_nothing,
    what_was_committed_is_there_for_the_next_process,
    a_closed_store_refuses_work,
];

/// All that can be read of a place, as one text.
pub(super) async fn all_of(store: &dyn Store, place: PlaceId) -> String {
    let tail = store.tail(place, 0).await.expect("a tail");
    let mut photos = Vec::new();
    for seq in 1..=tail.head.last_seq {
        photos.push(store.photo(place, seq).await.expect("a photo"));
    }
    let posts = store.posts(place, i64::MIN).await.expect("posts");
    let keys: Vec<String> = ["a", "b", "c", "k", "step 2", "new"].map(str::to_owned).to_vec();
    let keys = store.known_keys(place, &keys).await.expect("keys");
    let inbound = store.inbound(place, "a").await.expect("an answer");
    let standings = store.standings(place).await.expect("marks");
    let porch = store.porch_after(place, 0, 1000).await.expect("lines");
    let server = store.server_of(place).await.expect("a server");
    let accounts = store.accounts(place).await.expect("accounts");
    let beside = format!("{server:?}\n{accounts:?}");
    format!("{beside}\n{tail:#?}\n{photos:?}\n{posts:#?}\n{keys:?}\n{inbound:?}\n{standings:#?}\n{porch:#?}")
}

/// A place with something of everything.
async fn furnished(case: &Case<'_>) -> PlaceId {
    let mark = StandingRow {
        turn: "t".to_owned(),
        due_ms: 1,
        overdue_ms: 2,
        hazard_ms: Some(3),
    };
    let change = Change {
        names: vec![(1, "Maren".to_owned())],
        notes: vec![(2, "cloudy".to_owned())],
        photos: vec![PhotoRow {
            seq: 1,
            media_type: "image/png".to_owned(),
            bytes: vec![0, 255, 7],
        }],
        inbound: Some(heard("a")),
        posts: vec![post("a", 10), post("b", 20)],
        covered: strings(["c"]),
        standings: Some(vec![mark]),
        next_at_ms: Some(Some(77)),
        seen_at_ms: Some(66),
        server: Some(ServerRow {
            server: i64::MAX,
            channel: 4,
        }),
        accounts: vec![(1, 77), (2, -1)],
        ..entries(1..=3)
    };
    let place = case.place_with(&change).await;
    let claimed = case.store.claim(10, 100, "x", 1).await.expect("a claim");
    let sent = Settled::Sent {
        message: "m".to_owned(),
        version: 1,
        at_ms: 11,
        shown: "1.0".to_owned(),
        known: Vec::new(),
    };
    assert!(
        case.store
            .settle(place, claimed[0].id, "x", &sent)
            .await
            .expect("an end")
    );
    case.store
        .porch_add(place, "l", 12, Some(1), "{}")
        .await
        .expect("a line");
    case.store
        .key_put(place, 1, "hash", true, 100)
        .await
        .expect("a key");
    case.store.keep("print", "f00").await.expect("a kept value");
    place
}

async fn a_restored_backup_equals_what_was_backed_up(case: &Case<'_>) {
    let (furnished, bare) = (furnished(case).await, case.place().await);
    let file = case.folder.path().join("backup");
    case.store.backup(&file).await.expect("a backup");
    let folder = tempfile::tempdir().expect("a folder");
    let restored = case.adapter.restore(&file, folder.path()).await;
    assert_eq!(restored.places().await.expect("places"), [furnished, bare]);
    for place in [furnished, bare] {
        assert_eq!(all_of(&*restored, place).await, all_of(&*case.store, place).await);
    }
    assert_eq!(
        restored.key_use("hash", 1).await.expect("a look"),
        Some((furnished, 1))
    );
    assert_eq!(
        restored.kept("print").await.expect("a look"),
        Some("f00".to_owned())
    );
    restored
        .commit(bare, 1, &entries([1]))
        .await
        .expect("work goes on");
    assert_eq!(case.version(bare).await, 1, "on a database of its own");
    restored.close().await;
}

async fn a_backup_is_not_touched_by_what_comes_after(case: &Case<'_>) {
    let place = furnished(case).await;
    let before = all_of(&*case.store, place).await;
    let file = case.folder.path().join("backup");
    case.store.backup(&file).await.expect("a backup");
    case.commit(place, &entries([4])).await;
    assert_ne!(all_of(&*case.store, place).await, before);
    let folder = tempfile::tempdir().expect("a folder");
    let restored = case.adapter.restore(&file, folder.path()).await;
    assert_eq!(all_of(&*restored, place).await, before);
    restored.close().await;
}

async fn a_backup_overwrites_nothing(case: &Case<'_>) {
    case.place().await;
    let file = case.folder.path().join("backup");
    std::fs::write(&file, "precious").expect("a file");
    let refused = case.store.backup(&file).await;
    assert!(matches!(refused, Err(StoreError::Other { .. })), "{refused:?}");
    assert_eq!(std::fs::read(&file).expect("the file"), b"precious");
}

async fn what_was_committed_is_there_for_the_next_process(case: &Case<'_>) {
    let place = furnished(case).await;
    let next = case.adapter.open(case.folder.path()).await;
    assert_eq!(all_of(&*next, place).await, all_of(&*case.store, place).await);
    let version = case.version(place).await;
    next.commit(place, version, &posts([post("k", 1)]))
        .await
        .expect("a commit");
    assert_eq!(
        all_of(&*next, place).await,
        all_of(&*case.store, place).await,
        "each sees the other's work"
    );
    let stale = case.store.commit(place, version, &entries([4])).await;
    assert!(matches!(stale, Err(StoreError::Conflict)), "{stale:?}");
}

async fn a_closed_store_refuses_work(case: &Case<'_>) {
    let place = case.place().await;
    case.store.close().await;
    let head = case.store.head(place).await;
    assert!(matches!(head, Err(StoreError::Unreachable(_))), "{head:?}");
    let commit = case.store.commit(place, 1, &entries([1])).await;
    assert!(matches!(commit, Err(StoreError::Unreachable(_))), "{commit:?}");
}
