//! A database in a file, with the store over it and a bare connection beside it.

use std::sync::Arc;

use jiff::Timestamp;
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection, SqliteSynchronous};
use sqlx::{ConnectOptions, query, query_scalar};
use tempfile::TempDir;
use wrackline::app::App;
use wrackline::clock::SetClock;
use wrackline::store::sqlite::SqliteStore;
use wrackline::store::{Change, PlaceId, Store};

/// The place that a database begins with; the others are its copies.
pub(crate) const FIRST: PlaceId = 1;

/// A database with its first place.
pub(crate) struct Database {
    /// The store over it.
    pub(crate) store: Arc<dyn Store>,
    /// A connection without the store, as careful as the store's own.
    pub(crate) bare: SqliteConnection,
    /// Held so that the files last as long as this.
    _folder: TempDir,
}

impl Database {
    /// A database of one place.
    pub(crate) async fn of(change: &Change) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("wrackline.db");
        let store = SqliteStore::open(&file).await.expect("a store");
        let place = store.create_place(false, change).await.expect("a place");
        assert_eq!(place, FIRST);
        let options = SqliteConnectOptions::new().filename(&file).foreign_keys(true);
        let options = options
            .synchronous(SqliteSynchronous::Full)
            .disable_statement_logging();
        let bare = options.connect().await.expect("a connection");
        Self {
            store: Arc::new(store),
            bare,
            _folder: folder,
        }
    }

    /// Copies the first place until there are so many, in one transaction. A copy is dealt with minutes later
    /// than the one before it, from a minute to a day after the first.
    pub(crate) async fn copy_until(&mut self, places: i64) {
        self.run("BEGIN IMMEDIATE").await;
        let copies = "WITH RECURSIVE copy (number) AS
                 (SELECT 1 UNION ALL SELECT number + 1 FROM copy WHERE number < $1)
             INSERT INTO place (practice, next_at, seen_at)
             SELECT practice, next_at + 60000 * (1 + number % 1440), seen_at FROM copy, place WHERE id = 1";
        query(copies)
            .bind(places - 1)
            .execute(&mut self.bare)
            .await
            .expect("places");
        let parts = [
            "INSERT INTO entry SELECT place.id, seq, at, logged_at, by_carer, said_by, body
             FROM place CROSS JOIN entry WHERE place.id > 1 AND place = 1",
            "INSERT INTO carer_name SELECT place.id, carer, name
             FROM place CROSS JOIN carer_name WHERE place.id > 1 AND place = 1",
            "INSERT INTO standing SELECT place.id, turn, due, overdue, hazard
             FROM place CROSS JOIN standing WHERE place.id > 1 AND place = 1",
        ];
        for part in parts {
            self.run(part).await;
        }
        self.run("COMMIT").await;
        self.empty_log().await;
    }

    /// Runs a statement without parameters.
    pub(crate) async fn run(&mut self, text: &'static str) {
        query(text)
            .execute(&mut self.bare)
            .await
            .unwrap_or_else(|error| panic!("{text}: {error}"));
    }

    /// A number from a statement without parameters.
    pub(crate) async fn number(&mut self, text: &'static str) -> i64 {
        query_scalar(text)
            .fetch_one(&mut self.bare)
            .await
            .unwrap_or_else(|error| panic!("{text}: {error}"))
    }

    /// Writes the log back into the file, so that whoever is measured next begins with an empty one.
    pub(crate) async fn empty_log(&mut self) {
        self.run("PRAGMA wal_checkpoint(TRUNCATE)").await;
    }

    /// A house that has read no journal yet.
    pub(crate) fn house(&self, now: Timestamp) -> (App, Arc<SetClock>) {
        let clock = Arc::new(SetClock::at(now));
        (App::new(self.store.clone(), clock.clone()), clock)
    }
}
