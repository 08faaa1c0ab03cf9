//! Databases of earlier schemas: what was kept then is found now.
//!
//! `data/old-0001.db` is a database as the first schema kept it. It is made by [`write_first`], which plays a few fixed
//! lines at fixed times and copies the database into one file:
//!
//! ```text
//! WRACKLINE_WRITE_OLD=1 cargo test -p wrackline-tests old::
//! ```
//!
//! Once a version has gone out with this schema the file is never written again: a new schema gets a file and a test of its
//! own. Without that variable the same lines are played into a temporary file, so that the way stays passable.

mod first;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use self::first::{ENTRIES, LINES, MARKS, ZONE};
use jiff::Timestamp;
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection, Row};
use wrackline::commands::verify::differences;
use wrackline::engine;
use wrackline::outbox::Dispatcher;
use wrackline::store::Store;
use wrackline::store::sqlite::SqliteStore;
use wrackline_tests::house::TestHouse;

/// The file of the first schema.
fn kept() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("data/old-0001.db")
}

/// Plays the lines into a database and copies it to a file.
async fn write_first(file: &Path) {
    let folder = tempfile::tempdir().expect("a folder");
    let store = SqliteStore::open(&folder.path().join("old.db"))
        .await
        .expect("a store");
    let mut house = TestHouse::over(Arc::new(store), ZONE).await;
    let porch = Arc::new(house.app.porch.as_ref().clone());
    let mut dispatcher = Dispatcher::new(house.app.house.clone(), porch, "old".to_owned());
    let rounds = [
        "2026-03-02 08:00",
        "2026-03-03 08:00",
        "2026-03-04 08:00",
        "2026-03-05 08:00",
        "2026-03-05 21:00",
    ];
    let mut moments = rounds.to_vec();
    moments.extend(LINES.iter().map(|(at, ..)| *at));
    moments.sort_unstable();
    moments.dedup();
    for moment in moments {
        house.at(moment);
        for (_, carer, line) in LINES.iter().filter(|(at, ..)| *at == moment) {
            let (ok, said) = house.say_as(*carer, line).await;
            assert!(ok, "{line}: {said}");
        }
        while engine::step(&house.app.house).await.expect("a step") + dispatcher.step().await.expect("a step")
            > 0
        {}
    }
    house.store.backup(file).await.expect("a copy");
    house.store.close().await;
}

/// What a database keeps, as this test compares it.
async fn marks(store: &Arc<dyn Store>) -> Vec<(String, String, String, String)> {
    let zone = wrackline_core::civil::Zone::get(ZONE).expect("a zone");
    let told = |ms: i64| zone.rfc3339(Timestamp::from_millisecond(ms).expect("a moment"));
    let rows = store.standings(1).await.expect("the marks");
    let row = |row: wrackline::store::StandingRow| {
        (
            row.turn,
            told(row.due_ms),
            told(row.overdue_ms),
            row.hazard_ms.map_or(String::new(), told),
        )
    };
    rows.into_iter().map(row).collect()
}

async fn schema_steps(file: &Path) -> Vec<i64> {
    let options = SqliteConnectOptions::new().filename(file).read_only(true);
    let mut conn = options.connect().await.expect("the file opens");
    let rows = sqlx::query("SELECT version FROM _sqlx_migrations ORDER BY version")
        .fetch_all(&mut conn)
        .await;
    conn.close().await.expect("it closes");
    rows.expect("its steps").iter().map(|row| row.get(0)).collect()
}

#[tokio::test]
async fn the_way_to_the_first_database_is_passable() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("new.db");
    write_first(&file).await;
    let store: Arc<dyn Store> = Arc::new(SqliteStore::open(&file).await.expect("a store"));
    assert_eq!(
        differences(&store, 1).await.expect("the store"),
        Vec::<String>::new()
    );
    assert!(!marks(&store).await.is_empty());
    store.close().await;
    if std::env::var_os("WRACKLINE_WRITE_OLD").is_some_and(|set| set == "1") {
        std::fs::copy(&file, kept()).expect("the file is kept");
    }
}

#[tokio::test]
async fn what_the_first_schema_kept_is_found() {
    let size = std::fs::metadata(kept()).expect("the kept file").len();
    assert!(size < 200 * 1024, "{size} bytes");
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("old.db");
    std::fs::copy(kept(), &file).expect("a copy");
    assert_eq!(schema_steps(&file).await, [1], "the kept file stays as it was");
    let store: Arc<dyn Store> = Arc::new(SqliteStore::open(&file).await.expect("the old database opens"));
    let tail = store.tail(1, 0).await.expect("its journal");
    assert_eq!(tail.entries.len(), usize::try_from(ENTRIES).expect("few"));
    assert_eq!(tail.head.last_seq, ENTRIES);
    let names: Vec<&str> = tail.names.iter().map(|(_, name)| name.as_str()).collect();
    assert_eq!(names, ["Ada", "Bea", "Dot"]);
    let notes: Vec<&str> = tail.notes.iter().map(|(_, note)| note.as_str()).collect();
    assert_eq!(notes, ["the level was low", "a few drops"]);
    let found = marks(&store).await;
    let found: Vec<_> = found
        .iter()
        .map(|(turn, due, late, hazard)| (turn.as_str(), due.as_str(), late.as_str(), hazard.as_str()))
        .collect();
    assert_eq!(found, MARKS, "{found:#?}");
    assert_eq!(
        differences(&store, 1).await.expect("the store"),
        Vec::<String>::new()
    );
    let first = store
        .inbound(1, "test:17")
        .await
        .expect("the store")
        .expect("the first answer");
    assert!(first.contains("North salt"), "{first}");
    assert!(store.porch_after(1, 0, 100).await.expect("the porch").len() >= 3);
    store.close().await;
}

#[tokio::test]
async fn the_old_place_goes_on() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("old.db");
    std::fs::copy(kept(), &file).expect("a copy");
    let store: Arc<dyn Store> = Arc::new(SqliteStore::open(&file).await.expect("the old database opens"));
    let clock = Arc::new(wrackline::clock::SetClock::at(
        "2026-03-06T13:00:00Z".parse().expect("a moment"),
    ));
    let app = wrackline::app::App::new(store.clone(), clock);
    let input = wrackline::house::Input::Line("/why north salt change".to_owned());
    let said = |id: &str, input| wrackline::house::Said {
        place: 1,
        carer: 1,
        id: id.to_owned(),
        input,
        photo: None,
    };
    let why = app.house.hear(said("new:1", input)).await;
    assert_eq!(why.turns[0]["last"], "2026-03-05T08:05:00-05:00");
    let input = wrackline::house::Input::Line("/did change north fresh".to_owned());
    assert!(app.house.hear(said("new:2", input)).await.ok);
    assert_eq!(
        store
            .head(1)
            .await
            .expect("the store")
            .expect("the place")
            .last_seq,
        ENTRIES + 1
    );
    assert_eq!(
        differences(&store, 1).await.expect("the store"),
        Vec::<String>::new()
    );
    store.close().await;
}
