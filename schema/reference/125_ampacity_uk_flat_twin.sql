-- Ampacity of British flat twin-and-earth cable by the way it lies, PVC 70 degree C, 30 degree C air.
-- C: clipped direct. 100, 101: above plasterboard under up to, or more than, 100 mm of insulation. 102, 103: in a stud
-- wall, touching the inner face or not. A: in conduit in an insulated wall.
CREATE TABLE ref_ampacity_uk_flat_twin(
  rules      TEXT NOT NULL REFERENCES ref_rule_set(id),
  size       TEXT NOT NULL,                                   -- as in ref_conductor; copper, two loaded conductors
  method     TEXT NOT NULL CHECK (method IN ('C', '100', '101', '102', '103', 'A')),
  ampacity_a REAL NOT NULL CHECK (ampacity_a > 0),            -- ampere
  edition    TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source     TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, size, method)
) STRICT;

WITH printed(size, c, m100, m101, m102, m103, a) AS (VALUES
  ('1 mm2',   16, 13, 10.5, 13,    8, 11.5),
  ('1.5 mm2', 20, 16,   13, 16,   10, 14.5),
  ('2.5 mm2', 27, 21,   17, 21, 13.5,   20),
  ('4 mm2',   37, 27,   22, 27, 17.5,   26),
  ('6 mm2',   47, 34,   27, 35, 23.5,   32),
  ('10 mm2',  64, 45,   36, 47,   32,   44),
  ('16 mm2',  85, 57,   46, 63, 42.5,   57)
)
INSERT INTO ref_ampacity_uk_flat_twin(rules, size, method, ampacity_a, edition, source)
SELECT 'uk', size, method, ampacity, '2018', 'BS 7671 Table 4D5; read in '
       || iif(method IN ('C', '100', '103'), 'two public reprints that agree', 'one public reprint')
FROM (
  SELECT size, 'C' AS method, c AS ampacity FROM printed
  UNION ALL SELECT size, '100', m100 FROM printed
  UNION ALL SELECT size, '101', m101 FROM printed
  UNION ALL SELECT size, '102', m102 FROM printed
  UNION ALL SELECT size, '103', m103 FROM printed
  UNION ALL SELECT size, 'A', a FROM printed
);
