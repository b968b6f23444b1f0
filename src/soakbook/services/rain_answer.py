"""What a gauge reading changed: what each bed and ball got, which beds are let off, held back, still on."""

from datetime import datetime

from soakbook.garden.entries import Rain
from soakbook.quantities.dates import short_day
from soakbook.quantities.saying import names
from soakbook.reckoning.advice.report import Call, Round
from soakbook.reckoning.simulation.watering import soak_step
from soakbook.services.catches import Catch, balls_of, catch_of
from soakbook.services.desk import Desk
from soakbook.services.outlook import A_DAY, NO_WEATHER, outlook_today
from soakbook.services.told import Report, told

LONGEST_IN_HOURS = 48
"""Of a window that is told in hours alone."""


def answer(before: Desk, after: Desk, reading: Rain) -> Report:
    """The answer to a reading, from the pages before and after."""
    was, now = (
        outlook_today(desk.pages, desk.now, reading.happened_at) for desk in (before, after)
    )
    sorted_out = _sorted_out(was.round, now.round)
    taken_up = soak_step(reading.happened_at, after.zone) + A_DAY
    got = catch_of(after, reading, min(now.round.morning, taken_up))
    names_of = {bed.key: bed.name for bed in after.pages.beds}
    lists = {
        "Let off": sorted_out["let_off"],
        "Held back": sorted_out["held_back"],
        f"Still on {now.morning}": sorted_out["still_on"],
        f"Now on {now.morning}": sorted_out["now_on"],
    }
    say = (
        f"{_window(after, reading)} {_beds_got(after, got)} {_balls_got(after, got)}",
        " ".join(
            f"{what}: {names([names_of[key] for key in keys])}."
            for what, keys in lists.items()
            if keys
        ),
        _doubts(before, after, reading),
    )
    changed = {
        "entries": [reading.uid],
        "rain_mm": reading.rain_mm,
        "began_at": reading.began_at,
        "began_assumed": reading.began_assumed,
        "beds": [
            {
                "bed": bed.key,
                "soil_mm": got.soil_mm[bed.uid],
                "balls_caught_l": list(balls_of(after, got, bed).values()),
            }
            for bed in after.pages.beds
            if bed.uid in got.soil_mm
        ],
        **sorted_out,
    }
    return told("rain", None, [" ".join(text.split()) for text in say], changed)


def _window(desk: Desk, reading: Rain) -> str:
    """The reading read back: `15.6 mm, gentle, in the 24 h to 06:30`."""
    read_at = _read_at(reading)
    hours = (read_at - reading.began_at).total_seconds() / 3600
    lasting = _lasting(hours)
    day = "" if read_at.date() == desk.today else f" {short_day(read_at.date())}"
    kind = f", {reading.kind}" if reading.kind else ""
    amount = "A trace" if reading.typed.strip().casefold() == "trace" else f"{reading.rain_mm:g} mm"
    return f"{amount}{kind}, in the {lasting} to {read_at:%H:%M}{day}."


def _lasting(hours: float) -> str:
    """`45 min`, `24 h`, `4 days 14 h`."""
    if hours < 2:
        return f"{hours * 60:.0f} min"
    days, rest = divmod(round(hours), 24)
    if round(hours) <= LONGEST_IN_HOURS:
        return f"{round(hours)} h"
    return f"{days} days {rest} h" if rest else f"{days} days"


def _doubts(before: Desk, after: Desk, reading: Rain) -> str:
    say = []
    if reading.began_assumed:
        say.append("No reading in the week before: 24 hours are taken. If it was longer, --from.")
    read_at = _read_at(reading)
    shared = [
        one
        for one in before.pages.entries
        if isinstance(one, Rain)
        and isinstance(one.happened_at, datetime)
        and one.happened_at > reading.began_at
        and one.began_at < read_at
    ]
    if shared:
        say.append("Where its hours are those of an earlier reading, this one counts.")
    if not after.pages.weather:
        say.append(NO_WEATHER)
    return " ".join(say)


def _read_at(reading: Rain) -> datetime:
    """When the gauge was read: a reading is entered with its moment, never with a bare day."""
    assert isinstance(reading.happened_at, datetime)
    return reading.happened_at


def _beds_got(desk: Desk, got: Catch) -> str:
    parts = [
        f"{bed.name} {got.soil_mm[bed.uid]:.1f}"
        for bed in desk.pages.beds
        if bed.uid in got.soil_mm
    ]
    return f"Beds got: {', '.join(parts)} mm (after share and mulch)." if parts else ""


def _balls_got(desk: Desk, got: Catch) -> str:
    caught = [litres for bed in desk.pages.beds for litres in balls_of(desk, got, bed).values()]
    if not caught:
        return ""
    low, high = f"{min(caught):.1f}", f"{max(caught):.1f}"
    span = high if low == high else f"{low} to {high}"
    return f"Balls caught {span.replace('0.0', '0')} L each."


def _sorted_out(was: Round, now: Round) -> dict[str, list[str]]:
    """Keys of beds by what the reading did to them."""
    then = {call.bed: _stands(call) for call in was.calls}
    stands = {call.bed: _stands(call) for call in now.calls}
    return {
        "let_off": [bed for bed, on in stands.items() if on == "off" and then.get(bed) == "on"],
        "held_back": [bed for bed, on in stands.items() if on == "held" != then.get(bed)],
        "still_on": [bed for bed, on in stands.items() if on == then.get(bed) == "on"],
        "now_on": [bed for bed, on in stands.items() if on == "on" != then.get(bed)],
    }


def _stands(call: Call) -> str:
    """Whether a bed is on the round, held back, or off it."""
    if call.verdict == "held_back":
        return "held"
    return "on" if call.verdict == "soak" else "off"
