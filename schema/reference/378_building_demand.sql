-- Demand of a whole building by the number of its dwellings. Rows alone: no rule set uses them yet.
CREATE TABLE ref_building_demand(
  country        TEXT NOT NULL CHECK (country IN ('de')),
  electric_water INTEGER NOT NULL CHECK (electric_water IN (0, 1)),   -- 1: water is heated with electricity
  dwellings      INTEGER NOT NULL CHECK (dwellings >= 1),
  demand_kva     REAL NOT NULL CHECK (demand_kva > 0),
  edition        TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source         TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (country, electric_water, dwellings)
) STRICT;

INSERT INTO ref_building_demand(country, electric_water, dwellings, demand_kva, edition, source)
SELECT 'de', column1, column2, column3, '2013', 'DIN 18015-1; read on a technical encyclopedia''s page' FROM (VALUES
  (0, 1, 14.5), (0, 2, 24), (0, 3, 32), (0, 4, 37), (0, 5, 41), (0, 6, 44), (0, 7, 47), (0, 8, 50), (0, 9, 53), (0, 10, 55),
  (1, 1, 34), (1, 2, 52), (1, 3, 64), (1, 4, 73), (1, 5, 81), (1, 6, 87), (1, 7, 93), (1, 8, 98), (1, 9, 103), (1, 10, 107)
);
