-- Full-load current of single-phase motors by horsepower and voltage.
CREATE TABLE ref_motor_fla(
  rules     TEXT NOT NULL REFERENCES ref_rule_set(id),
  hp_text   TEXT NOT NULL CHECK (length(hp_text) > 0),        -- as a house file may write it
  power_hp  REAL NOT NULL CHECK (power_hp > 0),               -- horsepower
  voltage_v REAL NOT NULL CHECK (voltage_v > 0),              -- the column, volt
  current_a REAL NOT NULL CHECK (current_a > 0),              -- ampere
  edition   TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source    TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, hp_text, voltage_v)
) STRICT;

-- The 115 V column serves 110 to 120 V systems, the 230 V column 220 to 240 V.
WITH printed(hp_text, power_hp, v115, v200, v208, v230) AS (VALUES
  ('1/6', 1.0 / 6,   4.4,  2.5,  2.4,  2.2),
  ('1/4', 0.25,      5.8,  3.3,  3.2,  2.9),
  ('1/3', 1.0 / 3,   7.2,  4.1,  4.0,  3.6),
  ('1/2', 0.5,       9.8,  5.6,  5.4,  4.9),
  ('3/4', 0.75,     13.8,  7.9,  7.6,  6.9),
  ('1',   1,        16,    9.2,  8.8,  8.0),
  ('1.5', 1.5,      20,   11.5, 11.0, 10),
  ('2',   2,        24,   13.8, 13.2, 12),
  ('3',   3,        34,   19.6, 18.7, 17),
  ('5',   5,        56,   32.2, 30.8, 28),
  ('7.5', 7.5,      80,   46.0, 44.0, 40),
  ('10',  10,      100,   57.5, 55.0, 50)
)
INSERT INTO ref_motor_fla(rules, hp_text, power_hp, voltage_v, current_a, edition, source)
SELECT 'us', hp_text, power_hp, voltage_v, current_a, '1999',
       'NFPA 70 (National Electrical Code) Table 430-148, now 430.248; read at a wire maker and in a reprint of today''s table: unchanged'
FROM (
  SELECT hp_text, power_hp, 115 AS voltage_v, v115 AS current_a FROM printed
  UNION ALL SELECT hp_text, power_hp, 200, v200 FROM printed
  UNION ALL SELECT hp_text, power_hp, 208, v208 FROM printed
  UNION ALL SELECT hp_text, power_hp, 230, v230 FROM printed
) ORDER BY power_hp, voltage_v;
