-- Words that a rule set knows for a key of the house file or an option, and the one it takes where nothing is said.
-- A key without a row is not the set's own: it has no such words there.
CREATE TABLE ref_choice(
  rules   TEXT NOT NULL REFERENCES ref_rule_set(id),
  key     TEXT NOT NULL CHECK (length(key) > 0),              -- 'system', 'trip', 'method'; 'demand': --method of demand
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
  ('demand', 'diversity',    'both', '5th edition', 'Whitfield, Electricians Guide, Table 6.2')
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk') ORDER BY rules;
