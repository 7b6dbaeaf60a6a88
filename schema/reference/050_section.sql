-- Clauses by edition, where an edition moved a rule; what is not listed keeps the clause of its own row.
CREATE TABLE ref_section(
  rules        TEXT NOT NULL REFERENCES ref_rule_set(id),
  rule         TEXT NOT NULL CHECK (length(rule) > 0),            -- what is asked for
  from_edition INTEGER NOT NULL CHECK (from_edition >= 2017),     -- from this edition on, up to the rule's next row
  clause       TEXT CHECK (length(clause) > 0),                   -- NULL: the edition has no such rule, it is not applied
  edition      TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source       TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, rule, from_edition)
) STRICT;

-- rule, then 2017, 2020 and 2023; 2026 renumbers article 220 and is cited by the numbers of 2023.
WITH printed(rule, e2017, e2020, e2023, seen) AS (VALUES
  ('ampacity',         'Table 310.15(B)(16)', 'Table 310.16',        'Table 310.16',        'read in trade press'),
  ('ambient',          'Table 310.15(B)(2)(a)', 'Table 310.15(B)(1)', 'Table 310.15(B)(1)', 'read in trade press'),
  ('bundle',           'Table 310.15(B)(3)(a)', 'Table 310.15(C)(1)', 'Table 310.15(C)(1)', 'read in trade press'),
  ('dwelling-service', '310.15(B)(7)',        '310.12',              '310.12',              'read in trade press'),
  ('floor-area',       '220.12',              '220.14(J)',           '220.41',              'read in trade press'),
  ('lighting-demand',  'Table 220.42',        'Table 220.42',        'Table 220.45',        'read in trade press'),
  ('plug-in-share',    '210.23(A)(1)',        '210.23(A)(1)',        '210.23(B)(1)',        'read in trade press'),
  ('fixed-share',      '210.23(A)(2)',        '210.23(A)(2)',        '210.23(B)(2)',        'read in trade press'),
  ('range-branch',     '210.19(A)(3)',        '210.19(A)(3)',        '210.19(C)',           'quoted in a trade forum'),
  ('electric-heat',    '424.3(B)',            '424.4(B)',            '424.4(B)',            'the number of 2020 from memory'),
  ('vehicle-demand',   NULL,                  NULL,                  '220.57',              'read in a course on the changes of 2023'),
  ('control-system',   NULL,                  NULL,                  '220.70',              'read in a course on the changes of 2023'),
  ('size-10',          NULL,                  NULL,                  '240.6(A)',            'read in a course on the changes of 2023'),
  ('outdoor-outlets',  NULL,                  '210.8(F)',            '210.8(F)',            'read in a trade forum'),
  ('laundry-gfci',     '210.8(A)(10)',        '210.8(A)(10)',        '210.8(A)(11)',        'read in lists of inspectors'),
  ('receptacle-above', NULL,                  NULL,                  'Table 210.21(B)(3)',  'read in a trade forum')
)
INSERT INTO ref_section(rules, rule, from_edition, clause, edition, source)
SELECT 'us', rule, from_edition, clause, cast(from_edition AS TEXT), 'NFPA 70 (National Electrical Code); ' || seen
FROM (
  SELECT rule, 2017 AS from_edition, e2017 AS clause, seen FROM printed
  UNION ALL SELECT rule, 2020, e2020, seen FROM printed
  UNION ALL SELECT rule, 2023, e2023, seen FROM printed
);
