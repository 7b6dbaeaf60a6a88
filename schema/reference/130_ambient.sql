-- Factors on ampacity for the temperature around the cable: air other than 30, ground other than 20 degree C.
-- us: bands as printed. iec, uk: listed temperatures; a row holds from above the one before up to its own (the published
-- step at or above the ambient, nothing interpolated).
CREATE TABLE ref_ambient(
  rules   TEXT NOT NULL REFERENCES ref_rule_set(id),
  medium  TEXT NOT NULL CHECK (medium IN ('air', 'ground')),
  insulation_temp_c INTEGER NOT NULL CHECK (insulation_temp_c IN (60, 70, 75, 90)),  -- degree Celsius
  over_c  REAL,                                               -- ambient above this, degree Celsius; NULL: no lower end
  to_c    REAL NOT NULL,                                      -- and up to this one
  factor  REAL NOT NULL CHECK (factor > 0 AND factor < 2),
  edition TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source  TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, medium, insulation_temp_c, to_c),
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
INSERT INTO ref_ambient(rules, medium, insulation_temp_c, over_c, to_c, factor, edition, source)
SELECT 'us', 'air', temp, over_c, to_c, factor, '2017',
       'NFPA 70 (National Electrical Code) Table 310.15(B)(2)(a); read in the 2018 International Residential Code, Table E3705.2'
FROM (
  SELECT 60 AS temp, over_c, to_c, t60 AS factor FROM printed
  UNION ALL SELECT 75, over_c, to_c, t75 FROM printed
  UNION ALL SELECT 90, over_c, to_c, t90 FROM printed
) WHERE factor IS NOT NULL;

-- over, up to, then PVC (70 degree C) and XLPE (90 degree C).
WITH printed(over_c, to_c, pvc, xlpe) AS (VALUES
  (NULL, 10, 1.22, 1.15),
  (10, 15,   1.17, 1.12),
  (15, 20,   1.12, 1.08),
  (20, 25,   1.06, 1.04),
  (25, 30,   1.00, 1.00),
  (30, 35,   0.94, 0.96),
  (35, 40,   0.87, 0.91),
  (40, 45,   0.79, 0.87),
  (45, 50,   0.71, 0.82),
  (50, 55,   0.61, 0.76),
  (55, 60,   0.50, 0.71)
)
INSERT INTO ref_ambient(rules, medium, insulation_temp_c, over_c, to_c, factor, edition, source)
SELECT 'iec', 'air', temp, over_c, to_c, factor, '2009', 'IEC 60364-5-52 Table B.52.14; read in public reprints'
FROM (
  SELECT 70 AS temp, over_c, to_c, pvc AS factor FROM printed
  UNION ALL SELECT 90, over_c, to_c, xlpe FROM printed
);

-- The British table begins at 25 degree C: what is cooler takes its factor.
INSERT INTO ref_ambient(rules, medium, insulation_temp_c, over_c, to_c, factor, edition, source)
SELECT 'uk', 'air', 70, column1, column2, column3, '2018', 'BS 7671 Table 4B1, PVC 70 °C; read in a reprint' FROM (VALUES
  (NULL, 25, 1.03),
  (25, 30,   1.00),
  (30, 35,   0.94),
  (35, 40,   0.87),
  (40, 45,   0.79),
  (45, 50,   0.71),
  (50, 55,   0.61),
  (55, 60,   0.50)
);

INSERT INTO ref_ambient(rules, medium, insulation_temp_c, over_c, to_c, factor, edition, source)
SELECT 'uk', 'air', 90, column1, column2, column3, '2018', 'BS 7671 Table 4B1, XLPE 90 °C; ' || column4 FROM (VALUES
  (NULL, 25, 1.02, 'read in a reprint'),
  (25, 30,   1.00, 'the temperature of the tables'),
  (30, 35,   0.96, 'read in a reprint, IEC 60364-5-52 Table B.52.14 agrees'),
  (35, 40,   0.91, 'read in a reprint, IEC 60364-5-52 Table B.52.14 agrees'),
  (40, 45,   0.87, 'read in a reprint, IEC 60364-5-52 Table B.52.14 agrees'),
  (45, 50,   0.82, 'read in a reprint, IEC 60364-5-52 Table B.52.14 agrees'),
  (50, 55,   0.76, 'read in a reprint, IEC 60364-5-52 Table B.52.14 agrees'),
  (55, 60,   0.71, 'read in a reprint, IEC 60364-5-52 Table B.52.14 agrees')
);

-- In the ground: over, up to, then PVC and XLPE.
WITH printed(over_c, to_c, pvc, xlpe) AS (VALUES
  (NULL, 10, 1.10, 1.07),
  (10, 15,   1.05, 1.04),
  (15, 20,   1.00, 1.00),
  (20, 25,   0.95, 0.96),
  (25, 30,   0.89, 0.93),
  (30, 35,   0.84, 0.89),
  (35, 40,   0.77, 0.85),
  (40, 45,   0.71, 0.80),
  (45, 50,   0.63, 0.76)
)
INSERT INTO ref_ambient(rules, medium, insulation_temp_c, over_c, to_c, factor, edition, source)
SELECT rules, 'ground', temp, over_c, to_c, factor, '2009',
       'IEC 60364-5-52 Table B.52.15; read in public reprints' || iif(rules = 'uk', ', taken for BS 7671 too', '')
FROM (
  SELECT 70 AS temp, over_c, to_c, pvc AS factor FROM printed
  UNION ALL SELECT 90, over_c, to_c, xlpe FROM printed
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk')
ORDER BY rules, temp, to_c;
