-- Rows without which the build refuses a rule set: what each way of finding something asks it for.
-- A way is a word of ref_rule_set or, after `demand`, of ref_choice; after `rule` and `table` one that the set has a row of
-- its own in; `*` is every rule set. A set is free to name no way: what it lacks is then said to be missing, in each output.
CREATE TABLE ref_need(
  way     TEXT NOT NULL CHECK (length(way) > 0),
  needs   TEXT NOT NULL CHECK (length(needs) > 0),            -- table, without ref_
  id      TEXT NOT NULL,                                      -- its row of that id, of the set or for all; '': any row of the set
  edition TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source  TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (way, needs, id)
) STRICT;

INSERT INTO ref_need(way, needs, id, edition, source)
SELECT column1, column2, column3, 'common practice', 'what the program asks its tables for' FROM (VALUES
  ('*', 'nominal_voltage', ''), ('*', 'standard_size', ''), ('*', 'trip_band', ''),
  ('*', 'rule', 'continuous-factor'), ('*', 'rule', 'continuous-hours'), ('*', 'rule', 'largest-motor-factor'),
  ('*', 'rule', 'operating-temperature'), ('*', 'rule', 'supply-over'), ('*', 'rule', 'supply-under'),
  ('*', 'rule', 'near-share'), ('*', 'rule', 'leg-imbalance'), ('*', 'rule', 'voltage-danger-over'),
  ('*', 'rule', 'voltage-warning-over'), ('*', 'rule', 'voltage-warning-under'), ('*', 'rule', 'slip-power'),
  ('*', 'rule', 'usual-power'), ('*', 'rule', 'starting-power-factor'), ('*', 'rule', 'motor-power-factor'),
  ('*', 'rule', 'motor-start-factor'), ('*', 'rule', 'long-running-hours'),
  ('*', 'finding', '1'), ('*', 'finding', '2'), ('*', 'finding', '8'), ('*', 'finding', '10'), ('*', 'finding', '14'),
  ('*', 'finding', '16'),

  ('terminal-column', 'ampacity_us', ''), ('terminal-column', 'ambient', ''),
  ('terminal-column', 'rule', 'insulation-temperature'), ('terminal-column', 'rule', 'insulation-temperature-large'),
  ('terminal-column', 'rule', 'insulation-temperature-limit'),
  ('terminal-column', 'finding', '5'), ('terminal-column', 'finding', '6'),
  ('installation-method', 'ampacity_iec', ''), ('installation-method', 'ambient', ''),
  ('installation-method', 'rule', 'insulation-temperature'),
  ('installation-method', 'finding', '5'), ('installation-method', 'finding', '6'),
  ('flat-twin', 'ampacity_uk_flat_twin', ''),
  ('next-size', 'rule', 'next-size-limit'),
  ('branch-and-total', 'rule', 'voltage-drop-branch'), ('branch-and-total', 'rule', 'voltage-drop-total'),
  ('branch-and-total', 'finding', '7'),
  ('by-use', 'rule', 'voltage-drop-lighting'), ('by-use', 'rule', 'voltage-drop-other'), ('by-use', 'finding', '7'),

  ('demand standard', 'finding', '13'), ('demand standard', 'demand_band', ''), ('demand standard', 'demand_range', ''),
  ('demand standard', 'demand_dryer', ''),
  ('demand standard', 'rule', 'dwelling-load'), ('demand standard', 'rule', 'small-appliance-load'),
  ('demand standard', 'rule', 'small-appliance-count'), ('demand standard', 'rule', 'laundry-load'),
  ('demand standard', 'rule', 'laundry-count'), ('demand standard', 'rule', 'fixed-appliance-demand'),
  ('demand standard', 'rule', 'fixed-appliance-count'), ('demand standard', 'rule', 'fixed-appliance-minimum'),
  ('demand standard', 'rule', 'dryer-minimum'), ('demand standard', 'rule', 'vehicle-minimum'),
  ('demand standard', 'rule', 'motor-demand-factor'), ('demand standard', 'rule', 'appliance-load'),
  ('demand standard', 'rule', 'connected-load'), ('demand standard', 'rule', 'space-heating-demand'),
  ('demand standard', 'rule', 'noncoincident-share'), ('demand standard', 'rule', 'range-smallest'),
  ('demand standard', 'rule', 'range-column-a'), ('demand standard', 'rule', 'range-column-b'),
  ('demand standard', 'rule', 'range-column-c'), ('demand standard', 'rule', 'range-increase'),
  ('demand standard', 'rule', 'neutral-share'), ('demand standard', 'rule', 'neutral-loads'),
  ('demand optional', 'rule', 'optional-first'), ('demand optional', 'rule', 'optional-rest'),
  ('demand optional', 'rule', 'cooling-demand'), ('demand optional', 'rule', 'strip-heat-demand'),
  ('demand optional', 'rule', 'heating-demand'), ('demand optional', 'rule', 'heating-demand-many'),
  ('demand optional', 'rule', 'heating-many-count'), ('demand optional', 'rule', 'dwelling-load'),
  ('demand existing', 'rule', 'existing-first'), ('demand existing', 'rule', 'existing-rest'),
  ('demand existing', 'rule', 'existing-added-heat'), ('demand existing', 'rule', 'dwelling-load'),
  ('demand existing', 'rule', 'existing-many'), ('demand existing', 'rule', 'heating-many-count'),
  ('demand measured', 'rule', 'measured-factor'), ('demand measured', 'rule', 'measured-hours'),
  ('demand measured', 'rule', 'measured-year'), ('demand measured', 'rule', 'measured-interval'),
  ('demand standard', 'service_method', ''), ('demand diversity', 'service_method', ''),
  ('demand diversity', 'finding', '13'), ('demand diversity', 'diversity', ''),
  ('demand by-load', 'diversity', ''), ('demand by-load', 'rule', 'instantaneous-water-heater'),
  ('demand diversity', 'rule', 'instantaneous-water-heater'),

  ('rule plug-in-share', 'finding', '3'), ('rule fixed-share', 'finding', '4'),
  ('rule ring-device', 'rule', 'ring-ampacity'), ('rule ring-device', 'finding', '5'),
  ('table plug', 'finding', '9'), ('table instantaneous', 'finding', '11'), ('table protection', 'finding', '12'),
  ('table minimum_branch', 'finding', '15'),
  ('*', 'finding', '18'), ('rule ring-device', 'finding', '20'), ('rule newer-size', 'finding', '21'),
  ('table receptacle_rating', 'finding', '17'), ('table motor_breaker', 'finding', '19'),
  ('table room_protection', 'finding', '12')
);
