-- Residual current devices: within which time they open at multiples of their rated residual current.
CREATE TABLE ref_residual_time(
  kind     TEXT NOT NULL CHECK (kind IN ('general', 'selective')),
  multiple REAL NOT NULL CHECK (multiple >= 1),               -- of the rated residual current
  least_s  REAL CHECK (least_s > 0),                          -- does not open sooner; NULL: no such limit
  most_s   REAL NOT NULL CHECK (most_s > 0),
  edition  TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source   TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (kind, multiple)
) STRICT;

INSERT INTO ref_residual_time(kind, multiple, least_s, most_s, edition, source)
SELECT *, '2008', 'IEC 61008-1 / BS EN 61008-1 limits as printed in the manuals of two makers of test instruments' FROM (VALUES
  ('general',   1, NULL, 0.3),
  ('general',   2, NULL, 0.15),
  ('general',   5, NULL, 0.04),
  ('selective', 1, 0.13, 0.5),
  ('selective', 2, 0.05, 0.20),
  ('selective', 5, 0.05, 0.15)
);
