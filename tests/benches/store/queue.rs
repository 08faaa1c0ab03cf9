//! The same work through a library of job queues, on a database of the same kind and settings.

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use apalis::prelude::{BoxDynError, Data, TaskSink, WorkerBuilder, WorkerContext};
use apalis_postgres::PostgresStorage;
use apalis_sqlite::SqliteStorage;
use futures_util::stream;
use sqlx::postgres::{PgPool, PgPoolOptions};
use sqlx::sqlite::{
    SqliteConnectOptions, SqliteJournalMode, SqlitePool, SqlitePoolOptions, SqliteSynchronous,
};

use super::BATCH;

/// Connections of a pool: the library keeps its worker alive beside its work.
const CONNECTIONS: u32 = 2;

/// A database of the library's own.
pub(crate) enum Queue {
    Sqlite(SqlitePool),
    Postgres(PgPool),
}

/// How many workers there have been.
static WORKERS: AtomicI64 = AtomicI64::new(0);

/// What is still to be carried.
type Left = Arc<AtomicI64>;

/// Carries a post: it counts, and ends the worker with the last one.
async fn carry(_post: i64, left: Data<Left>, worker: WorkerContext) -> Result<(), BoxDynError> {
    if left.fetch_sub(1, Ordering::Relaxed) == 1 {
        worker.stop()?;
    }
    Ok(())
}

macro_rules! carried {
    ($storage:ident, $config:path, $pool:expr, $posts:expr) => {{
        let config = <$config>::default()
            .queue("posts")
            .batch_size(usize::try_from(BATCH).expect("a batch"));
        let mut backend = $storage::<i64>::new($pool).with_config(config);
        backend
            .push_stream(&mut stream::iter(0..$posts))
            .await
            .expect("they are queued");
        let left: Left = Arc::new(AtomicI64::new($posts));
        // A name that was used counts as still at work.
        let name = format!("bench {}", WORKERS.fetch_add(1, Ordering::Relaxed));
        let worker = WorkerBuilder::new(name)
            .backend(backend)
            .data(left.clone())
            .build(carry);
        let begun = std::time::Instant::now();
        worker.run().await.expect("it runs");
        assert_eq!(left.load(Ordering::Relaxed), 0);
        $posts as f64 / begun.elapsed().as_secs_f64()
    }};
}

impl Queue {
    pub(crate) async fn sqlite(file: &std::path::Path) -> Self {
        let options = SqliteConnectOptions::new()
            .filename(file)
            .create_if_missing(true)
            .journal_mode(SqliteJournalMode::Wal)
            .synchronous(SqliteSynchronous::Full);
        let pool = SqlitePoolOptions::new().max_connections(CONNECTIONS);
        let pool = pool.connect_with(options).await.expect("a connection");
        let migrator = SqliteStorage::migrations();
        migrator.run(&pool).await.expect("its tables");
        Self::Sqlite(pool)
    }

    pub(crate) async fn postgres(url: &str) -> Self {
        let pool = PgPoolOptions::new().max_connections(CONNECTIONS);
        let pool = pool.connect(url).await.expect("a connection");
        PostgresStorage::setup(&pool).await.expect("its tables");
        Self::Postgres(pool)
    }

    /// Queues so many and carries them; how many a second were carried.
    pub(crate) async fn carry(&self, posts: i64) -> f64 {
        match self {
            Self::Sqlite(pool) => carried!(SqliteStorage, apalis_sqlite::Config, pool, posts),
            Self::Postgres(pool) => carried!(PostgresStorage, apalis_postgres::Config, pool, posts),
        }
    }
}
