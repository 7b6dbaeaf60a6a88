-- Largest overcurrent device of small conductors, whatever their ampacity.
CREATE TABLE ref_small_conductor(
  rules     TEXT NOT NULL REFERENCES ref_rule_set(id),
  size      TEXT NOT NULL,                                    -- as in ref_conductor
  metal     TEXT NOT NULL CHECK (metal IN ('copper', 'aluminium')),
  breaker_a REAL NOT NULL CHECK (breaker_a > 0),              -- largest rating, ampere
  clause    TEXT NOT NULL CHECK (length(clause) > 0),
  edition   TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source    TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, size, metal)
) STRICT;

INSERT INTO ref_small_conductor(rules, size, metal, breaker_a, clause, edition, source)
SELECT 'us', column1, column2, column3, '240.4(D)', '2017', 'NFPA 70 (National Electrical Code) 240.4(D); read at wire makers' FROM (VALUES
  ('14 AWG', 'copper',    15),
  ('12 AWG', 'copper',    20),
  ('10 AWG', 'copper',    30),
  ('12 AWG', 'aluminium', 15),
  ('10 AWG', 'aluminium', 25)
);
