-- The journal: what was changed, when and by which command, with what it takes to undo it.
CREATE TABLE journal(
  -- One change: all that one command did. The undone ones are the last ones; the next change drops them.
  n INTEGER PRIMARY KEY, -- in the order in which they were made
  time TEXT NOT NULL CHECK (length(time) = 20), -- when, UTC, 2026-01-31T18:30:00Z
  command TEXT NOT NULL, -- as the person wrote it
  changes TEXT NOT NULL, -- what changed, one `kind id: key old -> new` a line
  changeset BLOB NOT NULL, -- the same for SQLite's session extension
  undone INTEGER NOT NULL CHECK (undone IN (0, 1)) -- 1: undone, and can be done again
) STRICT;
