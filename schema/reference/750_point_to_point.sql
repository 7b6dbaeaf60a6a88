-- C of the point-to-point method: 1000 over the impedance of 1000 ft, single 600 V conductors in steel conduit, cold.
CREATE TABLE ref_point_to_point(
  size    TEXT NOT NULL CHECK (length(size) > 0),             -- as in ref_conductor
  metal   TEXT NOT NULL CHECK (metal IN ('copper', 'aluminium')),
  c       REAL NOT NULL CHECK (c > 0),                        -- 1000 / (ohm per 1000 ft)
  edition TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source  TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (size, metal)
) STRICT;

INSERT INTO ref_point_to_point(size, metal, c, edition, source)
SELECT column1, column2, column3, '2014', 'table of C values of the point-to-point method in makers'' handbooks; ' || column4 FROM (VALUES
  ('14 AWG', 'copper', 389, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('12 AWG', 'copper', 617, 'read in an excerpt'),
  ('10 AWG', 'copper', 981, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('8 AWG', 'copper', 1557, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('6 AWG', 'copper', 2425, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('4 AWG', 'copper', 3806, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('3 AWG', 'copper', 4774, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('2 AWG', 'copper', 5907, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('1 AWG', 'copper', 7293, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('1/0 AWG', 'copper', 8925, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('2/0 AWG', 'copper', 10755, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('3/0 AWG', 'copper', 12844, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('4/0 AWG', 'copper', 15082, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('250 kcmil', 'copper', 16483, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('350 kcmil', 'copper', 19704, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('500 kcmil', 'copper', 22185, 'read in an excerpt'),
  ('14 AWG', 'aluminium', 237, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('12 AWG', 'aluminium', 376, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('10 AWG', 'aluminium', 599, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('8 AWG', 'aluminium', 951, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('6 AWG', 'aluminium', 1481, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('4 AWG', 'aluminium', 2346, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('3 AWG', 'aluminium', 2952, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('2 AWG', 'aluminium', 3713, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('1 AWG', 'aluminium', 4645, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('1/0 AWG', 'aluminium', 5777, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('2/0 AWG', 'aluminium', 7187, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('3/0 AWG', 'aluminium', 8826, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('4/0 AWG', 'aluminium', 10741, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('250 kcmil', 'aluminium', 12122, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('350 kcmil', 'aluminium', 15484, 'from memory, agrees with 1000 over the resistance at 25 °C'),
  ('500 kcmil', 'aluminium', 18756, 'from memory, agrees with 1000 over the resistance at 25 °C')
);
