-- Schema version 2: the rows of one id are counted, so that taking in a new entry needs no search for its id first.
ALTER TABLE entry ADD COLUMN version INTEGER NOT NULL DEFAULT 0;  -- 0 the first accepted of its id; 1, 2, ... in conflict
UPDATE entry SET version = (SELECT count(*) FROM entry AS before WHERE before.id = entry.id AND before.seq < entry.seq);
DROP INDEX entry_by_id;
CREATE UNIQUE INDEX entry_by_id ON entry (id, version);

PRAGMA user_version = 2;
