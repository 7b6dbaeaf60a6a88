-- Smallest breaker of a branch for one purpose or one appliance.
CREATE TABLE ref_minimum_branch(
  rules     TEXT NOT NULL REFERENCES ref_rule_set(id),
  what      TEXT NOT NULL CHECK (length(what) > 0),           -- an appliance's category, or a branch's purpose
  least_va  REAL NOT NULL CHECK (least_va >= 0),              -- holds from this rating of the appliance on, VA
  breaker_a REAL CHECK (breaker_a > 0),                       -- smallest breaker, ampere; NULL: by the factor
  factor    REAL CHECK (factor >= 1),                         -- smallest breaker over the appliance's current; NULL: by breaker_a
  fixed     INTEGER NOT NULL CHECK (fixed IN (0, 1)),         -- 1: for equipment that is fastened in place only
  clause    TEXT NOT NULL CHECK (length(clause) > 0),
  note      TEXT,
  edition   TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source    TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, what, least_va),
  CHECK ((breaker_a IS NULL) <> (factor IS NULL))
) STRICT;

INSERT INTO ref_minimum_branch(rules, what, least_va, breaker_a, factor, fixed, clause, note, edition, source)
SELECT 'us', column1, column2, column3, column4, column5, column6, column7, column8,
       'NFPA 70 (National Electrical Code); ' || column9 FROM (VALUES
  ('range',           8750, 40,   NULL, 0, '{range-branch}', 'household ranges of 8 3/4 kW and more', '2017', 'quoted in a trade forum'),
  ('small-appliance', 0,    20,   NULL, 0, '210.11(C)(1)', NULL, '2005', 'read in the Pocket Guide to the NEC, example D1(a)'),
  ('laundry',         0,    20,   NULL, 0, '210.11(C)(2)', NULL, '2005', 'read in the Pocket Guide to the NEC, example D1(a)'),
  ('bathroom',        0,    20,   NULL, 0, '210.11(C)(3)', NULL, '2005', 'read in the Pocket Guide to the NEC, example D1(a)'),
  ('water-heating',   0,    NULL, 1.25, 1, '422.13', 'storage heaters up to 120 gallons (450 L)', '2017', 'quoted in a trade forum'),
  ('instant-heater',  0,    NULL, 1,    1, '210.20', 'water heaters without storage: their current itself', '2017', '210.20(A) read in a manufacturer''s data bulletin'),
  ('space-heating',   0,    NULL, 1.25, 1, '{electric-heat}', 'fixed electric space heating', '2017', 'rule read in the 2018 International Residential Code, section as of 2017 in a newsletter of a training company'),
  ('vehicle',         0,    NULL, 1.25, 0, '625.41', 'vehicle supply equipment is a continuous load', '2017', 'factor read in a listing, section in trade press')
);
