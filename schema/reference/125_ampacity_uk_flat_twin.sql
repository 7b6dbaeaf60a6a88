-- Ampacity of British flat twin-and-earth cable, method C (clipped direct), PVC 70 degree C, 30 degree C air.
CREATE TABLE ref_ampacity_uk_flat_twin(
  size       TEXT NOT NULL PRIMARY KEY,                       -- as in ref_conductor; copper, two loaded conductors
  ampacity_a REAL NOT NULL CHECK (ampacity_a > 0),            -- ampere
  drop_mv_per_a_m REAL NOT NULL CHECK (drop_mv_per_a_m > 0),  -- loop voltage drop, millivolt per ampere and metre, 70 degree C
  edition    TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source     TEXT NOT NULL CHECK (length(trim(source)) > 0)
) STRICT;

INSERT INTO ref_ampacity_uk_flat_twin(size, ampacity_a, drop_mv_per_a_m, edition, source)
SELECT column1, column2, column3, '2018', 'BS 7671 Table 4D5; ' || column4 FROM (VALUES
  ('1 mm2',   16, 44,  'ampacity read in a student''s copy, drop in a wholesaler''s catalogue'),
  ('1.5 mm2', 20, 29,  'ampacity read in a student''s copy, drop in a wholesaler''s catalogue'),
  ('2.5 mm2', 27, 18,  'ampacity read in a trade guide, drop read in a wholesaler''s catalogue'),
  ('4 mm2',   37, 11,  'ampacity from memory, drop read in a wholesaler''s catalogue'),
  ('6 mm2',   47, 7.3, 'ampacity from memory, drop read in a wholesaler''s catalogue'),
  ('10 mm2',  64, 4.4, 'ampacity from memory, drop read in a wholesaler''s catalogue'),
  ('16 mm2',  85, 2.8, 'ampacity from memory, drop read in a wholesaler''s catalogue')
);
