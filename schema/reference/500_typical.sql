-- Typical ratings of household appliances, to use until the nameplate is read.
-- low and high are the smallest and largest figure among the sources that a row names; typical lies where most of them stand.
-- power_factor and behaviour are common practice: 1 for heat, 0.8 for motors, 0.9 for electronics.
CREATE TABLE ref_typical(
  id           TEXT NOT NULL CHECK (length(id) > 0),          -- unique within a rule set
  rules        TEXT NOT NULL REFERENCES ref_rule_set(id),
  region       TEXT NOT NULL CHECK (length(region) > 0),      -- where the figures were collected
  name         TEXT NOT NULL CHECK (length(name) > 0),
  low_w        REAL NOT NULL CHECK (low_w > 0),               -- watt
  typical_w    REAL NOT NULL CHECK (typical_w > 0),           -- watt
  high_w       REAL NOT NULL CHECK (high_w > 0),              -- watt
  hours_day    REAL CHECK (hours_day >= 0 AND hours_day <= 24),  -- hour a day as a source gives it; NULL: none does
  standby_w    REAL CHECK (standby_w >= 0),                   -- watt while off; NULL: not stated
  rated_v      REAL CHECK (rated_v > 0),                      -- volt it is made for; NULL: the plain outlets'
  power_factor REAL NOT NULL CHECK (power_factor > 0 AND power_factor <= 1),
  behaviour    TEXT NOT NULL CHECK (behaviour IN ('resistive', 'electronic', 'motor')),
  category     TEXT NOT NULL CHECK (category IN ('lighting', 'cooking', 'range', 'dryer', 'laundry', 'water-heating',
                 'space-heating', 'air-conditioning', 'vehicle', 'refrigeration', 'motor', 'other')),
  edition      TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source       TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (id, rules)
) STRICT;

-- Each source once; the rows below name them by their short marks. A mark stands in no other source's text.
CREATE TEMP TABLE typical_mark(mark TEXT PRIMARY KEY, text TEXT NOT NULL) STRICT;
INSERT INTO typical_mark(mark, text) VALUES
  ('[F]', 'French Broad EMC appliance table (2021)'),
  ('[N]', 'North American Power table of kilowatt-hours'),
  ('[D]', 'US Department of Energy nameplate list (2003 and 2011 copies)'),
  ('[B]', 'BCREMC appliance usage page'),
  ('[C]', 'CWREMC worksheet'),
  ('[W]', 'a watt finder''s guide of a US utility'),
  ('[H]', 'an appliance rating page with hours per month'),
  ('[S]', 'standby as measured by the Florida Solar Energy Center, FSEC-PF-344-98'),
  ('[K]', 'Cosy Kingdom energy advice (October 2024 and before)'),
  ('[A]', 'a British electrician''s table, highest found'),
  ('[J]', 'a Japanese firm''s table of currents at 100 V'),
  ('[T]', 'TEPCO figures quoted in a newspaper, 100 V'),
  ('[M]', 'a Japanese magazine''s list'),
  ('[R]', 'common practice: 80 % of a 15 A receptacle at 120 V; usual plates from memory'),
  ('[V]', 'IEC 61851 charging currents at nominal voltage, computed'),
  ('[G]', 'Madison Gas and Electric: kWh a month of refrigerators by age, over the third of the day that the Department of Energy counts'),
  ('[U]', 'an Australian electrician''s article');

-- id, name, low, typical, high, hours a day, standby, power factor, behaviour, category, marks.
CREATE TEMP TABLE typical_row(region TEXT, id TEXT, name TEXT, low_w, typical_w, high_w, hours_day, standby_w, power_factor,
  behaviour TEXT, category TEXT, marks TEXT);

INSERT INTO typical_row SELECT 'United States', * FROM (VALUES
  ('air-conditioner-window',  'window air conditioner',              750,  1500, 1500, 8,    NULL, 0.8, 'motor', 'air-conditioning', '[F], [N], [H]'),
  ('air-conditioner-central', 'central air conditioner, 2 ton',      2500, 2500, 3500, 8,    NULL, 0.8, 'motor', 'air-conditioning', '[F], [H]'),
  ('heat-pump-heating',       'heat pump, heating',                  3750, 3750, 3750, 8,    29.8, 0.8, 'motor', 'space-heating', '[F], [S]'),
  ('heat-pump-cooling',       'heat pump, cooling',                  2750, 2750, 2750, 8,    29.8, 0.8, 'motor', 'air-conditioning', '[F], [S]'),
  ('heat-pump-strips',        'heat pump with strip heat',           15000, 15000, 15000, 6, 29.8, 1,   'resistive', 'space-heating', '[F], [S]'),
  ('furnace-fan',             'furnace fan',                         350,  500,  750,  24,   NULL, 0.8, 'motor', 'space-heating', '[D], [W], [H]'),
  ('furnace-humidifier',      'furnace humidifier',                  25,   25,   25,   24,   NULL, 0.8, 'motor', 'space-heating', '[W]'),
  ('space-heater',            'portable space heater',               750,  1500, 1500, 8,    NULL, 1,   'resistive', 'space-heating', '[F], [D], [W], [H]'),
  ('ceramic-heater',          'ceramic space heater',                1500, 1500, 1500, 8,    NULL, 1,   'resistive', 'space-heating', '[F]'),
  ('heat-tape',               'heat tape for pipes',                 200,  200,  200,  NULL, NULL, 1,   'resistive', 'space-heating', '[H]'),
  ('electric-blanket',        'electric blanket',                    60,   150,  200,  8,    NULL, 1,   'resistive', 'space-heating', '[F], [N], [D], [B], [C]'),
  ('water-bed-heater',        'water bed heater',                    120,  380,  400,  NULL, NULL, 1,   'resistive', 'space-heating', '[D], [B]'),
  ('water-heater',            'storage water heater, 40 gallons',    4500, 4500, 5500, 3,    NULL, 1,   'resistive', 'water-heating', '[N], [D]'),
  ('kettle',                  'kettle',                              1000, 1440, 1500, NULL, NULL, 1,   'resistive', 'cooking', '[R]'),
  ('hot-tub',                 'hot tub',                             3000, 3000, 5500, 3.6,  NULL, 1,   'resistive', 'water-heating', '[F], [W]'),
  ('ceiling-fan',             'ceiling fan',                         65,   100,  175,  6,    NULL, 0.8, 'motor', 'motor', '[F], [N], [D], [W]'),
  ('ceiling-fan-low',         'ceiling fan, low speed',              8,    10,   10,   6,    NULL, 0.8, 'motor', 'motor', '[F], [W]'),
  ('window-fan',              'window fan',                          55,   200,  250,  4,    NULL, 0.8, 'motor', 'motor', '[N], [D], [C]'),
  ('box-fan',                 'box fan',                             180,  180,  180,  NULL, NULL, 0.8, 'motor', 'motor', '[W]'),
  ('attic-fan',               'attic fan',                           370,  370,  370,  12,   NULL, 0.8, 'motor', 'motor', '[F]'),
  ('whole-house-fan',         'whole-house fan',                     240,  500,  750,  NULL, NULL, 0.8, 'motor', 'motor', '[D]'),
  ('dehumidifier',            'dehumidifier',                        257,  480,  785,  12,   NULL, 0.8, 'motor', 'motor', '[F], [N], [D], [B], [C], [W]'),
  ('humidifier',              'humidifier',                          100,  120,  177,  4,    NULL, 0.9, 'motor', 'motor', '[F], [N], [B], [H]'),
  ('air-purifier',            'air purifier',                        50,   50,   250,  12,   NULL, 0.8, 'motor', 'motor', '[F], [B], [C]'),
  ('well-pump',               'deep-well pump',                      250,  1000, 1100, NULL, NULL, 0.8, 'motor', 'motor', '[D]'),
  ('garage-door-opener',      'garage door opener',                  800,  875,  875,  NULL, 4.0,  0.8, 'motor', 'motor', '[B], [H], [S]'),
  ('refrigerator',            'refrigerator, frost-free',            440,  725,  810,  8,    6.1,  0.8, 'motor', 'refrigeration', '[N], [D], [B], [S]'),
  ('refrigerator-manual',     'refrigerator, manual defrost',        630,  630,  720,  NULL, 6.1,  0.8, 'motor', 'refrigeration', '[B], [S]'),
  ('refrigerator-new',        'refrigerator, made after 2000',       154,  180,  212,  8,    6.1,  0.8, 'motor', 'refrigeration', '[G], [S]'),
  ('freezer',                 'freezer',                             80,   160,  440,  24,   NULL, 0.8, 'motor', 'refrigeration', '[F], [C], [H]'),
  ('freezer-new',             'freezer, new',                        80,   80,   80,   24,   NULL, 0.8, 'motor', 'refrigeration', '[F]'),
  ('range',                   'range with oven',                     12200, 12200, 12500, 0.5, 2.7, 1,  'resistive', 'range', '[N], [B], [S]'),
  ('range-burner',            'range burner',                        1600, 2000, 2500, NULL, NULL, 1,   'resistive', 'cooking', '[W]'),
  ('oven',                    'built-in oven',                       4000, 4000, 4000, 0.43, NULL, 1,   'resistive', 'cooking', '[W]'),
  ('broiler',                 'broiler',                             1140, 1140, 1140, NULL, NULL, 1,   'resistive', 'cooking', '[C]'),
  ('microwave',               'microwave oven',                      750,  1100, 1450, 0.5,  3.0,  0.9, 'electronic', 'cooking', '[N], [D], [B], [S]'),
  ('toaster',                 'toaster',                             800,  1150, 1400, NULL, NULL, 1,   'resistive', 'cooking', '[D], [B]'),
  ('toaster-oven',            'toaster oven',                        1225, 1225, 1440, NULL, NULL, 1,   'resistive', 'cooking', '[D], [B], [W]'),
  ('coffee-maker',            'coffee maker',                        350,  900,  1200, 1,    NULL, 1,   'resistive', 'cooking', '[F], [N], [D], [B], [C], [W]'),
  ('frying-pan',              'electric frying pan',                 1200, 1200, 1200, 0.07, NULL, 1,   'resistive', 'cooking', '[F], [C]'),
  ('griddle',                 'griddle',                             1200, 1200, 1200, NULL, NULL, 1,   'resistive', 'cooking', '[C]'),
  ('deep-fryer',              'deep fryer',                          1200, 1450, 1450, NULL, NULL, 1,   'resistive', 'cooking', '[B], [C]'),
  ('hot-plate',               'hot plate',                           660,  660,  660,  NULL, NULL, 1,   'resistive', 'cooking', '[B]'),
  ('slow-cooker',             'slow cooker',                         150,  200,  250,  NULL, NULL, 1,   'resistive', 'cooking', '[B], [W], [H]'),
  ('waffle-iron',             'waffle iron',                         1120, 1120, 1120, NULL, NULL, 1,   'resistive', 'cooking', '[B]'),
  ('sandwich-grill',          'sandwich grill',                      1160, 1160, 1160, NULL, NULL, 1,   'resistive', 'cooking', '[B]'),
  ('barbecue-grill',          'barbecue grill',                      1350, 1350, 1350, NULL, NULL, 1,   'resistive', 'cooking', '[B]'),
  ('corn-popper',             'corn popper',                         575,  575,  575,  NULL, NULL, 1,   'resistive', 'cooking', '[C]'),
  ('egg-cooker',              'egg cooker',                          550,  550,  550,  NULL, NULL, 1,   'resistive', 'cooking', '[C]'),
  ('fondue-pot',              'fondue pot',                          800,  800,  800,  NULL, NULL, 1,   'resistive', 'cooking', '[C]'),
  ('baby-food-warmer',        'baby-food warmer',                    165,  165,  165,  NULL, NULL, 1,   'resistive', 'cooking', '[C]'),
  ('blender',                 'blender',                             250,  385,  385,  0.03, NULL, 0.8, 'motor', 'cooking', '[F], [C]'),
  ('can-opener',              'electric can opener',                 100,  100,  100,  NULL, NULL, 0.8, 'motor', 'cooking', '[C]'),
  ('carving-knife',           'electric carving knife',              95,   95,   95,   NULL, NULL, 0.8, 'motor', 'cooking', '[C]'),
  ('disposer',                'food waste disposer',                 400,  445,  700,  NULL, NULL, 0.8, 'motor', 'motor', '[B], [C], [W]'),
  ('dishwasher',              'dishwasher',                          1200, 1200, 2400, 1,    NULL, 1,   'resistive', 'cooking', '[F], [N], [D], [C], [H]'),
  ('clothes-washer',          'clothes washer',                      350,  500,  665,  0.53, NULL, 0.8, 'motor', 'laundry', '[F], [D], [C], [W]'),
  ('clothes-dryer',           'clothes dryer, electric',             1800, 4900, 5500, 0.53, NULL, 1,   'resistive', 'dryer', '[F], [N], [D], [C], [W]'),
  ('iron',                    'clothes iron',                        1000, 1100, 1800, 0.17, NULL, 1,   'resistive', 'laundry', '[F], [D], [W]'),
  ('vacuum-cleaner',          'vacuum cleaner',                      630,  1200, 1440, NULL, NULL, 0.8, 'motor', 'motor', '[D], [B]'),
  ('floor-polisher',          'floor polisher',                      305,  305,  305,  NULL, NULL, 0.8, 'motor', 'motor', '[C]'),
  ('hair-dryer',              'hair dryer',                          600,  1250, 1875, 0.08, NULL, 1,   'resistive', 'other', '[F], [N], [D], [C]'),
  ('hair-dryer-bonnet',       'hair dryer, bonnet',                  400,  900,  900,  NULL, NULL, 1,   'resistive', 'other', '[C]'),
  ('curling-iron',            'curling iron',                        40,   40,   40,   NULL, NULL, 1,   'resistive', 'other', '[C]'),
  ('desktop-computer',        'desktop computer, without monitor',   75,   120,  150,  5,    2.0,  0.9, 'electronic', 'other', '[F], [D], [B], [W], [S]'),
  ('laptop',                  'laptop computer',                     15,   50,   50,   NULL, NULL, 0.9, 'electronic', 'other', '[D], [W]'),
  ('monitor-crt',             'monitor, picture tube',               75,   100,  150,  5,    NULL, 0.9, 'electronic', 'other', '[F], [D], [B]'),
  ('monitor-lcd',             'monitor, flat',                       25,   25,   35,   5,    NULL, 0.9, 'electronic', 'other', '[F], [W]'),
  ('ink-jet-printer',         'ink-jet printer',                     35,   35,   35,   NULL, NULL, 0.9, 'electronic', 'other', '[B]'),
  ('laser-printer',           'laser printer',                       400,  400,  400,  NULL, NULL, 0.9, 'electronic', 'other', '[B]'),
  ('copier',                  'copier',                              1600, 1600, 1600, NULL, NULL, 0.9, 'electronic', 'other', '[H]'),
  ('fax',                     'fax machine',                         10,   10,   105,  NULL, NULL, 0.9, 'electronic', 'other', '[B], [W]'),
  ('television',              'television, flat screen',             120,  120,  150,  3,    NULL, 0.9, 'electronic', 'other', '[D], [W]'),
  ('television-tube',         'television, picture tube',            65,   113,  133,  NULL, NULL, 0.9, 'electronic', 'other', '[D], [B]'),
  ('television-projection',   'television, projection',              170,  170,  170,  NULL, NULL, 0.9, 'electronic', 'other', '[D], [B]'),
  ('television-plasma',       'television, plasma',                  250,  350,  550,  3,    NULL, 0.9, 'electronic', 'other', '[B], [W]'),
  ('dvd-player',              'disc player',                         20,   25,   50,   NULL, 4.5,  0.9, 'electronic', 'other', '[D], [B], [S]'),
  ('video-recorder',          'video recorder',                      17,   21,   35,   NULL, NULL, 0.9, 'electronic', 'other', '[D], [B]'),
  ('game-console',            'game console',                        50,   160,  160,  NULL, NULL, 0.9, 'electronic', 'other', '[W]'),
  ('stereo',                  'stereo',                              70,   150,  400,  NULL, 3.2,  0.9, 'electronic', 'other', '[D], [B], [S]'),
  ('component-system',        'component sound system',              500,  500,  500,  NULL, 3.2,  0.9, 'electronic', 'other', '[B], [S]'),
  ('radio',                   'radio',                               15,   70,   70,   NULL, 2.2,  0.9, 'electronic', 'other', '[B], [W], [S]'),
  ('clock-radio',             'clock radio',                         10,   10,   30,   24,   1.7,  0.9, 'electronic', 'other', '[F], [D], [S]'),
  ('clock',                   'clock',                               2.5,  5,    5,    24,   NULL, 0.9, 'electronic', 'other', '[C], [H]'),
  ('phone-charger',           'telephone charger',                   10,   10,   10,   4,    NULL, 0.9, 'electronic', 'other', '[F]'),
  ('lamp-60',                 'lamp, 60 W incandescent',             60,   60,   60,   8,    NULL, 1,   'resistive', 'lighting', '[F], [H]'),
  ('bug-zapper',              'bug zapper',                          100,  100,  100,  24,   NULL, 0.9, 'electronic', 'lighting', '[F]'),
  ('aquarium',                'aquarium',                            50,   150,  1210, NULL, NULL, 1,   'resistive', 'other', '[D], [B]'),
  ('treadmill',               'treadmill',                           1500, 1500, 1500, NULL, NULL, 0.8, 'motor', 'motor', '[W]'),
  ('vehicle-charger-16',      'vehicle charger, 16 A, 240 V',        3840, 3840, 3840, NULL, NULL, 1,   'electronic', 'vehicle', '[V]'),
  ('vehicle-charger-32',      'vehicle charger, 32 A, 240 V',        7680, 7680, 7680, NULL, NULL, 1,   'electronic', 'vehicle', '[V]')
);

INSERT INTO typical_row SELECT 'United Kingdom', * FROM (VALUES
  ('electric-shower',   'electric shower',            10000, 10000, 10000, NULL, NULL, 1, 'resistive', 'water-heating', '[K]'),
  -- ahead of the immersion heater: who says `heater` and no more plugs one in
  ('fan-heater',        'fan heater',                 1000, 2000, 2400, NULL, NULL, 1,   'resistive', 'space-heating', '[U]'),
  ('immersion-heater',  'immersion heater',           3000, 3000, 3000, NULL, NULL, 1,   'resistive', 'water-heating', '[K]'),
  ('kettle',            'kettle',                     3000, 3000, 3000, NULL, NULL, 1,   'resistive', 'cooking', '[K], [A]'),
  ('tumble-dryer',      'tumble dryer',               2500, 3000, 3000, NULL, NULL, 1,   'resistive', 'dryer', '[K], [A]'),
  ('electric-fire',     'electric fire',              2000, 2500, 2500, NULL, NULL, 1,   'resistive', 'space-heating', '[K], [A]'),
  ('oven',              'oven',                       2000, 2000, 2000, NULL, NULL, 1,   'resistive', 'cooking', '[K]'),
  ('oil-radiator',      'oil-filled radiator',        2000, 2000, 3000, NULL, NULL, 1,   'resistive', 'space-heating', '[K], [A]'),
  ('hair-dryer',        'hair dryer',                 2000, 2000, 2200, NULL, NULL, 1,   'resistive', 'other', '[K], [A]'),
  ('hob-ring',          'grill or hob ring',          1500, 1500, 1500, NULL, NULL, 1,   'resistive', 'cooking', '[K]'),
  ('dishwasher',        'dishwasher',                 1400, 1400, 2200, NULL, NULL, 1,   'resistive', 'cooking', '[K], [A]'),
  ('washing-machine',   'washing machine',            1400, 1400, 2200, NULL, NULL, 1,   'resistive', 'laundry', '[K], [A]'),
  ('iron',              'iron',                       1400, 1400, 2800, NULL, NULL, 1,   'resistive', 'laundry', '[K], [A]'),
  ('air-fryer',         'air fryer',                  1400, 1400, 1400, NULL, NULL, 1,   'resistive', 'cooking', '[K]'),
  ('mower',             'electric mower',             1300, 1300, 1300, NULL, NULL, 0.8, 'motor', 'motor', '[K]'),
  ('vacuum-cleaner',    'vacuum cleaner',             1200, 1200, 2000, NULL, NULL, 0.8, 'motor', 'motor', '[K], [A]'),
  ('toaster',           'toaster',                    1100, 1100, 2000, NULL, NULL, 1,   'resistive', 'cooking', '[K], [A]'),
  ('microwave',         'microwave oven',             800,  1000, 1000, NULL, 3.0,  0.9, 'electronic', 'cooking', '[K], [A], [S]'),
  ('dehumidifier',      'dehumidifier',               700,  700,  700,  NULL, NULL, 0.8, 'motor', 'motor', '[K]'),
  ('towel-rail',        'heated towel rail',          500,  500,  500,  NULL, NULL, 1,   'resistive', 'space-heating', '[K]'),
  ('television-plasma', 'television, plasma',         450,  450,  450,  NULL, NULL, 0.9, 'electronic', 'other', '[K]'),
  ('television',        'television, flat screen',    120,  200,  200,  NULL, NULL, 0.9, 'electronic', 'other', '[K], [A]'),
  ('fridge-freezer',    'fridge-freezer',             400,  400,  400,  NULL, NULL, 0.8, 'motor', 'refrigeration', '[K]'),
  ('fridge',            'fridge',                     100,  100,  100,  NULL, NULL, 0.8, 'motor', 'refrigeration', '[K]'),
  ('freezer',           'freezer',                    150,  150,  150,  NULL, NULL, 0.8, 'motor', 'refrigeration', '[K]'),
  ('electric-blanket',  'heated blanket',             150,  150,  150,  NULL, NULL, 1,   'resistive', 'space-heating', '[K]'),
  ('desktop-computer',  'desktop computer, monitor',  150,  150,  600,  NULL, 2.0,  0.9, 'electronic', 'other', '[K], [A], [S]'),
  ('game-console',      'game console',               150,  150,  575,  NULL, NULL, 0.9, 'electronic', 'other', '[K], [A]'),
  ('slow-cooker',       'slow cooker',                75,   75,   75,   NULL, NULL, 1,   'resistive', 'cooking', '[K]'),
  ('laptop',            'laptop computer',            65,   65,   65,   NULL, NULL, 0.9, 'electronic', 'other', '[K]'),
  ('tv-box',            'television box',             30,   40,   40,   NULL, NULL, 0.9, 'electronic', 'other', '[K], [A]'),
  ('dvd-player',        'disc player',                28,   30,   30,   NULL, 4.5,  0.9, 'electronic', 'other', '[K], [A], [S]'),
  ('tablet',            'tablet computer',            10,   10,   10,   NULL, NULL, 0.9, 'electronic', 'other', '[K]'),
  ('lamp-led',          'LED lamp',                   9,    9,    9,    NULL, NULL, 0.9, 'electronic', 'lighting', '[K]'),
  ('router',            'internet router',            7,    7,    7,    24,   NULL, 0.9, 'electronic', 'other', '[K]'),
  ('extractor-fan',     'extractor fan',              5,    5,    5,    NULL, NULL, 0.8, 'motor', 'motor', '[K]'),
  ('printer',           'printer',                    50,   50,   50,   NULL, NULL, 0.9, 'electronic', 'other', '[A]'),
  ('radio',             'radio',                      40,   40,   40,   NULL, 2.2,  0.9, 'electronic', 'other', '[A], [S]'),
  ('phone-charger',     'telephone charger',          30,   30,   30,   NULL, NULL, 0.9, 'electronic', 'other', '[A]'),
  ('vehicle-charger-16', 'vehicle charger, 16 A',     3680, 3680, 3680, NULL, NULL, 1,   'electronic', 'vehicle', '[V]'),
  ('vehicle-charger-32', 'vehicle charger, 32 A',     7360, 7360, 7360, NULL, NULL, 1,   'electronic', 'vehicle', '[V]'),
  ('ceiling-fan',       'ceiling fan',                65,   65,   65,   NULL, NULL, 0.8, 'motor', 'motor', '[U]'),
  ('desk-fan',          'desk fan',                   40,   40,   40,   NULL, NULL, 0.8, 'motor', 'motor', '[U]'),
  ('air-conditioner-split', 'split air conditioner',  672,  1393, 3500, NULL, NULL, 0.8, 'motor', 'air-conditioning', '[U]')
);

-- 100 V: watt is ampere times 100 where the source gives amperes.
INSERT INTO typical_row SELECT 'Japan', * FROM (VALUES
  ('japan-air-conditioner', 'air conditioner, 100 V',    580,  1000, 1300, NULL, NULL, 0.8, 'motor', 'air-conditioning', '[J], [T]'),
  ('japan-television',      'television, 100 V',         130,  150,  210,  NULL, NULL, 0.9, 'electronic', 'other', '[J], [T], [M]'),
  ('japan-fridge',          'fridge, 415 L, 100 V',      150,  150,  250,  NULL, NULL, 0.8, 'motor', 'refrigeration', '[J], [T]'),
  ('japan-vacuum-cleaner',  'vacuum cleaner, 100 V',     200,  1000, 1200, NULL, NULL, 0.8, 'motor', 'motor', '[J], [T], [M]'),
  ('japan-washing-machine', 'washing machine, 100 V',    420,  500,  500,  NULL, NULL, 0.8, 'motor', 'laundry', '[J], [M]'),
  ('japan-washer-dryer',    'washer-dryer, 100 V',       800,  800,  1000, NULL, NULL, 1,   'resistive', 'laundry', '[M]'),
  ('japan-microwave',       'microwave oven, 100 V',     1000, 1300, 1500, NULL, NULL, 0.9, 'electronic', 'cooking', '[J], [T], [M]'),
  ('japan-rice-cooker',     'rice cooker, 100 V',        300,  570,  1300, NULL, NULL, 1,   'resistive', 'cooking', '[J], [T], [M]'),
  ('japan-induction-cooker', 'table induction cooker, 100 V', 150, 1200, 1200, NULL, NULL, 0.9, 'electronic', 'cooking', '[J], [M]'),
  ('japan-hot-carpet',      'hot carpet, 100 V',         340,  680,  800,  NULL, NULL, 1,   'resistive', 'space-heating', '[J], [M]'),
  ('japan-iron',            'iron, 100 V',               1000, 1200, 1400, NULL, NULL, 1,   'resistive', 'laundry', '[J], [T], [M]'),
  ('japan-hair-dryer',      'hair dryer, 100 V',         500,  1000, 1200, NULL, NULL, 1,   'resistive', 'other', '[J], [T], [M]'),
  ('japan-kotatsu',         'kotatsu (heated table), 100 V', 100, 500, 600, NULL, NULL, 1,  'resistive', 'space-heating', '[J], [M]'),
  ('japan-dishwasher',      'dishwasher, 100 V',         1300, 1300, 1300, NULL, NULL, 1,   'resistive', 'cooking', '[M]'),
  ('japan-humidifier',      'humidifier, 100 V',         300,  300,  500,  NULL, NULL, 1,   'resistive', 'other', '[M]'),
  ('japan-desktop-computer', 'desktop computer, 100 V',  150,  150,  300,  NULL, NULL, 0.9, 'electronic', 'other', '[M]'),
  ('japan-laptop',          'laptop computer, 100 V',    50,   50,   150,  NULL, NULL, 0.9, 'electronic', 'other', '[M]'),
  ('japan-lamp-100',        'lamp, 100 W incandescent, 100 V', 100, 100, 100, NULL, NULL, 1, 'resistive', 'lighting', '[T]')
);

-- A British row serves iec too, a Japanese one iec alone. The marks become the sources' names.
WITH RECURSIVE spelled(n, region, id, marks, source) AS (
  SELECT 0, region, id, marks, replace(marks, ', ', '; ') FROM typical_row
  UNION ALL
  SELECT n + 1, region, id, marks, replace(source, mark, text)
  FROM spelled JOIN (SELECT mark, text, row_number() OVER (ORDER BY mark) AS place FROM typical_mark) ON place = n + 1
)
INSERT INTO ref_typical(id, rules, region, name, low_w, typical_w, high_w, hours_day, standby_w, power_factor, behaviour, category,
  edition, source)
SELECT r.id, s.rules, r.region, r.name, r.low_w, r.typical_w, r.high_w, r.hours_day, r.standby_w, r.power_factor, r.behaviour,
  r.category, 'as each source', p.source
FROM typical_row r
JOIN (VALUES ('United States', 'us'), ('United Kingdom', 'uk'), ('United Kingdom', 'iec'), ('Japan', 'iec')) m ON m.column1 = r.region
JOIN (SELECT 'us' AS rules UNION ALL SELECT 'uk' UNION ALL SELECT 'iec') s ON s.rules = m.column2
JOIN spelled p ON p.id = r.id AND p.region = r.region AND p.n = (SELECT count(*) FROM typical_mark)
ORDER BY s.rules DESC, r.rowid;

DROP TABLE typical_row;
DROP TABLE typical_mark;

-- Made for both legs of a split-phase supply (common practice).
UPDATE ref_typical SET rated_v = 240
WHERE rules = 'us' AND id IN ('clothes-dryer', 'oven', 'range', 'water-heater', 'air-conditioner-central', 'heat-pump-cooling',
  'heat-pump-heating', 'heat-pump-strips', 'vehicle-charger-16', 'vehicle-charger-32');
