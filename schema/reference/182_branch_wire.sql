-- Summary of branch circuits: wire, taps and load of each rating (copper).
CREATE TABLE ref_branch_wire(
  rules       TEXT NOT NULL REFERENCES ref_rule_set(id),
  circuit_a   REAL NOT NULL CHECK (circuit_a > 0),            -- rating of the branch, ampere
  size        TEXT NOT NULL,                                  -- conductor, as in ref_conductor
  tap_size    TEXT NOT NULL,                                  -- tap, as in ref_conductor
  max_load_a  REAL NOT NULL CHECK (max_load_a > 0),           -- ampere
  edition     TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source      TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, circuit_a)
) STRICT;

INSERT INTO ref_branch_wire(rules, circuit_a, size, tap_size, max_load_a, edition, source)
SELECT 'us', column1, column2, column3, column1, '2017', 'NFPA 70 (National Electrical Code) Table 210.24; read on a code publisher''s page' FROM (VALUES
  (15, '14 AWG', '14 AWG'),
  (20, '12 AWG', '14 AWG'),
  (30, '10 AWG', '14 AWG'),
  (40, '8 AWG',  '12 AWG'),
  (50, '6 AWG',  '12 AWG')
);
