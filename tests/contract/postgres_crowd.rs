//! Several processes on one server.

use std::collections::BTreeSet;
use std::time::Duration;

use tokio::task::JoinSet;
use wrackline::store::{Change, EntryRow, ServerRow, Store, StoreError};
use wrackline_tests::postgres::database;

use super::postgres::{open, raw, run};
use super::{post, posts};

const TASKS: u32 = 8;
const COMMITS: u32 = 25;

/// Long enough for a busy machine, far shorter than a lock is waited for.
const AT_ONCE: Duration = Duration::from_secs(3);

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn concurrent_commits_leave_no_gap() {
    let text = database();
    let stores = [open(&text).await, open(&text).await];
    let place = stores[0]
        .create_place(false, &Change::default())
        .await
        .expect("a place");
    let mut tasks = JoinSet::new();
    for by in 0..TASKS {
        let store = stores[by as usize % 2].clone();
        tasks.spawn(async move {
            let mut versions = Vec::new();
            while versions.len() < COMMITS as usize {
                let head = store.head(place).await.expect("a head").expect("the place");
                let entry = EntryRow {
                    seq: head.last_seq + 1,
                    at_ms: 1,
                    logged_at_ms: 1,
                    by,
                    said_by: by,
                    body: "{}".to_owned(),
                };
                let change = Change {
                    entries: vec![entry],
                    posts: vec![post(&format!("{by}/{}", versions.len()), 1)],
                    ..Change::default()
                };
                match store.commit(place, head.version, &change).await {
                    Ok(version) => versions.push(version),
                    Err(StoreError::Conflict) => {}
                    Err(error) => panic!("task {by}: {error:?}"),
                }
            }
            versions
        });
    }
    let all = i64::from(TASKS * COMMITS);
    let versions: BTreeSet<i64> = tasks.join_all().await.concat().into_iter().collect();
    assert_eq!(versions, (2..=all + 1).collect(), "each version is one commit's");
    let tail = stores[1].tail(place, 0).await.expect("a tail");
    assert_eq!((tail.head.version, tail.head.last_seq), (all + 1, all));
    let seqs: Vec<i64> = tail.entries.iter().map(|entry| entry.seq).collect();
    assert_eq!(seqs, (1..=all).collect::<Vec<_>>());
    let posts = stores[0].posts(place, 0).await.expect("posts");
    assert_eq!(posts.len(), tail.entries.len());
    for store in stores {
        store.close().await;
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn claimers_pass_over_what_others_hold() {
    let text = database();
    let store = open(&text).await;
    let change = posts((0..40).map(|n| post(&n.to_string(), n)));
    store.create_place(false, &change).await.expect("a place");
    // Another process is in the middle of claiming the first ten.
    let mut conn = raw(&text).await;
    let held = "BEGIN; SELECT id FROM post ORDER BY next_at, id LIMIT 10 FOR UPDATE";
    run(&mut conn, held).await;
    let claimed = tokio::time::timeout(AT_ONCE, store.claim(1_000, 9_999, "one", 20))
        .await
        .expect("no wait for the other's rows")
        .expect("a claim");
    let moments: Vec<i64> = claimed.iter().map(|post| post.at_ms).collect();
    assert_eq!(moments, (10..30).collect::<Vec<_>>());
    run(&mut conn, "ROLLBACK").await;
    let rest = store.claim(1_000, 9_999, "two", 100).await.expect("a claim");
    let moments: Vec<i64> = rest.iter().map(|post| post.at_ms).collect();
    assert_eq!(moments, (0..10).chain(30..40).collect::<Vec<_>>());
    store.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn claimers_of_several_processes_share_the_posts() {
    let text = database();
    let store = open(&text).await;
    let change = posts((0..200).map(|n| post(&n.to_string(), n)));
    store.create_place(false, &change).await.expect("a place");
    let mut claimers = JoinSet::new();
    for process in 0..2 {
        let store = open(&text).await;
        for task in 0..3 {
            let store = store.clone();
            claimers.spawn(async move {
                let mut mine = Vec::new();
                for round in 0..200 {
                    let lease = format!("{process}/{task}/{round}");
                    let claimed = store.claim(1_000, 9_999, &lease, 7).await.expect("a claim");
                    if claimed.is_empty() {
                        return mine;
                    }
                    mine.extend(claimed.into_iter().map(|post| post.id));
                }
                panic!("claims without end");
            });
        }
    }
    let claimed = claimers.join_all().await.concat();
    let each: BTreeSet<_> = claimed.iter().collect();
    assert_eq!(
        (claimed.len(), each.len()),
        (200, 200),
        "each post is one claimer's"
    );
}

/// Two places that want each other's server wait for one another: one of them is told to try again.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn places_that_swap_servers_end() {
    let text = database();
    let store = open(&text).await;
    let linked = |server| Change {
        server: Some(ServerRow { server, channel: 1 }),
        ..Change::default()
    };
    let mut places = Vec::new();
    for server in [1, 2] {
        places.push(store.create_place(false, &linked(server)).await.expect("a place"));
    }
    for round in 0..10 {
        let mut swaps = JoinSet::new();
        for (at, place) in places.iter().copied().enumerate() {
            let store = store.clone();
            swaps.spawn(async move {
                let head = store.head(place).await.expect("a head").expect("the place");
                let wanted = if (round + at) % 2 == 0 { 2 } else { 1 };
                store.commit(place, head.version, &linked(wanted)).await
            });
        }
        for swapped in swaps.join_all().await {
            assert!(
                matches!(swapped, Ok(_) | Err(StoreError::Conflict)),
                "{swapped:?}"
            );
        }
        let servers = store.servers().await.expect("servers");
        let each: BTreeSet<i64> = servers.iter().map(|(_, row)| row.server).collect();
        assert_eq!((servers.len(), each.len()), (2, 2));
    }
    store.close().await;
}

/// A place that another process is writing is waited for, and the others are not.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn places_are_written_beside_each_other() {
    let text = database();
    let store = open(&text).await;
    let held = store
        .create_place(false, &Change::default())
        .await
        .expect("a place");
    let free = store
        .create_place(false, &Change::default())
        .await
        .expect("a place");
    let mut conn = raw(&text).await;
    run(
        &mut conn,
        &format!("BEGIN; UPDATE place SET version = version + 1 WHERE id = {held}"),
    )
    .await;
    let change = super::entries([1]);
    let written = tokio::time::timeout(AT_ONCE, store.commit(free, 1, &change));
    written.await.expect("no wait").expect("a commit");
    let waiting = {
        let store = store.clone();
        tokio::spawn(async move { store.commit(held, 1, &super::entries([1])).await })
    };
    let line = tokio::time::timeout(AT_ONCE, store.porch_add(free, "l", 1, None, "{}"));
    line.await.expect("no wait").expect("a line");
    run(&mut conn, "COMMIT").await;
    let late = waiting.await.expect("the writer");
    assert!(matches!(late, Err(StoreError::Conflict)), "{late:?}");
    store.close().await;
}

#[tokio::test]
async fn a_lock_held_too_long_is_told_as_locked() {
    let text = database();
    let store = open(&text).await;
    let place = store
        .create_place(false, &Change::default())
        .await
        .expect("a place");
    let mut conn = raw(&text).await;
    run(&mut conn, "BEGIN; SELECT id FROM place FOR UPDATE").await;
    let refused = store.commit(place, 1, &Change::default()).await;
    assert!(matches!(refused, Err(StoreError::Locked)), "{refused:?}");
    run(&mut conn, "ROLLBACK").await;
    store
        .commit(place, 1, &Change::default())
        .await
        .expect("a commit");
    store.close().await;
}
