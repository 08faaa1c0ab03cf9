//! The texts of all statements that every database takes as they stand, in one table.
//!
//! Parameters are numbered (`$1`), every order is total, and no text reads the database's own clock. A list of values is
//! passed as one JSON text. What a database has to be told in its own way stands in its own `sql`.

/// The columns of a post, in the order in which rows are read.
macro_rules! post_columns {
    () => {
        "id, place, keys, destination, body, at, not_after, wanted, sent, message, state, attempts, next_at, error, shown"
    };
}
pub(in crate::store) use post_columns;

// The place and its journal.

pub(in crate::store) const PLACE_ADD: &str =
    "INSERT INTO place (practice, next_at, seen_at) VALUES ($1, $2, $3) RETURNING id";
pub(in crate::store) const PLACE_RAISE: &str = "UPDATE place SET version = version + 1,
         next_at = CASE WHEN $3 THEN $4 ELSE next_at END, seen_at = coalesce($5, seen_at)
     WHERE id = $1 AND version = $2
     RETURNING (SELECT coalesce(max(seq), 0) FROM entry WHERE entry.place = place.id)";
pub(in crate::store) const PLACES: &str = "SELECT id FROM place ORDER BY id";
pub(in crate::store) const PLACES_DUE: &str =
    "SELECT id FROM place WHERE next_at <= $1 ORDER BY next_at, id LIMIT $2";
pub(in crate::store) const NEXT_MOMENT: &str = "SELECT min(moment) FROM (
         SELECT min(next_at) AS moment FROM place WHERE next_at IS NOT NULL
         UNION ALL SELECT min(next_at) FROM post WHERE state = 'pending') AS moments";
pub(in crate::store) const HEAD: &str =
    "SELECT version, (SELECT coalesce(max(seq), 0) FROM entry WHERE entry.place = place.id),
         next_at, seen_at, practice
     FROM place WHERE id = $1";
pub(in crate::store) const ENTRY_ADD: &str =
    "INSERT INTO entry (place, seq, at, logged_at, by_carer, said_by, body)
     VALUES ($1, $2, $3, $4, $5, $6, $7)";
pub(in crate::store) const ENTRIES_AFTER: &str =
    "SELECT seq, at, logged_at, by_carer, said_by, body FROM entry
     WHERE place = $1 AND seq > $2 ORDER BY seq";

// Beside the journal.

pub(in crate::store) const NAME_PUT: &str = "INSERT INTO carer_name (place, carer, name) VALUES ($1, $2, $3)
     ON CONFLICT (place, carer) DO UPDATE SET name = excluded.name";
pub(in crate::store) const NAMES: &str = "SELECT carer, name FROM carer_name WHERE place = $1 ORDER BY carer";
pub(in crate::store) const NOTE_PUT: &str = "INSERT INTO note (place, seq, text) VALUES ($1, $2, $3)
     ON CONFLICT (place, seq) DO UPDATE SET text = excluded.text";
pub(in crate::store) const NOTES_AFTER: &str =
    "SELECT seq, text FROM note WHERE place = $1 AND seq > $2 ORDER BY seq";
pub(in crate::store) const PHOTO_PUT: &str =
    "INSERT INTO photo (place, seq, media_type, bytes) VALUES ($1, $2, $3, $4)
     ON CONFLICT (place, seq) DO UPDATE SET media_type = excluded.media_type, bytes = excluded.bytes";
pub(in crate::store) const PHOTO: &str = "SELECT media_type, bytes FROM photo WHERE place = $1 AND seq = $2";
pub(in crate::store) const INBOUND_ADD: &str =
    "INSERT INTO inbound (place, id, at, answer) VALUES ($1, $2, $3, $4)";
pub(in crate::store) const INBOUND: &str = "SELECT answer FROM inbound WHERE place = $1 AND id = $2";
pub(in crate::store) const STANDINGS: &str =
    "SELECT turn, due, overdue, hazard FROM standing WHERE place = $1 ORDER BY turn";

// Posts.

pub(in crate::store) const POST_ADD: &str =
    "INSERT INTO post (place, keys, destination, body, at, not_after, next_at)
     VALUES ($1, $2, $3, $4, $5, $6, $5) RETURNING id";
pub(in crate::store) const POST: &str = concat!(
    "SELECT ",
    post_columns!(),
    " FROM post WHERE place = $1 AND id = $2"
);
pub(in crate::store) const POSTS_SINCE: &str = concat!(
    "SELECT ",
    post_columns!(),
    " FROM post WHERE place = $1 AND at >= $2 ORDER BY id"
);
pub(in crate::store) const SETTLE_SENT: &str =
    "UPDATE post SET sent = $4, message = $5, lease = NULL, error = NULL,
         state = CASE WHEN wanted > $4 THEN 'pending' ELSE 'sent' END,
         attempts = CASE WHEN wanted > $4 THEN 0 ELSE attempts END,
         next_at = $6, shown = $7
     WHERE place = $1 AND id = $2 AND lease = $3 AND state = 'pending'";
pub(in crate::store) const SETTLE_RETRY: &str = "UPDATE post SET lease = NULL, next_at = $4, error = $5
     WHERE place = $1 AND id = $2 AND lease = $3 AND state = 'pending'";
pub(in crate::store) const SETTLE_END: &str =
    "UPDATE post SET lease = NULL, state = $4, error = coalesce($5, error)
     WHERE place = $1 AND id = $2 AND lease = $3 AND state = 'pending'";

// The porch.

pub(in crate::store) const PORCH_BY_KEY: &str =
    "SELECT id, revision, at, only_for, body FROM porch_line WHERE place = $1 AND key = $2";
pub(in crate::store) const PORCH_COUNT: &str = "UPDATE place
     SET porch_lines = porch_lines + 1, porch_revision = porch_revision + 1 WHERE id = $1
     RETURNING porch_lines, porch_revision";
pub(in crate::store) const PORCH_ADD: &str =
    "INSERT INTO porch_line (place, id, key, revision, at, only_for, body)
     VALUES ($1, $2, $3, $4, $5, $6, $7)";
pub(in crate::store) const PORCH_RAISE: &str =
    "UPDATE place SET porch_revision = porch_revision + 1 WHERE id = $1 RETURNING porch_revision";
pub(in crate::store) const PORCH_EDIT: &str = "UPDATE porch_line SET revision = $3, body = $4
     WHERE place = $1 AND id = $2 RETURNING id, revision, at, only_for, body";
pub(in crate::store) const PORCH_AFTER: &str = "SELECT id, revision, at, only_for, body FROM porch_line
     WHERE place = $1 AND revision > $2 ORDER BY revision DESC LIMIT $3";

// Keys that let a carer in.

pub(in crate::store) const ACCESS_PUT: &str = "INSERT INTO access_key (hash, place, carer, once, until_at)
     VALUES ($1, $2, $3, $4, $5)
     ON CONFLICT (hash) DO UPDATE SET once = excluded.once, until_at = excluded.until_at
     WHERE access_key.place = excluded.place AND access_key.carer = excluded.carer";
pub(in crate::store) const ACCESS: &str =
    "SELECT place, carer, once FROM access_key WHERE hash = $1 AND until_at > $2";
pub(in crate::store) const ACCESS_TAKE: &str = "DELETE FROM access_key
     WHERE hash = $1 AND until_at > $2 AND once RETURNING place, carer";

// Calendars.

pub(in crate::store) const CALENDAR_PUT: &str =
    "INSERT INTO calendar (place, carer, hash, alarm) VALUES ($1, $2, $3, $4)
     ON CONFLICT (place, carer) DO UPDATE SET hash = excluded.hash, alarm = excluded.alarm";
pub(in crate::store) const CALENDAR_SEED: &str =
    "INSERT INTO calendar_seed (place, seed) VALUES ($1, $2) ON CONFLICT (place) DO NOTHING";
pub(in crate::store) const CALENDAR_END: &str = "DELETE FROM calendar WHERE place = $1 AND carer = $2";
pub(in crate::store) const CALENDAR_OF: &str = "SELECT alarm FROM calendar WHERE place = $1 AND carer = $2";
pub(in crate::store) const CALENDAR: &str = "SELECT calendar.place, carer, alarm, seed
     FROM calendar JOIN calendar_seed ON calendar_seed.place = calendar.place WHERE hash = $1";

// The chat platform, and what the process keeps.

pub(in crate::store) const SERVER_PUT: &str =
    "INSERT INTO server (place, server, channel) VALUES ($1, $2, $3)
     ON CONFLICT (place) DO UPDATE SET server = excluded.server, channel = excluded.channel";
pub(in crate::store) const SERVER_PLACE: &str = "SELECT place FROM server WHERE server = $1";
pub(in crate::store) const SERVER: &str = "SELECT server, channel FROM server WHERE place = $1";
pub(in crate::store) const SERVERS: &str = "SELECT place, server, channel FROM server ORDER BY place";
/// An account is one carer's and a carer has one account: what stands in the way of the latest pair goes.
pub(in crate::store) const ACCOUNT_FREE: &str =
    "DELETE FROM account WHERE place = $1 AND (carer = $2 OR account = $3)";
pub(in crate::store) const ACCOUNT_ADD: &str =
    "INSERT INTO account (place, carer, account) VALUES ($1, $2, $3)";
pub(in crate::store) const ACCOUNT: &str = "SELECT carer FROM account WHERE place = $1 AND account = $2";
pub(in crate::store) const ACCOUNTS: &str =
    "SELECT carer, account FROM account WHERE place = $1 ORDER BY carer";
pub(in crate::store) const KEPT: &str = "SELECT value FROM kept WHERE name = $1";
pub(in crate::store) const KEEP: &str = "INSERT INTO kept (name, value) VALUES ($1, $2)
     ON CONFLICT (name) DO UPDATE SET value = excluded.value";
pub(in crate::store) const PHOTOS_FORGET: &str = "DELETE FROM photo WHERE EXISTS (SELECT 1 FROM entry
     WHERE entry.place = photo.place AND entry.seq = photo.seq AND entry.logged_at < $1)";
