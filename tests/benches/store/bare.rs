//! The bare loop: the fewest statements that claim posts and mark them, on the driver alone.

use std::path::Path;

use sqlx::{PgPool, Row as _, SqlitePool, query};

use super::BATCH;

/// A database, by its driver.
pub(crate) enum Bare {
    Sqlite(SqlitePool),
    Postgres(PgPool),
}

const CLAIM_SQLITE: &str =
    "UPDATE post SET next_at = next_at + 30000, attempts = attempts + 1, lease = 'bare'
     WHERE id IN (SELECT id FROM post WHERE state = 'pending' AND lease IS NULL ORDER BY next_at, id LIMIT $1)
     RETURNING id, place, keys, body";
const CLAIM_POSTGRES: &str =
    "UPDATE post SET next_at = next_at + 30000, attempts = attempts + 1, lease = 'bare'
     WHERE id IN (SELECT id FROM post WHERE state = 'pending' AND lease IS NULL ORDER BY next_at, id LIMIT $1
         FOR UPDATE SKIP LOCKED)
     RETURNING id, place, keys, body";
const MARK: &str = "UPDATE post SET state = 'sent', sent = wanted, message = '1', lease = NULL WHERE id = $1";

impl Bare {
    pub(crate) async fn sqlite(file: &Path) -> Self {
        let options = sqlx::sqlite::SqliteConnectOptions::new()
            .filename(file)
            .synchronous(sqlx::sqlite::SqliteSynchronous::Full);
        let pool = sqlx::sqlite::SqlitePoolOptions::new().max_connections(1);
        Self::Sqlite(pool.connect_with(options).await.expect("a connection"))
    }

    pub(crate) async fn postgres(url: &str) -> Self {
        let options: sqlx::postgres::PgConnectOptions = url.parse().expect("an address");
        let options = options.options([("search_path", "wrackline")]);
        let pool = sqlx::postgres::PgPoolOptions::new().max_connections(1);
        Self::Postgres(pool.connect_with(options).await.expect("a connection"))
    }

    /// Claims and marks until nothing is due; how many there were.
    pub(crate) async fn carry(&self) -> i64 {
        let mut count = 0;
        loop {
            let ids = self.claim().await;
            if ids.is_empty() {
                return count;
            }
            for id in ids {
                self.mark(id).await;
                count += 1;
            }
        }
    }

    async fn claim(&self) -> Vec<i64> {
        match self {
            Self::Sqlite(pool) => {
                let rows = query(CLAIM_SQLITE)
                    .bind(BATCH)
                    .fetch_all(pool)
                    .await
                    .expect("a claim");
                rows.iter().map(|row| row.get(0)).collect()
            }
            Self::Postgres(pool) => {
                let rows = query(CLAIM_POSTGRES)
                    .bind(BATCH)
                    .fetch_all(pool)
                    .await
                    .expect("a claim");
                rows.iter().map(|row| row.get(0)).collect()
            }
        }
    }

    async fn mark(&self, id: i64) {
        match self {
            Self::Sqlite(pool) => query(MARK).bind(id).execute(pool).await.map(drop),
            Self::Postgres(pool) => query(MARK).bind(id).execute(pool).await.map(drop),
        }
        .expect("it is marked");
    }
}
