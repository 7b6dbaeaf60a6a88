-- How long a thing of that kind usually runs: for what its energy costs alone, never for what makes a load continuous.
ALTER TABLE appliance ADD COLUMN typical_hours_s REAL CHECK (typical_hours_s >= 0 AND typical_hours_s <= 86400); -- on-time on a day, second
