-- Keys of circuits, supply, rooms, outlets and appliances that came later, and words that older tables refuse: those
-- tables are made anew under another name, filled, and take the old name. Run with foreign keys off (upgrade.c).

CREATE TABLE house_new(
  -- The house itself: always one row.
  n INTEGER PRIMARY KEY CHECK (n = 1), -- always 1
  name TEXT NOT NULL CHECK (length(name) > 0), -- what people call it
  rules TEXT NOT NULL CHECK (rules IN ('us', 'iec', 'uk')), -- which set of published limits applies
  system TEXT CHECK (system IN ('single-phase', 'split-phase', 'three-phase')), -- supply system
  voltage_v REAL CHECK (voltage_v > 0 AND voltage_v <= 1e12), -- nominal voltage, line to neutral, volt
  frequency TEXT CHECK (frequency IN ('50', '60')), -- hertz, as the house file writes it
  -- rating of the service main, ampere; NULL: a supply fuse alone is known
  main_breaker_a REAL CHECK (main_breaker_a > 0 AND main_breaker_a <= 1e12),
  floor_area_m2 REAL CHECK (floor_area_m2 > 0 AND floor_area_m2 <= 1e12), -- floor area, square metre
  currency TEXT CHECK (currency GLOB '[A-Z][A-Z][A-Z]'), -- ISO 4217 code of the money
  tariff_n INTEGER REFERENCES tariff(n) DEFERRABLE INITIALLY DEFERRED, -- the tariff that prices the energy
  billing_days INTEGER CHECK (billing_days BETWEEN 1 AND 366), -- days in a billing month
  ambient_c REAL CHECK (ambient_c BETWEEN -273.15 AND 1e12), -- air temperature around the conductors, degree Celsius
  supply_fuse_a REAL CHECK (supply_fuse_a >= 0 AND supply_fuse_a <= 1e12), -- the supplier's fuse, ampere; 0: said to be unknown
  -- lowest of main, meter socket, service conductors, supply fuse, ampere
  service_rating_a REAL CHECK (service_rating_a > 0 AND service_rating_a <= 1e12),
  service_wire TEXT CHECK (length(service_wire) > 0), -- conductors from the street, as in the house file
  service_run_m REAL CHECK (service_run_m >= 0 AND service_run_m <= 1e12), -- their length, one way, metre
  generation TEXT CHECK (generation IN ('yes', 'no')), -- solar panels, battery or peak shaving behind the meter
  code_edition TEXT CHECK (code_edition IN ('2017', '2020', '2023', '2026')), -- us: whose numbers and rules hold
  built_year INTEGER CHECK (built_year BETWEEN 1850 AND 2100), -- year in which it was built or last rewired
  ground_c REAL CHECK (ground_c BETWEEN -273.15 AND 1e12), -- ground around buried cable, degree Celsius
  soil_km_per_w REAL CHECK (soil_km_per_w > 0 AND soil_km_per_w <= 1e12), -- thermal resistivity of the soil, K m/W
  earthing TEXT CHECK (earthing IN ('TN-S', 'TN-C-S', 'TT', 'IT', 'grounded')), -- of the supply
  ze_ohm REAL CHECK (ze_ohm > 0 AND ze_ohm <= 1e12), -- external earth-fault loop impedance, ohm
  electrode_ohm REAL CHECK (electrode_ohm > 0 AND electrode_ohm <= 1e12), -- earth electrode, ohm
  pscc_a REAL CHECK (pscc_a > 0 AND pscc_a <= 1e12), -- prospective short-circuit current at the origin, ampere
  transformer_kva REAL CHECK (transformer_kva > 0 AND transformer_kva <= 1e12), -- us: the supplier's, kVA
  transformer_z_percent REAL CHECK (transformer_z_percent BETWEEN 0.5 AND 20), -- us: its impedance, percent
  CHECK (main_breaker_a IS NOT NULL OR supply_fuse_a IS NOT NULL) -- something says what the supply bears
) STRICT;
INSERT INTO house_new(n, name, rules, system, voltage_v, frequency, main_breaker_a, floor_area_m2, currency,
  tariff_n, billing_days, ambient_c)
SELECT n, name, rules, system, voltage_v, frequency, main_breaker_a, floor_area_m2, currency, tariff_n, billing_days,
  ambient_c FROM house;
DROP TABLE house;
ALTER TABLE house_new RENAME TO house;

CREATE TABLE panel_new(
  -- A panel and its feeder. Row 0 is the main panel, always there, of which only name and breaking may be given.
  n INTEGER PRIMARY KEY, -- its place among the panels
  id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 40 AND id NOT GLOB '*[^a-z0-9-]*'), -- as in the house file
  name TEXT CHECK (length(name) > 0), -- what people call it; NULL: its ID
  from_n INTEGER REFERENCES panel(n) DEFERRABLE INITIALLY DEFERRED, -- the panel that feeds it; NULL: the main panel
  breaker_a REAL CHECK (breaker_a > 0 AND breaker_a <= 1e12), -- rating of its feeder's breaker, ampere
  poles TEXT CHECK (poles IN ('1', '2', '3')), -- of its feeder's breaker, as the house file writes it
  legs TEXT CHECK (legs IN ('A', 'B', 'C', 'AB', 'BC', 'AC', 'ABC')), -- legs that its feeder takes
  wire TEXT CHECK (length(wire) > 0), -- size and metal of its feeder's conductors, as in the house file
  method TEXT CHECK (method IN ('A1', 'A2', 'B1', 'B2', 'C', 'D', 'D1', 'D2', 'A', 'B', '100', '101', '102', '103')), -- installation method of its feeder
  length_m REAL CHECK (length_m >= 0 AND length_m <= 1e12), -- length of its feeder, one way, metre; NULL: not known
  -- us: kind of cable or wire
  cable TEXT CHECK (cable IN ('nm-b', 'nm', 'uf-b', 'ser', 'thhn', 'thwn', 'tw', 'mc', 'knob-and-tube')),
  terminals_c TEXT CHECK (terminals_c IN ('60', '70', '75', '90')), -- marking of both ends, degree Celsius, as the house file writes it
  insulation TEXT CHECK (insulation IN ('pvc', 'xlpe')), -- iec, uk: of the conductors
  ambient_c REAL CHECK (ambient_c BETWEEN -273.15 AND 1e12), -- air temperature around this run, degree Celsius; NULL: the house's
  grouped INTEGER CHECK (grouped BETWEEN 1 AND 20), -- circuits lying together, itself included
  in_insulation_m REAL CHECK (in_insulation_m >= 0 AND in_insulation_m <= 1e12), -- length wholly inside thermal insulation, metre
  breaking_a REAL CHECK (breaking_a > 0 AND breaking_a <= 1e12), -- interrupting rating of its device, ampere
  cpc TEXT CHECK (length(cpc) > 0), -- protective conductor: size and metal, or same
  CHECK ((n = 0) = (id = 'main')), -- the main panel is row 0
  CHECK ((n = 0) = (breaker_a IS NULL)) -- every feeder has a breaker
) STRICT;
INSERT INTO panel_new(n, id, name, from_n, breaker_a, poles, legs, wire, method, length_m)
SELECT n, id, name, from_n, breaker_a, poles, legs, wire, method, length_m FROM panel;
DROP TABLE panel;
ALTER TABLE panel_new RENAME TO panel;

CREATE TABLE branch_new(
  -- A branch circuit: one breaker and all that hangs on it.
  n INTEGER PRIMARY KEY, -- its place among the branches
  id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 40 AND id NOT GLOB '*[^a-z0-9-]*'), -- as in the house file
  label TEXT NOT NULL CHECK (length(label) > 0), -- what the panel's door says
  panel_n INTEGER REFERENCES panel(n) DEFERRABLE INITIALLY DEFERRED, -- the panel it starts from; NULL: the main panel
  position TEXT CHECK (position GLOB '[0-9]*'), -- spaces in the panel, as in the house file
  breaker_a REAL NOT NULL CHECK (breaker_a > 0 AND breaker_a <= 1e12), -- rating of the breaker, ampere
  trip TEXT CHECK (trip IN ('inverse-time', 'B', 'C', 'D', 'fuse', 'gG', 'bs3036', 'bs88')), -- tripping characteristic
  poles TEXT CHECK (poles IN ('1', '2', '3')), -- of the breaker, as the house file writes it
  legs TEXT CHECK (legs IN ('A', 'B', 'C', 'AB', 'BC', 'AC', 'ABC')), -- legs that it takes
  wire TEXT CHECK (length(wire) > 0), -- size and metal of the conductors, as in the house file
  method TEXT CHECK (method IN ('A1', 'A2', 'B1', 'B2', 'C', 'D', 'D1', 'D2', 'A', 'B', '100', '101', '102', '103')), -- installation method
  -- run from the panel to the far end, one way, metre; NULL: not known
  length_m REAL CHECK (length_m >= 0 AND length_m <= 1e12),
  layout TEXT CHECK (layout IN ('radial', 'ring')), -- radial or ring
  -- ring: cable from the last outlet back to the panel, metre
  return_m REAL CHECK (return_m >= 0 AND return_m <= 1e12),
  -- what it is meant for
  purpose TEXT CHECK (purpose IN ('general', 'lighting', 'small-appliance', 'laundry', 'bathroom', 'dedicated')),
  protection TEXT CHECK (length(protection) > 0), -- any of gfci, afci, rcd, comma separated
  -- us: kind of cable or wire
  cable TEXT CHECK (cable IN ('nm-b', 'nm', 'uf-b', 'ser', 'thhn', 'thwn', 'tw', 'mc', 'knob-and-tube')),
  terminals_c TEXT CHECK (terminals_c IN ('60', '70', '75', '90')), -- marking of both ends, degree Celsius, as the house file writes it
  insulation TEXT CHECK (insulation IN ('pvc', 'xlpe')), -- iec, uk: of the conductors
  ambient_c REAL CHECK (ambient_c BETWEEN -273.15 AND 1e12), -- air temperature around this run, degree Celsius; NULL: the house's
  grouped INTEGER CHECK (grouped BETWEEN 1 AND 20), -- circuits lying together, itself included
  in_insulation_m REAL CHECK (in_insulation_m >= 0 AND in_insulation_m <= 1e12), -- length wholly inside thermal insulation, metre
  -- another branch with which it shares one neutral
  shared_neutral_n INTEGER REFERENCES branch(n) DEFERRABLE INITIALLY DEFERRED,
  tied TEXT CHECK (tied IN ('yes', 'no')), -- handles of a shared neutral's breakers; NULL: not known
  third_harmonic_percent REAL CHECK (third_harmonic_percent BETWEEN 0 AND 100), -- of the line current, percent
  cooker_socket TEXT CHECK (cooker_socket IN ('yes', 'no')), -- uk: the cooker's switch has a socket
  breaking_a REAL CHECK (breaking_a > 0 AND breaking_a <= 1e12), -- interrupting rating of its device, ampere
  cpc TEXT CHECK (length(cpc) > 0), -- protective conductor: size and metal, or same
  rcd_ma TEXT CHECK (rcd_ma IN ('10', '30', '100', '300', '500')), -- rated residual current, milliampere, as the house file writes it
  rcd_type TEXT CHECK (rcd_type IN ('general', 'selective')), -- with or without a time delay
  instantaneous_a REAL CHECK (instantaneous_a > 0 AND instantaneous_a <= 1e12), -- us: the maker's magnetic trip, ampere
  zs_measured_ohm REAL CHECK (zs_measured_ohm > 0 AND zs_measured_ohm <= 1e12), -- loop impedance read at the far end, ohm
  measured_at_c REAL CHECK (measured_at_c BETWEEN -273.15 AND 1e12) -- conductors at that reading, degree Celsius
) STRICT;
INSERT INTO branch_new(n, id, label, panel_n, position, breaker_a, trip, poles, legs, wire, method, length_m, layout,
  return_m, purpose, protection)
SELECT n, id, label, panel_n, position, breaker_a, trip, poles, legs, wire, method, length_m, layout, return_m,
  purpose, protection FROM branch;
DROP TABLE branch;
ALTER TABLE branch_new RENAME TO branch;

CREATE TABLE appliance_new(
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
    'air-conditioning', 'vehicle', 'refrigeration', 'motor', 'heat-pump', 'pool',
    'medical', 'generator', 'other')),
  rating_from TEXT CHECK (rating_from IN ('plate', 'typical', 'guess')), -- where its rating was taken from
  -- us: from the plate of one unit, ampere
  minimum_ampacity_a REAL CHECK (minimum_ampacity_a > 0 AND minimum_ampacity_a <= 1e12),
  maximum_breaker_a REAL CHECK (maximum_breaker_a > 0 AND maximum_breaker_a <= 1e12), -- us: likewise
  connection TEXT CHECK (connection IN ('line-line', '2L+N', '3L+N')), -- iec, uk, three-phase: between which conductors
  control TEXT CHECK (control IN ('none', 'setpoint', 'on-off')), -- how it gives way when the house is busy
  CHECK (outlet_n IS NOT NULL OR branch_n IS NOT NULL), -- it is somewhere
  -- one rating
  CHECK ((power_w IS NOT NULL) + (apparent_va IS NOT NULL) + (current_a IS NOT NULL) +
    (resistance_ohm IS NOT NULL) + (horsepower_hp IS NOT NULL) = 1)
) STRICT;
INSERT INTO appliance_new(n, id, name, outlet_n, branch_n, room_n, power_w, apparent_va, current_a, resistance_ohm,
  horsepower_hp, rated_voltage_v, power_factor, behaviour, start_factor, count, fixed, continuous, "use", hours_s,
  days, months, duty_percent, standby_w, group_name, category)
SELECT n, id, name, outlet_n, branch_n, room_n, power_w, apparent_va, current_a, resistance_ohm, horsepower_hp,
  rated_voltage_v, power_factor, behaviour, start_factor, count, fixed, continuous, "use", hours_s, days, months,
  duty_percent, standby_w, group_name, category FROM appliance;
DROP TABLE appliance;
ALTER TABLE appliance_new RENAME TO appliance;

-- what kind of room it is; NULL: by the words of ID and name
ALTER TABLE room ADD COLUMN kind TEXT CHECK (kind IN ('bath', 'kitchen', 'laundry', 'garage', 'outdoors', 'basement',
  'crawl-space', 'bedroom', 'living', 'hall', 'utility', 'pool', 'other'));

-- places for plugs
ALTER TABLE outlet ADD COLUMN contacts INTEGER CHECK (contacts BETWEEN 1 AND 2);
-- uk: no part of its ring's chain
ALTER TABLE outlet ADD COLUMN spur TEXT CHECK (spur IN ('yes', 'no'));
-- uk: fuse of a fused connection unit, ampere
ALTER TABLE outlet ADD COLUMN fuse_a REAL CHECK (fuse_a BETWEEN 1 AND 13);
-- iec, uk: loop impedance read there, ohm, and the conductors' temperature at that reading, degree Celsius
ALTER TABLE outlet ADD COLUMN zs_measured_ohm REAL CHECK (zs_measured_ohm > 0 AND zs_measured_ohm <= 1e12);
ALTER TABLE outlet ADD COLUMN measured_at_c REAL CHECK (measured_at_c BETWEEN -273.15 AND 1e12);
