-- Factors on ampacity for circuits that lie together.
-- us counts current-carrying conductors, iec and uk circuits or cables; between two printed counts the larger one's.
CREATE TABLE ref_bundle(
  rules      TEXT NOT NULL REFERENCES ref_rule_set(id),
  place      TEXT NOT NULL CHECK (place IN ('air', 'D1', 'D2')),  -- air: bunched, enclosed or in conduit; D1, D2: touching
  from_count INTEGER NOT NULL CHECK (from_count >= 1),        -- from this number on
  to_count   REAL CHECK (to_count >= from_count),             -- and up to this one; NULL: no upper end
  factor     REAL NOT NULL CHECK (factor > 0 AND factor <= 1),
  clause     TEXT NOT NULL CHECK (length(clause) > 0),
  edition    TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source     TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, place, from_count)
) STRICT;

INSERT INTO ref_bundle(rules, place, from_count, to_count, factor, clause, edition, source)
SELECT 'us', 'air', column1, column2, column3, 'Table 310.15(C)(1)', '2020',
       'NFPA 70 (National Electrical Code) Table 310.15(C)(1), before 2020 Table 310.15(B)(3)(a); read on two trade pages' FROM (VALUES
  (1,  3,    1.00),
  (4,  6,    0.80),
  (7,  9,    0.70),
  (10, 20,   0.50),
  (21, 30,   0.45),
  (31, 40,   0.40),
  (41, NULL, 0.35)
);

WITH printed(from_count, to_count, factor) AS (VALUES
  (1, 1, 1.00), (2, 2, 0.80), (3, 3, 0.70), (4, 4, 0.65), (5, 5, 0.60), (6, 6, 0.57), (7, 7, 0.54), (8, 8, 0.52), (9, 9, 0.50),
  (10, 12, 0.45), (13, 16, 0.41), (17, 20, 0.38)
)
INSERT INTO ref_bundle(rules, place, from_count, to_count, factor, clause, edition, source)
SELECT rules, 'air', from_count, to_count, factor, iif(rules = 'uk', 'Table 4C1', 'Table B.52.17 item 1'),
       iif(rules = 'uk', '2018', '2009'),
       iif(rules = 'uk', 'BS 7671 Table 4C1; read in a public reprint', 'IEC 60364-5-52 Table B.52.17; read in a public reprint')
FROM printed, (SELECT 'iec' AS rules UNION ALL SELECT 'uk')
ORDER BY rules, from_count;

WITH printed(from_count, d1, d2) AS (VALUES
  (1, 1.00, 1.00), (2, 0.85, 0.75), (3, 0.75, 0.65), (4, 0.70, 0.60), (5, 0.65, 0.55), (6, 0.60, 0.50)
)
INSERT INTO ref_bundle(rules, place, from_count, to_count, factor, clause, edition, source)
SELECT rules, place, from_count, from_count, factor, iif(place = 'D1', 'Table B.52.19', 'Table B.52.18'), '2009',
       'IEC 60364-5-52, ' || iif(place = 'D1', 'ducts', 'cables') || ' in the ground that touch; figures read in one public reprint, the number of the table from memory'
       || iif(rules = 'uk', ', taken for BS 7671 too', '')
FROM (
  SELECT 'D1' AS place, from_count, d1 AS factor FROM printed
  UNION ALL SELECT 'D2', from_count, d2 FROM printed
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk')
ORDER BY rules, place, from_count;
