-- Limits and factors of each rule set: one number of a published rule, with its clause.
CREATE TABLE ref_rule(
  id       TEXT NOT NULL CHECK (length(id) > 0),                  -- what the program asks for
  rules    TEXT NOT NULL CHECK (rules IN ('us', 'iec', 'uk', '*')),  -- rule set; *: every one without a row of its own
  name     TEXT NOT NULL CHECK (length(name) > 0),                -- what a person reads
  value    REAL NOT NULL,                                         -- in `unit`
  unit     TEXT NOT NULL,                                         -- one of ref_unit
  quantity TEXT NOT NULL,                                         -- what kind of quantity it is, as in ref_unit
  severity TEXT CHECK (severity IN ('danger', 'warning', 'note')),  -- of passing it; NULL: no finding of its own
  clause   TEXT NOT NULL CHECK (length(clause) > 0),              -- section, or 'common practice'
  note     TEXT,                                                  -- what else a reader should know
  edition  TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source   TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (id, rules)
) STRICT;

-- National Electrical Code, branch circuits.
INSERT INTO ref_rule(id, rules, name, value, unit, quantity, severity, clause, note, edition, source)
SELECT column1, 'us', column2, column3, column4, column5, column6, column7, column8, column9,
       'NFPA 70 (National Electrical Code), ' || column10 FROM (VALUES
  ('continuous-factor', 'factor on a continuous load', 1.25, '1', 'factor', NULL, '210.20(A)',
   'an assembly listed for 100 % of its rating is not provided for', '2017', 'section text read in a manufacturer''s data bulletin'),
  ('continuous-hours', 'a load that runs this long is continuous', 3, 'h', 'time', NULL, 'Article 100',
   NULL, '2023', 'definition quoted in trade press'),
  ('largest-motor-factor', 'factor on the largest motor of a branch', 1.25, '1', 'factor', NULL, '430.24',
   'the others at 100 %', '2017', 'read in the 2018 International Residential Code, E3704'),
  ('plug-in-share', 'one plug-in appliance on a multi-outlet branch', 80, '%', 'share', 'warning', '210.23(A)(1)',
   'of the branch rating', '2017', 'read in the 2018 International Residential Code, chapter 37'),
  ('fixed-share', 'fixed equipment on a branch that also serves lights or plugs', 50, '%', 'share', 'warning', '210.23(A)(2)',
   'of the branch rating', '2017', 'read in the 2018 International Residential Code, chapter 37'),
  ('voltage-drop-branch', 'advisory drop along a branch', 3, '%', 'share', 'note', '210.19(A) Informational Note 4',
   'advisory, at the farthest outlet', '2017', 'quoted in trade press'),
  ('voltage-drop-total', 'advisory drop along feeder and branch', 5, '%', 'share', 'note', '215.2(A)(1) Informational Note 2',
   'advisory, at the farthest outlet', '2017', 'quoted in trade press'),
  ('operating-temperature', 'conductor temperature at which resistance is taken', 75, '°C', 'temperature', NULL, 'Chapter 9 Table 8',
   'the temperature of the table', '2017', 'from memory; the table recomputed from copper''s constants'),
  ('insulation-temperature', 'ampacity column up to the size limit', 60, '°C', 'temperature', 'danger', '110.14(C)(1)(a)',
   'terminals of 100 A and less', '2017', 'from memory'),
  ('insulation-temperature-large', 'ampacity column above the size limit', 75, '°C', 'temperature', 'danger', '110.14(C)(1)(b)',
   'terminals of more than 100 A', '2017', 'from memory'),
  ('insulation-temperature-limit', 'largest circuit that takes the lower ampacity column', 100, 'A', 'current', NULL, '110.14(C)(1)',
   NULL, '2017', 'from memory'),
  ('next-size-limit', 'the next standard size above the ampacity is accepted up to', 800, 'A', 'current', 'note', '240.4(B)',
   'not for a branch of several receptacles for plug-in loads; the sizes are those of 240.6(A)', '2017',
   'section read in a manufacturer''s data bulletin; the limit from memory'),
  ('service-minimum', 'smallest service of a one-family dwelling', 100, 'A', 'current', 'note', '230.79(C)',
   NULL, '2017', 'read in the 2018 International Residential Code, E3602'),
  ('service-conductor-share', 'conductor of a 100 to 400 A dwelling service, of its rating', 83, '%', 'share', 'note', '310.15(B)(7); from 2020: 310.12',
   NULL, '2017', 'read in trade forum and distributor''s table'),
  ('motor-breaker-factor', 'inverse-time breaker of a motor branch, of its full-load current', 2.5, '1', 'factor', NULL, '430.52, Table 430.52',
   'the next size up where it is not a standard one', '2017', 'read in a manufacturer''s answers')
);

-- National Electrical Code, dwelling demand.
INSERT INTO ref_rule(id, rules, name, value, unit, quantity, severity, clause, note, edition, source)
SELECT column1, 'us', column2, column3, column4, column5, NULL, column6, column7, column8,
       'NFPA 70 (National Electrical Code), ' || column9 FROM (VALUES
  ('dwelling-load', 'general lighting and receptacles by floor area', 3, 'VA/ft2', 'load density', '220.12',
   'outside dimensions, without open porches, garages and unfinished rooms', '2017', 'read in the 2018 International Residential Code, E3704'),
  ('dwelling-load-metric', 'general lighting and receptacles by floor area', 33, 'VA/m2', 'load density', '220.12',
   'the same rule in metric units', '2017', 'quoted in a trade forum'),
  ('small-appliance-load', 'each small-appliance branch circuit', 1500, 'VA', 'apparent power', '220.52(A)',
   NULL, '2005', 'read in the Pocket Guide to the NEC, example D1(a)'),
  ('small-appliance-count', 'smallest number of small-appliance branch circuits', 2, '1', 'count', '210.11(C)(1)',
   NULL, '2005', 'read in the Pocket Guide to the NEC, example D1(a)'),
  ('laundry-load', 'laundry branch circuit', 1500, 'VA', 'apparent power', '220.52(B)',
   NULL, '2005', 'read in the Pocket Guide to the NEC, example D1(a)'),
  ('laundry-count', 'smallest number of laundry branch circuits', 1, '1', 'count', '210.11(C)(2)',
   NULL, '2005', 'read in the Pocket Guide to the NEC, example D1(a)'),
  ('fixed-appliance-demand', 'several fixed appliances together', 75, '%', 'share', '220.53',
   'not cooking, dryers, heating or cooling', '2020', 'quoted in a licence course'),
  ('fixed-appliance-count', 'number of fixed appliances from which the demand factor holds', 4, '1', 'count', '220.53',
   NULL, '2020', 'quoted in a licence course'),
  ('fixed-appliance-minimum', 'smallest appliance that counts as one of them', 500, 'W', 'power', '220.53',
   'or 1/4 hp; from the 2020 edition on', '2020', 'quoted in a licence course'),
  ('dryer-minimum', 'smallest load of a household electric dryer', 5000, 'VA', 'apparent power', '220.54',
   'or the nameplate, whichever is larger', '2017', 'read in the 2018 International Residential Code, E3704'),
  ('vehicle-minimum', 'smallest load of vehicle supply equipment', 7200, 'VA', 'apparent power', '220.57',
   'or the nameplate, whichever is larger', '2023', 'from memory'),
  ('motor-demand-factor', 'largest motor in a feeder or service', 1.25, '1', 'factor', '220.50, 430.24',
   NULL, '2005', 'read in the Pocket Guide to the NEC, example D1(b)'),
  ('appliance-load', 'appliance on a branch of its own or between two legs', 100, '%', 'share', '220.14(A)',
   'by its nameplate', '2017', 'from memory'),
  ('connected-load', 'lighting and plug-in loads of a sub-panel, as connected', 100, '%', 'share', '220.40',
   'a feeder carries no less than its branches; floor area counts at the service', '2017', 'from memory'),
  ('space-heating-demand', 'fixed electric space heating', 100, '%', 'share', '220.51',
   NULL, '2017', 'from memory'),
  ('noncoincident-share', 'the larger of loads that are never on together', 100, '%', 'share', '220.60',
   'the smaller is left out; so for heating and cooling', '2017', 'read in trade press'),
  ('range-smallest', 'cooking appliances above this are in the range table', 1750, 'W', 'power', '220.55',
   NULL, '2017', 'from memory'),
  ('range-column-a', 'column A holds below this rating', 3500, 'W', 'power', 'Table 220.55',
   NULL, '2017', 'from memory'),
  ('range-column-b', 'column B holds up to this rating', 8750, 'W', 'power', 'Table 220.55 note 3',
   NULL, '2017', 'from memory'),
  ('range-column-c', 'column C holds up to this rating without increase', 12000, 'W', 'power', 'Table 220.55',
   NULL, '2017', 'from memory; printed cases agree'),
  ('range-increase', 'increase of column C for each kW above its rating', 5, '%', 'share', 'Table 220.55 note 1',
   'a major fraction of a kW counts as one', '2017', 'a printed 14 kW case gives 8.8 kW'),
  ('neutral-share', 'neutral load of ranges and dryers', 70, '%', 'share', '220.61(B)',
   NULL, '2005', 'read in the Pocket Guide to the NEC, example D1(a)'),
  ('neutral-loads', 'neutral load of what stands between a leg and the neutral', 100, '%', 'share', '220.61(A)',
   NULL, '2017', 'read in trade press'),
  ('optional-first', 'optional method: this much at 100 %', 10000, 'VA', 'apparent power', '220.82(B)',
   NULL, '2005', 'read in the Pocket Guide to the NEC, example D2(a)'),
  ('optional-rest', 'optional method: the rest', 40, '%', 'share', '220.82(B)',
   NULL, '2005', 'read in the Pocket Guide to the NEC, example D2(a)'),
  ('cooling-demand', 'air conditioning, heat pump', 100, '%', 'share', '220.82(C)(1), (2)',
   NULL, '2005', 'read in the Pocket Guide to the NEC, examples D2(b), D2(c)'),
  ('strip-heat-demand', 'supplementary heat of a heat pump', 65, '%', 'share', '220.82(C)(3)',
   NULL, '2005', 'read in the Pocket Guide to the NEC, example D2(c)'),
  ('heating-demand', 'electric space heating with few separately controlled units', 65, '%', 'share', '220.82(C)(4)',
   'fewer than four units', '2005', 'from memory'),
  ('heating-demand-many', 'electric space heating with many separately controlled units', 40, '%', 'share', '220.82(C)(5)',
   'four units or more', '2005', 'read in the Pocket Guide to the NEC, example D2(a)'),
  ('heating-many-count', 'number of separately controlled heaters from which the lower share holds', 4, '1', 'count', '220.82(C)(5)',
   NULL, '2005', 'from memory; five rooms in example D2(a)'),
  ('existing-first', 'existing dwelling: this much at 100 %', 8000, 'VA', 'apparent power', '220.83(A)',
   NULL, '2017', 'read in trade press'),
  ('existing-rest', 'existing dwelling: the rest', 40, '%', 'share', '220.83(A)',
   NULL, '2017', 'read in trade press'),
  ('existing-added-heat', 'existing dwelling: heating or cooling that is added', 100, '%', 'share', '220.83(B)',
   NULL, '2017', 'from memory'),
  ('measured-factor', 'factor on the maximum demand that was metered', 1.25, '1', 'factor', '220.87',
   'a year''s maximum demand, or 30 days of 15-minute averages; not with own generation', '2017', 'read on a contractor''s page'),
  ('measured-hours', 'shortest recording that stands in for a year of metering', 720, 'h', 'time', '220.87',
   '30 days of 15-minute averages, in the season with the largest load', '2017', 'read on a contractor''s page')
);

-- IEC 60364 and BS 7671.
INSERT INTO ref_rule(id, rules, name, value, unit, quantity, severity, clause, note, edition, source)
SELECT * FROM (VALUES
  ('continuous-factor', 'iec', 'factor on a continuous load', 1, '1', 'factor', NULL, '433.1',
   'design current against rating, no added factor', '2008', 'IEC 60364-4-43, condition IB <= In <= Iz; heading read, formula from memory'),
  ('continuous-factor', 'uk', 'factor on a continuous load', 1, '1', 'factor', NULL, '433.1.1',
   'design current against rating, no added factor', '2018', 'BS 7671; from memory'),
  ('largest-motor-factor', 'iec', 'factor on the largest motor of a branch', 1, '1', 'factor', NULL, '433.1',
   NULL, '2008', 'IEC 60364-4-43, condition IB <= In <= Iz; heading read, formula from memory'),
  ('largest-motor-factor', 'uk', 'factor on the largest motor of a branch', 1, '1', 'factor', NULL, '433.1.1',
   NULL, '2018', 'BS 7671; from memory'),
  ('continuous-hours', 'iec', 'a load that runs this long is called continuous', 3, 'h', 'time', NULL, 'common practice',
   'raises no limit here; it is used for long-running loads on plugs only', 'common practice', 'common practice, after the American definition'),
  ('continuous-hours', 'uk', 'a load that runs this long is called continuous', 3, 'h', 'time', NULL, 'common practice',
   'raises no limit here; it is used for long-running loads on plugs only', 'common practice', 'common practice, after the American definition'),
  ('voltage-drop-lighting', 'iec', 'advisory drop, lighting', 3, '%', 'share', 'note', 'Annex G, Table G.52.1',
   'from the origin of the installation', '2009', 'IEC 60364-5-52; page of the standard read'),
  ('voltage-drop-other', 'iec', 'advisory drop, other uses', 5, '%', 'share', 'note', 'Annex G, Table G.52.1',
   'from the origin of the installation', '2009', 'IEC 60364-5-52; page of the standard read'),
  ('voltage-drop-lighting', 'uk', 'advisory drop, lighting', 3, '%', 'share', 'note', 'Appendix 4, section 6.4',
   'from the origin of the installation', '2008', 'BS 7671; limits read in Linsley, Basic Electrical Installation Work; clause from memory'),
  ('voltage-drop-other', 'uk', 'advisory drop, other uses', 5, '%', 'share', 'note', 'Appendix 4, section 6.4',
   'from the origin of the installation', '2008', 'BS 7671; limits read in Linsley, Basic Electrical Installation Work; clause from memory'),
  ('operating-temperature', 'iec', 'conductor temperature at which resistance is taken', 70, '°C', 'temperature', NULL, 'Table 52.1',
   'the limit of PVC insulation', '2009', 'IEC 60364-5-52; from memory'),
  ('operating-temperature', 'uk', 'conductor temperature at which resistance is taken', 70, '°C', 'temperature', NULL, 'Table 52.1',
   'the limit of thermoplastic insulation; the voltage-drop tables agree with it', '2018', 'BS 7671; from memory'),
  ('insulation-temperature', 'iec', 'insulation the ampacity is taken for', 70, '°C', 'temperature', 'danger', 'Table 52.1',
   'PVC', '2009', 'IEC 60364-5-52; from memory'),
  ('insulation-temperature', 'uk', 'insulation the ampacity is taken for', 70, '°C', 'temperature', 'danger', 'Table 52.1',
   'thermoplastic', '2018', 'BS 7671; from memory'),
  ('ring-device', 'uk', 'largest device of a ring final circuit', 32, 'A', 'current', 'danger', '433.1.204',
   'accessories to BS 1363', '2018', 'BS 7671; from memory, 30/32 A read in Scaddan, Electrical Installation Work, 5th edition'),
  ('ring-ampacity', 'uk', 'smallest ampacity of the cable of a ring final circuit', 20, 'A', 'current', 'danger', '433.1.204',
   'a wholesaler''s guide gives the older 0.67 of the rating', '2018', 'BS 7671; from memory')
);

-- Customs that no code sets, and how they were chosen.
INSERT INTO ref_rule(id, rules, name, value, unit, quantity, severity, clause, note, edition, source)
SELECT column1, column2, column3, column4, column5, column6, column7, 'common practice', column8, 'common practice', column9 FROM (VALUES
  ('near-share', '*', 'a branch is called near above this share of its breaker', 80, '%', 'share', NULL,
   'everything on', 'common practice: the inverse of the 125 % for continuous loads'),
  ('leg-imbalance', '*', 'legs out of balance by more than this share of the larger', 20, '%', 'share', 'note',
   NULL, 'common practice'),
  ('voltage-danger-over', '*', 'voltage over rated voltage, from here on', 1.10, '1', 'factor', 'danger',
   'a resistive load draws 21 % more power', 'common practice: the upper end of the supply band of IEC 60038'),
  ('voltage-warning-over', '*', 'voltage over rated voltage, above', 1.06, '1', 'factor', 'warning',
   NULL, 'common practice: the upper end of ANSI C84.1 range B'),
  ('voltage-warning-under', '*', 'voltage over rated voltage, below', 0.90, '1', 'factor', 'warning',
   NULL, 'common practice: the lower end of the supply band of IEC 60038'),
  ('starting-power-factor', '*', 'power factor of a motor while it starts', 0.3, '1', 'factor', NULL,
   'lagging', 'common practice'),
  ('motor-power-factor', '*', 'power factor of a motor where none is given', 0.8, '1', 'factor', NULL,
   'lagging', 'common practice'),
  ('motor-start-factor', '*', 'starting over running current where none is given', 6, '1', 'factor', NULL,
   'up to ten is met with', 'common practice; ten is printed in Kuphaldt, Lessons in Electric Circuits'),
  ('long-running-hours', '*', 'a plug-in load that runs this long at a stretch is long-running', 3, 'h', 'time', 'warning',
   NULL, 'common practice'),
  ('long-running-share', '*', 'long-running load on a plug-in outlet, of the outlet''s rating', 80, '%', 'share', 'warning',
   'iec and uk: outlets above the household plugs only', 'common practice: 12 A on a 15 A receptacle'),
  ('long-running-current', 'iec', 'long-running load on a household plug', 10, 'A', 'current', 'warning',
   'advice differs: 8 A to 16 A', 'common practice: insurers and dealers on charging from a household outlet'),
  ('long-running-current', 'uk', 'long-running load on a household plug', 10, 'A', 'current', 'warning',
   'unless the outlet is marked for it', 'common practice: advice on charging from a 13 A outlet'),
  ('instantaneous-water-heater', 'iec', 'a water heater of this power or more is taken for instantaneous', 6000, 'W', 'power', NULL,
   'for the diversity allowances; a storage heater draws about 3 kW', 'common practice'),
  ('instantaneous-water-heater', 'uk', 'a water heater of this power or more is taken for instantaneous', 6000, 'W', 'power', NULL,
   'for the diversity allowances; an immersion heater draws 3 kW', 'common practice'),
  ('long-running-plug-limit', 'iec', 'largest household plug that this advice is about', 16, 'A', 'current', NULL,
   NULL, 'common practice'),
  ('long-running-plug-limit', 'uk', 'largest household plug that this advice is about', 13, 'A', 'current', NULL,
   NULL, 'common practice')
);

-- What the supply may do: bands about the nominal voltage.
INSERT INTO ref_rule(id, rules, name, value, unit, quantity, severity, clause, note, edition, source)
SELECT column1, column2, column3, column4, '%', 'share', NULL, column5, column6, column7, column8 FROM (VALUES
  ('supply-over', 'us', 'supply above nominal, at most', 5, 'range A, service voltage', '126 V on 120 V', '2006',
   'ANSI C84.1; levels read in a utility''s note, their assignment from memory'),
  ('supply-under', 'us', 'supply below nominal, at most', 5, 'range A, service voltage', '114 V on 120 V', '2006',
   'ANSI C84.1; levels read in a utility''s note, their assignment from memory'),
  ('supply-over', 'iec', 'supply above nominal, at most', 10, '4.2.2', '10-minute means; 253 V on 230 V', '2010',
   'EN 50160; band read in a trade forum, the same in IEC 60038'),
  ('supply-under', 'iec', 'supply below nominal, at most', 10, '4.2.2', '10-minute means; 207 V on 230 V', '2010',
   'EN 50160; band read in a trade forum, the same in IEC 60038'),
  ('supply-over', 'uk', 'supply above nominal, at most', 10, 'regulation 27 (2002)', '253 V on 230 V', '1994',
   'Statutory Instrument 1994/3021, percentages read there; 2002 regulation from memory'),
  ('supply-under', 'uk', 'supply below nominal, at most', 6, 'regulation 27 (2002)', '216.2 V on 230 V', '1994',
   'Statutory Instrument 1994/3021, percentages read there; 2002 regulation from memory')
);
