-- Earthing systems: what may be taken for the loop outside the house where nobody measured or declared it.
CREATE TABLE ref_earthing(
  rules         TEXT NOT NULL REFERENCES ref_rule_set(id),
  earthing      TEXT NOT NULL CHECK (length(earthing) > 0),    -- as in the house file
  family        TEXT NOT NULL CHECK (family IN ('TN', 'TT', 'IT', 'grounded')),  -- as in ref_disconnection
  external_ohm  REAL CHECK (external_ohm > 0),                 -- largest usual Ze, ohm, without the house's electrode; NULL: none published
  has_electrode INTEGER NOT NULL CHECK (has_electrode IN (0, 1)),  -- 1: the house's own electrode is in the loop
  has_loop      INTEGER NOT NULL CHECK (has_loop IN (0, 1)),   -- 0: a first fault is not cut off, by intention
  edition       TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source        TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, earthing)
) STRICT;

INSERT INTO ref_earthing(rules, earthing, family, external_ohm, has_electrode, has_loop, edition, source)
SELECT 'uk', column1, column2, column3, column4, 1, '2022',
       'maxima quoted from Engineering Recommendation P23 by the Institution of Engineering and Technology' FROM (VALUES
  ('TN-S',   'TN', 0.8,  0),
  ('TN-C-S', 'TN', 0.35, 0),
  ('TT',     'TT', 21,   1)
);
INSERT INTO ref_earthing(rules, earthing, family, external_ohm, has_electrode, has_loop, edition, source)
SELECT column1, column2, column3, NULL, column4, column5, '2005', 'IEC 60364-1 clause 312; names of the systems, from memory' FROM (VALUES
  ('uk',  'IT',     'IT', 0, 0),
  ('iec', 'TN-S',   'TN', 0, 1),
  ('iec', 'TN-C-S', 'TN', 0, 1),
  ('iec', 'TT',     'TT', 1, 1),
  ('iec', 'IT',     'IT', 0, 0)
);
INSERT INTO ref_earthing(rules, earthing, family, external_ohm, has_electrode, has_loop, edition, source) VALUES
  ('us', 'grounded', 'grounded', NULL, 0, 1, '2023', 'NFPA 70 (National Electrical Code) 250.20(B); from memory');
