-- What a conductor endures for a few seconds: constants of the adiabatic equation.
CREATE TABLE ref_adiabatic(
  equation  TEXT NOT NULL CHECK (equation IN ('mm2', 'circular mil')),  -- k = K sqrt(ln(...)), or (I/A)^2 t = K log10(...)
  metal     TEXT NOT NULL CHECK (metal IN ('copper', 'aluminium')),
  factor    REAL NOT NULL CHECK (factor > 0),                 -- K
  beta_c    REAL NOT NULL,                                    -- reciprocal of the temperature coefficient at 0 degree C
  initial_c REAL NOT NULL,                                    -- conductor in use, degree Celsius
  final_c   REAL NOT NULL,                                    -- limit of thermoplastic insulation at the fault
  edition   TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source    TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (equation, metal),
  CHECK (final_c > initial_c)
) STRICT;

INSERT INTO ref_adiabatic(equation, metal, factor, beta_c, initial_c, final_c, edition, source) VALUES
  ('mm2', 'copper',    226, 234.5, 70, 160, '2011', 'IEC 60364-5-54 annex A; constants read in a published derivation, give the 115 that is printed'),
  ('mm2', 'aluminium', 148, 228,   70, 160, '2011', 'IEC 60364-5-54 annex A; constants read in a published derivation, give the 76 that is printed'),
  ('circular mil', 'copper',    0.0297, 234, 75, 150, '1999', 'ICEA P-32-382; equation read in a cable maker''s specification, 75 and 150 °C of thermoplastic from memory'),
  ('circular mil', 'aluminium', 0.0125, 228, 75, 150, '1999', 'ICEA P-32-382; equation read in a cable maker''s specification, 75 and 150 °C of thermoplastic from memory');
