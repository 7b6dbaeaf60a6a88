-- Protection kinds that are usual for a purpose; a hint to look, never a verdict on a house.
CREATE TABLE ref_protection(
  rules    TEXT NOT NULL REFERENCES ref_rule_set(id),
  purpose  TEXT NOT NULL CHECK (length(purpose) > 0),             -- a branch's purpose, or an appliance's category
  kind     TEXT NOT NULL CHECK (kind IN ('gfci', 'afci', 'rcd')),
  most_v   REAL CHECK (most_v > 0),                               -- voltage of the branch up to this, volt; NULL: any
  most_a   REAL CHECK (most_a > 0),                               -- rating of the branch up to this, ampere; NULL: any
  clause   TEXT NOT NULL CHECK (length(clause) > 0),
  note     TEXT,
  edition  TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source   TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, purpose, kind)
) STRICT;

INSERT INTO ref_protection(rules, purpose, kind, most_v, most_a, clause, note, edition, source)
SELECT *, 'NFPA 70 (National Electrical Code); sections read in copied text, trade press and inspectors'' lists' FROM (VALUES
  ('us', 'bathroom',        'gfci', 250,  NULL, '210.8(A)(1)',  NULL,                                   '2017'),
  ('us', 'small-appliance', 'gfci', 250,  NULL, '210.8(A)(6)',  'receptacles that serve countertops',   '2017'),
  ('us', 'laundry',         'gfci', 250,  NULL, '{laundry-gfci}', NULL,                                   '2017'),
  ('us', 'general',         'afci', 130,  20,   '210.12(A)',    'living rooms and bedrooms',            '2017'),
  ('us', 'lighting',        'afci', 130,  20,   '210.12(A)',    NULL,                                   '2017'),
  ('us', 'small-appliance', 'afci', 130,  20,   '210.12(A)',    'kitchens from the 2014 edition on',    '2017'),
  ('us', 'laundry',         'afci', 130,  20,   '210.12(A)',    'from the 2014 edition on',             '2017'),
  ('us', 'vehicle',         'gfci', NULL, NULL, '625.54',       'receptacles for charging',             '2020')
);

INSERT INTO ref_protection(rules, purpose, kind, most_v, most_a, clause, note, edition, source)
SELECT *, 'IEC 60364; from memory' FROM (VALUES
  ('iec', 'general',         'rcd', NULL, 32,   '411.3.3',   'outlets up to 32 A, 30 mA',         '2017'),
  ('iec', 'small-appliance', 'rcd', NULL, 32,   '411.3.3',   'outlets up to 32 A, 30 mA',         '2017'),
  ('iec', 'laundry',         'rcd', NULL, 32,   '411.3.3',   'outlets up to 32 A, 30 mA',         '2017'),
  ('iec', 'lighting',        'rcd', NULL, NULL, '411.3.4',   'in dwellings, 30 mA',               '2017'),
  ('iec', 'bathroom',        'rcd', NULL, NULL, '701.415.1', '30 mA',                             '2019'),
  ('iec', 'vehicle',         'rcd', NULL, NULL, '722.531',   'each charging point, 30 mA',        '2018')
);

INSERT INTO ref_protection(rules, purpose, kind, most_v, most_a, clause, note, edition, source)
SELECT *, '2018', 'BS 7671; read in a regulations blog and teaching texts' FROM (VALUES
  ('uk', 'general',         'rcd', NULL, 32,   '411.3.3',       'socket-outlets up to 32 A, 30 mA'),
  ('uk', 'small-appliance', 'rcd', NULL, 32,   '411.3.3',       'socket-outlets up to 32 A, 30 mA'),
  ('uk', 'laundry',         'rcd', NULL, 32,   '411.3.3',       'socket-outlets up to 32 A, 30 mA'),
  ('uk', 'lighting',        'rcd', NULL, NULL, '411.3.4',       'in dwellings, 30 mA'),
  ('uk', 'bathroom',        'rcd', NULL, NULL, '701.411.3.3',   '30 mA'),
  ('uk', 'vehicle',         'rcd', NULL, NULL, '722.531.3.101',     'each charging point, 30 mA')
);
