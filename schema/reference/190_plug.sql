-- Plugs and receptacles that a plug-in appliance is taken to use where the house says nothing.
CREATE TABLE ref_plug(
  rules          TEXT NOT NULL REFERENCES ref_rule_set(id),
  id             TEXT NOT NULL CHECK (length(id) > 0),
  name           TEXT NOT NULL CHECK (length(name) > 0),      -- what a person reads
  rating_a       REAL NOT NULL CHECK (rating_a > 0),          -- ampere
  circuit_over_a REAL NOT NULL CHECK (circuit_over_a >= 0),   -- usual on branches rated above this, ampere
  circuit_to_a   REAL,                                        -- and up to this; NULL: no upper end
  usual          INTEGER NOT NULL CHECK (usual IN (0, 1)),    -- 1: the one that is assumed
  edition        TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source         TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, id)
) STRICT;

INSERT INTO ref_plug(rules, id, name, rating_a, circuit_over_a, circuit_to_a, usual, edition, source)
SELECT * FROM (VALUES
  ('us',  'receptacle-15', '15 A receptacle', 15, 0,  15, 1, '2017', 'NFPA 70 (National Electrical Code) Table 210.24, receptacle line read'),
  ('us',  'receptacle-20', '20 A receptacle', 20, 15, 20, 1, '2017', 'NFPA 70 (National Electrical Code) Table 210.24, receptacle line read'),
  ('us',  'receptacle-30', '30 A receptacle', 30, 20, 30, 1, '2017', 'NFPA 70 (National Electrical Code) Table 210.24, receptacle line read'),
  ('us',  'receptacle-50', '50 A receptacle', 50, 30, 50, 1, '2017', 'NFPA 70 (National Electrical Code) Table 210.24, receptacle line read'),
  ('iec', 'plug-10',       '10 A plug',       10, 0,  NULL, 0, 'common practice', 'AS/NZS 3112 and other 10 A plugs; read on a maker''s page'),
  ('iec', 'plug-16',       '16 A plug',       16, 0,  NULL, 1, 'common practice', 'CEE 7 plug, 16 A, 250 V (DIN VDE 0620-1); read on a maker''s teaching page'),
  ('uk',  'plug-13',       '13 A plug',       13, 0,  NULL, 1, 'common practice', 'BS 1363 plug with a 13 A fuse; read in fire-service advice')
);
