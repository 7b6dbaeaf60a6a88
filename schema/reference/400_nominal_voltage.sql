-- Nominal voltages of household supplies.
CREATE TABLE ref_nominal_voltage(
  rules     TEXT NOT NULL REFERENCES ref_rule_set(id),
  system    TEXT NOT NULL CHECK (system IN ('single-phase', 'split-phase', 'three-phase')),
  line_to_neutral_v REAL NOT NULL CHECK (line_to_neutral_v > 0),  -- volt
  line_to_line_v    REAL CHECK (line_to_line_v > 0),          -- volt; NULL: no second line
  usual     INTEGER NOT NULL CHECK (usual IN (0, 1)),         -- 1: taken where a house says nothing
  note      TEXT,
  edition   TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source    TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, system, line_to_neutral_v)
) STRICT;

INSERT INTO ref_nominal_voltage(rules, system, line_to_neutral_v, line_to_line_v, usual, note, edition, source)
SELECT * FROM (VALUES
  ('us',  'single-phase', 120, NULL, 1, NULL,                '2017', 'NFPA 70 (National Electrical Code) 220.5(A); read in a licence course'),
  ('us',  'split-phase',  120, 240,  1, NULL,                '2017', 'NFPA 70 (National Electrical Code) 220.5(A); read in a licence course'),
  ('us',  'three-phase',  120, 208,  1, NULL,                '2017', 'NFPA 70 (National Electrical Code) 220.5(A); read in a licence course'),
  ('iec', 'single-phase', 230, NULL, 1, NULL,                '2009', 'IEC 60038; read in an article'),
  ('iec', 'split-phase',  230, 460,  1, 'outside the standard; doubled line to neutral', '2009', 'IEC 60038, voltage of one half'),
  ('iec', 'three-phase',  230, 400,  1, NULL,                '2009', 'IEC 60038; read in an article'),
  ('iec', 'three-phase',  220, 380,  0, 'until 2003',        '1983', 'IEC 60038, transition; read in an article'),
  ('iec', 'split-phase',  100, 200,  0, 'Japan',             'article 38', 'Electricity Business Act of Japan, enforcement rules; read in articles'),
  ('uk',  'single-phase', 230, NULL, 1, NULL,                '1994', 'Statutory Instrument 1994/3021; read'),
  ('uk',  'split-phase',  230, 460,  1, 'rural supplies',    '1994', 'Statutory Instrument 1994/3021, voltage of one half; split supply from memory'),
  ('uk',  'three-phase',  230, 400,  1, NULL,                '1994', 'Statutory Instrument 1994/3021; read'),
  ('uk',  'single-phase', 240, NULL, 0, 'until 1994',        '1994', 'Statutory Instrument 1994/3021, transition; read')
);
