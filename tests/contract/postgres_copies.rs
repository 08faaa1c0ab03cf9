//! From one kind of database to another and back: a backup of either is restored into either.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use wrackline::commands::verify::differences;
use wrackline::store::postgres::{BEFORE_RESTORE, PostgresStore, restore};
use wrackline::store::sqlite::{SqliteStore, restore as restore_file};
use wrackline::store::{Change, PhotoRow, ServerRow, Store, StoreError};
use wrackline_tests::postgres::database;

use super::copies::all_of;
use super::entries;
use super::postgres::{open, raw, run, url};

/// A copy of the database of the first schema, with what only later schemas know added to it.
async fn furnished(folder: &Path) -> PathBuf {
    let file = folder.join("house.db");
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/old-0001.db");
    std::fs::copy(kept, &file).expect("a copy");
    let store = SqliteStore::open(&file).await.expect("a store");
    let head = store.head(1).await.expect("a head").expect("the place");
    let change = Change {
        photos: vec![PhotoRow {
            seq: 3,
            media_type: "image/png".to_owned(),
            bytes: (0..200_000_u32).map(|n| (n % 251) as u8).collect(),
        }],
        server: Some(ServerRow {
            server: i64::MAX,
            channel: 5,
        }),
        accounts: vec![(1, 77), (2, i64::MAX)],
        ..Change::default()
    };
    store.commit(1, head.version, &change).await.expect("a commit");
    store.keep("print", "f00").await.expect("a kept value");
    store.key_put(1, 1, "hash", false, 100).await.expect("a key");
    store
        .create_place(true, &Change::default())
        .await
        .expect("a second place");
    store.close().await;
    file
}

/// All that the port reads, of all places.
async fn everything(store: &dyn Store) -> Vec<String> {
    let mut all = vec![
        format!("{:?}", store.servers().await.expect("servers")),
        format!("{:?}", store.kept("print").await.expect("a kept value")),
        format!("{:?}", store.key_use("hash", 1).await.expect("a key")),
        format!("{:?}", store.next_moment().await.expect("a moment")),
        format!("{:?}", store.due_places(i64::MAX, 100).await.expect("places")),
        format!("{:?}", store.inbound(1, "test:17").await.expect("an answer")),
    ];
    for place in store.places().await.expect("places") {
        all.push(all_of(store, place).await);
    }
    all
}

#[tokio::test]
async fn a_move_to_a_server_and_back_loses_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    let from: Arc<dyn Store> = Arc::new(
        SqliteStore::open(&furnished(folder.path()).await)
            .await
            .expect("a store"),
    );
    let before = everything(&*from).await;
    assert!(before.iter().any(|text| text.contains("the level was low")));
    from.backup(&at("out.db")).await.expect("a backup");
    let text = database();
    assert_eq!(
        restore(&at("out.db"), &url(&text))
            .await
            .expect("a restored backup"),
        None
    );
    let there: Arc<dyn Store> = Arc::new(open(&text).await);
    assert_eq!(everything(&*there).await, before);
    for place in [1, 2] {
        assert_eq!(
            differences(&there, place).await.expect("marks"),
            Vec::<String>::new()
        );
    }
    there.backup(&at("back.db")).await.expect("a backup");
    assert!(!at("back.db.part").exists() && !at("back.db-wal").exists());
    assert_eq!(
        restore_file(&at("back.db"), &at("new.db")).await.expect("a file"),
        None
    );
    let back: Arc<dyn Store> = Arc::new(SqliteStore::open(&at("new.db")).await.expect("a store"));
    assert_eq!(everything(&*back).await, before);
    assert_eq!(differences(&back, 1).await.expect("marks"), Vec::<String>::new());
    // Numbers go on where they were, everywhere.
    let mut next = Vec::new();
    for store in [&from, &there, &back] {
        let change = super::posts([super::post("fresh", 1)]);
        let place = store.create_place(false, &change).await.expect("a place");
        let posts = store.posts(place, 0).await.expect("posts");
        next.push((place, posts[0].id));
        store.close().await;
    }
    assert_eq!(next, [next[0]; 3]);
}

/// A number that a place had is not given again, though the place is gone when the copy is made.
#[tokio::test]
async fn numbers_of_places_are_not_given_again() {
    let folder = tempfile::tempdir().expect("a folder");
    let text = database();
    let store = open(&text).await;
    for _ in 0..3 {
        store
            .create_place(false, &Change::default())
            .await
            .expect("a place");
    }
    run(&mut raw(&text).await, "DELETE FROM place WHERE id > 1").await;
    let file = folder.path().join("copy.db");
    store.backup(&file).await.expect("a backup");
    store.close().await;
    let copy = SqliteStore::open(&file).await.expect("a store");
    assert_eq!(
        copy.create_place(false, &Change::default())
            .await
            .expect("a place"),
        4
    );
    copy.close().await;
    let other = database();
    restore(&file, &url(&other)).await.expect("a restored backup");
    let store = open(&other).await;
    assert_eq!(
        store
            .create_place(false, &Change::default())
            .await
            .expect("a place"),
        5
    );
    store.close().await;
}

#[tokio::test]
async fn restoring_moves_what_was_there_aside_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("copy.db");
    let text = database();
    let store = open(&text).await;
    let place = store.create_place(false, &entries(1..=2)).await.expect("a place");
    store.backup(&file).await.expect("a backup");
    store.commit(place, 1, &entries([3])).await.expect("a commit");
    store.close().await;
    let aside = restore(&file, &url(&text)).await.expect("a restored backup");
    assert_eq!(aside, Some(BEFORE_RESTORE));
    let last = async || {
        let store = open(&text).await;
        let head = store.head(place).await.expect("a head").expect("the place");
        store.close().await;
        head.last_seq
    };
    assert_eq!(last().await, 2, "what the backup holds");
    let mut conn = raw(&text).await;
    run(
        &mut conn,
        "SELECT 1 / (SELECT count(*) FROM wrackline_before_restore.entry WHERE seq = 3)",
    )
    .await;
    let refused = restore(&file, &url(&text)).await;
    assert!(matches!(refused, Err(StoreError::Other { .. })), "{refused:?}");
    assert_eq!(last().await, 2, "the refusal changed nothing");
    run(&mut conn, "DROP SCHEMA wrackline_before_restore CASCADE").await;
    assert_eq!(
        restore(&file, &url(&text)).await.expect("a restored backup"),
        Some(BEFORE_RESTORE)
    );
}

#[tokio::test]
async fn nothing_is_restored_under_a_process_at_work() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("copy.db");
    let text = database();
    let store = open(&text).await;
    let place = store.create_place(false, &entries([1])).await.expect("a place");
    store.backup(&file).await.expect("a backup");
    let refused = restore(&file, &url(&text)).await;
    assert!(matches!(refused, Err(StoreError::Locked)), "{refused:?}");
    store.commit(place, 1, &entries([2])).await.expect("work goes on");
    store.close().await;
    restore(&file, &url(&text)).await.expect("a restored backup");
}

#[tokio::test]
async fn only_a_sound_copy_is_put_on_a_server() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    std::fs::write(at("text"), "not a database".repeat(100)).expect("a file");
    let text = database();
    for name in ["absent.db", "text"] {
        let refused = restore(&at(name), &url(&text)).await;
        assert!(
            matches!(refused, Err(StoreError::Unreachable(_))),
            "{name}: {refused:?}"
        );
    }
    let store = PostgresStore::open(&url(&text)).await.expect("a store");
    assert!(store.places().await.expect("places").is_empty());
    store.close().await;
}
