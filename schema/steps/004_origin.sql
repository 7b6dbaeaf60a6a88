-- Which file this is. Two files of one house differ in it, so that what was seen of one is never taken for the other.
CREATE TABLE origin(
  -- One row, drawn when the file was made (or first opened by a program that knows this table); never changed.
  n INTEGER PRIMARY KEY CHECK (n = 1),
  random BLOB NOT NULL CHECK (length(random) = 16)
) STRICT;
INSERT INTO origin VALUES (1, randomblob(16));
