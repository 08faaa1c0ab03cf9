//! What SQLite has to be told in its own way.

pub(super) use crate::store::sql::*;

/// Begins a write. A deferred transaction that reads first and writes later could not wait for the lock.
pub(super) const BEGIN_WRITE: &str = "BEGIN IMMEDIATE";

/// Begins a read of one snapshot.
pub(super) const BEGIN_READ: &str = "BEGIN";

/// Holds a place against other writers: there are none beside the one that has begun to write.
pub(super) const PLACE_HOLD: Option<&str> = None;

// Statements with a JSON list or a lock clause.

pub(super) const POSTS_DUE: &str = concat!(
    "SELECT ",
    post_columns!(),
    " FROM post WHERE state = 'pending' AND next_at <= $1 ORDER BY next_at, id LIMIT $2"
);
pub(super) const POSTS_LEASE: &str = "UPDATE post SET next_at = $1, lease = $2, attempts = attempts + 1
     WHERE id IN (SELECT value FROM json_each($3))";
pub(super) const POSTS_RAISE: &str = "UPDATE post SET wanted = wanted + 1, attempts = 0, state = 'pending',
         next_at = CASE WHEN state = 'sent' THEN 0 ELSE next_at END
     WHERE place = $1 AND state IN ('pending', 'sent') AND id IN (SELECT value FROM json_each($2))";
pub(super) const KEYS_ADD: &str =
    "INSERT INTO post_key (place, key, post) SELECT $1, value, $2 FROM json_each($3)";
pub(super) const KEYS_COVER: &str = "INSERT INTO post_key (place, key, post)
     SELECT $1, value, NULL FROM json_each($2) WHERE true ON CONFLICT DO NOTHING";
pub(super) const KEYS_KNOWN: &str = "SELECT key FROM post_key
     WHERE place = $1 AND key IN (SELECT value FROM json_each($2)) ORDER BY key";
/// Writes only the rows that differ: after one event most marks are as they were.
pub(super) const STANDINGS_PUT: &str = "INSERT INTO standing (place, turn, due, overdue, hazard)
     SELECT $1, value ->> 0, value ->> 1, value ->> 2, value ->> 3 FROM json_each($2) WHERE true
     ON CONFLICT (place, turn) DO UPDATE
     SET due = excluded.due, overdue = excluded.overdue, hazard = excluded.hazard
     WHERE standing.due <> excluded.due OR standing.overdue <> excluded.overdue
         OR standing.hazard IS DISTINCT FROM excluded.hazard";
pub(super) const STANDINGS_KEEP: &str = "DELETE FROM standing
     WHERE place = $1 AND turn NOT IN (SELECT value ->> 0 FROM json_each($2))";
