-- What network operators ask of a new load, by its power. Rows alone: no rule set of a house file uses them yet.
CREATE TABLE ref_supply_notice(
  country   TEXT NOT NULL CHECK (country IN ('de', 'fr')),
  what      TEXT NOT NULL CHECK (what IN ('tell', 'ask', 'controllable', 'unbalance', 'subscribe')),
  load      TEXT NOT NULL CHECK (load IN ('vehicle', 'one-phase')),
  over_va   REAL NOT NULL CHECK (over_va >= 0),                 -- a load above this; subscribe: of this size or more
  to_va     REAL CHECK (to_va > over_va),                       -- NULL: no upper end
  least_va  REAL CHECK (least_va > 0),                          -- subscribe: the least power subscribed; NULL: not of this kind
  since     TEXT,                                               -- day from which it is asked for; NULL: not said
  edition   TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source    TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (country, what, load, over_va)
) STRICT;

INSERT INTO ref_supply_notice(country, what, load, over_va, to_va, least_va, since, edition, source) VALUES
  ('de', 'tell',         'vehicle',   3600,  12000, NULL, NULL,         '2023', 'a network operator''s notes on charging, read there'),
  ('de', 'ask',          'vehicle',   12000, NULL,  NULL, NULL,         '2023', 'a network operator''s notes on charging, read there'),
  ('de', 'controllable', 'vehicle',   4200,  NULL,  NULL, '2024-01-01', '2024', 'paragraph 14a EnWG, in a network operator''s notes on charging, read there; that 4.2 kW itself is free from memory'),
  ('de', 'unbalance',    'one-phase', 4600,  NULL,  NULL, NULL,         '2019', 'VDE-AR-N 4100; from memory'),
  ('fr', 'subscribe',    'vehicle',   7400,  NULL,  9000, NULL,         '2023', 'trade press: a 7.4 kW point asks for 9 kVA or more');
