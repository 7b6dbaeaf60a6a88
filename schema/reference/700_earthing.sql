-- Earthing systems: what may be taken for the loop outside the house where nobody measured or declared it.
CREATE TABLE ref_earthing(
  rules        TEXT NOT NULL CHECK (length(rules) > 0),       -- rule set
  earthing     TEXT NOT NULL CHECK (length(earthing) > 0),    -- as in the house file
  family       TEXT NOT NULL CHECK (family IN ('TN', 'TT', 'IT', 'grounded')),  -- as in ref_disconnection
  external_ohm REAL CHECK (external_ohm > 0),                 -- largest usual Ze, ohm, without the house's electrode; NULL: none published
  edition      TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source       TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, earthing)
) STRICT;

INSERT INTO ref_earthing(rules, earthing, family, external_ohm, edition, source)
SELECT 'uk', column1, column2, column3, '2022', 'maxima quoted from Engineering Recommendation P23 by the Institution of Engineering and Technology' FROM (VALUES
  ('TN-S',   'TN', 0.8),
  ('TN-C-S', 'TN', 0.35),
  ('TT',     'TT', 21)
);
INSERT INTO ref_earthing(rules, earthing, family, external_ohm, edition, source)
SELECT column1, column2, column3, NULL, '2005', 'IEC 60364-1 clause 312; names of the systems, from memory' FROM (VALUES
  ('uk',  'IT',     'IT'),
  ('iec', 'TN-S',   'TN'),
  ('iec', 'TN-C-S', 'TN'),
  ('iec', 'TT',     'TT'),
  ('iec', 'IT',     'IT')
);
INSERT INTO ref_earthing(rules, earthing, family, external_ohm, edition, source) VALUES
  ('us', 'grounded', 'grounded', NULL, '2023', 'NFPA 70 (National Electrical Code) 250.20(B); from memory');
