-- Demand of household cooking appliances by their number.
-- Column A: below 3.5 kW; B: 3.5 to 8.75 kW, both percent of the sum; C: up to 12 kW, a load for all of them together.
CREATE TABLE ref_demand_range(
  rules      TEXT NOT NULL REFERENCES ref_rule_set(id),
  from_count INTEGER NOT NULL CHECK (from_count >= 1),        -- from this number of appliances on, up to the next row's
  a_percent  REAL NOT NULL CHECK (a_percent > 0 AND a_percent <= 100),
  b_percent  REAL NOT NULL CHECK (b_percent > 0 AND b_percent <= 100),
  c_kw       REAL NOT NULL CHECK (c_kw > 0),                  -- kW
  c_each_kw  REAL NOT NULL CHECK (c_each_kw >= 0),            -- and this for each appliance, kW
  edition    TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source     TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, from_count)
) STRICT;

INSERT INTO ref_demand_range(rules, from_count, a_percent, b_percent, c_kw, c_each_kw, edition, source)
SELECT 'us', column1, column2, column3, column4, column5, '2017',
       'NFPA 70 (National Electrical Code) Table 220.55; read in a public reprint'
       || iif(column1 = 31, ', column C of 31 to 40 in a trade forum on 32 ranges', '') FROM (VALUES
  ( 1, 80, 80,  8, 0), ( 2, 75, 65, 11, 0), ( 3, 70, 55, 14, 0), ( 4, 66, 50, 17, 0), ( 5, 62, 45, 20, 0),
  ( 6, 59, 43, 21, 0), ( 7, 56, 40, 22, 0), ( 8, 53, 36, 23, 0), ( 9, 51, 35, 24, 0), (10, 49, 34, 25, 0),
  (11, 47, 32, 26, 0), (12, 45, 32, 27, 0), (13, 43, 32, 28, 0), (14, 41, 32, 29, 0), (15, 40, 32, 30, 0),
  (16, 39, 28, 31, 0), (17, 38, 28, 32, 0), (18, 37, 28, 33, 0), (19, 36, 28, 34, 0), (20, 35, 28, 35, 0),
  (21, 34, 26, 36, 0), (22, 33, 26, 37, 0), (23, 32, 26, 38, 0), (24, 31, 26, 39, 0), (25, 30, 26, 40, 0),
  (26, 30, 24, 15, 1),
  (31, 30, 22, 15, 1),
  (41, 30, 20, 25, 0.75),
  (51, 30, 18, 25, 0.75),
  (61, 30, 16, 25, 0.75)
);
