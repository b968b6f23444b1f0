-- Beds that are parted or laid to rest, and plants that go from one bed to another.

-- A bed that was a part of another until a day; what was laid and caught there before that day is its own past too.
ALTER TABLE bed ADD COLUMN parted_from TEXT REFERENCES bed (uid) CHECK (parted_from <> uid);
ALTER TABLE bed ADD COLUMN parted_on TEXT
    CHECK (date(parted_on, '+0 days') IS parted_on)
    CONSTRAINT "a part of a bed says of which and since when" CHECK ((parted_on IS NULL) = (parted_from IS NULL));
-- Laid to rest: from this day on it is in no round.
ALTER TABLE bed ADD COLUMN rests_from TEXT CHECK (date(rests_from, '+0 days') IS rests_from);

-- The planting from which these plants came, dug up and planted anew, or, with a day, standing where they stood
-- and from that day on in this bed.
ALTER TABLE planting ADD COLUMN came_from TEXT REFERENCES planting (uid) CHECK (came_from <> uid);
ALTER TABLE planting ADD COLUMN parted_on TEXT
    CHECK (date(parted_on, '+0 days') IS parted_on)
    CONSTRAINT "plants that stand where they stood say in which planting" CHECK (
        parted_on IS NULL OR came_from IS NOT NULL);

CREATE INDEX bed_parted ON bed (parted_from) WHERE parted_from IS NOT NULL;
CREATE INDEX planting_came ON planting (came_from) WHERE came_from IS NOT NULL;
