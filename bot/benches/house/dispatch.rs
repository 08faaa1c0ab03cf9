//! The dispatcher, with a chat that does nothing, beside the bare loop of claiming and settling.

use std::sync::Arc;

use async_trait::async_trait;
use sqlx::query;
use sqlx::sqlite::SqliteConnection;
use wrackline::chat::{Chat, ChatError, Outgoing};
use wrackline::engine;
use wrackline::outbox::Dispatcher;
use wrackline_core::delivery::{BATCH_MAX, LEASE_MS};

use crate::database::Database;
use crate::figures::{median, timed};
use crate::model::Model;

const DAYS: i64 = 3;
const POSTS: i64 = 500;
const RUNS: usize = 9;

/// A chat that shows nothing.
struct Silent;

#[async_trait]
impl Chat for Silent {
    async fn send(&self, message: Outgoing<'_>) -> Result<String, ChatError> {
        Ok(message.nonce.to_owned())
    }

    async fn edit(&self, _: &str, _: Outgoing<'_>) -> Result<(), ChatError> {
        Ok(())
    }
}

/// Measures and prints.
pub(crate) async fn measure() {
    let model = Model::of_days(DAYS).await;
    let now = model.at(1, 9 * 60);
    let mut database = Database::of(&model.change()).await;
    database.copy_until(POSTS).await;
    let (app, _) = database.house(now);
    // By the next day all of them have a round to call.
    while engine::step(&app.house).await.expect("a step") > 0 {}
    assert_eq!(
        database.number("SELECT count(*) FROM post").await,
        POSTS,
        "a call each"
    );
    let mut dispatcher = Dispatcher::new(app.house.clone(), Arc::new(Silent), "bench".to_owned());
    let (mut ours, mut bare) = (Vec::new(), Vec::new());
    for run in 0..=RUNS {
        // Who comes first changes from run to run.
        for is_ours in [run % 2 == 0, run % 2 == 1] {
            again(&mut database).await;
            let (spent, sent) = if is_ours {
                timed(dispatch(&mut dispatcher)).await
            } else {
                timed(drain(&mut database.bare, now.as_millisecond())).await
            };
            assert_eq!(sent, POSTS);
            check(&mut database).await;
            let all = if is_ours { &mut ours } else { &mut bare };
            all.push(POSTS as f64 / spent * 1e3);
        }
    }
    // The first run was for warming up.
    ours.remove(0);
    bare.remove(0);
    let pairs: Vec<f64> = ours.iter().zip(&bare).map(|(ours, bare)| ours / bare).collect();
    let (ours, bare) = (median(&ours), median(&bare));
    println!("\nThe dispatcher, {POSTS} posts, {RUNS} runs, a chat that does nothing");
    println!("claim, render, send, settle: {ours:.0} posts/s; bare claim and settle: {bare:.0} posts/s");
    println!(
        "ratio of dispatcher to bare: {:.2}; pair by pair: median {:.2}",
        ours / bare,
        median(&pairs)
    );
}

/// Sends all posts that wait.
async fn dispatch(dispatcher: &mut Dispatcher) -> i64 {
    let mut sent = 0;
    while let count @ 1.. = dispatcher.step().await.expect("a step") {
        sent += count as i64;
    }
    sent
}

/// All posts wait again.
async fn again(database: &mut Database) {
    let text = "UPDATE post SET state = 'pending', sent = 0, message = NULL, attempts = 0, lease = NULL, next_at = at";
    database.run(text).await;
    database.empty_log().await;
}

async fn check(database: &mut Database) {
    let sent = database
        .number("SELECT count(*) FROM post WHERE state = 'sent' AND sent = 1")
        .await;
    assert_eq!(sent, POSTS, "all were sent");
}

/// Claims and settles all posts that wait, without a word of what they say.
async fn drain(conn: &mut SqliteConnection, now_ms: i64) -> i64 {
    let mut sent = 0;
    while let count @ 1.. = claim_and_settle(conn, now_ms).await.expect("claimed and settled") {
        sent += count;
    }
    sent
}

async fn claim_and_settle(conn: &mut SqliteConnection, now_ms: i64) -> sqlx::Result<i64> {
    query("BEGIN IMMEDIATE").execute(&mut *conn).await?;
    let text = "SELECT id, place, body FROM post WHERE state = 'pending' AND next_at <= $1
             ORDER BY next_at, id LIMIT $2";
    let rows = query(text)
        .bind(now_ms)
        .bind(BATCH_MAX)
        .fetch_all(&mut *conn)
        .await?;
    let ids: Vec<i64> = rows.iter().map(|row| sqlx::Row::get(row, 0)).collect();
    query(
        "UPDATE post SET next_at = $1, lease = 'bare', attempts = attempts + 1
             WHERE id IN (SELECT value FROM json_each($2))",
    )
    .bind(now_ms + LEASE_MS)
    .bind(serde_json::to_string(&ids).expect("numbers"))
    .execute(&mut *conn)
    .await?;
    query("COMMIT").execute(&mut *conn).await?;
    for id in &ids {
        query(
            "UPDATE post SET state = 'sent', sent = wanted, message = 'bare', lease = NULL
                 WHERE id = $1 AND lease = 'bare' AND state = 'pending'",
        )
        .bind(id)
        .execute(&mut *conn)
        .await?;
    }
    Ok(ids.len() as i64)
}
