-- Fuses: how their rating is held against the wire. What is not listed here is a circuit-breaker.
CREATE TABLE ref_fuse(
  rules       TEXT NOT NULL REFERENCES ref_rule_set(id),
  trip        TEXT NOT NULL CHECK (length(trip) > 0),             -- as the key of a house file spells it
  name        TEXT NOT NULL CHECK (length(name) > 0),             -- what a person reads
  most_share  REAL NOT NULL CHECK (most_share > 0 AND most_share <= 1),  -- largest rating over the wire's ampacity
  note_share  REAL CHECK (note_share > 0 AND note_share < most_share),   -- a note above this one; NULL: none
  any_size_to_a REAL CHECK (any_size_to_a > 0),                          -- holders that take any size, up to this, ampere; NULL: none
  clause      TEXT NOT NULL CHECK (length(clause) > 0),
  note        TEXT,
  edition     TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source      TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (rules, trip)
) STRICT;

INSERT INTO ref_fuse(rules, trip, name, most_share, note_share, any_size_to_a, clause, note, edition, source)
SELECT * FROM (VALUES
  ('us',  'fuse',   'fuse',                        1,     NULL, 30,   '240.4, 240.51',
   'an Edison-base holder takes any size to 30 A: it may have been raised', '2017', 'NFPA 70 (National Electrical Code); from memory'),
  ('uk',  'bs3036', 'rewirable fuse, BS 3036',     0.725, NULL, NULL, '433.1.202',
   'it melts at twice its rating only, hence 1.45 / 2', '2018', 'BS 7671; factor read in Whitfield, Electricians Guide, 4.3.8, clause from memory'),
  ('uk',  'bs88',   'cartridge fuse, BS 88',       1,     NULL, NULL, '433.1.201',
   NULL, '2018', 'BS 7671; read on an institution''s forum'),
  ('uk',  'gG',     'gG fuse',                     1,     0.9,  NULL, '433.1',
   '1.45 / 1.6', '2008', 'IEC 60364-4-43; read in a trade journal''s argument on 1.6 times the rating'),
  ('iec', 'gG',     'gG fuse',                     1,     0.9,  NULL, '433.1',
   '1.45 / 1.6', '2008', 'IEC 60364-4-43; read in a trade journal''s argument on 1.6 times the rating')
);
