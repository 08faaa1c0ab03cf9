//! What every store promises: one suite of checks, run on each adapter.
//!
//! A check gets a fresh, empty store. A new database joins by an [`Adapter`] and a test that runs the [`suite`] on it.

use std::future::Future;
use std::path::Path;
use std::pin::Pin;
use std::sync::Arc;

use async_trait::async_trait;
use tempfile::TempDir;
use wrackline::store::{Change, EntryRow, InboundRow, NewPost, PlaceId, PostRow, Store, StoreError};

/// The checks of one module, each under its function's name.
macro_rules! checks {
    ($($name:ident),* $(,)?) => {
        pub(super) const CHECKS: &[super::Check] =
            &[$(super::Check { name: stringify!($name), run: |case| Box::pin($name(case)) }),*];
    };
}

mod access;
mod calendar;
mod change;
mod copies;
mod crowd;
mod journal;
mod outbox;
mod places;
mod platform;
mod porch;
mod postgres;
mod postgres_copies;
mod postgres_crowd;
mod settling;
mod sqlite;
mod sqlite_files;

/// How the suite makes stores of one kind.
#[async_trait]
pub(crate) trait Adapter: Send + Sync {
    /// Opens the one database that belongs to a folder, as a further process would.
    async fn open(&self, folder: &Path) -> Arc<dyn Store>;

    /// Restores a backup into an empty folder and opens it.
    async fn restore(&self, backup: &Path, folder: &Path) -> Arc<dyn Store>;
}

/// What a check is given.
pub(crate) struct Case<'a> {
    adapter: &'a dyn Adapter,
    folder: TempDir,
    store: Arc<dyn Store>,
}

type Running<'a> = Pin<Box<dyn Future<Output = ()> + Send + 'a>>;

struct Check {
    name: &'static str,
    run: for<'a> fn(&'a Case<'a>) -> Running<'a>,
}

/// Runs all checks on an adapter, one after the other, each on a store of its own. Returns how many there were.
pub(crate) async fn suite(adapter: &dyn Adapter) -> usize {
    let modules = [
        ("places", places::CHECKS),
        ("journal", journal::CHECKS),
        ("change", change::CHECKS),
        ("outbox", outbox::CHECKS),
        ("settling", settling::CHECKS),
        ("platform", platform::CHECKS),
        ("porch", porch::CHECKS),
        ("access", access::CHECKS),
        ("calendar", calendar::CHECKS),
        ("copies", copies::CHECKS),
        ("crowd", crowd::CHECKS),
    ];
    let mut count = 0;
    for (module, checks) in modules {
        for check in checks {
            // The captured output of a failing run then ends with the check that failed.
            eprintln!("{module}::{}", check.name);
            let folder = tempfile::tempdir().expect("a folder");
            let store = adapter.open(folder.path()).await;
            let case = Case {
                adapter,
                folder,
                store,
            };
            (check.run)(&case).await;
            case.store.close().await;
            count += 1;
        }
    }
    count
}

const MINUTE: i64 = 60_000;

fn entry(seq: i64) -> EntryRow {
    let at_ms = seq * MINUTE;
    let body = format!(r#"{{"did":{seq}}}"#);
    EntryRow {
        seq,
        at_ms,
        logged_at_ms: at_ms + 5,
        by: 1,
        said_by: 2,
        body,
    }
}

fn entries(seqs: impl IntoIterator<Item = i64>) -> Change {
    Change {
        entries: seqs.into_iter().map(entry).collect(),
        ..Change::default()
    }
}

fn heard(id: &str) -> InboundRow {
    InboundRow {
        id: id.to_owned(),
        at_ms: MINUTE,
        answer: format!(r#"{{"answer":"{id}"}}"#),
    }
}

fn post(key: &str, at_ms: i64) -> NewPost {
    NewPost {
        keys: vec![key.to_owned()],
        destination: "hall".to_owned(),
        body: format!(r#"{{"call":"{key}"}}"#),
        at_ms,
        not_after_ms: at_ms + 60 * MINUTE,
    }
}

fn posts(list: impl IntoIterator<Item = NewPost>) -> Change {
    Change {
        posts: list.into_iter().collect(),
        ..Change::default()
    }
}

fn strings<const N: usize>(list: [&str; N]) -> Vec<String> {
    list.map(str::to_owned).to_vec()
}

/// The first keys of posts, which tell them apart in what a check expects.
fn names(posts: &[PostRow]) -> Vec<&str> {
    posts.iter().map(|post| post.keys[0].as_str()).collect()
}

impl Case<'_> {
    /// A place without entries.
    async fn place(&self) -> PlaceId {
        self.place_with(&Change::default()).await
    }

    async fn place_with(&self, change: &Change) -> PlaceId {
        self.store.create_place(false, change).await.expect("a place")
    }

    /// Commits on whatever version the place has.
    async fn commit(&self, place: PlaceId, change: &Change) {
        let version = self.version(place).await;
        self.store.commit(place, version, change).await.expect("a commit");
    }

    /// Commits what has to be refused, and sees that nothing of it was written.
    async fn refused(&self, place: PlaceId, change: &Change) -> StoreError {
        let before = copies::all_of(&*self.store, place).await;
        let version = self.version(place).await;
        let error = self
            .store
            .commit(place, version, change)
            .await
            .expect_err("a refusal");
        assert_eq!(
            copies::all_of(&*self.store, place).await,
            before,
            "a refused change left something"
        );
        error
    }

    async fn version(&self, place: PlaceId) -> i64 {
        self.store
            .head(place)
            .await
            .expect("a head")
            .expect("the place")
            .version
    }

    async fn post(&self, place: PlaceId, id: i64) -> PostRow {
        self.store
            .post(place, id)
            .await
            .expect("posts")
            .expect("the post")
    }

    /// Claims all that is due, under a lease of ten minutes.
    async fn claim(&self, now_ms: i64, lease: &str) -> Vec<PostRow> {
        self.store
            .claim(now_ms, now_ms + 10 * MINUTE, lease, 100)
            .await
            .expect("a claim")
    }
}
