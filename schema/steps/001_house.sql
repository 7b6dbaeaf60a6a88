-- The house: one table for each kind of section of the house file, one column for each key. NULL: not given; what
-- follows from that is worked out at each reading, so that a default moves with the house.
--
-- `n` keeps the order in which the rows were given and never changes while a row lives, so that an undone removal
-- comes back where it was. Foreign keys are looked at when a transaction ends (deferred, no action): rows may come and
-- go in any order within a change, and whoever removes a row removes by name what hangs on it, so that the journal
-- holds each of them.

CREATE TABLE house(
  -- The house itself: always one row.
  n INTEGER PRIMARY KEY CHECK (n = 1), -- always 1
  name TEXT NOT NULL CHECK (length(name) > 0), -- what people call it
  rules TEXT NOT NULL CHECK (rules IN ('us', 'iec', 'uk')), -- which set of published limits applies
  system TEXT CHECK (system IN ('single-phase', 'split-phase', 'three-phase')), -- supply system
  voltage_v REAL CHECK (voltage_v > 0 AND voltage_v <= 1e12), -- nominal voltage, line to neutral, volt
  frequency TEXT CHECK (frequency IN ('50', '60')), -- hertz, as the house file writes it
  -- rating of the service main, ampere
  main_breaker_a REAL NOT NULL CHECK (main_breaker_a > 0 AND main_breaker_a <= 1e12),
  floor_area_m2 REAL CHECK (floor_area_m2 > 0 AND floor_area_m2 <= 1e12), -- floor area, square metre
  currency TEXT CHECK (currency GLOB '[A-Z][A-Z][A-Z]'), -- ISO 4217 code of the money
  tariff_n INTEGER REFERENCES tariff(n) DEFERRABLE INITIALLY DEFERRED, -- the tariff that prices the energy
  billing_days INTEGER CHECK (billing_days BETWEEN 1 AND 366), -- days in a billing month
  ambient_c REAL CHECK (ambient_c BETWEEN -273.15 AND 1e12) -- air temperature around the conductors, degree Celsius
) STRICT;

CREATE TABLE tariff(
  -- A tariff: what energy costs.
  n INTEGER PRIMARY KEY, -- its place among the tariffs
  id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 40 AND id NOT GLOB '*[^a-z0-9-]*'), -- as in the house file
  name TEXT CHECK (length(name) > 0), -- what people call it; NULL: its ID
  price TEXT CHECK (price GLOB '[0-9]*'), -- money per kWh where no period or block applies, decimal text
  standing TEXT CHECK (standing GLOB '[0-9]*'), -- money per day, decimal text
  tax_percent TEXT CHECK (tax_percent GLOB '[0-9]*'), -- tax on energy and standing charge, percent, decimal text
  blocks TEXT CHECK (length(blocks) > 0) -- upper bound in kWh per billing month and price, as in the house file
) STRICT;

CREATE TABLE panel(
  -- A panel and its feeder. Row 0 is the main panel, always there, of which only the name may be given.
  n INTEGER PRIMARY KEY, -- its place among the panels
  id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 40 AND id NOT GLOB '*[^a-z0-9-]*'), -- as in the house file
  name TEXT CHECK (length(name) > 0), -- what people call it; NULL: its ID
  from_n INTEGER REFERENCES panel(n) DEFERRABLE INITIALLY DEFERRED, -- the panel that feeds it; NULL: the main panel
  breaker_a REAL CHECK (breaker_a > 0 AND breaker_a <= 1e12), -- rating of its feeder's breaker, ampere
  poles TEXT CHECK (poles IN ('1', '2', '3')), -- of its feeder's breaker, as the house file writes it
  legs TEXT CHECK (legs IN ('A', 'B', 'C', 'AB', 'BC', 'AC', 'ABC')), -- legs that its feeder takes
  wire TEXT CHECK (length(wire) > 0), -- size and metal of its feeder's conductors, as in the house file
  method TEXT CHECK (method IN ('A1', 'A2', 'B1', 'B2', 'C', 'D')), -- installation method of its feeder
  length_m REAL CHECK (length_m >= 0 AND length_m <= 1e12), -- length of its feeder, one way, metre; NULL: not known
  CHECK ((n = 0) = (id = 'main')), -- the main panel is row 0
  CHECK ((n = 0) = (breaker_a IS NULL)) -- every feeder has a breaker
) STRICT;

CREATE TABLE room(
  -- A room.
  n INTEGER PRIMARY KEY, -- its place among the rooms
  id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 40 AND id NOT GLOB '*[^a-z0-9-]*'), -- as in the house file
  name TEXT CHECK (length(name) > 0), -- what people call it; NULL: its ID
  floor TEXT CHECK (length(floor) > 0), -- which floor it is on
  area_m2 REAL CHECK (area_m2 > 0 AND area_m2 <= 1e12) -- floor area, square metre
) STRICT;

CREATE TABLE branch(
  -- A branch circuit: one breaker and all that hangs on it.
  n INTEGER PRIMARY KEY, -- its place among the branches
  id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 40 AND id NOT GLOB '*[^a-z0-9-]*'), -- as in the house file
  label TEXT NOT NULL CHECK (length(label) > 0), -- what the panel's door says
  panel_n INTEGER REFERENCES panel(n) DEFERRABLE INITIALLY DEFERRED, -- the panel it starts from; NULL: the main panel
  position TEXT CHECK (position GLOB '[0-9]*'), -- spaces in the panel, as in the house file
  breaker_a REAL NOT NULL CHECK (breaker_a > 0 AND breaker_a <= 1e12), -- rating of the breaker, ampere
  trip TEXT CHECK (trip IN ('inverse-time', 'B', 'C', 'D')), -- tripping characteristic
  poles TEXT CHECK (poles IN ('1', '2', '3')), -- of the breaker, as the house file writes it
  legs TEXT CHECK (legs IN ('A', 'B', 'C', 'AB', 'BC', 'AC', 'ABC')), -- legs that it takes
  wire TEXT CHECK (length(wire) > 0), -- size and metal of the conductors, as in the house file
  method TEXT CHECK (method IN ('A1', 'A2', 'B1', 'B2', 'C', 'D')), -- installation method
  -- run from the panel to the far end, one way, metre; NULL: not known
  length_m REAL CHECK (length_m >= 0 AND length_m <= 1e12),
  layout TEXT CHECK (layout IN ('radial', 'ring')), -- radial or ring
  -- ring: cable from the last outlet back to the panel, metre
  return_m REAL CHECK (return_m >= 0 AND return_m <= 1e12),
  -- what it is meant for
  purpose TEXT CHECK (purpose IN ('general', 'lighting', 'small-appliance', 'laundry', 'bathroom', 'dedicated')),
  protection TEXT CHECK (length(protection) > 0) -- any of gfci, afci, rcd, comma separated
) STRICT;

CREATE TABLE branch_serves(
  -- A room that a branch was said to serve.
  branch_n INTEGER NOT NULL REFERENCES branch(n) DEFERRABLE INITIALLY DEFERRED, -- the branch
  ordinal INTEGER NOT NULL CHECK (ordinal >= 0), -- place in the list, 0 upwards
  room_n INTEGER NOT NULL REFERENCES room(n) DEFERRABLE INITIALLY DEFERRED, -- the room
  PRIMARY KEY (branch_n, ordinal)
) STRICT, WITHOUT ROWID;

CREATE TABLE outlet(
  -- An outlet: a point on a branch.
  n INTEGER PRIMARY KEY, -- its place among the outlets
  id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 40 AND id NOT GLOB '*[^a-z0-9-]*'), -- as in the house file
  branch_n INTEGER NOT NULL REFERENCES branch(n) DEFERRABLE INITIALLY DEFERRED, -- the branch it is on
  room_n INTEGER REFERENCES room(n) DEFERRABLE INITIALLY DEFERRED, -- the room it is in
  name TEXT CHECK (length(name) > 0), -- what people call it; NULL: its ID
  -- the outlet its cable comes from; NULL: the panel
  from_n INTEGER REFERENCES outlet(n) DEFERRABLE INITIALLY DEFERRED,
  run_m REAL CHECK (run_m >= 0 AND run_m <= 1e12), -- length of cable from there, one way, metre
  rating_a REAL CHECK (rating_a > 0 AND rating_a <= 1e12) -- rating of the outlet, ampere
) STRICT;

CREATE TABLE appliance(
  -- An appliance: a load, or several alike. One of the five ratings is given.
  n INTEGER PRIMARY KEY, -- its place among the appliances
  id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 40 AND id NOT GLOB '*[^a-z0-9-]*'), -- as in the house file
  name TEXT NOT NULL CHECK (length(name) > 0), -- what people call it
  outlet_n INTEGER REFERENCES outlet(n) DEFERRABLE INITIALLY DEFERRED, -- the outlet it is on
  -- the branch it is on, where no outlet is named
  branch_n INTEGER REFERENCES branch(n) DEFERRABLE INITIALLY DEFERRED,
  room_n INTEGER REFERENCES room(n) DEFERRABLE INITIALLY DEFERRED, -- the room it is in
  power_w REAL CHECK (power_w > 0 AND power_w <= 1e12), -- rating of one: power, watt
  apparent_va REAL CHECK (apparent_va > 0 AND apparent_va <= 1e12), -- rating of one: apparent power, volt-ampere
  current_a REAL CHECK (current_a > 0 AND current_a <= 1e12), -- rating of one: current, ampere
  resistance_ohm REAL CHECK (resistance_ohm > 0 AND resistance_ohm <= 1e12), -- rating of one: resistance, ohm
  -- rating of one: shaft power, horsepower of the motor table
  horsepower_hp REAL CHECK (horsepower_hp > 0 AND horsepower_hp <= 1e12),
  -- voltage of the rating, volt; NULL: the branch's nominal
  rated_voltage_v REAL CHECK (rated_voltage_v > 0 AND rated_voltage_v <= 1e12),
  power_factor REAL CHECK (power_factor > 0 AND power_factor <= 1), -- lagging
  behaviour TEXT CHECK (behaviour IN ('resistive', 'electronic', 'motor')), -- how its power follows the voltage
  start_factor REAL CHECK (start_factor >= 1 AND start_factor <= 1e12), -- starting current over running current
  count INTEGER CHECK (count BETWEEN 1 AND 10000), -- how many alike
  fixed TEXT CHECK (fixed IN ('yes', 'no')), -- fastened in place or hard-wired
  continuous TEXT CHECK (continuous IN ('yes', 'no')), -- may run 3 h or more at a stretch
  use TEXT CHECK (use GLOB '[0-9]*'), -- daily windows, as in the house file
  hours_s REAL CHECK (hours_s >= 0 AND hours_s <= 86400), -- on-time on a day, second
  days INTEGER CHECK (days BETWEEN 1 AND 127), -- days of the week, bit 0 Monday to bit 6 Sunday
  months INTEGER CHECK (months BETWEEN 1 AND 4095), -- months of the year, bit 0 January to bit 11 December
  -- share of its on-time that it really draws, percent
  duty_percent REAL CHECK (duty_percent >= 0 AND duty_percent <= 100),
  standby_w REAL CHECK (standby_w >= 0 AND standby_w <= 1e12), -- drawn by each unit whenever it is not on, watt
  group_name TEXT CHECK (length(group_name) > 0), -- set of which only one is ever on at once
  -- kind of load
  category TEXT CHECK (category IN ('lighting', 'cooking', 'range', 'dryer', 'laundry', 'water-heating', 'space-heating',
    'air-conditioning', 'vehicle', 'refrigeration', 'motor', 'other')),
  CHECK (outlet_n IS NOT NULL OR branch_n IS NOT NULL), -- it is somewhere
  -- one rating
  CHECK ((power_w IS NOT NULL) + (apparent_va IS NOT NULL) + (current_a IS NOT NULL) +
    (resistance_ohm IS NOT NULL) + (horsepower_hp IS NOT NULL) = 1)
) STRICT;

CREATE TABLE scene(
  -- A scene: a moment a person wants to look at.
  n INTEGER PRIMARY KEY, -- its place among the scenes
  id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 40 AND id NOT GLOB '*[^a-z0-9-]*'), -- as in the house file
  name TEXT CHECK (length(name) > 0) -- what people call it; NULL: its ID
) STRICT;

CREATE TABLE scene_on(
  -- An appliance that is on in a scene.
  scene_n INTEGER NOT NULL REFERENCES scene(n) DEFERRABLE INITIALLY DEFERRED, -- the scene
  ordinal INTEGER NOT NULL CHECK (ordinal >= 0), -- place in the list, 0 upwards
  appliance_n INTEGER NOT NULL REFERENCES appliance(n) DEFERRABLE INITIALLY DEFERRED, -- the appliance
  units INTEGER CHECK (units BETWEEN 1 AND 10000), -- how many of them are on; NULL: all
  PRIMARY KEY (scene_n, ordinal)
) STRICT, WITHOUT ROWID;

CREATE TABLE period(
  -- A time-of-use period of a tariff.
  n INTEGER PRIMARY KEY, -- its place among the periods
  id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 40 AND id NOT GLOB '*[^a-z0-9-]*'), -- as in the house file
  tariff_n INTEGER NOT NULL REFERENCES tariff(n) DEFERRABLE INITIALLY DEFERRED, -- the tariff it belongs to
  price TEXT NOT NULL CHECK (price GLOB '[0-9]*'), -- money per kWh, decimal text
  hours TEXT CHECK (hours GLOB '[0-9]*'), -- daily windows, as in the house file; NULL: all day
  days INTEGER CHECK (days BETWEEN 1 AND 127), -- days of the week, bit 0 Monday to bit 6 Sunday
  months INTEGER CHECK (months BETWEEN 1 AND 4095) -- months of the year, bit 0 January to bit 11 December
) STRICT;
