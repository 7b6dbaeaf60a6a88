-- Diversity allowances of a household by kind of load (current, not power).
-- Either the first amperes in full and a share of the balance, or shares by rank: largest, second, the rest.
CREATE TABLE ref_diversity(
  rules           TEXT NOT NULL REFERENCES ref_rule_set(id),
  kind            TEXT NOT NULL CHECK (length(kind) > 0),
  name            TEXT NOT NULL CHECK (length(name) > 0),     -- what a person reads
  first_a         REAL CHECK (first_a >= 0),                  -- counted in full, ampere; NULL: by rank
  balance_percent REAL CHECK (balance_percent BETWEEN 0 AND 100),
  largest_percent REAL CHECK (largest_percent BETWEEN 0 AND 100),  -- NULL: by first_a and balance_percent
  second_percent  REAL CHECK (second_percent BETWEEN 0 AND 100),
  rest_percent    REAL CHECK (rest_percent BETWEEN 0 AND 100),
  plus_a          REAL NOT NULL CHECK (plus_a >= 0),          -- added where a cooker's unit has a socket, ampere
  edition         TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source          TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, kind),
  CHECK ((first_a IS NULL) = (balance_percent IS NULL)),
  CHECK ((first_a IS NULL) <> (largest_percent IS NULL)),
  CHECK ((largest_percent IS NULL) = (second_percent IS NULL) AND (largest_percent IS NULL) = (rest_percent IS NULL))
) STRICT;

INSERT INTO ref_diversity(rules, kind, name, first_a, balance_percent, largest_percent, second_percent, rest_percent, plus_a, edition, source)
SELECT rules, column1, column2, column3, column4, column5, column6, column7, column8, '5th edition',
       'Whitfield, Electricians Guide, Table 6.2, household column, as in the On-Site Guide'
       || iif(rules = 'iec', '; IEC 60364 publishes none, the British allowances are used', '') FROM (VALUES
  ('lighting',         'lighting',                                        0,    66,   NULL, NULL, NULL, 0),
  ('power',            'heating and power',                               10,   50,   NULL, NULL, NULL, 0),
  ('cooking',          'cooking appliances',                              10,   30,   NULL, NULL, NULL, 5),
  ('shower',           'instantaneous water heaters',                     NULL, NULL, 100,  100,  25,   0),
  ('water-heating',    'water heaters with thermostat',                   NULL, NULL, 100,  100,  100,  0),
  ('floor-heating',    'floor warming',                                   NULL, NULL, 100,  100,  100,  0),
  ('storage-heating',  'thermal storage heating',                         NULL, NULL, 100,  100,  100,  0),
  ('standard-circuit', 'ring and radial final circuits of standard kind', NULL, NULL, 100,  40,   40,   0),
  ('socket',           'other socket outlets and stationary equipment',   NULL, NULL, 100,  40,   40,   0)
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk') ORDER BY rules;

INSERT INTO ref_diversity(rules, kind, name, first_a, balance_percent, largest_percent, second_percent, rest_percent, plus_a, edition, source)
SELECT rules, 'vehicle', 'vehicle charging', NULL, NULL, 100, 100, 100, 0, 'common practice',
       'common practice: charging runs for hours, nothing is allowed for' FROM (SELECT 'iec' AS rules UNION ALL SELECT 'uk');
