-- The record of one ward (or of one practice ward). Schema version 1.
CREATE TABLE about (
  key   TEXT PRIMARY KEY,      -- purpose ('ward' or 'practice'), record (this record's id), made_at
  value TEXT NOT NULL
) STRICT;

-- What was accepted, in the order of acceptance. Rows are only ever added.
CREATE TABLE entry (
  seq         INTEGER PRIMARY KEY,
  id          BLOB NOT NULL,     -- 16 bytes; more than one row of an id is a conflict, and all are kept
  case_id     BLOB NOT NULL,
  device      TEXT NOT NULL,     -- who sent it, which need not be who wrote it
  received_ms INTEGER NOT NULL,
  skew_ms     INTEGER,           -- writing device's clock minus this server's, where measured and over a second
  bytes       TEXT NOT NULL,     -- canonical form without skew_ms
  chain       TEXT NOT NULL      -- SHA-256 over the previous row's chain and this row
) STRICT;
CREATE INDEX entry_by_id ON entry (id);
CREATE INDEX entry_by_case ON entry (case_id, seq);

CREATE TABLE device (
  id          TEXT PRIMARY KEY,
  name        TEXT NOT NULL,
  token_hash  TEXT NOT NULL UNIQUE,
  enrolled_ms INTEGER NOT NULL
) STRICT;

CREATE TABLE person (
  name    TEXT PRIMARY KEY,
  last_ms INTEGER NOT NULL
) STRICT;

PRAGMA application_id = 1400139363;
PRAGMA user_version = 1;
