-- The least service that other countries ask of a dwelling, whatever its loads. Rows alone: no rule set uses them yet.
CREATE TABLE ref_load_least(
  country  TEXT NOT NULL CHECK (country IN ('ca')),
  from_m2  REAL NOT NULL CHECK (from_m2 >= 0),                  -- living area from this on, up to the next row
  least_w  REAL NOT NULL CHECK (least_w > 0),
  clause   TEXT NOT NULL CHECK (length(clause) > 0),
  edition  TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source   TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (country, from_m2)
) STRICT;

INSERT INTO ref_load_least(country, from_m2, least_w, clause, edition, source) VALUES
  ('ca', 0,  14400, '8-200(1)(b)', '2015', 'Canadian Electrical Code, part I; from memory'),
  ('ca', 80, 24000, '8-200(1)(b)', '2015', 'Canadian Electrical Code, part I; from memory');
