-- Tests that teach a bed, and wilts that are asked after: jars under walls, rulers in the mulch, look-holes.

INSERT INTO entry_kind VALUES ('catch'), ('ruler'), ('look');

-- A jar beside the gauge: what it caught of so much in the open.
ALTER TABLE entry ADD COLUMN jar_mm REAL CHECK (jar_mm >= 0 AND kind = 'catch' OR jar_mm IS NULL);
ALTER TABLE entry ADD COLUMN gauge_mm REAL CHECK (gauge_mm > 0 AND kind = 'catch' OR gauge_mm IS NULL);

-- How deep a mulch lies: the mean of so many spots.
ALTER TABLE entry ADD COLUMN measured_cm REAL CHECK (measured_cm >= 0 AND kind = 'ruler' OR measured_cm IS NULL);
ALTER TABLE entry ADD COLUMN spots INTEGER CHECK (spots > 0 AND kind = 'ruler' OR spots IS NULL);

-- A hole dug beside the plants: how far down it is wet.
ALTER TABLE entry ADD COLUMN wet_to_cm REAL CHECK (wet_to_cm >= 0 AND kind = 'look' OR wet_to_cm IS NULL);

-- The other answer when a wilt is looked at again: they stand.
ALTER TABLE entry ADD COLUMN upright INTEGER NOT NULL DEFAULT 0 CHECK (upright IN (0, 1) AND (kind = 'wilt' OR upright = 0));
