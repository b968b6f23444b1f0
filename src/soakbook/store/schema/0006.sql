-- Reminders: how each kind is sent, the outbox, how far has been decided, and what a calendar was told.
--
-- The outbox says what was sent to whom; no round depends on it, so nothing of it counts as a change, but for the
-- settings. Addresses are never here.

-- Who is told what concerns the whole garden; a person's name, as a bed's keeper is.
ALTER TABLE garden ADD COLUMN head TEXT;

CREATE TABLE reminder (
    id          INTEGER PRIMARY KEY,
    uid         TEXT NOT NULL UNIQUE,           -- the kind: one row of each. A later version may know more kinds
    wanted      INTEGER NOT NULL CHECK (wanted IN (0, 1)),
    hour        TEXT CHECK (time(hour) IS NOT NULL OR hour IS NULL),
    whom        TEXT CHECK (whom IN ('keeper', 'next', 'head', 'all', 'named')),
    named       TEXT NOT NULL DEFAULT '',       -- uids of people, parted by blanks
    channel     TEXT CHECK (channel IN ('mail', 'push')),
    quiet_from  TEXT CHECK (time(quiet_from) IS NOT NULL OR quiet_from IS NULL),
    quiet_until TEXT CHECK (time(quiet_until) IS NOT NULL OR quiet_until IS NULL),
    CONSTRAINT "those named are named" CHECK ((whom IS 'named') = (named <> '')),
    CONSTRAINT "quiet begins and ends" CHECK ((quiet_from IS NULL) = (quiet_until IS NULL))
) STRICT;

CREATE TRIGGER reminder_keeps_uid BEFORE UPDATE OF uid ON reminder WHEN NEW.uid <> OLD.uid
BEGIN SELECT RAISE(ABORT, 'a uid is permanent'); END;
CREATE TRIGGER reminder_added AFTER INSERT ON reminder
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER reminder_changed AFTER UPDATE ON reminder
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;
CREATE TRIGGER reminder_removed AFTER DELETE ON reminder
BEGIN UPDATE meta SET changes = changes + 1, mark = lower(hex(randomblob(8))); END;

-- The outbox. A reminder is known by what, whom, about and for which day: however often it is decided, it is here once.
CREATE TABLE notice (
    id            INTEGER PRIMARY KEY,
    uid           TEXT NOT NULL UNIQUE,         -- reckoned from the garden's uid and the four below
    what          TEXT NOT NULL,                -- the kind
    whom          TEXT NOT NULL,                -- uid of a person; '' where nobody is entered
    about         TEXT NOT NULL,
    for_day       TEXT NOT NULL CHECK (date(for_day, '+0 days') IS for_day),
    zone          TEXT NOT NULL,
    title         TEXT NOT NULL CHECK (length(title) BETWEEN 1 AND 60),
    body          TEXT NOT NULL CHECK (length(body) BETWEEN 1 AND 300),
    beds          TEXT NOT NULL,                -- uids, parted by blanks
    due_at        TEXT NOT NULL CHECK (datetime(due_at) IS NOT NULL),       -- UTC, as all moments here
    late_from     TEXT NOT NULL CHECK (datetime(late_from) IS NOT NULL),
    not_after     TEXT NOT NULL CHECK (datetime(not_after) IS NOT NULL),
    state         TEXT NOT NULL CHECK (state IN ('due', 'sent', 'lapsed', 'withdrawn', 'given_up')),
    channel       TEXT CHECK (channel IN ('mail', 'push')),
    tries         INTEGER NOT NULL DEFAULT 0 CHECK (tries >= 0),
    answer        TEXT NOT NULL DEFAULT '',     -- the channel's last
    settled_at    TEXT CHECK (datetime(settled_at) IS NOT NULL OR settled_at IS NULL),
    claimed_by    TEXT,                         -- who is sending it just now, and until when that is believed
    claimed_until TEXT CHECK (datetime(claimed_until) IS NOT NULL OR claimed_until IS NULL),
    not_before    TEXT CHECK (datetime(not_before) IS NOT NULL OR not_before IS NULL),
    UNIQUE (what, whom, about, for_day),
    CONSTRAINT "what is due is not settled" CHECK ((state = 'due') = (settled_at IS NULL))
) STRICT;
CREATE INDEX notice_due ON notice (due_at) WHERE state = 'due';
CREATE INDEX notice_for ON notice (for_day);

-- Up to when everything has been decided, and the latest moment that any clock has shown.
CREATE TABLE decided (
    one          INTEGER PRIMARY KEY CHECK (one = 1),
    up_to        TEXT NOT NULL CHECK (datetime(up_to) IS NOT NULL),         -- UTC
    greatest_now TEXT NOT NULL CHECK (datetime(greatest_now) IS NOT NULL)   -- UTC
) STRICT;

-- What a calendar was told of an event, so that a change is told as a change.
CREATE TABLE calendar_event (
    id         INTEGER PRIMARY KEY,
    uid        TEXT NOT NULL UNIQUE,
    sequence   INTEGER NOT NULL CHECK (sequence >= 0),
    said       TEXT NOT NULL CHECK (said GLOB '{*}'),                       -- JSON
    changed_at TEXT NOT NULL CHECK (datetime(changed_at) IS NOT NULL),      -- UTC
    cancelled  INTEGER NOT NULL CHECK (cancelled IN (0, 1))
) STRICT;

-- What the reminders' own clock met with: a job that broke, a clock set back, a time in which nothing ran.
CREATE TABLE incident (
    id  INTEGER PRIMARY KEY,
    at  TEXT NOT NULL CHECK (datetime(at) IS NOT NULL),                     -- UTC
    say TEXT NOT NULL CHECK (say <> '')
) STRICT;
