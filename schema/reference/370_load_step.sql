-- Demand by steps, as other countries count it: so much for the first of a quantity, so much for each further part of it.
-- Rows alone: no rule set of a house file uses them yet.
CREATE TABLE ref_load_step(
  country      TEXT NOT NULL CHECK (country IN ('ca', 'au')),   -- au: Australia and New Zealand
  what         TEXT NOT NULL CHECK (length(what) > 0),
  name         TEXT NOT NULL CHECK (length(name) > 0),          -- what a person reads
  quantity     TEXT NOT NULL CHECK (quantity IN ('m2', 'points')),
  first_to     REAL NOT NULL CHECK (first_to > 0),              -- the first step reaches to this quantity
  first_value  REAL NOT NULL CHECK (first_value > 0),           -- and counts so much, in `unit`
  each_to      REAL CHECK (each_to > 0),                        -- each further quantity of this size or part of it; NULL: no more
  each_value   REAL CHECK (each_value > 0),                     -- counts so much
  unit         TEXT NOT NULL CHECK (unit IN ('W', 'A')),
  clause       TEXT NOT NULL CHECK (length(clause) > 0),
  edition      TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source       TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (country, what),
  CHECK ((each_to IS NULL) = (each_value IS NULL))
) STRICT;

INSERT INTO ref_load_step(country, what, name, quantity, first_to, first_value, each_to, each_value, unit, clause, edition, source) VALUES
  ('ca', 'area', 'living area', 'm2', 90, 5000, 90, 1000, 'W', '8-200(1)(a)', '2015', 'Canadian Electrical Code, part I; a worked house read on a document exchange'),
  ('au', 'lighting', 'lighting points', 'points', 20, 3, 20, 2, 'A', 'Table C1, column 2, A(i)', '2007', 'AS/NZS 3000; course slides read on a document exchange, a worked example on a teacher''s page'),
  ('au', 'outlet-10', '10 A outlets, each place for a plug a point', 'points', 20, 10, 20, 5, 'A', 'Table C1, column 2, B(i)', '2007', 'AS/NZS 3000; a worked example read on a teacher''s page'),
  ('au', 'outlet-15', '15 A outlets', 'points', 1, 10, NULL, NULL, 'A', 'Table C1, column 2, B(ii)', '2007', 'AS/NZS 3000; a worked example read on a teacher''s page'),
  ('au', 'outlet-20', '20 A outlets', 'points', 1, 15, NULL, NULL, 'A', 'Table C1, column 2, B(iii)', '2007', 'AS/NZS 3000; a worked example read on a software maker''s help page');
