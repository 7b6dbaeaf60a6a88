-- Standard ratings of overcurrent devices.
CREATE TABLE ref_standard_size(
  rules    TEXT NOT NULL REFERENCES ref_rule_set(id),
  rating_a REAL NOT NULL CHECK (rating_a > 0),                -- ampere
  edition  TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source   TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, rating_a)
) STRICT;

INSERT INTO ref_standard_size(rules, rating_a, edition, source)
SELECT 'us', column1, '2017', 'NFPA 70 (National Electrical Code) 240.6(A); read on a builders'' knowledge page' FROM (VALUES
  (15), (20), (25), (30), (35), (40), (45), (50), (60), (70), (80), (90), (100), (110), (125), (150), (175), (200),
  (225), (250), (300), (350), (400), (450), (500), (600)
);

INSERT INTO ref_standard_size(rules, rating_a, edition, source)
SELECT 'us', column1, '2017', 'NFPA 70 (National Electrical Code) 240.6(A); read in a public reprint' FROM (VALUES
  (700), (800), (1000), (1200), (1600), (2000), (2500), (3000), (4000), (5000), (6000)
);

INSERT INTO ref_standard_size(rules, rating_a, edition, source)
SELECT rules, column1, '2015', 'IEC 60898-1 preferred ratings; read on a trade page' FROM (VALUES
  (6), (10), (13), (16), (20), (25), (32), (40), (50), (63), (80), (100), (125)
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk') ORDER BY rules, column1;
