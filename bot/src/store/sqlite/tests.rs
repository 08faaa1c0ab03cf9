//! What only SQLite has: its settings, its lock, its plans.

use std::time::Duration;

use sqlx::{AssertSqlSafe, Row as _, query};

use super::open::WAIT;
use super::*;
use crate::store::tables::TABLES;
use crate::store::{Change, EntryRow, Store, StoreError};

async fn fresh(wait: Duration) -> (tempfile::TempDir, SqliteStore) {
    let folder = tempfile::tempdir().expect("a folder");
    let store = SqliteStore::open_waiting(&folder.path().join("house.db"), wait)
        .await
        .expect("a store");
    (folder, store)
}

fn change(body: String) -> Change {
    let entry = EntryRow {
        seq: 1,
        at_ms: 1,
        logged_at_ms: 1,
        by: 1,
        said_by: 1,
        body,
    };
    Change {
        entries: vec![entry],
        ..Change::default()
    }
}

async fn word(pool: &SqlitePool, text: &'static str) -> String {
    let row = query(text).fetch_one(pool).await.expect(text);
    row.try_get::<i64, _>(0)
        .map(|number| number.to_string())
        .or_else(|_| row.try_get(0))
        .expect(text)
}

#[tokio::test]
async fn the_writer_is_durable_and_checks_references() {
    let (_folder, store) = fresh(WAIT).await;
    assert_eq!(word(&store.write, "PRAGMA journal_mode").await, "wal");
    assert_eq!(word(&store.write, "PRAGMA synchronous").await, "2", "2 is FULL");
    assert_eq!(word(&store.write, "PRAGMA foreign_keys").await, "1");
    assert_eq!(word(&store.write, "PRAGMA busy_timeout").await, "5000");
}

#[tokio::test]
async fn readers_cannot_write() {
    let (_folder, store) = fresh(WAIT).await;
    let done = query("INSERT INTO place (practice) VALUES (0)")
        .execute(&store.read)
        .await;
    assert!(done.is_err(), "a reader wrote");
    assert!(store.places().await.expect("places").is_empty());
}

#[tokio::test]
async fn a_lock_held_too_long_is_told_as_locked() {
    let (folder, store) = fresh(Duration::from_millis(50)).await;
    let other = SqliteStore::open(&folder.path().join("house.db"))
        .await
        .expect("a second store");
    let held = other.writing().await.expect("the lock");
    let refused = store.create_place(false, &Change::default()).await;
    assert!(matches!(refused, Err(StoreError::Locked)), "{refused:?}");
    held.rollback().await.expect("the end of the lock");
    store
        .create_place(false, &Change::default())
        .await
        .expect("a place once the lock is free");
}

#[tokio::test]
async fn waiting_too_long_for_the_writer_is_told_as_locked() {
    let (_folder, store) = fresh(Duration::from_millis(500)).await;
    let held = store.writing().await.expect("the writer");
    let refused = store.create_place(false, &Change::default()).await;
    assert!(matches!(refused, Err(StoreError::Locked)), "{refused:?}");
    drop(held);
}

#[tokio::test]
async fn a_full_disk_is_told_as_full_and_leaves_nothing_behind() {
    let (_folder, store) = fresh(WAIT).await;
    let place = store
        .create_place(false, &Change::default())
        .await
        .expect("a place");
    let pages: i64 = word(&store.write, "PRAGMA page_count")
        .await
        .parse()
        .expect("a count");
    let limit = AssertSqlSafe(format!("PRAGMA max_page_count = {}", pages + 1));
    query(limit).execute(&store.write).await.expect("a limit");
    let refused = store.commit(place, 1, &change("x".repeat(100_000))).await;
    assert!(matches!(refused, Err(StoreError::Full)), "{refused:?}");
    assert_eq!(
        store
            .head(place)
            .await
            .expect("a head")
            .map(|head| (head.version, head.last_seq)),
        Some((1, 0))
    );
    store
        .commit(place, 1, &change("{}".to_owned()))
        .await
        .expect("a small change still fits");
}

/// What is asked for many times a minute must not grow with the number of posts that are done.
#[tokio::test]
async fn what_is_due_is_found_by_index() {
    let (_folder, store) = fresh(WAIT).await;
    for (text, index) in [
        (sql::POSTS_DUE, "post_due"),
        (sql::PLACES_DUE, "place_due"),
        (sql::NEXT_MOMENT, "post_due"),
        (sql::NEXT_MOMENT, "place_due"),
        (sql::POSTS_SINCE, "post_of_place"),
    ] {
        let explain = AssertSqlSafe(format!("EXPLAIN QUERY PLAN {text}"));
        let rows = query(explain)
            .bind(1)
            .bind(1)
            .fetch_all(&store.write)
            .await
            .expect(text);
        let plan: Vec<String> = rows
            .iter()
            .map(|row| row.try_get(3).expect("a line of the plan"))
            .collect();
        assert!(plan.iter().any(|line| line.contains(index)), "{text}: {plan:?}");
        let scans = |line: &&String| line.starts_with("SCAN") && !line.contains("INDEX");
        let scanned = plan.iter().find(scans).filter(|line| !line.contains("moments"));
        assert_eq!(scanned, None, "{text}: {plan:?}");
    }
}

#[tokio::test]
async fn closing_empties_the_log_into_the_file() {
    let (folder, store) = fresh(WAIT).await;
    store
        .create_place(false, &change("{}".to_owned()))
        .await
        .expect("a place");
    store.close().await;
    assert!(!folder.path().join("house.db-wal").exists());
    assert!(matches!(store.places().await, Err(StoreError::Unreachable(_))));
}

/// A table or column that a copy did not know would be lost on the way to another database.
#[tokio::test]
async fn copies_know_every_table_and_column() {
    let (_folder, store) = fresh(WAIT).await;
    let text = "SELECT tables.name, columns.name FROM sqlite_schema AS tables, pragma_table_info(tables.name) AS columns
         WHERE tables.type = 'table' AND tables.name NOT LIKE 'sqlite%' AND tables.name NOT LIKE '_sqlx%'";
    let rows = query(text).fetch_all(&store.write).await.expect("columns");
    let mut there: Vec<(String, String)> = rows.iter().map(|row| (row.get(0), row.get(1))).collect();
    let mut known: Vec<(String, String)> = TABLES
        .iter()
        .flat_map(|table| {
            table
                .columns
                .iter()
                .map(|(name, _)| (table.name.to_owned(), (*name).to_owned()))
        })
        .collect();
    there.sort();
    known.sort();
    assert_eq!(there, known);
}
