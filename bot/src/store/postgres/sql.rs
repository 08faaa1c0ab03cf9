//! What PostgreSQL has to be told in its own way.

pub(super) use crate::store::sql::*;

/// Begins a write. Each statement sees what was committed before it; what two statements lean on is held by the row of
/// the place, which every write of a place takes first.
pub(super) const BEGIN_WRITE: &str = "BEGIN ISOLATION LEVEL READ COMMITTED READ WRITE";

/// Begins a read of one snapshot.
pub(super) const BEGIN_READ: &str = "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY";

/// Holds a place against other writers until the transaction ends.
pub(super) const PLACE_HOLD: Option<&str> = Some("SELECT id FROM place WHERE id = $1 FOR NO KEY UPDATE");

// Statements with a JSON list or a lock clause.

pub(super) const POSTS_DUE: &str = concat!(
    "SELECT ",
    post_columns!(),
    " FROM post WHERE state = 'pending' AND next_at <= $1 ORDER BY next_at, id LIMIT $2 FOR UPDATE SKIP LOCKED"
);
pub(super) const POSTS_LEASE: &str = "UPDATE post SET next_at = $1, lease = $2, attempts = attempts + 1
     WHERE id IN (SELECT value::bigint FROM json_array_elements_text($3::json))";
pub(super) const POSTS_RAISE: &str = "UPDATE post SET wanted = wanted + 1, attempts = 0, state = 'pending',
         next_at = CASE WHEN state = 'sent' THEN 0 ELSE next_at END
     WHERE place = $1 AND state IN ('pending', 'sent') AND id IN (SELECT value::bigint FROM json_array_elements_text($2::json))";
pub(super) const KEYS_ADD: &str =
    "INSERT INTO post_key (place, key, post) SELECT $1, value, $2 FROM json_array_elements_text($3::json)";
pub(super) const KEYS_COVER: &str = "INSERT INTO post_key (place, key, post)
     SELECT $1, value, NULL FROM json_array_elements_text($2::json) ON CONFLICT DO NOTHING";
pub(super) const KEYS_KNOWN: &str = "SELECT key FROM post_key
     WHERE place = $1 AND key IN (SELECT value FROM json_array_elements_text($2::json)) ORDER BY key";
/// Writes only the rows that differ: after one event most marks are as they were.
pub(super) const STANDINGS_PUT: &str = "INSERT INTO standing (place, turn, due, overdue, hazard)
     SELECT $1, value ->> 0, (value ->> 1)::bigint, (value ->> 2)::bigint, (value ->> 3)::bigint
     FROM json_array_elements($2::json)
     ON CONFLICT (place, turn) DO UPDATE
     SET due = excluded.due, overdue = excluded.overdue, hazard = excluded.hazard
     WHERE standing.due <> excluded.due OR standing.overdue <> excluded.overdue
         OR standing.hazard IS DISTINCT FROM excluded.hazard";
pub(super) const STANDINGS_KEEP: &str = "DELETE FROM standing
     WHERE place = $1 AND turn NOT IN (SELECT value ->> 0 FROM json_array_elements($2::json))";
