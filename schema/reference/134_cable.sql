-- Kinds of cable under American rules: the insulation whose column holds, and the column that caps it.
CREATE TABLE ref_cable(
  rules   TEXT NOT NULL REFERENCES ref_rule_set(id),
  cable   TEXT NOT NULL CHECK (length(cable) > 0),            -- as the key of a house file spells it
  name    TEXT NOT NULL CHECK (length(name) > 0),             -- what a person reads
  insulation_temp_c INTEGER NOT NULL CHECK (insulation_temp_c IN (60, 75, 90)),  -- column of table and factors, degree Celsius
  cap_temp_c REAL CHECK (cap_temp_c IN (60, 75)),             -- column that caps the result; NULL: that of the terminals
  clause  TEXT NOT NULL CHECK (length(clause) > 0),
  edition TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source  TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, cable)
) STRICT;

INSERT INTO ref_cable(rules, cable, name, insulation_temp_c, cap_temp_c, clause, edition, source)
SELECT 'us', column1, column2, column3, column4, column5, '2017', 'NFPA 70 (National Electrical Code); ' || column6 FROM (VALUES
  ('nm-b',          'NM-B cable',                         90, 60,   '334.80', 'read in trade press and a trade forum'),
  ('nm',            'NM cable of before about 1985',      60, 60,   '334.80', 'cap read in a trade forum, insulation of 60 degree in another thread there'),
  ('uf-b',          'UF-B cable',                         60, 60,   '340.80', 'text quoted in a trade forum'),
  ('ser',           'SER cable',                          90, NULL, '338.10(B)(4)', 'read on a licence school''s page and in trade press; 10 AWG and thinner in thermal insulation by 60 degree, which no key says'),
  ('mc',            'MC cable',                           90, NULL, '330.80', 'from memory'),
  ('thhn',          'THHN wire',                          90, NULL, 'Table 310.4', 'heads of the ampacity table, read on a document page'),
  ('thwn',          'THWN wire',                          75, NULL, 'Table 310.4', 'heads of the ampacity table, read on a document page'),
  ('tw',            'TW wire',                            60, 60,   'Table 310.4', 'heads of the ampacity table, read on a document page'),
  ('knob-and-tube', 'knob-and-tube wiring',               60, 60,   '394', 'from memory')
);
