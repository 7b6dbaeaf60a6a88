-- Factors for four loaded cores whose line current holds third harmonics, which add up in the neutral.
CREATE TABLE ref_harmonic(
  rules        TEXT NOT NULL REFERENCES ref_rule_set(id),
  over_percent REAL NOT NULL CHECK (over_percent >= 0),       -- third harmonic of the line current above this
  to_percent   REAL CHECK (to_percent > over_percent),        -- and up to this; NULL: no upper end
  by_neutral   INTEGER NOT NULL CHECK (by_neutral IN (0, 1)), -- 1: the size goes by the neutral's current, 0: by the line's
  factor       REAL NOT NULL CHECK (factor > 0 AND factor <= 1),  -- on the ampacity of three loaded cores
  clause       TEXT NOT NULL CHECK (length(clause) > 0),
  edition      TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source       TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, over_percent)
) STRICT;

INSERT INTO ref_harmonic(rules, over_percent, to_percent, by_neutral, factor, clause, edition, source)
SELECT rules, column1, column2, column3, column4, iif(rules = 'uk', 'Appendix 4, section 5.5', 'Annex E, Table E.52.1'),
       iif(rules = 'uk', '2018', '2009'),
       iif(rules = 'uk', 'BS 7671, the figures of IEC 60364-5-52 Table E.52.1; clause from memory',
           'IEC 60364-5-52 Table E.52.1; text read on a document page, factors in a public reprint') FROM (VALUES
  (0,  15,   0, 1.00),
  (15, 33,   0, 0.86),
  (33, 45,   1, 0.86),
  (45, NULL, 1, 1.00)
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk') ORDER BY rules, column1;
