-- Cautions by the case that calls for them, the most urgent first.
CREATE TABLE ref_caution(
  caution  TEXT NOT NULL CHECK (length(caution) > 0),             -- the case
  rules    TEXT NOT NULL CHECK (length(rules) > 0),  -- rule set; *: every one without a row of its own
  text     TEXT NOT NULL CHECK (length(text) BETWEEN 20 AND 200), -- one line
  edition  TEXT NOT NULL CHECK (length(trim(edition)) > 0),
  source   TEXT NOT NULL CHECK (length(trim(source)) > 0),
  PRIMARY KEY (caution, rules)
) STRICT;

INSERT INTO ref_caution(caution, rules, text, edition, source)
SELECT column1, column2, column3, 'common practice', column4 FROM (VALUES
  ('danger', 'us', 'Smoke, flames, or somebody held by a live part: leave, touch nothing, call 911.', 'common practice'),
  ('danger', '*',  'Smoke, flames, or somebody held by a live part: leave, touch nothing, call the emergency number.', 'common practice'),
  ('warm', '*',
   'Hotter than the hand likes, buzzing, or a tingle (that is a shock): stop using it, switch it off, call a licensed electrician.',
   'common practice'),
  ('medical', '*',
   'Medical equipment: not on a branch that may open, nothing else beside it; tell the power company and keep a battery for it.',
   'common practice'),
  ('generator', '*',
   'A generator or battery never feeds an outlet: that kills line workers. A transfer switch is a licensed electrician''s work.',
   'common practice'),
  ('water', 'us', 'Near water: no heater on a cord, and never a way round a GFCI that trips: it trips for a reason.', 'common practice'),
  ('water', '*',  'Near water: no heater on a lead, and never a way round an RCD that trips: it trips for a reason.', 'common practice'),
  ('small-aluminium', '*',
   'Thin aluminium wire: its joints overheat, not the wire. A warm plate, flicker, a smell: stop, and leave the opening to an electrician.',
   'read in a consumer safety commission''s statement of 1974'),
  ('old-wiring', 'us',
   'Old wiring: no added heaters. A fuse is never replaced by a larger one; Type S fuses and their adapters keep the size.',
   'read in trade press'),
  ('old-wiring', '*', 'Old wiring: no added heaters. A fuse is never replaced by a larger one.', 'common practice'),
  ('shared-neutral', '*',
   'Branches that share a neutral: with one breaker off, its outlets'' box is not dead.', 'common practice'),
  ('page', '*', 'Never take a cover off to read a cable: the panel''s door is as far as anybody but an electrician goes.', 'common practice')
);
