-- Why a method does not apply, and what else must be said: for people alone, known by its id.
CREATE TABLE ref_service_word(
  kind    TEXT NOT NULL CHECK (kind IN ('reason', 'note')),
  id      TEXT NOT NULL CHECK (length(id) > 0),
  rules   TEXT NOT NULL CHECK (length(rules) > 0),            -- rule set; *: every one without a row of its own
  words   TEXT NOT NULL CHECK (length(words) > 0),            -- {value} and {limit} stand for the two figures
  edition TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source  TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (kind, id, rules)
) STRICT;

INSERT INTO ref_service_word(kind, id, rules, words, edition, source) VALUES
  ('reason', 'no-floor-area', '*', 'floor_area is missing', 'common practice', 'common practice: the load by floor area cannot be counted'),
  ('reason', 'too-small', 'us', '220.82 is for a service of {limit} A or more; this one is {value} A', '2020',
   'NFPA 70 (National Electrical Code), conditions of 220.82(A) named in a trade forum'),
  ('reason', 'not-three-wire', 'us', 'the method is for a service of two legs and a neutral (three-wire), which this is not', '2017',
   'NFPA 70 (National Electrical Code), 220.83 quoted in a trade forum; 220.82(A) named there'),
  ('reason', 'no-measurement', '*', 'no metered maximum demand is given', 'common practice', 'common practice'),
  ('reason', 'generation', '*', 'the meter shows what is left of own generation or after peak shaving, not what the house draws', 'common practice', 'common practice'),
  ('reason', 'generation', 'us', '220.87 is not for a house with its own generation or peak shaving', '2017',
   'NFPA 70 (National Electrical Code), 220.87 read on a contractor''s page'),
  ('reason', 'readings-short', '*', '{value} full days of readings; a year, or {limit} full days, are asked for', 'common practice', 'common practice'),
  ('reason', 'readings-short', 'us', '{value} full days of readings; a year, or {limit} days of 15-minute averages, are asked for', '2017',
   'NFPA 70 (National Electrical Code), 220.87 read on a contractor''s page'),
  ('note', 'measured-figure', '*', 'The metered figure is taken for the maximum of a whole year.', 'common practice', 'common practice'),
  ('note', 'household-sum', 'iec', 'The household sum is high: most homes pass their fuse by it. The meter''s highest half hour tells what this one draws; what is added counts on top of it.',
   'common practice', 'common practice; a published example of two rings and a cooker passes 60 A by it'),
  ('note', 'household-sum', 'uk', 'The household sum is high: most homes pass their fuse by it. The meter''s highest half hour tells what this one draws; what is added counts on top of it.',
   'common practice', 'common practice; a published example of two rings and a cooker passes 60 A by it'),
  ('note', 'measured-practice', 'iec', 'Counting on from a metered maximum is common practice, no standard''s method; a mean of half an hour hides peaks of minutes.',
   'common practice', 'common practice'),
  ('note', 'measured-practice', 'uk', 'Counting on from a metered maximum is common practice, no standard''s method; a mean of half an hour hides peaks of minutes.',
   'common practice', 'common practice'),
  ('note', 'power-as-va', '*', 'The metered power is taken at power factor 1.', 'common practice', 'common practice'),
  ('note', 'existing-less', 'us', 'The method for an existing dwelling gives less than the one for a new dwelling for the same house: so the two are published, and electricians argue about it.',
   '2020', 'NFPA 70 (National Electrical Code), 220.82 and 220.83; criticised in a trade forum'),
  ('note', 'managed-readings', '*', 'The hours of charging are counted on the meter''s means: what is shorter is hidden.', 'common practice', 'common practice'),
  ('note', 'energy-unused', '*', 'The energy asked for was not worked out: no vehicle gives way to the house (--setpoint with an added one, or control).', 'common practice', 'common practice'),
  ('note', 'control-edition', 'us', 'The rule on a control system''s set-point, 220.70, is of the 2023 edition; that of {value} has none: ask the inspector whether it counts.', '2023',
   'NFPA 70 (National Electrical Code); read in a course on the changes of 2023'),
  ('note', 'edition', 'us', 'Counted by the rows of 2023: the 2026 edition renumbers article 220 as 120 and 750 as 130, and its figures are not confirmed here.',
   '2026', 'NFPA 70 (National Electrical Code); read on a licence school''s page');
