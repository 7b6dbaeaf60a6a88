-- Protection that is usual by the kind of room and by what is connected there; a hint to look, never a verdict.
-- The first row that fits holds: rows for narrower cases, and older ones, stand first.
CREATE TABLE ref_room_protection(
  rules    TEXT NOT NULL REFERENCES ref_rule_set(id),
  kind     TEXT NOT NULL CHECK (kind IN ('gfci', 'afci', 'rcd')),
  room     TEXT NOT NULL CHECK (length(room) > 0),                -- kind of room; *: any
  what     TEXT NOT NULL CHECK (what IN (
             'receptacle',     -- a place for a plug, or a plug-in load of its own branch
             'counter',        -- the same, on a branch for small kitchen appliances
             'outlet',         -- whatever the branch feeds in the room
             'lighting',       -- fixed lights
             'hard-wired',     -- fastened equipment but lights, cooling and heat pumps
             'dishwasher', 'sump-pump', 'hot-tub', 'pool-pump',   -- wired or plugged
             'vehicle',        -- charging equipment however it is connected
             'charging-receptacle',  -- charging equipment that is plugged in
             'concealed')),    -- a fixed cooker or water heater: its cable likely lies in a wall
  most_v   REAL CHECK (most_v > 0),                               -- voltage of the branch up to this, volt; NULL: any
  most_a   REAL CHECK (most_a > 0),                               -- rating of the branch up to this, ampere; NULL: any
  from_edition INTEGER NOT NULL,                                  -- year of the first edition that the row describes
  to_edition   REAL CHECK (to_edition >= from_edition),           -- of the last one; NULL: still
  since    INTEGER NOT NULL CHECK (since BETWEEN 1960 AND 2026),  -- year from which it has been asked for
  clause   TEXT NOT NULL CHECK (length(clause) > 0),
  note     TEXT,
  edition  TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source   TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, kind, room, what, from_edition, since)
) STRICT;

-- 210.8(A): receptacles of 125 V, 15 and 20 A; from 2020 of 125 to 250 V.
INSERT INTO ref_room_protection(rules, kind, room, what, most_v, most_a, from_edition, to_edition, since, clause, note, edition, source)
SELECT 'us', 'gfci', column1, column2, column3, column4, column5, column6, column7, column8, column9,
       iif(column5 = 0, '2017', cast(column5 AS TEXT)),
       'NFPA 70 (National Electrical Code); read in lists of inspectors and in trade press' FROM (VALUES
  ('outdoors',    'receptacle', 130,  20,   0,    NULL, 1973, '210.8(A)(3)',  NULL),
  ('outdoors',    'receptacle', 250,  NULL, 2020, NULL, 2020, '210.8(A)(3)',  NULL),
  ('bath',        'receptacle', 130,  20,   0,    NULL, 1975, '210.8(A)(1)',  NULL),
  ('bath',        'receptacle', 250,  NULL, 2020, NULL, 2020, '210.8(A)(1)',  NULL),
  ('garage',      'receptacle', 130,  20,   0,    NULL, 1978, '210.8(A)(2)',  NULL),
  ('garage',      'receptacle', 250,  NULL, 2020, NULL, 2020, '210.8(A)(2)',  NULL),
  ('crawl-space', 'receptacle', 130,  20,   0,    NULL, 1990, '210.8(A)(4)',  NULL),
  ('crawl-space', 'receptacle', 250,  NULL, 2020, NULL, 2020, '210.8(A)(4)',  NULL),
  ('basement',    'receptacle', 130,  20,   0,    2019, 1990, '210.8(A)(5)',  'where unfinished'),
  ('basement',    'receptacle', 130,  20,   2020, NULL, 1990, '210.8(A)(5)',  'unfinished ones from 1990, all from 2020'),
  ('basement',    'receptacle', 250,  NULL, 2020, NULL, 2020, '210.8(A)(5)',  NULL),
  ('kitchen',     'counter',    130,  20,   0,    2022, 1996, '210.8(A)(6)',  'receptacles that serve countertops'),
  ('kitchen',     'counter',    130,  20,   2023, NULL, 1996, '210.8(A)(6)',  'countertops from 1996, every one from 2023'),
  ('kitchen',     'receptacle', 250,  NULL, 2023, NULL, 2023, '210.8(A)(6)',  NULL),
  ('laundry',     'receptacle', 130,  20,   0,    2022, 2014, '210.8(A)(10)', NULL),
  ('laundry',     'receptacle', 250,  NULL, 2020, 2022, 2020, '210.8(A)(10)', NULL),
  ('laundry',     'receptacle', 130,  20,   2023, NULL, 2014, '210.8(A)(11)', NULL),
  ('laundry',     'receptacle', 250,  NULL, 2023, NULL, 2020, '210.8(A)(11)', NULL),
  ('outdoors',    'hard-wired', 250,  50,   2020, NULL, 2020, '210.8(F)',     'not lighting, cooling or heat pumps'),
  ('garage',      'hard-wired', 250,  50,   2023, NULL, 2023, '210.8(F)',     'not lighting, cooling or heat pumps'),
  ('*',           'dishwasher', NULL, NULL, 0,    NULL, 2014, '210.8(D), 422.5', NULL),
  ('*',           'sump-pump',  NULL, NULL, 2020, NULL, 2020, '210.8(D), 422.5', NULL),
  ('*',           'hot-tub',    NULL, NULL, 0,    NULL, 1978, '680.44',       'unless it has its own'),
  ('*',           'pool-pump',  NULL, NULL, 0,    NULL, 1978, '680.21(C)',    NULL),
  ('*',           'charging-receptacle', NULL, NULL, 0, NULL, 2017, '625.54', NULL)
);

-- 210.12: outlets of 120 V, 15 and 20 A; never bath, garage, outdoors.
INSERT INTO ref_room_protection(rules, kind, room, what, most_v, most_a, from_edition, to_edition, since, clause, note, edition, source)
SELECT 'us', 'afci', column1, column2, 130, 20, 0, NULL, column3, '210.12', column4, '2017',
       'NFPA 70 (National Electrical Code); read in trade press on the changes of 2002, 2011 and 2014' FROM (VALUES
  ('bedroom', 'receptacle', 1999, NULL),
  ('bedroom', 'outlet',     2002, NULL),
  ('living',  'outlet',     2008, NULL),
  ('hall',    'outlet',     2008, NULL),
  ('kitchen', 'outlet',     2014, NULL),
  ('laundry', 'outlet',     2014, NULL)
);

INSERT INTO ref_room_protection(rules, kind, room, what, most_v, most_a, from_edition, to_edition, since, clause, note, edition, source)
SELECT 'uk', 'rcd', column1, column2, NULL, column3, 0, NULL, column4, column5, column6, '2018', 'BS 7671; ' || column7 FROM (VALUES
  ('bath', 'outlet',     NULL, 2008, '701.411.3.3',   'every circuit of the room, 30 mA',        'read in two guides'),
  ('*',    'receptacle', 20,   2008, '411.3.3',       'sockets up to 20 A, 30 mA',               'read in a regulations blog'),
  ('*',    'receptacle', 32,   2018, '411.3.3',       'sockets up to 32 A, 30 mA',               'read in a regulations blog'),
  ('*',    'lighting',   NULL, 2018, '411.3.4',       'in dwellings, 30 mA',                     'read in a regulations blog'),
  ('*',    'vehicle',    NULL, 2018, '722.531.3.101', '30 mA, and direct current seen to',       'read in a public reprint; the year from memory'),
  ('*',    'concealed',  NULL, 2008, '522.6.202',     'cable in a wall under 50 mm deep, 30 mA', 'read in a regulations blog')
);

INSERT INTO ref_room_protection(rules, kind, room, what, most_v, most_a, from_edition, to_edition, since, clause, note, edition, source)
SELECT 'iec', 'rcd', column1, column2, NULL, column3, 0, NULL, column4, column5, column6, '2017', 'IEC 60364; from memory' FROM (VALUES
  ('bath', 'outlet',     NULL, 2006, '701.415.1', 'every circuit of the room, 30 mA'),
  ('*',    'receptacle', 20,   2005, '411.3.3',   'outlets up to 20 A, 30 mA'),
  ('*',    'receptacle', 32,   2017, '411.3.3',   'outlets up to 32 A, 30 mA'),
  ('*',    'lighting',   NULL, 2017, '411.3.4',   'in dwellings, 30 mA'),
  ('*',    'vehicle',    NULL, 2015, '722.531',   'each charging point, 30 mA')
);
