-- Entries corrected and taken back: a taking back supersedes an entry as a correction does, and is never in force.

INSERT INTO entry_kind VALUES ('void');

-- Who corrected, where the entry keeps who did it.
ALTER TABLE entry ADD COLUMN corrected_by TEXT CHECK (
    supersedes IS NOT NULL OR (corrected_by IS NULL AND kind <> 'void'));

-- What holds now. An entry that another names is out of force for good, also when that other one is corrected
-- in its turn: of a chain only the last stands, and where that is a taking back nothing does.
DROP VIEW entry_in_force;
CREATE VIEW entry_in_force AS
SELECT * FROM entry
WHERE kind <> 'void' AND NOT EXISTS (SELECT 1 FROM entry AS later WHERE later.supersedes = entry.uid);

CREATE INDEX entry_written ON entry (written_at);
