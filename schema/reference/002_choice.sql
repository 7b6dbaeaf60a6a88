-- Words that a rule set knows for a key of the house file or an option, and the one it takes where nothing is said.
-- A key without a row is not the set's own: it has no such words there.
CREATE TABLE ref_choice(
  rules   TEXT NOT NULL REFERENCES ref_rule_set(id),
  key     TEXT NOT NULL CHECK (length(key) > 0),              -- as in a house file; 'demand': --method of demand
  word    TEXT NOT NULL CHECK (length(word) > 0),
  usual   INTEGER NOT NULL CHECK (usual IN (0, 1)),           -- 1: taken where nothing is said; at most one of a key
  edition TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source  TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, key, word)
) STRICT;

INSERT INTO ref_choice(rules, key, word, usual, edition, source)
SELECT 'us', column1, column2, column3, '2017', 'NFPA 70 (National Electrical Code), ' || column4 FROM (VALUES
  ('system', 'split-phase',  1, '220.5(A); which of them is usual: common practice'),
  ('system', 'single-phase', 0, '220.5(A)'),
  ('system', 'three-phase',  0, '220.5(A)'),
  ('trip',   'inverse-time', 1, 'Article 100, circuit breaker; from memory'),
  ('trip',   'fuse',         0, 'article 240, part V; from memory'),
  ('cable',  'nm-b',          0, 'article 334'),
  ('cable',  'nm',            0, 'article 334; from memory'),
  ('cable',  'uf-b',          0, 'article 340; from memory'),
  ('cable',  'ser',           0, 'article 338; from memory'),
  ('cable',  'thhn',          0, 'Table 310.4; from memory'),
  ('cable',  'thwn',          0, 'Table 310.4; from memory'),
  ('cable',  'tw',            0, 'Table 310.4; from memory'),
  ('cable',  'mc',            0, 'article 330; from memory'),
  ('cable',  'knob-and-tube', 0, 'article 394; from memory'),
  ('terminals', '60',         0, '110.14(C)(1)'),
  ('terminals', '75',         0, '110.14(C)(1)'),
  ('earthing', 'grounded',    1, '250.20(B); from memory'),
  ('code_edition', '2017',    0, 'edition of 2017'),
  ('code_edition', '2020',    0, 'edition of 2020'),
  ('code_edition', '2023',    1, 'edition of 2023; which of them is usual: common practice'),
  ('code_edition', '2026',    0, 'edition of 2026; counted by the rows of 2023'),
  -- no table of this set asks for a method: a house file that names one of the old words reads as it always did
  ('method', 'A1',            0, 'names no method; kept so that such a file is read'),
  ('method', 'A2',            0, 'names no method; kept so that such a file is read'),
  ('method', 'B1',            0, 'names no method; kept so that such a file is read'),
  ('method', 'B2',            0, 'names no method; kept so that such a file is read'),
  ('method', 'C',             0, 'names no method; kept so that such a file is read'),
  ('method', 'D',             0, 'names no method; kept so that such a file is read'),
  ('demand', 'standard',     1, 'article 220, part III'),
  ('demand', 'optional',     0, '220.82'),
  ('demand', 'existing',     0, '220.83'),
  ('demand', 'measured',     0, '220.87')
);

INSERT INTO ref_choice(rules, key, word, usual, edition, source)
SELECT rules, column1, column2, coalesce(rules = column3 OR column3 = 'both', 0), column4, column5 FROM (VALUES
  ('system', 'single-phase', 'both', '2009', 'IEC 60364-1, types of supply; from memory; which of them is usual: common practice'),
  ('system', 'split-phase',  NULL,   '2009', 'IEC 60364-1, types of supply; from memory'),
  ('system', 'three-phase',  NULL,   '2009', 'IEC 60364-1, types of supply; from memory'),
  ('trip',   'B',            'both', '2015', 'IEC 60898-1, instantaneous tripping; which of them is usual: common practice'),
  ('trip',   'C',            NULL,   '2015', 'IEC 60898-1, instantaneous tripping'),
  ('trip',   'D',            NULL,   '2015', 'IEC 60898-1, instantaneous tripping'),
  ('method', 'A1',           NULL,   '2009', 'IEC 60364-5-52 Table B.52.1'),
  ('method', 'A2',           NULL,   '2009', 'IEC 60364-5-52 Table B.52.1'),
  ('method', 'B1',           NULL,   '2009', 'IEC 60364-5-52 Table B.52.1'),
  ('method', 'B2',           'iec',  '2009', 'IEC 60364-5-52 Table B.52.1; which of them is usual: common practice'),
  ('method', 'C',            'uk',   '2009', 'IEC 60364-5-52 Table B.52.1; which of them is usual: common practice'),
  ('method', 'D',            NULL,   '2009', 'IEC 60364-5-52 Table B.52.1'),
  ('method', 'D1',           NULL,   '2009', 'IEC 60364-5-52 Table B.52.1'),
  ('method', 'D2',           NULL,   '2009', 'IEC 60364-5-52 Table B.52.1'),
  ('trip',   'gG',           NULL,   '2009', 'IEC 60269-1; from memory'),
  ('terminals', '70',        'both', '2009', 'IEC 60364-5-52 Table 52.1 and 512.1.5; from memory'),
  ('terminals', '90',        NULL,   '2009', 'IEC 60364-5-52 Table 52.1; from memory'),
  ('insulation', 'pvc',      'both', '2009', 'IEC 60364-5-52 Table 52.1; which of them is usual: common practice'),
  ('insulation', 'xlpe',     NULL,   '2009', 'IEC 60364-5-52 Table 52.1'),
  ('earthing', 'TN-S',       NULL,   '2005', 'IEC 60364-1, 312.2; from memory'),
  ('earthing', 'TN-C-S',     NULL,   '2005', 'IEC 60364-1, 312.2; from memory'),
  ('earthing', 'TT',         NULL,   '2005', 'IEC 60364-1, 312.2; from memory'),
  ('earthing', 'IT',         NULL,   '2005', 'IEC 60364-1, 312.2; from memory'),
  ('rcd_ma', '10',           NULL,   '2010', 'IEC 61008-1, preferred values; from memory'),
  ('rcd_ma', '30',           NULL,   '2010', 'IEC 61008-1, preferred values; from memory'),
  ('rcd_ma', '100',          NULL,   '2010', 'IEC 61008-1, preferred values; from memory'),
  ('rcd_ma', '300',          NULL,   '2010', 'IEC 61008-1, preferred values; from memory'),
  ('rcd_ma', '500',          NULL,   '2010', 'IEC 61008-1, preferred values; from memory'),
  ('rcd_type', 'general',    NULL,   '2010', 'IEC 61008-1, types by time; from memory'),
  ('rcd_type', 'selective',  NULL,   '2010', 'IEC 61008-1, types by time; from memory'),
  ('connection', 'line-line', NULL,  '2009', 'IEC 60364-1, types of supply; from memory'),
  ('connection', '2L+N',     NULL,   '2009', 'IEC 60364-1, types of supply; from memory'),
  ('connection', '3L+N',     NULL,   '2009', 'IEC 60364-1, types of supply; from memory'),
  ('demand', 'diversity',    'both', '5th edition', 'Whitfield, Electricians Guide, Table 6.2'),
  ('demand', 'by-load',      NULL,   '5th edition', 'Whitfield, Electricians Guide, Table 6.2; meant for loads, read on a trade adviser''s page'),
  ('demand', 'measured',     NULL,   'common practice', 'common practice: no published factor is known')
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk') ORDER BY rules;

INSERT INTO ref_choice(rules, key, word, usual, edition, source)
SELECT 'uk', column1, column2, 0, '2018', 'BS 7671, ' || column3 FROM (VALUES
  ('trip',   'bs3036', 'rewirable fuses, Table 41.2'),
  ('trip',   'bs88',   'cartridge fuses, Table 41.2; from memory'),
  ('method', 'A',      'Table 4A2; from memory'),
  ('method', 'B',      'Table 4A2; from memory'),
  ('method', '100',    'Table 4D5'),
  ('method', '101',    'Table 4D5'),
  ('method', '102',    'Table 4D5'),
  ('method', '103',    'Table 4D5')
);
