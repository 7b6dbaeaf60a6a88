-- Protective conductors: the size that usually goes with a line conductor or a breaker, where the house does not say.
CREATE TABLE ref_protective_conductor(
  rules        TEXT NOT NULL REFERENCES ref_rule_set(id),       -- rule set
  metal        TEXT NOT NULL CHECK (metal IN ('copper', 'aluminium')),
  line_size    TEXT NOT NULL,                                 -- of the cable, as in ref_conductor; '': goes by the breaker
  breaker_to_a REAL NOT NULL CHECK (breaker_to_a >= 0),       -- rating up to here, ampere; 0: goes by the line
  size         TEXT NOT NULL,                                 -- of the protective conductor, as in ref_conductor
  clause       TEXT NOT NULL CHECK (length(clause) > 0),
  edition      TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source       TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, metal, line_size, breaker_to_a),
  CHECK ((line_size = '') <> (breaker_to_a = 0))
) STRICT;

-- Flat twin-and-earth cable, BS 6004.
INSERT INTO ref_protective_conductor(rules, metal, line_size, breaker_to_a, size, clause, edition, source)
SELECT 'uk', 'copper', column1, 0, column2, 'BS 6004 Table 8', '2012',
       'sizes in the R1 + R2 table of Locke, Guide to the Wiring Regulations, Appendix 4' FROM (VALUES
  ('1 mm2',   '1 mm2'),
  ('1.5 mm2', '1 mm2'),
  ('2.5 mm2', '1.5 mm2'),
  ('4 mm2',   '1.5 mm2'),
  ('6 mm2',   '2.5 mm2'),
  ('10 mm2',  '4 mm2'),
  ('16 mm2',  '6 mm2')
);

-- Equipment grounding conductors by the rating of the breaker.
INSERT INTO ref_protective_conductor(rules, metal, line_size, breaker_to_a, size, clause, edition, source)
SELECT 'us', 'copper', '', column1, column2, 'Table 250.122', '2023', 'NFPA 70 (National Electrical Code); table read in a trade teacher''s newsletter' FROM (VALUES
  (15,  '14 AWG'),
  (20,  '12 AWG'),
  (60,  '10 AWG'),
  (100, '8 AWG'),
  (200, '6 AWG')
);
