-- The book, version 1: one garden, everything that happened in it, and its weather.
--
-- Bounds of the trade stand in garden.records and are checked at the door. Here stand the constraints
-- without which the file would mean nothing: what must be said, what refers to what, closed lists of words
-- (a test holds them to the records' own), and what may never be changed.
--
-- Text of time:  a day            2031-05-14
--                a moment         2031-05-14T07:40:00+01:00   as it was said, with its offset: the instant and
--                                                             the clock on the wall stay both known
--                a moment in UTC  2031-05-14T06:40:00+00:00   sorts as text in the order of time
-- date(x, '+0 days') IS x: a day that there is; without the second word the 30th of February would do.
-- `id` is the order of writing; `uid` is permanent and travels in exports.

PRAGMA application_id = 1399808363;  -- "Soak"


-- How often the book has changed ---------------------------------------------------------------------------
-- `mark` is drawn anew with every change: two copies of one book that have gone different ways never bear the
-- same mark, though they may have changed equally often.

CREATE TABLE meta (
    one     INTEGER PRIMARY KEY CHECK (one = 1),
    changes INTEGER NOT NULL,
    mark    TEXT NOT NULL
) STRICT;

INSERT INTO meta VALUES (1, 0, lower(hex(randomblob(8))));


-- The lasting things ---------------------------------------------------------------------------------------

CREATE TABLE garden (
    id               INTEGER PRIMARY KEY CHECK (id = 1),  -- one book keeps one garden
    uid              TEXT NOT NULL UNIQUE,
    name             TEXT NOT NULL,
    latitude_deg     REAL NOT NULL CHECK (latitude_deg BETWEEN -90 AND 90),
    longitude_deg    REAL NOT NULL CHECK (longitude_deg BETWEEN -180 AND 180),
    elevation_m      REAL NOT NULL,
    timezone         TEXT NOT NULL,
    round_hour       TEXT NOT NULL CHECK (time(round_hour) IS NOT NULL),
    readiness        TEXT NOT NULL CHECK (readiness IN ('keen', 'fair', 'lean')),
    can_l            REAL NOT NULL CHECK (can_l > 0),
    gallon           TEXT NOT NULL CHECK (gallon IN ('uk', 'us')),
    hours_by_default REAL NOT NULL CHECK (hours_by_default > 0)
) STRICT;

CREATE TABLE tap (
    id      INTEGER PRIMARY KEY,
    uid     TEXT NOT NULL UNIQUE,
    key     TEXT NOT NULL UNIQUE,
    source  TEXT NOT NULL CHECK (source IN ('mains', 'butt', 'tank', 'barrow')),
    method  TEXT NOT NULL CHECK (method IN ('can', 'lance', 'spray', 'drip', 'broadcast')),
    tank_l  REAL CHECK (tank_l > 0),
    reach_m REAL CHECK (reach_m >= 0)
) STRICT;

CREATE TABLE tap_flow (
    id             INTEGER PRIMARY KEY,
    tap_uid        TEXT NOT NULL REFERENCES tap (uid) ON DELETE CASCADE,
    flow_l_per_min REAL NOT NULL CHECK (flow_l_per_min > 0),
    tested_on      TEXT NOT NULL CHECK (date(tested_on, '+0 days') IS tested_on)
) STRICT;
CREATE INDEX tap_flow_of ON tap_flow (tap_uid);

CREATE TABLE bed (
    id              INTEGER PRIMARY KEY,
    uid             TEXT NOT NULL UNIQUE,
    key             TEXT NOT NULL UNIQUE,
    name            TEXT NOT NULL,
    area_m2         REAL NOT NULL CHECK (area_m2 > 0),
    soil            TEXT NOT NULL,
    place           TEXT NOT NULL,
    sand_fraction   REAL CHECK (sand_fraction BETWEEN 0 AND 1),
    clay_fraction   REAL CHECK (clay_fraction BETWEEN 0 AND 1),
    organic_percent REAL NOT NULL CHECK (organic_percent >= 0),
    stone_fraction  REAL NOT NULL CHECK (stone_fraction BETWEEN 0 AND 1),
    slope_fraction  REAL NOT NULL CHECK (slope_fraction BETWEEN 0 AND 1),
    bed_depth_m     REAL CHECK (bed_depth_m > 0),
    intake_mm_h     REAL CHECK (intake_mm_h > 0),
    hole            TEXT CHECK (hole IN ('standing', 'gone')),
    hole_mm_h       REAL CHECK (hole_mm_h >= 0),
    exposure_factor REAL CHECK (exposure_factor > 0),
    rain_share      REAL CHECK (rain_share >= 0),
    tap             TEXT REFERENCES tap (key) ON UPDATE CASCADE,  -- a tap given a new letter keeps its beds
    walk_m          REAL NOT NULL CHECK (walk_m >= 0),
    keeper          TEXT,
    said            TEXT NOT NULL DEFAULT ''        -- fields that are no guess, parted by blanks
) STRICT;
CREATE INDEX bed_at_tap ON bed (tap);

CREATE TABLE planting (
    id              INTEGER PRIMARY KEY,
    uid             TEXT NOT NULL UNIQUE,
    bed_uid         TEXT NOT NULL REFERENCES bed (uid),
    name            TEXT NOT NULL,
    plant_class     TEXT NOT NULL,
    count           INTEGER NOT NULL CHECK (count > 0),
    origin          TEXT NOT NULL CHECK (origin IN ('pot', 'dug', 'bare')),
    planted_on      TEXT NOT NULL CHECK (date(planted_on, '+0 days') IS planted_on),
    ball_volume_l   REAL NOT NULL CHECK (ball_volume_l >= 0),
    ball_diameter_m REAL NOT NULL CHECK (ball_diameter_m >= 0),
    mix             TEXT NOT NULL,
    dug_from_soil   TEXT,
    canopy_start_m2 REAL NOT NULL CHECK (canopy_start_m2 > 0),
    canopy_full_m2  REAL NOT NULL CHECK (canopy_full_m2 > 0),
    weeks_to_full   REAL NOT NULL CHECK (weeks_to_full > 0),
    leaf            TEXT NOT NULL CHECK (leaf IN ('deciduous', 'evergreen', 'dies_down')),
    leaf_out_on     TEXT CHECK (date(leaf_out_on, '+0 days') IS leaf_out_on),
    leaf_fall_on    TEXT CHECK (date(leaf_fall_on, '+0 days') IS leaf_fall_on),
    cell_m2         REAL CHECK (cell_m2 > 0),
    usual_dose_l    REAL CHECK (usual_dose_l > 0),
    watered_in      INTEGER NOT NULL CHECK (watered_in IN (0, 1)),
    bowl_m2         REAL CHECK (bowl_m2 > 0),
    bowl_depth_m    REAL CHECK (bowl_depth_m > 0),
    ball_felt       TEXT CHECK (ball_felt IN ('dust', 'dry', 'moist', 'wet', 'sour')),
    bed_felt        TEXT CHECK (bed_felt IN ('dust', 'dry', 'moist', 'wet', 'sour')),
    replaces        TEXT REFERENCES planting (uid) CHECK (replaces <> uid),
    said            TEXT NOT NULL DEFAULT ''        -- as a bed's
) STRICT;
CREATE INDEX planting_in_bed ON planting (bed_uid);
CREATE INDEX planting_replaced ON planting (replaces) WHERE replaces IS NOT NULL;

CREATE TABLE person (
    id       INTEGER PRIMARY KEY,
    uid      TEXT NOT NULL UNIQUE,
    name     TEXT NOT NULL UNIQUE,
    weekdays TEXT NOT NULL CHECK (weekdays NOT GLOB '*[^0-6]*'),  -- Monday is 0: "0123456"
    hours    REAL NOT NULL CHECK (hours > 0),
    first    TEXT CHECK (date(first, '+0 days') IS first),
    last     TEXT CHECK (date(last, '+0 days') IS last)
) STRICT;

CREATE TABLE absence (
    id         INTEGER PRIMARY KEY,
    person_uid TEXT NOT NULL REFERENCES person (uid) ON DELETE CASCADE,
    first      TEXT NOT NULL CHECK (date(first, '+0 days') IS first),
    last       TEXT NOT NULL CHECK (date(last, '+0 days') IS last)
) STRICT;
CREATE INDEX absence_of ON absence (person_uid);

CREATE TABLE restriction (
    id     INTEGER PRIMARY KEY,
    uid    TEXT NOT NULL UNIQUE,
    first  TEXT NOT NULL CHECK (date(first, '+0 days') IS first),
    last   TEXT NOT NULL CHECK (date(last, '+0 days') IS last),
    tool   TEXT NOT NULL CHECK (tool IN ('hose', 'can', 'drip', 'spray', 'all')),
    source TEXT NOT NULL CHECK (source IN ('mains', 'butt', 'tank', 'barrow', 'all')),
    text   TEXT NOT NULL
) STRICT;

CREATE TABLE rate (
    id       INTEGER PRIMARY KEY,
    uid      TEXT NOT NULL UNIQUE,
    from_day TEXT NOT NULL CHECK (date(from_day, '+0 days') IS from_day),
    what     TEXT NOT NULL CHECK (what IN ('water', 'hour')),
    price    REAL NOT NULL CHECK (price >= 0),
    currency TEXT NOT NULL
) STRICT;

-- The remembered columns of a weather file.
CREATE TABLE weather_mapping (
    id      INTEGER PRIMARY KEY,
    name    TEXT NOT NULL UNIQUE,
    mapping TEXT NOT NULL           -- JSON
) STRICT;

-- What was changed in the tables above, by whom: a bed made larger in July was smaller in May.
CREATE TABLE change (
    id      INTEGER PRIMARY KEY,
    at      TEXT NOT NULL CHECK (datetime(at) IS NOT NULL),  -- UTC
    by_whom TEXT,
    what    TEXT NOT NULL,          -- the table
    uid     TEXT NOT NULL,          -- the record's, or a mapping's name
    before  TEXT,                   -- JSON; NULL: it was new
    after   TEXT NOT NULL           -- JSON
) STRICT;


-- What happened --------------------------------------------------------------------------------------------
-- One table for all kinds, a column belonging to one kind alone and empty in the others. Kinds are rows of a
-- table, and no constraint speaks of a kind that it does not name: a later version adds a kind by adding a row
-- and columns, without laying this table anew.

CREATE TABLE entry_kind (
    kind TEXT PRIMARY KEY NOT NULL
) STRICT, WITHOUT ROWID;

INSERT INTO entry_kind VALUES ('soak'), ('rain'), ('feel'), ('wilt'), ('left'), ('loss'), ('mulch');

CREATE TABLE entry (
    id             INTEGER PRIMARY KEY,
    uid            TEXT NOT NULL UNIQUE,
    kind           TEXT NOT NULL REFERENCES entry_kind (kind),
    happened_at    TEXT NOT NULL CHECK (                        -- a day, or a moment with its offset
        date(happened_at, '+0 days') IS happened_at
        OR (datetime(happened_at) IS NOT NULL AND happened_at GLOB '????-??-??T*[+-][0-9][0-9]:[0-9][0-9]')),
    written_at     TEXT NOT NULL CHECK (datetime(written_at) IS NOT NULL),  -- UTC
    by_whom        TEXT,
    note           TEXT,
    -- Several corrections of one entry would all be in force: a second one corrects the first.
    supersedes     TEXT UNIQUE REFERENCES entry (uid) CHECK (supersedes <> uid),
    bed_uid        TEXT REFERENCES bed (uid),
    planting_uid   TEXT REFERENCES planting (uid),

    typed          TEXT,                                        -- the amount, in the gardener's words
    litres         REAL CHECK (litres > 0),                     -- soak
    soak_kind      TEXT CHECK (soak_kind IN ('soak', 'rescue', 're_wet', 'water_in')),
    method         TEXT CHECK (method IN ('can', 'lance', 'spray', 'drip', 'broadcast')),
    rain_mm        REAL CHECK (rain_mm >= 0),                   -- rain
    began_at       TEXT CHECK (began_at IS NULL OR (
        datetime(began_at) IS NOT NULL AND began_at GLOB '????-??-??T*[+-][0-9][0-9]:[0-9][0-9]')),
    rain_kind      TEXT CHECK (rain_kind IN ('gentle', 'burst')),
    began_assumed  INTEGER CHECK (began_assumed IN (0, 1)),
    felt_ball      TEXT CHECK (felt_ball IN ('dust', 'dry', 'moist', 'wet', 'sour')),  -- feel
    felt_bed       TEXT CHECK (felt_bed IN ('dust', 'dry', 'moist', 'wet', 'sour')),
    unsure         INTEGER CHECK (unsure IN (0, 1)),
    reason         TEXT,                                        -- left
    lost_count     INTEGER CHECK (lost_count > 0),              -- loss
    cause          TEXT,
    mulch_kind     TEXT,                                        -- mulch
    depth_cm       REAL CHECK (depth_cm > 0),
    cover_fraction REAL CHECK (cover_fraction BETWEEN 0 AND 1),
    on_wet_soil    INTEGER CHECK (on_wet_soil IN (0, 1)),

    CONSTRAINT "only rain is without a bed" CHECK (
        CASE WHEN kind IN ('soak', 'feel', 'wilt', 'left', 'loss', 'mulch') THEN bed_uid IS NOT NULL
             WHEN kind = 'rain' THEN bed_uid IS NULL AND planting_uid IS NULL
             ELSE 1 END),
    CONSTRAINT "a soak says its litres, as typed, its kind and its method" CHECK (
        CASE kind WHEN 'soak' THEN litres IS NOT NULL AND typed IS NOT NULL AND soak_kind IS NOT NULL
                                   AND method IS NOT NULL
                  ELSE coalesce(litres, soak_kind, method) IS NULL END),
    CONSTRAINT "rain says its millimetres, as typed, and since when" CHECK (
        CASE kind WHEN 'rain' THEN rain_mm IS NOT NULL AND typed IS NOT NULL AND began_at IS NOT NULL
                                   AND began_assumed IS NOT NULL
                  ELSE coalesce(rain_mm, began_at, rain_kind, began_assumed) IS NULL END),
    CONSTRAINT "a feel says ball or bed or both" CHECK (
        CASE kind WHEN 'feel' THEN coalesce(felt_ball, felt_bed) IS NOT NULL AND unsure IS NOT NULL
                  ELSE coalesce(felt_ball, felt_bed, unsure) IS NULL END),
    CONSTRAINT "left says its reason" CHECK ((kind = 'left') = (reason IS NOT NULL)),
    CONSTRAINT "a loss says which planting, how many and why" CHECK (
        CASE kind WHEN 'loss' THEN planting_uid IS NOT NULL AND lost_count IS NOT NULL AND cause IS NOT NULL
                  ELSE coalesce(lost_count, cause) IS NULL END),
    CONSTRAINT "mulch says its kind, depth, as typed, and cover" CHECK (
        CASE kind WHEN 'mulch' THEN mulch_kind IS NOT NULL AND depth_cm IS NOT NULL AND typed IS NOT NULL
                                    AND cover_fraction IS NOT NULL
                  ELSE coalesce(mulch_kind, depth_cm, cover_fraction, on_wet_soil) IS NULL END)
) STRICT;
CREATE INDEX entry_of_bed ON entry (bed_uid);
CREATE INDEX entry_of_planting ON entry (planting_uid) WHERE planting_uid IS NOT NULL;

-- What holds now. An entry that another names is out of force for good, also when that other one is corrected
-- in its turn: of a chain only the last stands.
CREATE VIEW entry_in_force AS
SELECT * FROM entry
WHERE NOT EXISTS (SELECT 1 FROM entry AS later WHERE later.supersedes = entry.uid);


-- The weather ----------------------------------------------------------------------------------------------
-- Values that came together (one source, one kind, one way of making, one issue, one fetching) share a row of
-- weather_arrival. Hours and the members of a forecast stand beside the days and never mix with them.

CREATE TABLE weather_arrival (
    id         INTEGER PRIMARY KEY,
    source     TEXT NOT NULL,
    kind       TEXT NOT NULL CHECK (kind IN ('measured', 'analysed', 'forecast', 'filled')),
    method     TEXT NOT NULL,       -- how a filled or reckoned value was made; '' when read as it stands
    issued_at  TEXT CHECK (issued_at IS NULL OR datetime(issued_at) IS NOT NULL),  -- UTC
    fetched_at TEXT NOT NULL CHECK (datetime(fetched_at) IS NOT NULL),  -- UTC
    -- What sorts last is believed first: by kind, then what was said last, then what was fetched last.
    worth      TEXT NOT NULL GENERATED ALWAYS AS (
        CASE kind WHEN 'measured' THEN 4 WHEN 'analysed' THEN 3 WHEN 'forecast' THEN 2 ELSE 1 END
        || ' ' || coalesce(issued_at, fetched_at) || ' ' || fetched_at) STORED
) STRICT;
CREATE INDEX weather_arrival_from ON weather_arrival (source, kind);

CREATE TABLE weather_value (
    id         INTEGER PRIMARY KEY,
    arrival_id INTEGER NOT NULL REFERENCES weather_arrival (id),
    day        TEXT NOT NULL CHECK (date(day, '+0 days') IS day),                  -- the garden's own
    hour_utc   TEXT CHECK (hour_utc IS NULL OR datetime(hour_utc) IS NOT NULL),  -- NULL: the whole day
    member     INTEGER CHECK (member >= 0),                             -- NULL: not of an ensemble
    variable   TEXT NOT NULL CHECK (variable <> ''),
    value      REAL NOT NULL CHECK (value BETWEEN -1e9 AND 1e9)
) STRICT;
CREATE INDEX weather_value_day ON weather_value (day, variable) WHERE hour_utc IS NULL AND member IS NULL;
CREATE INDEX weather_value_hour ON weather_value (day, variable, hour_utc) WHERE hour_utc IS NOT NULL AND member IS NULL;

-- The best that is known of a day; of equal worth, what was written last. The columns beside max() are those of
-- the row that has it (SQLite's rule for a lone max). Four times as quick as a window when days have been
-- corrected often.
CREATE VIEW weather_best AS
SELECT v.day, v.variable, v.value, a.source, a.kind, a.fetched_at, a.issued_at, a.method,
       max(a.worth || ' ' || (1000000000000 + v.id)) AS worth
FROM weather_value AS v
JOIN weather_arrival AS a ON a.id = v.arrival_id
WHERE v.hour_utc IS NULL AND v.member IS NULL
GROUP BY v.day, v.variable;


-- What may never be changed --------------------------------------------------------------------------------

CREATE TRIGGER entry_never_changed BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never changed: a later one supersedes it'); END;
CREATE TRIGGER entry_never_removed BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never removed: a later one supersedes it'); END;

CREATE TRIGGER weather_value_never_changed BEFORE UPDATE ON weather_value
BEGIN SELECT RAISE(ABORT, 'weather is never changed: a later value is added'); END;
CREATE TRIGGER weather_value_never_removed BEFORE DELETE ON weather_value
BEGIN SELECT RAISE(ABORT, 'weather is never removed: a later value is added'); END;
CREATE TRIGGER weather_arrival_never_changed BEFORE UPDATE ON weather_arrival
BEGIN SELECT RAISE(ABORT, 'weather is never changed: a later value is added'); END;
CREATE TRIGGER weather_arrival_never_removed BEFORE DELETE ON weather_arrival
BEGIN SELECT RAISE(ABORT, 'weather is never removed: a later value is added'); END;

CREATE TRIGGER change_never_changed BEFORE UPDATE ON change
BEGIN SELECT RAISE(ABORT, 'the log of changes is never changed'); END;
CREATE TRIGGER change_never_removed BEFORE DELETE ON change
BEGIN SELECT RAISE(ABORT, 'the log of changes is never changed'); END;

CREATE TRIGGER garden_keeps_uid BEFORE UPDATE OF uid ON garden WHEN NEW.uid <> OLD.uid
BEGIN SELECT RAISE(ABORT, 'a uid is permanent'); END;
CREATE TRIGGER tap_keeps_uid BEFORE UPDATE OF uid ON tap WHEN NEW.uid <> OLD.uid
BEGIN SELECT RAISE(ABORT, 'a uid is permanent'); END;
CREATE TRIGGER bed_keeps_uid BEFORE UPDATE OF uid ON bed WHEN NEW.uid <> OLD.uid
BEGIN SELECT RAISE(ABORT, 'a uid is permanent'); END;
CREATE TRIGGER planting_keeps_uid BEFORE UPDATE OF uid ON planting WHEN NEW.uid <> OLD.uid
BEGIN SELECT RAISE(ABORT, 'a uid is permanent'); END;
CREATE TRIGGER person_keeps_uid BEFORE UPDATE OF uid ON person WHEN NEW.uid <> OLD.uid
BEGIN SELECT RAISE(ABORT, 'a uid is permanent'); END;
CREATE TRIGGER restriction_keeps_uid BEFORE UPDATE OF uid ON restriction WHEN NEW.uid <> OLD.uid
BEGIN SELECT RAISE(ABORT, 'a uid is permanent'); END;
CREATE TRIGGER rate_keeps_uid BEFORE UPDATE OF uid ON rate WHEN NEW.uid <> OLD.uid
BEGIN SELECT RAISE(ABORT, 'a uid is permanent'); END;


-- Counting changes: one trigger for each way in which a table can still change -----------------------------

CREATE TRIGGER garden_added AFTER INSERT ON garden
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER garden_changed AFTER UPDATE ON garden
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER garden_removed AFTER DELETE ON garden
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER tap_added AFTER INSERT ON tap
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER tap_changed AFTER UPDATE ON tap
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER tap_removed AFTER DELETE ON tap
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER tap_flow_added AFTER INSERT ON tap_flow
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER tap_flow_changed AFTER UPDATE ON tap_flow
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER tap_flow_removed AFTER DELETE ON tap_flow
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER bed_added AFTER INSERT ON bed
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER bed_changed AFTER UPDATE ON bed
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER bed_removed AFTER DELETE ON bed
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER planting_added AFTER INSERT ON planting
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER planting_changed AFTER UPDATE ON planting
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER planting_removed AFTER DELETE ON planting
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER person_added AFTER INSERT ON person
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER person_changed AFTER UPDATE ON person
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER person_removed AFTER DELETE ON person
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER absence_added AFTER INSERT ON absence
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER absence_changed AFTER UPDATE ON absence
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER absence_removed AFTER DELETE ON absence
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER restriction_added AFTER INSERT ON restriction
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER restriction_changed AFTER UPDATE ON restriction
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER restriction_removed AFTER DELETE ON restriction
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER rate_added AFTER INSERT ON rate
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER rate_changed AFTER UPDATE ON rate
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER rate_removed AFTER DELETE ON rate
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER weather_mapping_added AFTER INSERT ON weather_mapping
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER weather_mapping_changed AFTER UPDATE ON weather_mapping
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER weather_mapping_removed AFTER DELETE ON weather_mapping
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER change_added AFTER INSERT ON change
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER entry_added AFTER INSERT ON entry
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER weather_arrival_added AFTER INSERT ON weather_arrival
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER weather_value_added AFTER INSERT ON weather_value
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
