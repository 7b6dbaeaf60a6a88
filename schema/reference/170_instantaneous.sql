-- Bands of instantaneous tripping, in multiples of the rating, where a standard publishes them.
CREATE TABLE ref_instantaneous(
  rules          TEXT NOT NULL REFERENCES ref_rule_set(id),
  trip           TEXT NOT NULL CHECK (trip IN ('B', 'C', 'D')),
  lower_multiple REAL NOT NULL CHECK (lower_multiple > 1),    -- does not open at once up to here
  upper_multiple REAL NOT NULL,                               -- opens at once from here
  edition        TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source         TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, trip),
  CHECK (upper_multiple > lower_multiple)
) STRICT;

INSERT INTO ref_instantaneous(rules, trip, lower_multiple, upper_multiple, edition, source)
SELECT rules, column1, column2, column3, '2015', iif(rules = 'uk', 'BS EN', 'IEC') || ' 60898-1; bands read in trade pages' FROM (VALUES
  ('B', 3,  5),
  ('C', 5,  10),
  ('D', 10, 20)
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk') ORDER BY rules, column1;
