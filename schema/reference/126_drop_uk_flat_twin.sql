-- Voltage drop that the British tables print for flat twin-and-earth cable, 70 degree C.
CREATE TABLE ref_drop_uk_flat_twin(
  size       TEXT NOT NULL PRIMARY KEY,                       -- as in ref_conductor; copper, two loaded conductors
  drop_mv_per_a_m REAL NOT NULL CHECK (drop_mv_per_a_m > 0),  -- of the loop, millivolt per ampere and metre
  edition    TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source     TEXT NOT NULL CHECK (length(trim(source)) > 0)
) STRICT;

INSERT INTO ref_drop_uk_flat_twin(size, drop_mv_per_a_m, edition, source)
SELECT column1, column2, '2018', 'BS 7671 Table 4D5; read in a wholesaler''s catalogue' FROM (VALUES
  ('1 mm2', 44), ('1.5 mm2', 29), ('2.5 mm2', 18), ('4 mm2', 11), ('6 mm2', 7.3), ('10 mm2', 4.4), ('16 mm2', 2.8)
);
