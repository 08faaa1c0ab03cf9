-- Addresses of calendars. An address is never kept, only its hash; a carer has one, and a new one takes its place.
CREATE TABLE calendar (
    place INTEGER NOT NULL REFERENCES place (id),
    carer INTEGER NOT NULL,
    hash  TEXT NOT NULL UNIQUE,
    -- How many minutes before a turn its alarm rings; none where nothing stands.
    alarm INTEGER,
    PRIMARY KEY (place, carer)
) STRICT, WITHOUT ROWID;

-- What the ids in a place's calendars are hashed with: drawn once, for they must stay the same for ever.
CREATE TABLE calendar_seed (
    place INTEGER NOT NULL PRIMARY KEY REFERENCES place (id),
    seed  TEXT NOT NULL
) STRICT, WITHOUT ROWID;
