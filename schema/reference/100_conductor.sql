-- Conductors: cross-section and d.c. resistance of each size and metal.
-- AWG and kcmil: solid for 14, 12, 10 AWG and thinner, stranded from 8 AWG. mm2: class 1 or 2, plain.
-- A size without a printed resistance has an ampacity only.
CREATE TABLE ref_conductor(
  size         TEXT NOT NULL CHECK (length(size) > 0),        -- '14 AWG', '1/0 AWG', '250 kcmil', '2.5 mm2'
  metal        TEXT NOT NULL CHECK (metal IN ('copper', 'aluminium')),
  construction TEXT NOT NULL CHECK (construction IN ('solid', 'stranded', 'class 1/2')),
  size_order   INTEGER NOT NULL,                              -- rises with the cross-section within AWG/kcmil and within mm2
  area_cmil    REAL CHECK (area_cmil > 0),                    -- as printed, circular mil; NULL for mm2 sizes
  printed_ohm_per_kft REAL CHECK (printed_ohm_per_kft > 0),   -- as printed, ohm per 1000 ft; NULL for mm2 sizes
  printed_ohm_per_km  REAL CHECK (printed_ohm_per_km > 0),    -- as printed, ohm per kilometre; NULL for AWG and kcmil
  printed_area_mm2    REAL CHECK (printed_area_mm2 > 0),      -- nominal, mm2; NULL for AWG and kcmil
  reference_temp_c REAL NOT NULL,                             -- temperature of the printed resistance, degree Celsius
  alpha_per_k  REAL NOT NULL CHECK (alpha_per_k > 0),         -- temperature coefficient at 20 degree C, per kelvin
  edition      TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source       TEXT NOT NULL CHECK (length(trim(source)) > 0),
  -- one circular mil is pi/4 of a square of 0.0254 mm; 1000 ft are 0.3048 km exactly
  area_mm2     REAL NOT NULL AS (coalesce(printed_area_mm2, area_cmil * 0.78539816339744831 * 0.0254 * 0.0254)),
  resistance_ohm_per_km REAL AS (coalesce(printed_ohm_per_km, printed_ohm_per_kft / 0.3048)),
  PRIMARY KEY (size, metal),
  CHECK (printed_ohm_per_kft IS NULL OR printed_ohm_per_km IS NULL),
  CHECK ((area_cmil IS NULL) <> (printed_area_mm2 IS NULL))
) STRICT;

-- Chapter 9 Table 8, direct current at 75 degree C, uncoated copper: size, circular mil, ohm per 1000 ft.
INSERT INTO ref_conductor(size, metal, construction, size_order, area_cmil, printed_ohm_per_kft, reference_temp_c, alpha_per_k, edition, source)
SELECT column2, 'copper', column3, column1, column4, column5, 75, 0.00393, '2017',
       'NFPA 70 (National Electrical Code) Chapter 9 Table 8; ' || column6 || ', recomputed from the copper standard' FROM (VALUES
  (1,  '18 AWG',    'solid',      1620, 7.77, 'read in copied text'),
  (2,  '16 AWG',    'solid',      2580, 4.89, 'read in copied text'),
  (3,  '14 AWG',    'solid',      4110, 3.07, 'read in an annotated copy'),
  (4,  '12 AWG',    'solid',      6530, 1.93, 'read in an annotated copy'),
  (5,  '10 AWG',    'solid',     10380, 1.21, 'read in an annotated copy'),
  (6,  '8 AWG',     'stranded',  16510, 0.778, 'read in a reprint'),
  (7,  '6 AWG',     'stranded',  26240, 0.491, 'read in an annotated copy'),
  (8,  '4 AWG',     'stranded',  41740, 0.308, 'read in an annotated copy'),
  (9,  '3 AWG',     'stranded',  52620, 0.245, 'read in an annotated copy'),
  (10, '2 AWG',     'stranded',  66360, 0.194, 'read in an annotated copy'),
  (11, '1 AWG',     'stranded',  83690, 0.154, 'read in an annotated copy'),
  (12, '1/0 AWG',   'stranded', 105600, 0.122, 'read in an annotated copy'),
  (13, '2/0 AWG',   'stranded', 133100, 0.0967, 'read in an annotated copy'),
  (14, '3/0 AWG',   'stranded', 167800, 0.0766, 'read in an annotated copy'),
  (15, '4/0 AWG',   'stranded', 211600, 0.0608, 'read in an annotated copy'),
  (16, '250 kcmil', 'stranded', 250000, 0.0515, 'read in an annotated copy'),
  (17, '300 kcmil', 'stranded', 300000, 0.0429, 'read in an annotated copy'),
  (18, '350 kcmil', 'stranded', 350000, 0.0367, 'read in an annotated copy'),
  (19, '400 kcmil', 'stranded', 400000, 0.0321, 'read in an annotated copy'),
  (20, '500 kcmil', 'stranded', 500000, 0.0258, 'read in an annotated copy'),
  (21, '600 kcmil', 'stranded', 600000, 0.0214, 'read in a reprint')
);

-- The same table, aluminium.
INSERT INTO ref_conductor(size, metal, construction, size_order, area_cmil, printed_ohm_per_kft, reference_temp_c, alpha_per_k, edition, source)
SELECT column2, 'aluminium', column3, column1, column4, column5, 75, 0.00403, '2017',
       'NFPA 70 (National Electrical Code) Chapter 9 Table 8; ' || column6 || ', recomputed from 61 % conductivity' FROM (VALUES
  (4,  '12 AWG',    'solid',      6530, 3.18, 'read in an annotated copy'),
  (5,  '10 AWG',    'solid',     10380, 2.00, 'read in an annotated copy'),
  (6,  '8 AWG',     'stranded',  16510, 1.28, 'read in a reprint'),
  (7,  '6 AWG',     'stranded',  26240, 0.808, 'read in an annotated copy'),
  (8,  '4 AWG',     'stranded',  41740, 0.508, 'read in an annotated copy'),
  (9,  '3 AWG',     'stranded',  52620, 0.403, 'read in an annotated copy'),
  (10, '2 AWG',     'stranded',  66360, 0.319, 'read in an annotated copy'),
  (11, '1 AWG',     'stranded',  83690, 0.253, 'read in an annotated copy'),
  (12, '1/0 AWG',   'stranded', 105600, 0.201, 'read in an annotated copy'),
  (13, '2/0 AWG',   'stranded', 133100, 0.159, 'read in an annotated copy'),
  (14, '3/0 AWG',   'stranded', 167800, 0.126, 'read in an annotated copy'),
  (15, '4/0 AWG',   'stranded', 211600, 0.100, 'read in an annotated copy'),
  (16, '250 kcmil', 'stranded', 250000, 0.0847, 'read in an annotated copy'),
  (17, '300 kcmil', 'stranded', 300000, 0.0707, 'read in an annotated copy'),
  (18, '350 kcmil', 'stranded', 350000, 0.0605, 'read in an annotated copy'),
  (19, '400 kcmil', 'stranded', 400000, 0.0529, 'read in an annotated copy'),
  (20, '500 kcmil', 'stranded', 500000, 0.0424, 'read in an annotated copy'),
  (21, '600 kcmil', 'stranded', 600000, 0.0353, 'read in a reprint')
);

-- IEC 60228, 20 degree C, class 1 and 2, plain copper: mm2, ohm per kilometre.
INSERT INTO ref_conductor(size, metal, construction, size_order, printed_area_mm2, printed_ohm_per_km, reference_temp_c, alpha_per_k, edition, source)
SELECT column2, 'copper', 'class 1/2', column1, column3, column4, 20, 0.00393, '2004', 'IEC 60228, ' || column5 FROM (VALUES
  (101, '0.5 mm2',   0.5,  36.0,   'table A.1 read at cable makers'),
  (102, '0.75 mm2',  0.75, 24.5,   'table A.1 read at cable makers'),
  (103, '1 mm2',     1,    18.1,   'table A.1 read at cable makers'),
  (104, '1.5 mm2',   1.5,  12.1,   'table A.1 read at cable makers'),
  (105, '2.5 mm2',   2.5,  7.41,   'table A.1 read at cable makers'),
  (106, '4 mm2',     4,    4.61,   'table A.1 read at cable makers'),
  (107, '6 mm2',     6,    3.08,   'table A.1 read at cable makers'),
  (108, '10 mm2',    10,   1.83,   'table A.1 read at cable makers'),
  (109, '16 mm2',    16,   1.15,   'table A.1 read at cable makers'),
  (110, '25 mm2',    25,   0.727,  'table A.1 read at cable makers'),
  (111, '35 mm2',    35,   0.524,  'table A.1 read at cable makers'),
  (112, '50 mm2',    50,   0.387,  'table A.1 read at cable makers'),
  (113, '70 mm2',    70,   0.268,  'class 2, table A.2 read at cable makers'),
  (114, '95 mm2',    95,   0.193,  'class 2, table A.2 read at cable makers'),
  (115, '120 mm2',   120,  0.153,  'class 2, table A.2 read at cable makers'),
  (116, '150 mm2',   150,  0.124,  'class 2, table A.2 read at cable makers'),
  (117, '185 mm2',   185,  0.0991, 'class 2, table A.2 read at cable makers'),
  (118, '240 mm2',   240,  0.0754, 'class 2, table A.2 read at cable makers'),
  (119, '300 mm2',   300,  0.0601, 'class 2, table A.2 read at cable makers')
);

-- The same standard, aluminium; 10 to 35 mm2 circular only.
INSERT INTO ref_conductor(size, metal, construction, size_order, printed_area_mm2, printed_ohm_per_km, reference_temp_c, alpha_per_k, edition, source)
SELECT column2, 'aluminium', 'class 1/2', column1, column3, column4, 20, 0.00403, '2004', 'IEC 60228, ' || column5 FROM (VALUES
  (108, '10 mm2',    10,   3.08,   'table A.1 read at cable makers'),
  (109, '16 mm2',    16,   1.91,   'table A.1 read at cable makers'),
  (110, '25 mm2',    25,   1.20,   'table A.1 read at cable makers'),
  (111, '35 mm2',    35,   0.868,  'table A.1 read at cable makers'),
  (112, '50 mm2',    50,   0.641,  'table A.1 read at cable makers'),
  (113, '70 mm2',    70,   0.443,  'class 2, table A.2 read at cable makers'),
  (114, '95 mm2',    95,   0.320,  'class 2, table A.2 read at cable makers'),
  (115, '120 mm2',   120,  0.253,  'class 2, table A.2 read at cable makers'),
  (116, '150 mm2',   150,  0.206,  'class 2, table A.2 read at cable makers'),
  (117, '185 mm2',   185,  0.164,  'class 2, table A.2 read at cable makers'),
  (118, '240 mm2',   240,  0.125,  'class 2, table A.2 read at cable makers'),
  (119, '300 mm2',   300,  0.100,  'class 2, table A.2 read at cable makers')
);

-- Thinner ones have rows in the ampacity tables but none in IEC 60228, whose aluminium begins at 10 mm2.
INSERT INTO ref_conductor(size, metal, construction, size_order, printed_area_mm2, printed_ohm_per_km, reference_temp_c, alpha_per_k, edition, source)
SELECT column2, 'aluminium', 'class 1/2', column1, column3, NULL, 20, 0.00403, '2009', 'IEC 60364-5-52 Tables B.52.2 to B.52.5, sizes' FROM (VALUES
  (105, '2.5 mm2',   2.5),
  (106, '4 mm2',     4),
  (107, '6 mm2',     6)
);
