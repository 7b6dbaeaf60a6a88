-- Steps in which a supply is contracted: power and the current that goes with it. Rows alone: no rule set uses them yet.
CREATE TABLE ref_supply_step(
  country   TEXT NOT NULL CHECK (country IN ('es', 'fr')),
  power_va  REAL NOT NULL CHECK (power_va > 0),                 -- es: in watts at 230 V
  current_a REAL NOT NULL CHECK (current_a > 0),
  edition   TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source    TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (country, power_va)
) STRICT;

INSERT INTO ref_supply_step(country, power_va, current_a, edition, source) VALUES
  ('es', 5750,  25, '2002', 'REBT, electrification of dwellings; read on a study exchange'),
  ('es', 7360,  32, '2002', 'REBT, electrification of dwellings; read on a study exchange'),
  ('es', 9200,  40, '2002', 'REBT, electrification of dwellings; read on a study exchange'),
  ('fr', 3000,  15, '2002', 'NF C 14-100, subscribed power; the steps read on a supplier''s page, the currents from memory'),
  ('fr', 6000,  30, '2002', 'NF C 14-100, subscribed power; the steps read on a supplier''s page, the currents from memory'),
  ('fr', 9000,  45, '2002', 'NF C 14-100, subscribed power; the steps read on a supplier''s page, the currents from memory'),
  ('fr', 12000, 60, '2002', 'NF C 14-100, subscribed power; the steps read on a supplier''s page, the currents from memory');
