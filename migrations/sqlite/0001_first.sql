-- Times are milliseconds since the epoch, UTC. Bodies, answers and key lists are JSON text.
-- The journal (`entry`) only grows. Names, notes and photos lie beside it under its numbers, so that a person can be
-- erased while the journal stays.

-- A place: what every writer checks and raises, and the counters of its porch.
CREATE TABLE place (
    id             INTEGER PRIMARY KEY AUTOINCREMENT, -- a number is never given twice, even after a removal
    version        INTEGER NOT NULL DEFAULT 1 CHECK (version >= 1),
    practice       INTEGER NOT NULL CHECK (practice IN (0, 1)),
    next_at        INTEGER, -- null: the engine need not look at it
    seen_at        INTEGER NOT NULL DEFAULT 0,
    porch_lines    INTEGER NOT NULL DEFAULT 0,
    porch_revision INTEGER NOT NULL DEFAULT 0
) STRICT;

CREATE INDEX place_due ON place (next_at) WHERE next_at IS NOT NULL;

-- The journal, kept together by place so that a tail is read from neighbouring pages.
CREATE TABLE entry (
    place     INTEGER NOT NULL REFERENCES place (id),
    seq       INTEGER NOT NULL CHECK (seq >= 1),
    at        INTEGER NOT NULL,
    logged_at INTEGER NOT NULL,
    by_carer  INTEGER NOT NULL,
    said_by   INTEGER NOT NULL,
    body      TEXT NOT NULL,
    PRIMARY KEY (place, seq)
) STRICT, WITHOUT ROWID;

CREATE TABLE carer_name (
    place INTEGER NOT NULL REFERENCES place (id),
    carer INTEGER NOT NULL,
    name  TEXT NOT NULL,
    PRIMARY KEY (place, carer)
) STRICT, WITHOUT ROWID;

CREATE TABLE note (
    place INTEGER NOT NULL,
    seq   INTEGER NOT NULL,
    text  TEXT NOT NULL,
    PRIMARY KEY (place, seq),
    FOREIGN KEY (place, seq) REFERENCES entry (place, seq)
) STRICT, WITHOUT ROWID;

-- Photos are far larger than a page, so their rows lie outside the key's tree.
CREATE TABLE photo (
    place      INTEGER NOT NULL,
    seq        INTEGER NOT NULL,
    media_type TEXT NOT NULL,
    bytes      BLOB NOT NULL,
    PRIMARY KEY (place, seq),
    FOREIGN KEY (place, seq) REFERENCES entry (place, seq)
) STRICT;

-- The first answer to every line and press, under the id its transport gave it.
CREATE TABLE inbound (
    place  INTEGER NOT NULL REFERENCES place (id),
    id     TEXT NOT NULL,
    at     INTEGER NOT NULL,
    answer TEXT NOT NULL,
    PRIMARY KEY (place, id)
) STRICT;

-- Posts on their way out. `next_at` is retry time and end of a lease at once, so that one partial index serves both.
-- `keys` repeats what `post_key` holds: a claim reads a post whole, and keys never change.
CREATE TABLE post (
    id          INTEGER PRIMARY KEY,
    place       INTEGER NOT NULL REFERENCES place (id),
    keys        TEXT NOT NULL,
    destination TEXT NOT NULL,
    body        TEXT NOT NULL,
    at          INTEGER NOT NULL,
    not_after   INTEGER NOT NULL,
    wanted      INTEGER NOT NULL DEFAULT 1 CHECK (wanted >= 1),
    sent        INTEGER NOT NULL DEFAULT 0 CHECK (sent <= wanted),
    message     TEXT,
    state       TEXT NOT NULL DEFAULT 'pending' CHECK (state IN ('pending', 'sent', 'expired', 'dead')),
    attempts    INTEGER NOT NULL DEFAULT 0 CHECK (attempts >= 0),
    next_at     INTEGER NOT NULL,
    lease       TEXT,
    error       TEXT
) STRICT;

CREATE INDEX post_due ON post (next_at) WHERE state = 'pending';
CREATE INDEX post_of_place ON post (place, at);

-- What has called for a post, for ever. No post: the key was covered by another one, or grew stale.
CREATE TABLE post_key (
    place INTEGER NOT NULL REFERENCES place (id),
    key   TEXT NOT NULL,
    post  INTEGER REFERENCES post (id),
    PRIMARY KEY (place, key)
) STRICT, WITHOUT ROWID;

-- A cache of the marks.
CREATE TABLE standing (
    place   INTEGER NOT NULL REFERENCES place (id),
    turn    TEXT NOT NULL,
    due     INTEGER NOT NULL,
    overdue INTEGER NOT NULL,
    hazard  INTEGER,
    PRIMARY KEY (place, turn)
) STRICT, WITHOUT ROWID;

-- The porch's transcript. A revision belongs to one line alone, the latest that was new or edited when it was given.
CREATE TABLE porch_line (
    place    INTEGER NOT NULL REFERENCES place (id),
    id       INTEGER NOT NULL,
    key      TEXT NOT NULL,
    revision INTEGER NOT NULL,
    at       INTEGER NOT NULL,
    only_for INTEGER, -- null: everyone's eyes
    body     TEXT NOT NULL,
    PRIMARY KEY (place, id),
    UNIQUE (place, key),
    UNIQUE (place, revision)
) STRICT;

-- What lets a carer in, hashed before it came here.
CREATE TABLE access_key (
    hash     TEXT NOT NULL PRIMARY KEY,
    place    INTEGER NOT NULL REFERENCES place (id),
    carer    INTEGER NOT NULL,
    once     INTEGER NOT NULL CHECK (once IN (0, 1)),
    until_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
