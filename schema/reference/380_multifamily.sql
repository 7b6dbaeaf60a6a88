-- Demand factor of a building of three dwellings or more, by their number. Rows alone: a house file is one dwelling.
CREATE TABLE ref_multifamily(
  rules      TEXT NOT NULL REFERENCES ref_rule_set(id),
  from_units INTEGER NOT NULL CHECK (from_units >= 3),          -- this number of dwellings up to the next row's
  percent    REAL NOT NULL CHECK (percent > 0 AND percent <= 100),
  edition    TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source     TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, from_units)
) STRICT;

INSERT INTO ref_multifamily(rules, from_units, percent, edition, source)
SELECT 'us', column1, column2, '2017', 'NFPA 70 (National Electrical Code), Table 220.84; from memory' FROM (VALUES
  (3, 45), (6, 44), (8, 43), (11, 42), (12, 41), (14, 40), (16, 39), (18, 38), (21, 37), (22, 36), (24, 35), (26, 34),
  (28, 33), (31, 32), (32, 31), (34, 30), (37, 29), (39, 28), (43, 27), (46, 26), (51, 25), (56, 24), (62, 23)
);
