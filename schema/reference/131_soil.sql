-- Factors on the ampacity of buried cable for soil other than 2.5 K m/W.
-- A row holds from above the resistivity before up to its own: between two printed ones the drier.
CREATE TABLE ref_soil(
  rules   TEXT NOT NULL REFERENCES ref_rule_set(id),
  method  TEXT NOT NULL CHECK (method IN ('D1', 'D2')),
  over_km_per_w REAL,                                         -- thermal resistivity above this, K m/W; NULL: no lower end
  to_km_per_w   REAL NOT NULL CHECK (to_km_per_w > 0),        -- and up to this one
  factor  REAL NOT NULL CHECK (factor > 0 AND factor < 2),
  edition TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source  TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, method, to_km_per_w),
  CHECK (over_km_per_w IS NULL OR over_km_per_w < to_km_per_w)
) STRICT;

WITH printed(over_km_per_w, to_km_per_w, d1, d2) AS (VALUES
  (NULL, 0.5, 1.28, 1.88),
  (0.5, 0.7,  1.20, 1.62),
  (0.7, 1,    1.18, 1.50),
  (1, 1.5,    1.10, 1.28),
  (1.5, 2,    1.05, 1.12),
  (2, 2.5,    1.00, 1.00),
  (2.5, 3,    0.96, 0.90)
)
INSERT INTO ref_soil(rules, method, over_km_per_w, to_km_per_w, factor, edition, source)
SELECT rules, method, over_km_per_w, to_km_per_w, factor, '2009',
       'IEC 60364-5-52 Table B.52.16; read in ' || iif(method = 'D1', 'public reprints', 'one public reprint')
       || iif(rules = 'uk', ', taken for BS 7671 too', '')
FROM (
  SELECT 'D1' AS method, over_km_per_w, to_km_per_w, d1 AS factor FROM printed
  UNION ALL SELECT 'D2', over_km_per_w, to_km_per_w, d2 FROM printed
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk')
ORDER BY rules, method, to_km_per_w;
