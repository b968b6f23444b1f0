-- Weather that comes by itself: forecasts with their futures, rain by the hour, and how each service answered.

-- Hours and members have tables of their own; the columns that were kept for them in weather_value were never written.
DROP VIEW weather_best;
DROP INDEX weather_value_day;
DROP INDEX weather_value_hour;
ALTER TABLE weather_value DROP COLUMN hour_utc;
ALTER TABLE weather_value DROP COLUMN member;
CREATE INDEX weather_value_day ON weather_value (day, variable);

-- The best that is known of a day; of equal worth, what was written last. The columns beside max() are those of
-- the row that has it (SQLite's rule for a lone max). Four times as quick as a window when days have been
-- corrected often.
CREATE VIEW weather_best AS
SELECT v.day, v.variable, v.value, a.source, a.kind, a.fetched_at, a.issued_at, a.method,
       max(a.worth || ' ' || (1000000000000 + v.id)) AS worth
FROM weather_value AS v
JOIN weather_arrival AS a ON a.id = v.arrival_id
GROUP BY v.day, v.variable;

-- What one issue of a forecast says of one day, as garden.weather.ForecastDay has it: one row where its members
-- alone would be fifty.
CREATE TABLE forecast_day (
    id         INTEGER PRIMARY KEY,
    arrival_id INTEGER NOT NULL REFERENCES weather_arrival (id),
    day        TEXT NOT NULL CHECK (date(day, '+0 days') IS day),  -- the garden's own
    said       TEXT NOT NULL CHECK (said GLOB '{*}')               -- JSON: field -> number or list of numbers
) STRICT;
CREATE INDEX forecast_day_of ON forecast_day (arrival_id);
CREATE INDEX forecast_day_on ON forecast_day (day);
CREATE INDEX weather_arrival_issued ON weather_arrival (issued_at) WHERE kind = 'forecast';

-- What the first issue of a service on a day said of useful rain one, two and three days ahead: by this it is judged.
CREATE TABLE promise (
    id         INTEGER PRIMARY KEY,
    arrival_id INTEGER NOT NULL REFERENCES weather_arrival (id),
    issued_on  TEXT NOT NULL CHECK (date(issued_on, '+0 days') IS issued_on),  -- the garden's own
    lead_days  INTEGER NOT NULL CHECK (lead_days > 0),
    share      REAL NOT NULL CHECK (share BETWEEN 0 AND 1),
    middle_mm  REAL NOT NULL CHECK (middle_mm >= 0)
) STRICT;
CREATE INDEX promise_of ON promise (arrival_id);
CREATE INDEX promise_on ON promise (issued_on);

-- How a day's rain fell, hour by hour from local midnight: the shape of its total, whosever that is.
CREATE TABLE rain_hours (
    id         INTEGER PRIMARY KEY,
    arrival_id INTEGER NOT NULL REFERENCES weather_arrival (id),
    day        TEXT NOT NULL CHECK (date(day, '+0 days') IS day),
    numbers    TEXT NOT NULL CHECK (numbers GLOB '[[]*]')          -- JSON: 23 to 25 of them, mm
) STRICT;
CREATE INDEX rain_hours_of ON rain_hours (arrival_id);
CREATE INDEX rain_hours_day ON rain_hours (day);

-- What came of asking: when, of whom, what for. No round depends on it, so it does not count as a change.
CREATE TABLE weather_asked (
    id         INTEGER PRIMARY KEY,
    service    TEXT NOT NULL,
    what       TEXT NOT NULL,
    at         TEXT NOT NULL CHECK (datetime(at) IS NOT NULL),     -- UTC
    came       TEXT NOT NULL CHECK (came IN ('new', 'same', 'refused', 'busy', 'down', 'rubbish')),
    say        TEXT NOT NULL,                                      -- '' when all was well
    not_before TEXT CHECK (not_before IS NULL OR datetime(not_before) IS NOT NULL)  -- UTC
) STRICT;
CREATE INDEX weather_asked_of ON weather_asked (service, what);

ALTER TABLE garden ADD COLUMN heat_c REAL NOT NULL DEFAULT 27 CHECK (heat_c BETWEEN 20 AND 40);
ALTER TABLE garden ADD COLUMN weather_from TEXT NOT NULL DEFAULT 'first'
    CHECK (weather_from IN ('first', 'second', 'none'));

-- Where a station's file is read again; NULL: it was read once.
ALTER TABLE weather_mapping ADD COLUMN location TEXT;

CREATE TRIGGER forecast_day_never_changed BEFORE UPDATE ON forecast_day
BEGIN SELECT RAISE(ABORT, 'weather is never changed: a later value is added'); END;
CREATE TRIGGER forecast_day_never_removed BEFORE DELETE ON forecast_day
BEGIN SELECT RAISE(ABORT, 'weather is never removed: a later value is added'); END;
CREATE TRIGGER promise_never_changed BEFORE UPDATE ON promise
BEGIN SELECT RAISE(ABORT, 'a promise is never changed'); END;
CREATE TRIGGER promise_never_removed BEFORE DELETE ON promise
BEGIN SELECT RAISE(ABORT, 'a promise is never removed'); END;
CREATE TRIGGER rain_hours_never_changed BEFORE UPDATE ON rain_hours
BEGIN SELECT RAISE(ABORT, 'weather is never changed: a later value is added'); END;
CREATE TRIGGER rain_hours_never_removed BEFORE DELETE ON rain_hours
BEGIN SELECT RAISE(ABORT, 'weather is never removed: a later value is added'); END;
CREATE TRIGGER weather_asked_never_changed BEFORE UPDATE ON weather_asked
BEGIN SELECT RAISE(ABORT, 'what came of asking is never changed'); END;
CREATE TRIGGER weather_asked_never_removed BEFORE DELETE ON weather_asked
BEGIN SELECT RAISE(ABORT, 'what came of asking is never removed'); END;

CREATE TRIGGER forecast_day_added AFTER INSERT ON forecast_day
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER promise_added AFTER INSERT ON promise
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER rain_hours_added AFTER INSERT ON rain_hours
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
