"""What an entry or a setting changed, said back: the record behind every answer.

`say` is for people: paragraphs, a line that begins with blanks being a command to copy. `changed` is
the same for machines, by `what`:

soak        entries, litres, minutes, cans, plantings [{planting, count, litres_each}], after;
            maybe_twice (uids of what another entered) only where it may be the same;
            doubtful {usual_litres, times, by_habit} only where it is ten times what is usual there and
            nobody was asked: by_habit where soaks tell what is usual, not the plants
rain        entries, rain_mm, began_at, began_assumed, beds [{bed, soil_mm, balls_caught_l}],
            let_off, held_back, still_on, now_on (keys of beds)
feel        entries, felt {ball, bed}, reckoned {ball, bed}, squared [{planting_uid, store, felt,
            expected_fraction, now_fraction, expected_state, now_state}], triage, after
wilt        entries, upright, felt {ball, bed} or null, reckoned {ball, bed}, triage, after
left        entries, reason, after
loss        entries, planting, lost, standing
mulch       entries, kind, depth_cm, capacity_mm, evaporation_fraction
look        entries, wet_to_cm, depth_cm, reckoned {ball, bed}, after
jam_jar     entries, rain_share [before, after], showers, after
ruler       entries, depth_cm [before, after], capacity_mm, evaporation_fraction, after
bed, plant, tap, person, restriction, rate
            fields {name: [before, after]}, guesses [{planting, what, value, answer}];
            a tap: tap, minutes [before, after] of the round where its flow is another, else null;
            a new planting: mind [what to mind of it, in sentences]
reminder    kind, fields {name: [before, after]}
part        entries, parted_from (key), parted_on, area_m2 [of the old bed, of the new], plantings [{planting, count}]
move        entries, planting, moved, standing (where they were), to (key), guesses
rest        fields {rests_from: [before, after]}
amend       those of the entry's kind, with supersedes, handles, fields {name: [before, after]},
            calls_changed (keys of beds)
undo        entries, supersedes, handles, taken_back, stand_again, calls_changed
weather     source, first, last, days, values_added, taken, left_out, findings
book        path, uid, garden, latitude_deg, longitude_deg (two decimals), elevation_m, timezone,
            counts {taps, beds, plantings, people}, guesses [{what, value, option}] (what nobody has said, and
            the option of `book new` that says it); of a copy: path, entries, weather_days, size_bytes
export      path, files [{name, rows}], without_names, addresses_left_out (names of weather files)
import      path, uid, new, dry_run, added {records, weather_files, changes, entries, weather, forecasts,
            promises, rain_hours, asked}, differing [{what, uid, name, holds (book, folder)}]

`entries` are uids. `triage` is {step, action, ask}, where the asking after limp leaves stands: the question
that comes next and what to do; null where none were seen in two days, or for a feel where they stand
again. `after` is {verdict, wanted_on, litres}, what the round says of the bed now; it and
`reckoned` are null where nothing can be reckoned.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from soakbook.reckoning.advice.report import as_json

TOLD_SCHEMA = "soakbook.told/1"

Report = dict[str, Any]
"""A report as `--json` gives it."""


@dataclass(frozen=True, slots=True)
class Told:
    """One answer; `bed` is the key of the bed it is about, None for what is about the garden."""

    schema: str
    what: str
    bed: str | None
    say: tuple[str, ...]
    changed: Mapping[str, Any]


def told(what: str, bed: str | None, say: Sequence[str], changed: Mapping[str, Any]) -> Report:
    """The answer as a plain report; empty paragraphs are left out."""
    report: Report = as_json(
        Told(TOLD_SCHEMA, what, bed, tuple(text for text in say if text), changed)
    )
    return report
