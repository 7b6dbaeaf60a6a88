-- Units a rule row may be given in, and the kinds of quantity each of them measures.
CREATE TABLE ref_unit(
  unit     TEXT NOT NULL CHECK (length(unit) > 0),      -- as written in ref_rule.unit; 1: a plain number
  quantity TEXT NOT NULL CHECK (length(quantity) > 0),  -- as written in ref_rule.quantity
  edition  TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source   TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (unit, quantity)
) STRICT;

INSERT INTO ref_unit(unit, quantity, edition, source)
SELECT *, '9th edition (2019)', 'The International System of Units (SI Brochure); from memory' FROM (VALUES
  ('A',  'current'),
  ('V',  'voltage'),
  ('W',  'power'),
  ('VA', 'apparent power'),
  ('h',  'time'),
  ('°C', 'temperature'),
  ('mm2', 'cross-section'),
  ('1',  'factor'),
  ('1',  'count'),
  ('%',  'share')
);

INSERT INTO ref_unit(unit, quantity, edition, source)
SELECT *, '2017', 'NFPA 70 (National Electrical Code) 220.12, load per unit of floor area' FROM (VALUES
  ('VA/ft2', 'load density'),
  ('VA/m2',  'load density')
);
