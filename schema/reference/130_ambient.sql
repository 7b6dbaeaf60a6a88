-- Factors on ampacity for ambient air other than 30 degree C.
-- us: bands as printed. iec, uk: listed temperatures; a row holds from above the one before up to its own (the published
-- step at or above the ambient, nothing interpolated).
CREATE TABLE ref_ambient(
  rules   TEXT NOT NULL CHECK (rules IN ('us', 'iec', 'uk')),
  insulation_temp_c INTEGER NOT NULL CHECK (insulation_temp_c IN (60, 70, 75, 90)),  -- degree Celsius
  over_c  REAL,                                               -- ambient above this, degree Celsius; NULL: no lower end
  to_c    REAL NOT NULL,                                      -- and up to this one
  factor  REAL NOT NULL CHECK (factor > 0 AND factor < 2),
  edition TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source  TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, insulation_temp_c, to_c),
  CHECK (over_c IS NULL OR over_c < to_c)
) STRICT;

-- over, up to, then the 60, 75 and 90 degree C columns; NULL: no figure in the table.
WITH printed(over_c, to_c, t60, t75, t90) AS (VALUES
  (NULL, 10, 1.29, 1.20, 1.15),
  (10, 15,   1.22, 1.15, 1.12),
  (15, 20,   1.15, 1.11, 1.08),
  (20, 25,   1.08, 1.05, 1.04),
  (25, 30,   1.00, 1.00, 1.00),
  (30, 35,   0.91, 0.94, 0.96),
  (35, 40,   0.82, 0.88, 0.91),
  (40, 45,   0.71, 0.82, 0.87),
  (45, 50,   0.58, 0.75, 0.82),
  (50, 55,   0.41, 0.67, 0.76),
  (55, 60,   NULL, 0.58, 0.71),
  (60, 65,   NULL, 0.47, 0.65),
  (65, 70,   NULL, 0.33, 0.58),
  (70, 75,   NULL, NULL, 0.50)
)
INSERT INTO ref_ambient(rules, insulation_temp_c, over_c, to_c, factor, edition, source)
SELECT 'us', temp, over_c, to_c, factor, '2017',
       'NFPA 70 (National Electrical Code) Table 310.15(B)(2)(a); read in the 2018 International Residential Code, Table E3705.2'
FROM (
  SELECT 60 AS temp, over_c, to_c, t60 AS factor FROM printed
  UNION ALL SELECT 75, over_c, to_c, t75 FROM printed
  UNION ALL SELECT 90, over_c, to_c, t90 FROM printed
) WHERE factor IS NOT NULL;

WITH printed(over_c, to_c, factor, seen) AS (VALUES
  (NULL, 10, 1.22, 'from memory, the law of heat agrees'),
  (10, 15,   1.17, 'from memory, the law of heat agrees'),
  (15, 20,   1.12, 'from memory, the law of heat agrees'),
  (20, 25,   1.06, 'from memory, the law of heat agrees'),
  (25, 30,   1.00, 'the temperature of the tables'),
  (30, 35,   0.94, 'from memory, the law of heat agrees'),
  (35, 40,   0.87, 'from memory, a machine manual''s columns and the law of heat agree'),
  (40, 45,   0.79, 'from memory, a machine manual''s columns and the law of heat agree'),
  (45, 50,   0.71, 'from memory, a machine manual''s columns and the law of heat agree'),
  (50, 55,   0.61, 'from memory, a machine manual''s columns and the law of heat agree'),
  (55, 60,   0.50, 'from memory, the law of heat agrees')
)
INSERT INTO ref_ambient(rules, insulation_temp_c, over_c, to_c, factor, edition, source)
SELECT rules, 70, over_c, to_c, factor, '2009',
       'IEC 60364-5-52 Table B.52.14, PVC' || iif(rules = 'uk', ', taken for BS 7671 too', '') || '; ' || seen
FROM printed, (SELECT 'iec' AS rules UNION ALL SELECT 'uk')
ORDER BY rules, to_c;
