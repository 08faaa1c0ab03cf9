//! Posts carried per second on both databases, beside a bare loop of SQL on the same database, and beside a library of
//! job queues on one of its own:
//!
//!     cargo bench -p wrackline-tests --bench store [-- --quick]
//!
//! The PostgreSQL server is the tests' own, which does not wait for the disk (`fsync=off`); SQLite runs with
//! `synchronous=FULL` in the folder of temporary files.

#![allow(clippy::print_stdout, reason = "a bench prints its table")]

mod bare;
mod ours;
mod queue;

use std::sync::Arc;
use std::time::Instant;

use wrackline::store::Store;
use wrackline::store::postgres::PostgresStore;
use wrackline::store::sqlite::SqliteStore;

/// Posts in one claim.
pub(crate) const BATCH: i64 = 100;

/// How often each is measured; the middle one counts.
const ROUNDS: usize = 5;

fn main() {
    let quick = std::env::args().any(|argument| argument == "--quick");
    let posts: i64 = if quick { 300 } else { 3_000 };
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .expect("a runtime");
    runtime.block_on(async {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("house.db");
        let store: Arc<dyn Store> = Arc::new(SqliteStore::open(&file).await.expect("a store"));
        let bare = bare::Bare::sqlite(&file).await;
        let queue = queue::Queue::sqlite(&folder.path().join("queue.db")).await;
        compare("SQLite, file, FULL", &store, &bare, &queue, posts).await;
        let url = wrackline_tests::postgres::database();
        let parsed = url.parse().expect("an address");
        let store: Arc<dyn Store> = Arc::new(PostgresStore::open(&parsed).await.expect("a store"));
        let bare = bare::Bare::postgres(&url).await;
        let queue = queue::Queue::postgres(&wrackline_tests::postgres::database()).await;
        compare("PostgreSQL, fsync off", &store, &bare, &queue, posts).await;
    });
}

async fn compare(name: &str, store: &Arc<dyn Store>, bare: &bare::Bare, queue: &queue::Queue, posts: i64) {
    let (mut through_port, mut through_dispatcher, mut through_sql) = (Vec::new(), Vec::new(), Vec::new());
    let mut through_queue = Vec::new();
    for _ in 0..ROUNDS {
        ours::fill(&**store, posts).await;
        let begun = Instant::now();
        assert_eq!(bare.carry().await, posts);
        through_sql.push(posts as f64 / begun.elapsed().as_secs_f64());
        ours::fill(&**store, posts).await;
        let begun = Instant::now();
        assert_eq!(ours::carry(&**store).await, posts);
        through_port.push(posts as f64 / begun.elapsed().as_secs_f64());
        ours::fill(&**store, posts).await;
        let begun = Instant::now();
        assert_eq!(ours::dispatch(store).await, posts);
        through_dispatcher.push(posts as f64 / begun.elapsed().as_secs_f64());
        through_queue.push(queue.carry(posts).await);
    }
    let (port, sql) = (middle(&mut through_port), middle(&mut through_sql));
    let dispatcher = middle(&mut through_dispatcher);
    println!("{name}: {posts} posts, claims of {BATCH}, posts a second (middle of {ROUNDS})");
    println!("  bare SQL               {sql:.0}");
    println!("  claim, send, settle    {port:.0}: {:.2}, aim ≥ 0.6", port / sql);
    println!(
        "  the whole dispatcher   {dispatcher:.0}: {:.2} (it reads the place and renders as well)",
        dispatcher / sql
    );
    let queue = middle(&mut through_queue);
    println!("  apalis                 {queue:.0}: {:.2}", queue / sql);
}

fn middle(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}
