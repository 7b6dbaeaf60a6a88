-- Ampacity under the National Electrical Code: up to three loaded conductors, 30 degree C ambient.
CREATE TABLE ref_ampacity_us(
  rules        TEXT NOT NULL REFERENCES ref_rule_set(id),
  size       TEXT NOT NULL,                                   -- as in ref_conductor
  metal      TEXT NOT NULL CHECK (metal IN ('copper', 'aluminium')),
  insulation_temp_c INTEGER NOT NULL CHECK (insulation_temp_c IN (60, 75, 90)),  -- the column, degree Celsius
  ampacity_a REAL NOT NULL CHECK (ampacity_a > 0),            -- ampere
  edition    TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source     TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, size, metal, insulation_temp_c)
) STRICT;

-- size, then copper 60, 75, 90, aluminium 60, 75, 90; NULL: no figure in the table.
WITH printed(size, cu60, cu75, cu90, al60, al75, al90) AS (VALUES
  ('14 AWG',   15,  20,  25, NULL, NULL, NULL),
  ('12 AWG',   20,  25,  30,  15,  20,  25),
  ('10 AWG',   30,  35,  40,  25,  30,  35),
  ('8 AWG',    40,  50,  55,  35,  40,  45),
  ('6 AWG',    55,  65,  75,  40,  50,  55),
  ('4 AWG',    70,  85,  95,  55,  65,  75),
  ('3 AWG',    85, 100, 115,  65,  75,  85),
  ('2 AWG',    95, 115, 130,  75,  90, 100),
  ('1 AWG',   110, 130, 145,  85, 100, 115),
  ('1/0 AWG', 125, 150, 170, 100, 120, 135),
  ('2/0 AWG', 145, 175, 195, 115, 135, 150),
  ('3/0 AWG', 165, 200, 225, 130, 155, 175),
  ('4/0 AWG', 195, 230, 260, 150, 180, 205)
)
INSERT INTO ref_ampacity_us(rules, size, metal, insulation_temp_c, ampacity_a, edition, source)
SELECT 'us', size, metal, temp, ampacity, '2017',
       'NFPA 70 (National Electrical Code) Table 310.15(B)(16), from 2020 Table 310.16; read in the 2018 International Residential Code, Table E3705.1'
FROM (
  SELECT size, 'copper' AS metal, 60 AS temp, cu60 AS ampacity FROM printed UNION ALL SELECT size, 'copper', 75, cu75 FROM printed
  UNION ALL SELECT size, 'copper', 90, cu90 FROM printed UNION ALL SELECT size, 'aluminium', 60, al60 FROM printed
  UNION ALL SELECT size, 'aluminium', 75, al75 FROM printed UNION ALL SELECT size, 'aluminium', 90, al90 FROM printed
) WHERE ampacity IS NOT NULL;

-- The ends of the table.
WITH printed(size, cu60, cu75, cu90, al60, al75, al90) AS (VALUES
  ('18 AWG',    NULL, NULL,  14, NULL, NULL, NULL),
  ('16 AWG',    NULL, NULL,  18, NULL, NULL, NULL),
  ('250 kcmil', 215, 255, 290, 170, 205, 230),
  ('300 kcmil', 240, 285, 320, 195, 230, 260),
  ('350 kcmil', 260, 310, 350, 210, 250, 280),
  ('400 kcmil', 280, 335, 380, 225, 270, 305),
  ('500 kcmil', 320, 380, 430, 260, 310, 350),
  ('600 kcmil', 350, 420, 475, 285, 340, 385)
)
INSERT INTO ref_ampacity_us(rules, size, metal, insulation_temp_c, ampacity_a, edition, source)
SELECT 'us', size, metal, temp, ampacity, '2017',
       'NFPA 70 (National Electrical Code) Table 310.15(B)(16), from 2020 Table 310.16; read in public reprints and a reprint'
FROM (
  SELECT size, 'copper' AS metal, 60 AS temp, cu60 AS ampacity FROM printed UNION ALL SELECT size, 'copper', 75, cu75 FROM printed
  UNION ALL SELECT size, 'copper', 90, cu90 FROM printed UNION ALL SELECT size, 'aluminium', 60, al60 FROM printed
  UNION ALL SELECT size, 'aluminium', 75, al75 FROM printed UNION ALL SELECT size, 'aluminium', 90, al90 FROM printed
) WHERE ampacity IS NOT NULL;
