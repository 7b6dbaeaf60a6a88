-- What the electricity meter recorded. One row an interval; a repeated import finds its rows by their start.
-- No part of the house's own description: not in an exported house file, not in the journal.

CREATE TABLE meter_reading(
  -- Energy drawn from the network during one interval.
  start_s INTEGER PRIMARY KEY CHECK (start_s BETWEEN -64800 AND 7289740800), -- Unix time, UTC, second
  duration_s INTEGER NOT NULL CHECK (duration_s BETWEEN 1 AND 2764800), -- length of the interval, second
  energy_uwh INTEGER NOT NULL CHECK (energy_uwh BETWEEN 0 AND 1000000000000000), -- microwatt-hours
  utc_offset_s INTEGER NOT NULL CHECK (utc_offset_s BETWEEN -64800 AND 64800) -- local time less UTC at the start, second
) STRICT;
