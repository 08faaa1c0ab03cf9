//! SQLite's files: opened, refused, restored over one another.

use std::path::Path;

use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection, SqliteConnection, query};
use wrackline::store::sqlite::{SqliteStore, restore};
use wrackline::store::{Change, PlaceId, Store, StoreError};

use super::entries;

/// A database with one place of so many entries, closed.
async fn database(file: &Path, entry_count: i64) -> PlaceId {
    let store = SqliteStore::open(file).await.expect("a store");
    let place = store
        .create_place(false, &entries(1..=entry_count))
        .await
        .expect("a place");
    store.close().await;
    place
}

async fn entry_count(file: &Path, place: PlaceId) -> i64 {
    let store = SqliteStore::open(file).await.expect("a store");
    let head = store.head(place).await.expect("a head").expect("the place");
    store.close().await;
    head.last_seq
}

async fn raw(file: &Path) -> SqliteConnection {
    let options = SqliteConnectOptions::new().filename(file).create_if_missing(true);
    options.connect().await.expect("a connection")
}

async fn run(file: &Path, text: &'static str) {
    let mut conn = raw(file).await;
    query(text).execute(&mut conn).await.expect(text);
    conn.close().await.expect("an end");
}

#[tokio::test]
async fn opening_makes_the_folders_and_finds_the_data_again() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("far/away/house.db");
    let place = database(&file, 3).await;
    assert_eq!(entry_count(&file, place).await, 3);
}

#[tokio::test]
async fn what_is_no_database_is_unreachable() {
    let folder = tempfile::tempdir().expect("a folder");
    let text = folder.path().join("text");
    std::fs::write(
        &text,
        "this is not a database at all, but long enough to look for a header".repeat(20),
    )
    .expect("a file");
    let below_a_file = text.join("house.db");
    for path in [folder.path(), &text, &below_a_file] {
        let refused = SqliteStore::open(path).await;
        assert!(
            matches!(refused, Err(StoreError::Unreachable(_))),
            "{}: {refused:?}",
            path.display()
        );
    }
}

#[tokio::test]
async fn a_newer_or_altered_schema_is_neither_opened_nor_restored() {
    for change in [
        "INSERT INTO _sqlx_migrations VALUES (9999, 'later', '2026-01-01', true, x'00', 1)",
        "UPDATE _sqlx_migrations SET checksum = x'00'",
        "UPDATE _sqlx_migrations SET success = false",
    ] {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("house.db");
        database(&file, 1).await;
        run(&file, change).await;
        let opened = SqliteStore::open(&file).await;
        assert!(
            matches!(opened, Err(StoreError::Unreachable(_))),
            "{change}: {opened:?}"
        );
        let to = folder.path().join("new.db");
        let restored = restore(&file, &to).await;
        assert!(
            matches!(restored, Err(StoreError::Unreachable(_))),
            "{change}: {restored:?}"
        );
        assert!(!to.exists());
    }
}

#[tokio::test]
async fn two_openers_of_a_new_file_apply_the_steps_once() {
    for _ in 0..10 {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("house.db");
        // The file is made beforehand: only the schema is raced for.
        run(&file, "PRAGMA journal_mode = WAL").await;
        let (one, two) = tokio::join!(SqliteStore::open(&file), SqliteStore::open(&file));
        let (one, two) = (one.expect("a store"), two.expect("a store"));
        let place = one
            .create_place(false, &Change::default())
            .await
            .expect("a place");
        assert_eq!(two.places().await.expect("places"), [place]);
    }
}

#[tokio::test]
async fn restoring_moves_the_old_database_aside_complete() {
    let folder = tempfile::tempdir().expect("a folder");
    let (file, backup) = (folder.path().join("house.db"), folder.path().join("backup.db"));
    let place = database(&file, 2).await;
    let store = SqliteStore::open(&file).await.expect("a store");
    store.backup(&backup).await.expect("a backup");
    store.commit(place, 1, &entries([3])).await.expect("a commit");
    // The process dies here: the newest entry is in the log alone. Copies of the files stand for what it leaves.
    let crashed = folder.path().join("crashed.db");
    for suffix in ["", "-wal", "-shm"] {
        let name = |file: &Path| format!("{}{suffix}", file.display());
        std::fs::copy(name(&file), name(&crashed)).expect("a copy");
    }
    store.close().await;

    let aside = restore(&backup, &crashed)
        .await
        .expect("a restored file")
        .expect("the old one");
    assert_eq!(aside, folder.path().join("crashed.db.before-restore"));
    assert_eq!(entry_count(&crashed, place).await, 2, "what the backup holds");
    assert_eq!(
        entry_count(&aside, place).await,
        3,
        "what was there before, to the last entry"
    );
    assert_eq!(entry_count(&backup, place).await, 2);
}

#[tokio::test]
async fn restoring_never_overwrites_what_lies_aside() {
    let folder = tempfile::tempdir().expect("a folder");
    let (file, backup) = (folder.path().join("house.db"), folder.path().join("backup.db"));
    let place = database(&backup, 1).await;
    database(&file, 2).await;
    let aside = restore(&backup, &file)
        .await
        .expect("a restored file")
        .expect("the old one");
    let refused = restore(&backup, &file).await;
    assert!(matches!(refused, Err(StoreError::Other { .. })), "{refused:?}");
    assert_eq!(entry_count(&aside, place).await, 2);
    assert_eq!(entry_count(&file, place).await, 1);
}

#[tokio::test]
async fn only_a_sound_database_of_the_project_is_restored() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    let place = database(&at("house.db"), 2).await;
    std::fs::write(at("text"), "not a database".repeat(100)).expect("a file");
    run(&at("foreign.db"), "CREATE TABLE shelf (book TEXT)").await;
    database(&at("damaged.db"), 400).await;
    let mut bytes = std::fs::read(at("damaged.db")).expect("the file");
    let middle = bytes.len() / 2;
    bytes[middle..].fill(0xa5);
    std::fs::write(at("damaged.db"), bytes).expect("a file");
    for name in ["absent.db", "text", "foreign.db", "damaged.db"] {
        let refused = restore(&at(name), &at("house.db")).await;
        assert!(
            matches!(refused, Err(StoreError::Unreachable(_))),
            "{name}: {refused:?}"
        );
    }
    assert_eq!(
        entry_count(&at("house.db"), place).await,
        2,
        "the refusals changed nothing"
    );
    assert!(!at("house.db.before-restore").exists());
    assert!(!at("house.db.part").exists());
}

#[tokio::test]
async fn a_backup_that_was_broken_off_does_not_stand_in_the_way() {
    let folder = tempfile::tempdir().expect("a folder");
    let (file, backup) = (folder.path().join("house.db"), folder.path().join("backup.db"));
    let place = database(&file, 2).await;
    std::fs::write(folder.path().join("backup.db.part"), "half a backup").expect("a file");
    let store = SqliteStore::open(&file).await.expect("a store");
    store.backup(&backup).await.expect("a backup");
    store.close().await;
    assert_eq!(entry_count(&backup, place).await, 2);
    assert!(!folder.path().join("backup.db.part").exists());
}
