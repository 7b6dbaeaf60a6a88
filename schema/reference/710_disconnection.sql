-- Longest time until a fault is cut off, by earthing system and voltage to earth.
CREATE TABLE ref_disconnection(
  rules          TEXT NOT NULL REFERENCES ref_rule_set(id),     -- rule set
  family         TEXT NOT NULL CHECK (family IN ('TN', 'TT')),
  voltage_over_v REAL NOT NULL CHECK (voltage_over_v >= 0),   -- voltage to earth, above this
  voltage_to_v   REAL NOT NULL,                               -- up to this
  final_s        REAL NOT NULL CHECK (final_s > 0),           -- final circuits within the size limit
  other_s        REAL NOT NULL CHECK (other_s > 0),           -- distribution and larger final circuits
  edition        TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source         TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, family, voltage_over_v),
  CHECK (voltage_to_v > voltage_over_v)
) STRICT;

INSERT INTO ref_disconnection(rules, family, voltage_over_v, voltage_to_v, final_s, other_s, edition, source)
SELECT rules, column1, column2, column3, column4, column5, iif(rules = 'uk', '2018', '2005'),
       iif(rules = 'uk', 'BS 7671 Table 41.1 and 411.3.2', 'IEC 60364-4-41 Table 41.1 and 411.3.2') ||
       '; table and the times of larger circuits read in published copies'
FROM (VALUES
  ('TN',  50,  120, 0.8,  5),
  ('TN', 120,  230, 0.4,  5),
  ('TN', 230,  400, 0.2,  5),
  ('TN', 400, 1000, 0.1,  5),
  ('TT',  50,  120, 0.3,  1),
  ('TT', 120,  230, 0.2,  1),
  ('TT', 230,  400, 0.07, 1),
  ('TT', 400, 1000, 0.04, 1)
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk');
