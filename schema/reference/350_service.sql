-- Methods by which a rule set says whether an existing service carries one more load, in the order of the outputs.
CREATE TABLE ref_service_method(
  rules   TEXT NOT NULL REFERENCES ref_rule_set(id),
  demand  TEXT NOT NULL CHECK (length(demand) > 0),           -- word of ref_choice for `demand`
  word    TEXT NOT NULL CHECK (length(word) > 0),             -- in the outputs
  name    TEXT NOT NULL CHECK (length(name) > 0),             -- what a person reads
  by_lines INTEGER NOT NULL CHECK (by_lines IN (0, 1)),       -- 1: of three phases the heaviest line counts; 0: their mean
  clause  TEXT NOT NULL CHECK (length(clause) > 0),           -- section, or 'common practice'
  edition TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source  TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, demand)
) STRICT;

INSERT INTO ref_service_method(rules, demand, word, name, by_lines, clause, edition, source)
SELECT 'us', column1, column1, column2, 0, column3, '2023', 'NFPA 70 (National Electrical Code); ' || column4 FROM (VALUES
  ('optional', 'the optional method',            '220.82',           'examples of Annex D read in the Pocket Guide to the NEC'),
  ('existing', 'the method for existing dwellings',          '220.83',           'text quoted in a trade forum'),
  ('measured', 'a metered maximum demand',   '220.87',           'text read on a contractor''s page'),
  ('standard', 'the standard method',            'article 220, part III', 'examples of Annex D read in the Pocket Guide to the NEC')
);

INSERT INTO ref_service_method(rules, demand, word, name, by_lines, clause, edition, source)
SELECT rules, column1, column2, column3, 1, column4, column5, column6 FROM (VALUES
  ('diversity', 'by-device', 'the diversity allowances, each circuit by its device', 'household allowances', '5th edition',
   'Whitfield, Electricians Guide, Table 6.2, as in the On-Site Guide; counted by the device on a trade adviser''s page'),
  ('by-load',   'by-load',   'the diversity allowances, each circuit by its loads', 'household allowances', '5th edition',
   'Whitfield, Electricians Guide, Table 6.2, as in the On-Site Guide; a trade adviser''s page: meant for the current demand of circuits, not for ratings'),
  ('measured',  'measured',  'a metered maximum demand', 'common practice', 'common practice',
   'common practice: no published factor is known')
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk') ORDER BY rules;

-- What the methods ask of a service and of readings.
INSERT INTO ref_rule(id, rules, name, value, unit, quantity, severity, clause, note, edition, source)
SELECT column1, 'us', column2, column3, column4, column5, NULL, column6, column7, column8,
       'NFPA 70 (National Electrical Code), ' || column9 FROM (VALUES
  ('optional-service', 'smallest service that the optional method is for', 100, 'A', 'current', '220.82(A)',
   'one set of three-wire conductors', '2020', 'conditions named in a trade forum'),
  ('setpoint-factor', 'factor on the set-point of a control system, which counts as continuous', 1.25, '1', 'factor', '220.70, 750.30',
   'one value equal to the largest set-point stands in for the controlled loads', '2023', 'read in a course on the changes of 2023'),
  ('measured-year', 'readings this long are a year''s', 8748, 'h', 'time', '220.87',
   '364.5 days from the first stamp to the last', '2017', 'a year''s maximum demand, read on a contractor''s page; half a day of grace is common practice'),
  ('measured-interval', 'longest interval of the means that stand in for a year', 0.25, 'h', 'time', '220.87',
   'averages of 15 minutes', '2017', 'read on a contractor''s page'),
  ('service-conductor-from', 'services from this rating on may have the smaller conductor', 100, 'A', 'current', '{dwelling-service}',
   NULL, '2017', 'read in trade forum and distributor''s table'),
  ('service-conductor-to', 'and services up to this one', 400, 'A', 'current', '{dwelling-service}',
   NULL, '2017', 'read in trade forum and distributor''s table')
);

INSERT INTO ref_rule(id, rules, name, value, unit, quantity, severity, clause, note, edition, source)
SELECT column1, rules, column2, column3, column4, column5, NULL, 'common practice', column6, 'common practice', column7 FROM (VALUES
  ('measured-factor', 'factor on the maximum demand that was metered', 1, '1', 'factor',
   'the maximum of a year, or of 30 days at least; a mean of half an hour hides peaks of minutes', 'common practice: no published factor is known'),
  ('measured-hours', 'shortest recording that stands in for a year of metering', 720, 'h', 'time',
   '30 full days', 'common practice, after the American rule'),
  ('measured-year', 'readings this long are a year''s', 8748, 'h', 'time',
   '364.5 days from the first stamp to the last', 'common practice'),
  ('measured-interval', 'longest interval of the means that stand in for a year', 0.5, 'h', 'time',
   'half-hourly meters are usual', 'common practice'),
  ('setpoint-factor', 'factor on the set-point of a control system', 1, '1', 'factor',
   'design current against rating, no added factor', 'common practice')
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk') ORDER BY rules;

INSERT INTO ref_rule(id, rules, name, value, unit, quantity, severity, clause, note, edition, source) VALUES
  ('service-near', '*', 'a service is called near above this share of its rating', 80, '%', 'share', NULL, 'common practice',
   NULL, 'common practice', 'common practice: the inverse of the 125 % for continuous loads'),
  ('measured-gaps', '*', 'readings with more than this share missing are noted', 5, '%', 'share', NULL, 'common practice',
   NULL, 'common practice', 'common practice'),
  ('vehicle-setting-least', '*', 'lowest charging setting of a vehicle', 6, 'A', 'current', NULL, 'IEC 61851-1, pilot duty cycle of 10 %',
   '0.6 A for each percent', '2017', 'IEC 61851-1; from memory');
