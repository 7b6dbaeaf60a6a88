-- Demand of household clothes dryers by their number, percent of their sum.
CREATE TABLE ref_demand_dryer(
  rules        TEXT NOT NULL REFERENCES ref_rule_set(id),
  from_count   INTEGER NOT NULL CHECK (from_count >= 1),      -- from this number of dryers on, up to the next row's
  percent      REAL NOT NULL CHECK (percent > 0 AND percent <= 100),  -- at `beyond` dryers
  less_percent REAL NOT NULL CHECK (less_percent >= 0),       -- less for each dryer beyond them
  beyond       INTEGER NOT NULL CHECK (beyond >= 0),
  edition      TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source       TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, from_count)
) STRICT;

INSERT INTO ref_demand_dryer(rules, from_count, percent, less_percent, beyond, edition, source)
SELECT 'us', column1, column2, column3, column4, '2017', 'NFPA 70 (National Electrical Code) Table 220.54; ' || column5 FROM (VALUES
  (1, 100, 0,   0,  'read in a public reprint'),
  (5, 85,  0,   0,  'read in a public reprint'),
  (6, 75,  0,   0,  'read in a public reprint'),
  (7, 65,  0,   0,  'read in a public reprint'),
  (8, 60,  0,   0,  'read in a public reprint'),
  (9, 55,  0,   0,  'read in an advice article'),
  (10, 50,  0,   0,  'read in an advice article'),
  (11, 47,  0,   0,  'read in an advice article'),
  (12, 47,  1,   11, 'read in an advice article'),
  (24, 35,  0.5, 23, 'read in a public reprint'),
  (43, 25,  0,   0,  'read in a public reprint')
);
