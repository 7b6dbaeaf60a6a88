-- Preferred numbers for resistors: one decade of each series, and the tolerance for which the series is meant.
CREATE TABLE ref_preferred_number(
  series            TEXT NOT NULL CHECK (series IN ('E6', 'E12', 'E24')),
  value             TEXT NOT NULL CHECK (length(value) = 3),                     -- decimal text, 1.0 .. 9.1
  tolerance_percent INTEGER NOT NULL CHECK (tolerance_percent BETWEEN 1 AND 20), -- for which the series is meant
  edition           TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source            TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (series, value)
) STRICT;

INSERT INTO ref_preferred_number(series, value, tolerance_percent, edition, source)
SELECT 'E6', column1, 20, '2015', 'IEC 60063, table of the E6 series; from memory' FROM (VALUES
  ('1.0'), ('1.5'), ('2.2'), ('3.3'), ('4.7'), ('6.8')
);

INSERT INTO ref_preferred_number(series, value, tolerance_percent, edition, source)
SELECT 'E12', column1, 10, '2015', 'IEC 60063, table of the E12 series; from memory' FROM (VALUES
  ('1.0'), ('1.2'), ('1.5'), ('1.8'), ('2.2'), ('2.7'), ('3.3'), ('3.9'), ('4.7'), ('5.6'), ('6.8'), ('8.2')
);

INSERT INTO ref_preferred_number(series, value, tolerance_percent, edition, source)
SELECT 'E24', column1, 5, '2015', 'IEC 60063, table of the E24 series; from memory' FROM (VALUES
  ('1.0'), ('1.1'), ('1.2'), ('1.3'), ('1.5'), ('1.6'), ('1.8'), ('2.0'), ('2.2'), ('2.4'), ('2.7'), ('3.0'),
  ('3.3'), ('3.6'), ('3.9'), ('4.3'), ('4.7'), ('5.1'), ('5.6'), ('6.2'), ('6.8'), ('7.5'), ('8.2'), ('9.1')
);
