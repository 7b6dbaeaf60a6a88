-- Demand by shares, as other countries count it: a flat figure or a share up to a load, another share of what exceeds it.
-- Rows alone: no rule set of a house file uses them yet.
CREATE TABLE ref_load_share(
  country       TEXT NOT NULL CHECK (country IN ('ca', 'au')),
  what          TEXT NOT NULL CHECK (length(what) > 0),
  name          TEXT NOT NULL CHECK (length(name) > 0),         -- what a person reads
  from_load     REAL NOT NULL CHECK (from_load >= 0),           -- a single load up to this does not count, in `unit`
  flat          REAL CHECK (flat > 0),                          -- counted for whatever there is up to `over`; NULL: a share
  over          REAL CHECK (over > 0),                          -- the second share holds above this load; NULL: never
  percent       REAL CHECK (percent > 0 AND percent <= 100),    -- up to `over`; NULL: flat
  over_percent  REAL CHECK (over_percent > 0 AND over_percent <= 100),
  unit          TEXT NOT NULL CHECK (unit IN ('W', 'A')),
  clause        TEXT NOT NULL CHECK (length(clause) > 0),
  edition       TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source        TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (country, what),
  CHECK ((flat IS NULL) <> (percent IS NULL)),
  CHECK ((over IS NULL) = (over_percent IS NULL))
) STRICT;

INSERT INTO ref_load_share(country, what, name, from_load, flat, over, percent, over_percent, unit, clause, edition, source) VALUES
  ('ca', 'heating', 'space heating, individually controlled', 0, NULL, 10000, 100, 75, 'W', '62-118', '2015', 'Canadian Electrical Code, part I; read on a course''s page'),
  ('ca', 'cooling', 'air conditioning', 0, NULL, NULL, 100, NULL, 'W', '8-200(1)(a)', '2015', 'Canadian Electrical Code, part I; read on a course''s page'),
  ('ca', 'range', 'range', 0, 6000, 12000, NULL, 40, 'W', '8-200(1)(a)', '2015', 'Canadian Electrical Code, part I; read on a course''s page'),
  ('ca', 'full', 'hot tub, tankless water heater, vehicle', 0, NULL, NULL, 100, NULL, 'W', '8-200(1)(a)', '2015', 'Canadian Electrical Code, part I; a worked house read on a document exchange'),
  ('ca', 'other', 'other loads, where a range is counted', 1500, NULL, NULL, 25, NULL, 'W', '8-200(1)(a)', '2015', 'Canadian Electrical Code, part I; a worked house read on a document exchange'),
  ('ca', 'basement', 'basement higher than 1.8 m, of its area', 0, NULL, NULL, 75, NULL, 'W', '8-110', '2015', 'Canadian Electrical Code, part I; read on a course''s page'),
  ('au', 'cooking', 'cooking, laundry, heaters above 10 A', 0, NULL, NULL, 50, NULL, 'A', 'Table C1, column 2, C', '2007', 'AS/NZS 3000; a worked example read on a teacher''s page'),
  ('au', 'climate', 'air conditioning, space heating', 0, NULL, NULL, 75, NULL, 'A', 'Table C1, column 2, D', '2007', 'AS/NZS 3000; a worked example read on a teacher''s page'),
  ('au', 'instantaneous', 'instantaneous water heater', 0, NULL, NULL, 33.3, NULL, 'A', 'Table C1, column 2, E', '2007', 'AS/NZS 3000; from memory'),
  ('au', 'storage', 'storage water heater', 0, NULL, NULL, 100, NULL, 'A', 'Table C1, column 2, F', '2007', 'AS/NZS 3000; a worked example read on a teacher''s page'),
  ('au', 'vehicle', 'vehicle', 0, NULL, NULL, 100, NULL, 'A', 'Table C1', '2018', 'AS/NZS 3000; from memory, unless it is controlled');
