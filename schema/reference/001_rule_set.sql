-- Rule sets: which publication holds where, what a house takes from it where it says nothing, and how things are found.
-- The program names none of them: a set is what its rows say. Its figures stand in the tables that name it in `rules`.
CREATE TABLE ref_rule_set(
  id           TEXT NOT NULL PRIMARY KEY CHECK (length(id) > 0 AND id NOT GLOB '*[^a-z0-9-]*'),  -- as in a house file
  name         TEXT NOT NULL CHECK (length(name) > 0),        -- what a person reads: where it holds
  frequency_hz INTEGER NOT NULL CHECK (frequency_hz IN (50, 60)),
  currency     TEXT NOT NULL REFERENCES ref_currency(code),   -- taken where a house says nothing
  length_unit  TEXT NOT NULL CHECK (length_unit IN ('ft', 'm')),    -- of a bare number, and what people are shown
  area_unit    TEXT NOT NULL CHECK (area_unit IN ('ft2', 'm2')),
  paper        TEXT NOT NULL CHECK (paper IN ('letter', 'a4')),
  spaces       TEXT NOT NULL CHECK (spaces IN ('two-columns', 'one-column')),  -- of a panel: odd ones left, even ones right; or one row
  -- how an ampacity is found: column of the terminals' temperature, or installation method; NULL: no table is used
  ampacity     TEXT CHECK (ampacity IN ('terminal-column', 'installation-method')),
  ampacity_from TEXT REFERENCES ref_rule_set(id),             -- whose rows of those tables it takes; NULL: its own
  cable_table  TEXT CHECK (cable_table IN ('flat-twin')),     -- table of a cable of its own, asked before; NULL: none
  next_size    INTEGER NOT NULL CHECK (next_size IN (0, 1)),  -- 1: the next standard size above an ampacity is accepted
  -- how the advisory drop is found: the branch's and the total one, or by what it feeds; NULL: none is published
  drop_limit   TEXT CHECK (drop_limit IN ('branch-and-total', 'by-use')),
  demand_note  TEXT,                                          -- what a reader of the demand should know; NULL: nothing
  demand_counts TEXT,                                         -- what its methods of demand count how, for the help; NULL: it has none
  resistor     TEXT NOT NULL CHECK (resistor IN ('zigzag', 'rectangle')), -- its sign in a drawing
  main_device  TEXT NOT NULL CHECK (length(main_device) > 0), -- what people call what the house's main rating is of
  edition      TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source       TEXT NOT NULL CHECK (length(trim(source)) > 0)
) STRICT;

INSERT INTO ref_rule_set(id, name, frequency_hz, currency, length_unit, area_unit, paper, spaces, ampacity, ampacity_from, cable_table,
  next_size, drop_limit, demand_note, demand_counts, resistor, main_device, edition, source) VALUES
  ('us', 'United States', 60, 'USD', 'ft', 'ft2', 'letter', 'two-columns', 'terminal-column', NULL, NULL,
   1, 'branch-and-total', NULL,
   'floor_area counts for all lighting and whatever is plugged in on common branches; branches of purpose small-appliance and laundry count by their number. Counted by themselves are appliances with fixed = yes, on a branch of purpose dedicated, or between two legs: category range and cooking by the range table, dryer by the dryer table, the larger of space-heating and air-conditioning, vehicle, and the rest as fixed appliances. Space heating with behaviour = motor is a heat pump, the other space heating then its supplementary heat.',
   'zigzag', 'main breaker', '2017', 'NFPA 70 (National Electrical Code); paper, spaces and resistor: common practice'),
  ('iec', 'elsewhere under IEC 60364', 50, 'EUR', 'm', 'm2', 'a4', 'one-column', 'installation-method', NULL, NULL,
   0, 'by-use', 'IEC 60364 publishes no allowances of its own: the British household column is used.',
   'a ring, or a branch with outlets or plug-in loads, counts by its breaker; lighting, cooking, range, water-heating, space-heating and vehicle by their category; other fixed loads as heating and power.',
   'rectangle', 'main breaker', '2009', 'IEC 60364; paper, spaces and resistor: common practice'),
  ('uk', 'United Kingdom', 50, 'GBP', 'm', 'm2', 'a4', 'one-column', 'installation-method', 'iec', 'flat-twin',
   0, 'by-use', NULL,
   'a ring, or a branch with outlets or plug-in loads, counts by its breaker; lighting, cooking, range, water-heating, space-heating and vehicle by their category; other fixed loads as heating and power.',
   'rectangle', 'supply fuse', '2018', 'BS 7671; paper, spaces and resistor: common practice');
