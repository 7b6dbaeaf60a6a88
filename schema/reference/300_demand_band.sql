-- Demand factors of general lighting and receptacles in a dwelling, band by band.
CREATE TABLE ref_demand_band(
  rules   TEXT NOT NULL REFERENCES ref_rule_set(id),
  what    TEXT NOT NULL CHECK (what IN ('lighting')),
  over_va REAL NOT NULL CHECK (over_va >= 0),                 -- part of the load above this, VA
  to_va   REAL,                                               -- and up to this; NULL: no upper end
  percent REAL NOT NULL CHECK (percent > 0 AND percent <= 100),  -- of that part
  clause  TEXT NOT NULL CHECK (length(clause) > 0),
  edition TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source  TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, what, over_va),
  CHECK (to_va IS NULL OR to_va > over_va)
) STRICT;

INSERT INTO ref_demand_band(rules, what, over_va, to_va, percent, clause, edition, source)
SELECT 'us', 'lighting', column1, column2, column3, '{lighting-demand}', '2017', 'NFPA 70 (National Electrical Code); ' || column4 FROM (VALUES
  (0,      3000,   100, 'read in the 2018 International Residential Code, E3704'),
  (3000,   120000, 35,  'read in the 2018 International Residential Code, E3704'),
  (120000, NULL,   25,  'read in a standard-method worksheet')
);
