-- What ties places and carers to the chat platform, by the platform's own numbers, and what the process keeps.

-- Where a place is at home: one server and the channel in it. A server is one place's.
CREATE TABLE server (
    place   BIGINT PRIMARY KEY REFERENCES place (id),
    server  BIGINT NOT NULL UNIQUE,
    channel BIGINT NOT NULL
);

-- Which account on the platform is which carer's.
CREATE TABLE account (
    place   BIGINT NOT NULL REFERENCES place (id),
    carer   BIGINT NOT NULL,
    account BIGINT NOT NULL,
    PRIMARY KEY (place, carer),
    UNIQUE (place, account)
);

-- Values that the process keeps for itself from one run to the next.
CREATE TABLE kept (
    name  TEXT NOT NULL PRIMARY KEY,
    value TEXT NOT NULL
);
