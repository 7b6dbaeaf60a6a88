-- Factors on ampacity for a length of cable wholly surrounded by thermal insulation.
-- A row holds from above the length before up to its own.
CREATE TABLE ref_in_insulation(
  rules   TEXT NOT NULL REFERENCES ref_rule_set(id),
  method  TEXT NOT NULL CHECK (method IN ('B', 'B1', 'B2', 'C')),  -- A and 100 to 103 count their insulation already
  over_mm REAL NOT NULL CHECK (over_mm >= 0),                 -- length above this, millimetre
  to_mm   REAL CHECK (to_mm > over_mm),                       -- and up to this one; NULL: no upper end
  factor  REAL NOT NULL CHECK (factor > 0 AND factor < 1),
  clause  TEXT NOT NULL CHECK (length(clause) > 0),
  edition TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source  TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, method, over_mm)
) STRICT;

INSERT INTO ref_in_insulation(rules, method, over_mm, to_mm, factor, clause, edition, source)
SELECT rules, method, column1, column2, column3, '523.9', iif(rules = 'uk', '2018', '2009'),
       iif(rules = 'uk', 'BS 7671 523.9, Table 52.2; ', 'IEC 60364-5-52 523.9, the British factors; ') || column4 FROM (VALUES
  (0,   50,   0.88, 'from memory'),
  (50,  100,  0.78, 'read in a trade forum'),
  (100, 200,  0.63, 'from memory'),
  (200, 400,  0.51, 'from memory'),
  (400, NULL, 0.50, 'read for 500 mm in a trade guide')
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk'), (SELECT 'B1' AS method UNION ALL SELECT 'B2' UNION ALL SELECT 'C' UNION ALL SELECT 'B')
WHERE rules = 'uk' OR method <> 'B'
ORDER BY rules, method, column1;
