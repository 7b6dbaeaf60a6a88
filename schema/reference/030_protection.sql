-- Protection kinds that are usual for a purpose; a hint to look, never a verdict on a house.
CREATE TABLE ref_protection(
  rules    TEXT NOT NULL REFERENCES ref_rule_set(id),
  purpose  TEXT NOT NULL CHECK (length(purpose) > 0),             -- a branch's purpose, or an appliance's category
  kind     TEXT NOT NULL CHECK (kind IN ('gfci', 'afci', 'rcd')),
  clause   TEXT NOT NULL CHECK (length(clause) > 0),
  note     TEXT,
  edition  TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source   TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, purpose, kind)
) STRICT;

INSERT INTO ref_protection(rules, purpose, kind, clause, note, edition, source)
SELECT *, 'NFPA 70 (National Electrical Code); sections read in copied text, trade press and inspectors'' lists' FROM (VALUES
  ('us', 'bathroom',        'gfci', '210.8(A)(1)',  NULL,                                   '2017'),
  ('us', 'small-appliance', 'gfci', '210.8(A)(6)',  'receptacles that serve countertops',   '2017'),
  ('us', 'laundry',         'gfci', '210.8(A)(10)', NULL,                                   '2017'),
  ('us', 'general',         'afci', '210.12(A)',    'living rooms and bedrooms',            '2017'),
  ('us', 'lighting',        'afci', '210.12(A)',    NULL,                                   '2017'),
  ('us', 'small-appliance', 'afci', '210.12(A)',    'kitchens from the 2014 edition on',    '2017'),
  ('us', 'laundry',         'afci', '210.12(A)',    'from the 2014 edition on',             '2017'),
  ('us', 'vehicle',         'gfci', '625.54',       'receptacles for charging',             '2020')
);

INSERT INTO ref_protection(rules, purpose, kind, clause, note, edition, source)
SELECT *, 'IEC 60364; from memory' FROM (VALUES
  ('iec', 'general',         'rcd', '411.3.3',   'outlets up to 32 A, 30 mA',         '2017'),
  ('iec', 'small-appliance', 'rcd', '411.3.3',   'outlets up to 32 A, 30 mA',         '2017'),
  ('iec', 'laundry',         'rcd', '411.3.3',   'outlets up to 32 A, 30 mA',         '2017'),
  ('iec', 'lighting',        'rcd', '411.3.4',   'in dwellings, 30 mA',               '2017'),
  ('iec', 'bathroom',        'rcd', '701.415.1', '30 mA',                             '2019'),
  ('iec', 'vehicle',         'rcd', '722.531',   'each charging point, 30 mA',        '2018')
);

INSERT INTO ref_protection(rules, purpose, kind, clause, note, edition, source)
SELECT *, '2018', 'BS 7671; read in a regulations blog and teaching texts' FROM (VALUES
  ('uk', 'general',         'rcd', '411.3.3',       'socket-outlets up to 32 A, 30 mA'),
  ('uk', 'small-appliance', 'rcd', '411.3.3',       'socket-outlets up to 32 A, 30 mA'),
  ('uk', 'laundry',         'rcd', '411.3.3',       'socket-outlets up to 32 A, 30 mA'),
  ('uk', 'lighting',        'rcd', '411.3.4',       'in dwellings, 30 mA'),
  ('uk', 'bathroom',        'rcd', '701.411.3.3',   '30 mA'),
  ('uk', 'vehicle',         'rcd', '722.531.3.101',     'each charging point, 30 mA')
);
