-- How soon a breaker opens at a steady multiple of its rating: the calibration limits of its standard.
-- Of all rows that fit the device and whose edge is reached, the one with the largest multiple holds.
CREATE TABLE ref_trip_band(
  rules         TEXT NOT NULL REFERENCES ref_rule_set(id),
  trip          TEXT NOT NULL CHECK (trip IN ('*', 'B', 'C', 'D', 'fuse', 'bs3036', 'bs88', 'gG')),  -- *: every circuit-breaker
  rating_over_a REAL NOT NULL CHECK (rating_over_a >= 0),     -- devices rated above this, ampere
  rating_to_a   REAL,                                         -- and up to this; NULL: no upper end
  multiple_from REAL NOT NULL CHECK (multiple_from >= 0),     -- edge: current over rating
  above_edge    INTEGER NOT NULL CHECK (above_edge IN (0, 1)),  -- 1: the edge itself is still below the band
  outcome       TEXT NOT NULL CHECK (length(outcome) > 0),    -- the fixed words
  limit_s       REAL CHECK (limit_s > 0),                     -- longest time of the outcome, second; NULL: none stated
  edition       TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source        TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, trip, rating_over_a, multiple_from),
  CHECK (rating_to_a IS NULL OR rating_to_a > rating_over_a)
) STRICT;

INSERT INTO ref_trip_band(rules, trip, rating_over_a, rating_to_a, multiple_from, above_edge, outcome, limit_s, edition, source)
SELECT 'us', '*', column1, column2, column3, column4, column5, column6, '13th edition (2016)', 'UL 489; ' || column7 FROM (VALUES
  (0,    NULL, 0,    0, 'none expected', NULL,  '100 % hold, read at two makers'),
  (0,    NULL, 1,    1, 'may trip',      NULL,  'nothing promised between 100 % and 135 %'),
  (0,    50,   1.35, 0, 'within 1 h',    3600,  '135 % limit, read at a maker'),
  (50,   NULL, 1.35, 0, 'within 2 h',    7200,  '135 % limit, from memory'),
  (0,    30,   2,    0, 'within 2 min',  120,   '200 % limit, read in a paper on breaker myths'),
  (30,   50,   2,    0, 'within 4 min',  240,   '200 % limit, read in a paper on breaker myths'),
  (50,   100,  2,    0, 'within 6 min',  360,   '200 % limit, read in a paper on breaker myths'),
  (100,  150,  2,    0, 'within 8 min',  480,   '200 % limit, from memory'),
  (150,  225,  2,    0, 'within 10 min', 600,   '200 % limit, from memory'),
  (225,  400,  2,    0, 'within 12 min', 720,   '200 % limit, from memory'),
  (400,  600,  2,    0, 'within 14 min', 840,   '200 % limit, from memory'),
  (600,  800,  2,    0, 'within 16 min', 960,   '200 % limit, from memory'),
  (800,  1000, 2,    0, 'within 20 min', 1200,  '200 % limit, from memory'),
  (1000, 1200, 2,    0, 'within 24 min', 1440,  '200 % limit, from memory'),
  (1200, 1600, 2,    0, 'within 26 min', 1560,  '200 % limit, from memory'),
  (1600, 2000, 2,    0, 'within 28 min', 1680,  '200 % limit, from memory')
);

INSERT INTO ref_trip_band(rules, trip, rating_over_a, rating_to_a, multiple_from, above_edge, outcome, limit_s, edition, source)
SELECT rules, column1, column2, column3, column4, column5, column6, column7, '2015',
       iif(rules = 'uk', 'BS EN', 'IEC') || ' 60898-1; ' || column8 FROM (VALUES
  ('*', 0,  NULL, 0,    0, 'none expected', NULL, '1.13 hold, read in a maker''s manual'),
  ('*', 0,  NULL, 1.13, 1, 'may trip',      NULL, 'nothing promised between 1.13 and 1.45'),
  ('*', 0,  63,   1.45, 0, 'within 1 h',    3600, '1.45 limit, read in a maker''s manual'),
  ('*', 63, NULL, 1.45, 0, 'within 2 h',    7200, '1.45 limit, read in a maker''s manual'),
  ('*', 0,  32,   2.55, 0, 'within 60 s',   60,   '2.55 limit, read in a maker''s manual'),
  ('*', 32, NULL, 2.55, 0, 'within 120 s',  120,  '2.55 limit, read in a maker''s manual'),
  ('B', 0,  NULL, 5,    0, 'at once',       0.1,  'instantaneous band, read in trade pages'),
  ('C', 0,  NULL, 10,   0, 'at once',       0.1,  'instantaneous band, read in trade pages'),
  ('D', 0,  NULL, 20,   0, 'at once',       0.1,  'instantaneous band, read in trade pages')
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk') ORDER BY rules, column4, column2, column1;

-- Fuses.
INSERT INTO ref_trip_band(rules, trip, rating_over_a, rating_to_a, multiple_from, above_edge, outcome, limit_s, edition, source)
SELECT * FROM (VALUES
  ('us',  'fuse',   0,  NULL, 0,    0, 'none expected', NULL, '2000', 'UL 248-14; from memory'),
  ('us',  'fuse',   0,  NULL, 1,    1, 'may trip',      NULL, '2000', 'UL 248-14, nothing promised between 100 % and 135 %; from memory'),
  ('us',  'fuse',   0,  60,   1.35, 0, 'within 1 h',    3600, '2000', 'UL 248-14, 135 % limit; read on a maker''s page'),
  ('us',  'fuse',   0,  30,   2,    0, 'within 2 min',  120,  '2000', 'UL 248-14, 200 % limit; read on a maker''s page'),
  ('us',  'fuse',   30, 60,   2,    0, 'within 4 min',  240,  '2000', 'UL 248-14, 200 % limit; read on a maker''s page'),
  ('uk',  'bs3036', 0,  NULL, 0,    0, 'none expected', NULL, '1958', 'BS 3036; from memory'),
  ('uk',  'bs3036', 0,  NULL, 1,    1, 'may trip',      NULL, '1958', 'BS 3036, up to twice the rating for hours; read in Whitfield, Electricians Guide, 4.3.8'),
  ('uk',  'bs88',   0,  NULL, 0,    0, 'none expected', NULL, '2010', 'BS 88-3; 1.25 hold from memory'),
  ('uk',  'bs88',   0,  NULL, 1.25, 1, 'may trip',      NULL, '2010', 'BS 88-3; nothing promised between 1.25 and 1.6, the lower from memory'),
  ('uk',  'bs88',   0,  63,   1.6,  0, 'within 1 h',    3600, '2010', 'BS 88-3; 1.6 limit read on an institution''s forum'),
  ('uk',  'bs88',   63, NULL, 1.6,  0, 'within 2 h',    7200, '2010', 'BS 88-3; 1.6 limit above 63 A from memory')
);

INSERT INTO ref_trip_band(rules, trip, rating_over_a, rating_to_a, multiple_from, above_edge, outcome, limit_s, edition, source)
SELECT rules, 'gG', column1, column2, column3, column4, column5, column6, '2006', 'IEC 60269-1; ' || column7 FROM (VALUES
  (0,  NULL, 0,    0, 'none expected', NULL, '1.25 hold from memory'),
  (0,  NULL, 1.25, 1, 'may trip',      NULL, 'nothing promised between 1.25 and 1.6, the lower from memory'),
  (0,  63,   1.6,  0, 'within 1 h',    3600, '1.6 limit read in a trade journal'),
  (63, NULL, 1.6,  0, 'within 2 h',    7200, '1.6 limit above 63 A from memory')
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk') ORDER BY rules, column3, column1;
