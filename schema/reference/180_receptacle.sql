-- Receptacles on a branch with two or more of them, and the largest plug-in load on each.
CREATE TABLE ref_receptacle(
  rules        TEXT NOT NULL REFERENCES ref_rule_set(id),
  circuit_a    REAL NOT NULL CHECK (circuit_a > 0),           -- rating of the branch, ampere
  receptacle_a REAL NOT NULL CHECK (receptacle_a > 0),        -- rating of the receptacle, ampere
  max_load_a   REAL CHECK (max_load_a > 0 AND max_load_a <= receptacle_a),  -- largest plug-in load; NULL: none printed
  clause       TEXT NOT NULL CHECK (length(clause) > 0),
  edition      TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source       TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, circuit_a, receptacle_a)
) STRICT;

INSERT INTO ref_receptacle(rules, circuit_a, receptacle_a, max_load_a, clause, edition, source)
SELECT 'us', column1, column2, column3, column4, '2017', 'NFPA 70 (National Electrical Code); ' || column5 FROM (VALUES
  (15, 15, 12,   'Table 210.21(B)(2), (B)(3)', 'both read in trade forums, the table of loads whole'),
  (20, 15, 12,   'Table 210.21(B)(2), (B)(3)', 'receptacle and load read'),
  (20, 20, 16,   'Table 210.21(B)(2), (B)(3)', 'both read in trade forums, the table of loads whole'),
  (30, 30, 24,   'Table 210.21(B)(2), (B)(3)', 'both read in trade forums, the table of loads whole'),
  (40, 40, NULL, 'Table 210.21(B)(3)',         'receptacle read in Table 210.24'),
  (40, 50, NULL, 'Table 210.21(B)(3)',         'receptacle read in Table 210.24'),
  (50, 50, NULL, 'Table 210.21(B)(3)',         'receptacle read in Table 210.24')
);
