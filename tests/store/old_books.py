"""Books as earlier versions have left them: made by their own steps, with rows in their tables."""

import os
import sqlite3
from pathlib import Path

from soakbook.store import migrations

ROWS = (
    "INSERT INTO garden (id, uid, name, latitude_deg, longitude_deg, elevation_m, timezone, round_hour, readiness,"
    " can_l, gallon, hours_by_default) VALUES (1, 'garden-1', 'The Corrody', 52.3, -0.4, 62, 'Europe/London',"
    " '07:00:00', 'fair', 10, 'uk', 2)",
    "INSERT INTO tap (uid, key, source, method) VALUES ('tap-1', 'A', 'mains', 'lance')",
    "INSERT INTO tap_flow (tap_uid, flow_l_per_min, tested_on) VALUES ('tap-1', 14, '2031-05-01')",
    "INSERT INTO bed (uid, key, name, area_m2, soil, place, organic_percent, stone_fraction, slope_fraction, tap,"
    " walk_m) VALUES ('bed-1', 'chapel', 'Chapel Wall', 18, 'sandy loam', 'open', 2.5, 0, 0, 'A', 20)",
    "INSERT INTO planting (uid, bed_uid, name, plant_class, count, origin, planted_on, ball_volume_l, ball_diameter_m,"
    " mix, canopy_start_m2, canopy_full_m2, weeks_to_full, leaf, watered_in) VALUES ('planting-1', 'bed-1', 'roses',"
    " 'shrub', 6, 'pot', '2031-03-20', 7.5, 0.25, 'peat-free', 0.1, 0.4, 12, 'deciduous', 1)",
    "INSERT INTO person (uid, name, weekdays, hours) VALUES ('person-1', 'Ann', '0123456', 2)",
    "INSERT INTO absence (person_uid, first, last) VALUES ('person-1', '2031-07-09', '2031-07-17')",
    "INSERT INTO restriction (uid, first, last, tool, source, text)"
    " VALUES ('rule-1', '2031-07-18', '2031-09-05', 'hose', 'mains', 'no hoses')",
    "INSERT INTO rate (uid, from_day, what, price, currency) VALUES ('rate-1', '2031-04-01', 'water', 4, 'GBP')",
    "INSERT INTO weather_mapping (name, mapping) VALUES ('the shed', '{}')",
    "INSERT INTO change (at, by_whom, what, uid, after)"
    " VALUES ('2031-03-20T08:00:00+00:00', 'Ann', 'bed', 'bed-1', '{\"uid\": \"bed-1\", \"key\": \"chapel\","
    ' "name": "Chapel Wall", "area_m2": 18, "soil": "sandy loam", "place": "open"}\')',
    "INSERT INTO entry (uid, kind, happened_at, written_at, bed_uid, typed, litres, soak_kind, method) VALUES"
    " ('soak-1', 'soak', '2031-05-14T07:40:00+01:00', '2031-05-14T06:41:00+00:00', 'bed-1', '20l', 20, 'soak',"
    " 'lance')",
    "INSERT INTO entry (uid, kind, happened_at, written_at, supersedes, bed_uid, typed, litres, soak_kind,"
    " method) VALUES ('soak-2', 'soak', '2031-05-14T07:40:00+01:00', '2031-05-14T06:45:00+00:00', 'soak-1', 'bed-1',"
    " '2cans', 20, 'soak', 'can')",
    "INSERT INTO entry (uid, kind, happened_at, written_at, typed, rain_mm, began_at, began_assumed) VALUES"
    " ('rain-1', 'rain', '2031-05-15T07:00:00+01:00', '2031-05-15T06:02:00+00:00', '15.6mm', 15.6,"
    " '2031-05-14T07:00:00+01:00', 0)",
    "INSERT INTO entry (uid, kind, happened_at, written_at, bed_uid, felt_ball, unsure) VALUES"
    " ('feel-1', 'feel', '2031-05-15', '2031-05-15T06:03:00+00:00', 'bed-1', 'moist', 0)",
    "INSERT INTO weather_arrival (id, source, kind, method, fetched_at)"
    " VALUES (1, 'the shed', 'measured', '', '2031-05-15T06:00:00+00:00')",
    "INSERT INTO weather_value (arrival_id, day, variable, value) VALUES (1, '2031-05-14', 'rain_mm', 15.6)",
    "INSERT INTO weather_value (arrival_id, day, variable, value) VALUES (1, '2031-05-14', 'et0_mm', 2.1)",
)

SINCE = {
    2: (
        "INSERT INTO entry (uid, kind, happened_at, written_at, bed_uid, typed, jar_mm, gauge_mm) VALUES"
        " ('catch-1', 'catch', '2031-05-15', '2031-05-15T06:04:00+00:00', 'bed-1', '6mm', 6, 14)",
    ),
    3: (
        "INSERT INTO weather_asked (service, what, at, came, say)"
        " VALUES ('one', 'forecast', '2031-05-15T06:00:00+00:00', 'new', '')",
        "INSERT INTO rain_hours (arrival_id, day, numbers) VALUES (1, '2031-05-14', '[15.6]')",
    ),
    4: (
        "INSERT INTO entry (uid, kind, happened_at, written_at, supersedes, corrected_by) VALUES ('void-1', 'void',"
        " '2031-05-15', '2031-05-15T06:05:00+00:00', 'feel-1', 'Tom')",
    ),
    6: (
        "UPDATE garden SET head = 'Ann'",
        "INSERT INTO reminder (uid, wanted, hour) VALUES ('round', 1, '06:30:00')",
        "INSERT INTO notice (uid, what, whom, about, for_day, zone, title, body, beds, due_at, late_from, not_after,"
        " state) VALUES ('notice-1', 'round', 'person-1', '', '2031-05-15', 'Europe/London', 'a bed', 'Chapel Wall',"
        " 'bed-1', '2031-05-15T05:30:00+00:00', '2031-05-15T11:00:00+00:00', '2031-05-15T19:00:00+00:00', 'due')",
        "INSERT INTO decided VALUES (1, '2031-05-15T05:30:00+00:00', '2031-05-15T05:31:00+00:00')",
    ),
    5: ("UPDATE bed SET rests_from = '2031-10-01' WHERE uid = 'bed-1'",),
}
"""What the tables that came with a version hold."""

OLD = range(1, migrations.NEWEST)
"""The versions there have been."""


def old_book(path: Path, version: int, *, name: str = "The Corrody") -> Path:
    """A book of a version at a path, closed, readable by its owner."""
    os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    migrations.migrate(connection, migrations.steps()[:version])
    more = [sql for since, rows in SINCE.items() if since <= version for sql in rows]
    for statement in (*ROWS, *more):
        connection.execute(statement)
    connection.execute("UPDATE garden SET name = ?", (name,))
    connection.close()
    return path
