"""Settings of a garden that are about weather: whom to ask, and what heat is here."""

from datetime import datetime
from pathlib import Path

from soakbook.garden.records import Garden
from soakbook.quantities.measures import parse_temperature_c
from soakbook.quantities.names import check
from soakbook.services.desk import writing
from soakbook.services.pen import Pen
from soakbook.services.settings import put

WHOM = {
    "first": "Asked from now on: the first service, the second where it fails.",
    "second": "Asked from now on: the second service alone.",
    "none": "No service is asked from now on.",
}


def set_weather(
    path: Path,
    *,
    now: datetime,
    by: str | None = None,
    ask_whom: str | None = None,
    heat: str | None = None,
) -> list[str]:
    """Change whom to ask, or from how warm a day on is heat; what was changed, a sentence each.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware.
    by : str, optional
        Who changes it.
    ask_whom : str, optional
        first, second or none.
    heat : str, optional
        A temperature as typed.

    Raises
    ------
    InputError
        A temperature that cannot be right.
    """
    fields: dict[str, object] = {}
    say = []
    if ask_whom is not None:
        fields["weather_from"] = ask_whom
        say.append(WHOM[ask_whom])
    if heat is not None:
        heat_c = parse_temperature_c(heat, "heat")
        fields["heat_c"] = check("heat_c", heat_c, field="heat", typed=heat)
        say.append(f"Heat here: days from {round(heat_c, 1):g} °C on.")
    with writing(Pen(path, now, by)) as desk:
        put(desk, Garden, desk.garden, fields)
    return say
