-- A rule set is rows of the program's tables: the database no longer lists their names, nor the editions of one of them.
-- The reader refuses what the program has no row for. Run with foreign keys off (upgrade.c).

CREATE TABLE house_new(
  -- The house itself: always one row.
  n INTEGER PRIMARY KEY CHECK (n = 1), -- always 1
  name TEXT NOT NULL CHECK (length(name) > 0), -- what people call it
  rules TEXT NOT NULL CHECK (length(rules) > 0), -- which set of published limits applies: the program knows them by its rows
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
  code_edition TEXT CHECK (length(code_edition) > 0), -- whose numbers and rules hold, by the rows of the rule set
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
INSERT INTO house_new(n, name, rules, system, voltage_v, frequency, main_breaker_a, floor_area_m2, currency, tariff_n, billing_days,
  ambient_c, supply_fuse_a, service_rating_a, service_wire, service_run_m, generation, code_edition, built_year,
  ground_c, soil_km_per_w, earthing, ze_ohm, electrode_ohm, pscc_a, transformer_kva, transformer_z_percent)
SELECT n, name, rules, system, voltage_v, frequency, main_breaker_a, floor_area_m2, currency, tariff_n, billing_days,
  ambient_c, supply_fuse_a, service_rating_a, service_wire, service_run_m, generation, code_edition, built_year,
  ground_c, soil_km_per_w, earthing, ze_ohm, electrode_ohm, pscc_a, transformer_kva, transformer_z_percent FROM house;
DROP TABLE house;
ALTER TABLE house_new RENAME TO house;
