//! A twin of a place in the same file, to which the rows that a line wrote are written by bare SQL.

use sqlx::query;
use sqlx::sqlite::SqliteConnection;
use wrackline::store::{EntryRow, Head, PlaceId, PostRow, StandingRow, Store};

use crate::database::FIRST;

/// The twin of the first place.
pub(crate) const TWIN: PlaceId = FIRST + 1;

/// What of a place a line may change.
pub(crate) struct State {
    head: Head,
    standings: Vec<StandingRow>,
    posts: Vec<PostRow>,
}

impl State {
    /// How a place stands, with its posts of the last two days.
    pub(crate) async fn of(store: &dyn Store, place: PlaceId, since_ms: i64) -> Self {
        Self {
            head: store.head(place).await.expect("a head").expect("a place"),
            standings: store.standings(place).await.expect("marks"),
            posts: store.posts(place, since_ms).await.expect("posts"),
        }
    }
}

/// The rows that a line wrote to the first place, as they are to be written to its twin.
pub(crate) struct Rows {
    head: Head,
    inbound: (String, String),
    entries: Vec<EntryRow>,
    marks: Vec<StandingRow>,
    gone: Vec<String>,
    raised: Vec<i64>,
}

impl Rows {
    /// The rows that differ from before a line.
    pub(crate) async fn since(store: &dyn Store, before: &State, id: &str, since_ms: i64) -> Self {
        let after = State::of(store, FIRST, since_ms).await;
        let twins = store.posts(TWIN, since_ms).await.expect("posts");
        let was_raised = |post: &&PostRow| {
            before
                .posts
                .iter()
                .any(|one| one.id == post.id && one.wanted < post.wanted)
        };
        let twin_of = |post: &PostRow| {
            twins
                .iter()
                .find(|twin| twin.keys == post.keys)
                .expect("a twin")
                .id
        };
        let answer = store
            .inbound(FIRST, id)
            .await
            .expect("an answer")
            .expect("a line that wrote something");
        let turns = |all: &[StandingRow]| all.iter().map(|row| row.turn.clone()).collect::<Vec<_>>();
        let kept = turns(&after.standings);
        Self {
            head: after.head,
            inbound: (id.to_owned(), answer),
            entries: store
                .tail(FIRST, before.head.last_seq)
                .await
                .expect("a journal")
                .entries,
            marks: after
                .standings
                .iter()
                .filter(|row| !before.standings.contains(row))
                .cloned()
                .collect(),
            gone: turns(&before.standings)
                .into_iter()
                .filter(|turn| !kept.contains(turn))
                .collect(),
            raised: after.posts.iter().filter(was_raised).map(twin_of).collect(),
        }
    }

    /// Writes them in one transaction.
    pub(crate) async fn write(&self, conn: &mut SqliteConnection) -> sqlx::Result<()> {
        query("BEGIN IMMEDIATE").execute(&mut *conn).await?;
        query("UPDATE place SET version = version + 1, next_at = $2, seen_at = $3 WHERE id = $1")
            .bind(TWIN)
            .bind(self.head.next_at_ms)
            .bind(self.head.seen_at_ms)
            .execute(&mut *conn)
            .await?;
        let (id, answer) = &self.inbound;
        let text = "INSERT INTO inbound (place, id, at, answer) VALUES ($1, $2, $3, $4)";
        query(text)
            .bind(TWIN)
            .bind(id)
            .bind(0)
            .bind(answer)
            .execute(&mut *conn)
            .await?;
        for entry in &self.entries {
            query("INSERT INTO entry VALUES ($1, $2, $3, $4, $5, $6, $7)")
                .bind(TWIN)
                .bind(entry.seq)
                .bind(entry.at_ms)
                .bind(entry.logged_at_ms)
                .bind(entry.by)
                .bind(entry.said_by)
                .bind(&entry.body)
                .execute(&mut *conn)
                .await?;
        }
        for post in &self.raised {
            query("UPDATE post SET wanted = wanted + 1, state = 'pending' WHERE id = $1")
                .bind(post)
                .execute(&mut *conn)
                .await?;
        }
        self.write_marks(conn).await?;
        query("COMMIT").execute(conn).await?;
        Ok(())
    }

    async fn write_marks(&self, conn: &mut SqliteConnection) -> sqlx::Result<()> {
        for turn in &self.gone {
            query("DELETE FROM standing WHERE place = $1 AND turn = $2")
                .bind(TWIN)
                .bind(turn)
                .execute(&mut *conn)
                .await?;
        }
        for row in &self.marks {
            query("INSERT OR REPLACE INTO standing VALUES ($1, $2, $3, $4, $5)")
                .bind(TWIN)
                .bind(&row.turn)
                .bind(row.due_ms)
                .bind(row.overdue_ms)
                .bind(row.hazard_ms)
                .execute(&mut *conn)
                .await?;
        }
        Ok(())
    }
}
