-- Schema version 3: the hubs this ward is in step with, and how far.
CREATE TABLE hub (
  address  TEXT PRIMARY KEY,   -- as it was given: https://hub.example:8750
  token    TEXT NOT NULL,      -- shown to the hub with every request
  record   TEXT NOT NULL,      -- the hub's record id; another one there means: begin anew
  sent     INTEGER NOT NULL,   -- our entries up to this seq are on the hub's disk
  received INTEGER NOT NULL    -- its entries up to this seq are here
) STRICT;

PRAGMA user_version = 3;
