//! Many at once, through two handles on one database.

use std::collections::BTreeSet;
use std::sync::Arc;

use tokio::task::JoinSet;
use wrackline::store::{Change, EntryRow, PlaceId, Store, StoreError};

use super::{Case, entries, post, posts};

checks![
    twenty_writers_lose_and_double_nothing,
    two_claimers_share_the_posts,
    a_key_for_one_use_lets_one_of_many_in,
    a_porch_line_called_for_by_many_is_there_once,
    a_tail_is_one_snapshot,
    a_commit_that_is_given_up_leaves_all_or_nothing,
];

const WRITERS: u32 = 20;
/// Of all writers one wins each round, so nobody loses more often than there are others; doubled for good measure.
const ROUNDS_MAX: u32 = 2 * WRITERS;

impl Case<'_> {
    async fn two(&self) -> [Arc<dyn Store>; 2] {
        [self.store.clone(), self.adapter.open(self.folder.path()).await]
    }
}

/// Commits one entry, and starts over whenever another writer was first.
async fn insist(store: &dyn Store, place: PlaceId, by: u32) {
    for _ in 0..ROUNDS_MAX {
        let head = store.head(place).await.expect("a head").expect("the place");
        let body = format!(r#"{{"by":{by}}}"#);
        let entry = EntryRow {
            seq: head.last_seq + 1,
            at_ms: 1,
            logged_at_ms: 1,
            by,
            said_by: by,
            body,
        };
        let change = Change {
            entries: vec![entry],
            ..Change::default()
        };
        match store.commit(place, head.version, &change).await {
            Ok(_) => return,
            Err(StoreError::Conflict) => {}
            Err(error) => panic!("writer {by}: {error:?}"),
        }
    }
    panic!("writer {by} never got through");
}

async fn twenty_writers_lose_and_double_nothing(case: &Case<'_>) {
    let place = case.place().await;
    let stores = case.two().await;
    let mut writers = JoinSet::new();
    for by in 0..WRITERS {
        let store = stores[by as usize % 2].clone();
        writers.spawn(async move { insist(&*store, place, by).await });
    }
    writers.join_all().await;
    let tail = stores[1].tail(place, 0).await.expect("a tail");
    assert_eq!(
        (tail.head.version, tail.head.last_seq),
        (1 + i64::from(WRITERS), i64::from(WRITERS))
    );
    let seqs: Vec<i64> = tail.entries.iter().map(|entry| entry.seq).collect();
    assert_eq!(seqs, (1..=i64::from(WRITERS)).collect::<Vec<_>>());
    let writers: BTreeSet<u32> = tail.entries.iter().map(|entry| entry.by).collect();
    assert_eq!(writers, (0..WRITERS).collect::<BTreeSet<_>>());
}

async fn two_claimers_share_the_posts(case: &Case<'_>) {
    case.place_with(&posts((0..100).map(|n| post(&n.to_string(), n))))
        .await;
    let mut claimers = JoinSet::new();
    for (n, store) in case.two().await.into_iter().enumerate() {
        claimers.spawn(async move {
            let mut mine = Vec::new();
            for round in 0..100 {
                let lease = format!("{n}/{round}");
                let claimed = store.claim(1_000, 9_999, &lease, 7).await.expect("a claim");
                if claimed.is_empty() {
                    return mine;
                }
                mine.extend(claimed.into_iter().map(|post| post.id));
            }
            panic!("claims without end");
        });
    }
    let claimed = claimers.join_all().await.concat();
    assert_eq!(claimed.len(), 100);
    assert_eq!(
        claimed.iter().collect::<BTreeSet<_>>().len(),
        100,
        "each post is one claimer's"
    );
}

async fn a_key_for_one_use_lets_one_of_many_in(case: &Case<'_>) {
    let place = case.place().await;
    case.store.key_put(place, 7, "h", true, 100).await.expect("a key");
    let stores = case.two().await;
    let mut users = JoinSet::new();
    for n in 0..10 {
        let store = stores[n % 2].clone();
        users.spawn(async move { store.key_use("h", 1).await.expect("a look") });
    }
    let let_in: Vec<_> = users.join_all().await.into_iter().flatten().collect();
    assert_eq!(let_in, [(place, 7)]);
}

async fn a_porch_line_called_for_by_many_is_there_once(case: &Case<'_>) {
    let place = case.place().await;
    let stores = case.two().await;
    let mut adders = JoinSet::new();
    for n in 0..10_usize {
        let store = stores[n % 2].clone();
        adders.spawn(async move {
            store
                .porch_add(place, "a", 1, None, &n.to_string())
                .await
                .expect("a line")
        });
    }
    let added = adders.join_all().await;
    let stored = case.store.porch_after(place, 0, 100).await.expect("lines");
    assert_eq!(stored.len(), 1);
    assert!(added.iter().all(|line| *line == stored[0]), "{added:?}");
}

async fn a_tail_is_one_snapshot(case: &Case<'_>) {
    let place = case.place().await;
    let [writer, reader] = case.two().await;
    let writing = tokio::spawn(async move {
        for seq in 1..=50 {
            writer
                .commit(place, seq, &entries([seq]))
                .await
                .expect("a commit");
        }
    });
    let mut reads = 0;
    loop {
        let tail = reader.tail(place, 0).await.expect("a tail");
        assert_eq!(
            tail.entries.last().map_or(0, |entry| entry.seq),
            tail.head.last_seq
        );
        assert_eq!(tail.head.version, tail.head.last_seq + 1);
        reads += 1;
        if tail.head.last_seq == 50 {
            break;
        }
        assert!(
            reads < 1_000_000,
            "the writer got stuck at {}",
            tail.head.last_seq
        );
    }
    writing.await.expect("the writer");
}

/// A handler that is dropped in the middle must neither leave half a change nor spoil the store for the next one.
async fn a_commit_that_is_given_up_leaves_all_or_nothing(case: &Case<'_>) {
    let place = case.place().await;
    for patience in 0..40 {
        let before = case.store.head(place).await.expect("a head").expect("the place");
        let change = entries(before.last_seq + 1..=before.last_seq + 3);
        let given_up = async {
            for _ in 0..patience {
                tokio::task::yield_now().await;
            }
        };
        tokio::select! {
            biased;
            done = case.store.commit(place, before.version, &change) => { done.expect("a commit"); }
            () = given_up => {}
        }
        // Another write of the place waits for whatever is still under way.
        case.store
            .porch_add(place, &patience.to_string(), 1, None, "{}")
            .await
            .expect("a line");
        let after = case.store.head(place).await.expect("a head").expect("the place");
        let grown = (after.version - before.version, after.last_seq - before.last_seq);
        assert!(
            grown == (0, 0) || grown == (1, 3),
            "patience {patience}: {grown:?}"
        );
    }
    let tail = case.store.tail(place, 0).await.expect("a tail");
    assert_eq!(tail.entries.len() as i64, tail.head.last_seq);
}
