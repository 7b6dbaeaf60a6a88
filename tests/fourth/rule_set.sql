-- An invented rule set, made of rows alone: what a test takes to show that no other set's figures stand in for it.
INSERT INTO ref_rule_set(id, name, frequency_hz, currency, length_unit, area_unit, paper, spaces, next_size, resistor, main_device,
  edition, source)
VALUES ('zz', 'an invented country', 50, 'CHF', 'm', 'm2', 'a4', 'one-column', 0, 'rectangle', 'head switch', '2026', 'invented for a test');

INSERT INTO ref_choice(rules, key, word, usual, edition, source)
SELECT 'zz', column1, column2, column3, '2026', 'invented for a test' FROM (VALUES
  ('system', 'single-phase', 1), ('trip', 'C', 1), ('trip', 'B', 0));

INSERT INTO ref_nominal_voltage(rules, system, line_to_neutral_v, usual, edition, source)
VALUES ('zz', 'single-phase', 150, 1, '2026', 'invented for a test');

INSERT INTO ref_standard_size(rules, rating_a, edition, source)
SELECT 'zz', column1, '2026', 'invented for a test' FROM (VALUES (7), (14), (28));

INSERT INTO ref_trip_band(rules, trip, rating_over_a, multiple_from, above_edge, outcome, limit_s, edition, source)
SELECT 'zz', '*', 0, column1, column2, column3, column4, '2026', 'invented for a test' FROM (VALUES
  (0, 0, 'none expected', NULL), (1, 1, 'may trip', NULL), (3, 0, 'within 1 h', 3600));

INSERT INTO ref_rule(id, rules, name, value, unit, quantity, clause, edition, source)
SELECT column1, 'zz', 'invented', column2, column3, column4, 'zz 1', '2026', 'invented for a test' FROM (VALUES
  ('continuous-factor', 1.5, '1', 'factor'), ('continuous-hours', 2, 'h', 'time'),
  ('largest-motor-factor', 1, '1', 'factor'), ('operating-temperature', 65, '°C', 'temperature'),
  ('supply-over', 7, '%', 'share'), ('supply-under', 7, '%', 'share'));

INSERT INTO ref_finding(id, rules, variant, name, title, severity, compares, clause, caution, edition, source)
SELECT column1, 'zz', '', column2, 'invented', column3, 'invented', 'zz 2', 'Invented: ask a licensed electrician.', '2026',
  'invented for a test' FROM (VALUES
  ('1', 'overload-busiest', 'danger'), ('2', 'overload-all', 'warning'));
