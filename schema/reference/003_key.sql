-- Keys of the house file that only some rule sets know. A key that stands neither here nor in ref_choice is known to all.
CREATE TABLE ref_key(
  rules   TEXT NOT NULL REFERENCES ref_rule_set(id),
  key     TEXT NOT NULL CHECK (length(key) > 0),  -- as in the house file, in whichever section
  edition TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source  TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, key)
) STRICT;

INSERT INTO ref_key(rules, key, edition, source)
SELECT 'us', column1, '2017', column2 FROM (VALUES
  ('instantaneous', 'UL 489 gives no limit: from the maker''s curve; from memory'),
  ('transformer', 'point-to-point method'),
  ('transformer_z', 'point-to-point method'),
  ('minimum_ampacity', '440.4(B); from memory'),
  ('maximum_breaker', '440.4(B); from memory')
);

INSERT INTO ref_key(rules, key, edition, source)
SELECT rules, column1, '2009', column2 FROM (VALUES
  ('supply_fuse', 'the supplier''s fuse ahead of the house; common practice'),
  ('ground', 'IEC 60364-5-52 Table B.52.15'),
  ('soil', 'IEC 60364-5-52 Table B.52.16'),
  ('ze', 'IEC 60364-4-41, 411.4.4; from memory'),
  ('electrode', 'IEC 60364-4-41, 411.5.3; from memory'),
  ('in_insulation', 'IEC 60364-5-52, 523.9'),
  ('third_harmonic', 'IEC 60364-5-52 Annex E'),
  ('zs_measured', 'IEC 60364-6, 6.4.3.7.3; from memory'),
  ('measured_at', 'IEC 60364-6, 6.4.3.7.3; from memory')
), (SELECT 'iec' AS rules UNION ALL SELECT 'uk') ORDER BY rules;

INSERT INTO ref_key(rules, key, edition, source)
SELECT 'uk', column1, '2018', column2 FROM (VALUES
  ('cooker_socket', 'household table of diversity'),
  ('spur', 'BS 7671, 433.1.204'),
  ('fuse', 'BS 7671, 433.1.204')
);
