-- Overcurrent device of a motor or cooling branch, times the current of the largest one; the rest is added.
CREATE TABLE ref_motor_breaker(
  rules          TEXT NOT NULL REFERENCES ref_rule_set(id),
  what           TEXT NOT NULL CHECK (what IN ('motor', 'cooling')),
  device         TEXT NOT NULL CHECK (device IN ('breaker', 'fuse')),  -- inverse-time breaker, or fuse without time delay
  note_times     REAL CHECK (note_times >= 1),                 -- a note above this; NULL: none
  warning_times  REAL NOT NULL CHECK (warning_times >= 1),     -- the usual limit
  next_size      INTEGER NOT NULL CHECK (next_size IN (0, 1)), -- 1: the standard size above the usual limit is allowed
  danger_times   REAL NOT NULL CHECK (danger_times > warning_times),  -- never above this
  danger_times_large REAL NOT NULL CHECK (danger_times_large <= danger_times),  -- the same above large_a
  large_a        REAL NOT NULL CHECK (large_a > 0),            -- full-load current, ampere
  clause         TEXT NOT NULL CHECK (length(clause) > 0),
  edition        TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source         TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, what, device)
) STRICT;

INSERT INTO ref_motor_breaker(rules, what, device, note_times, warning_times, next_size, danger_times, danger_times_large, large_a,
  clause, edition, source)
SELECT 'us', *, '2017', 'NFPA 70 (National Electrical Code); percentages read in trade press' FROM (VALUES
  ('motor',   'breaker', NULL, 2.5,  1, 4, 3, 100, '430.52(C)(1), Table 430.52'),
  ('motor',   'fuse',    NULL, 3,    1, 4, 4, 100, '430.52(C)(1), Table 430.52'),
  ('cooling', 'breaker', 1.75, 2.25, 0, 4, 4, 100, '440.22(A)'),
  ('cooling', 'fuse',    1.75, 2.25, 0, 4, 4, 100, '440.22(A)')
);
