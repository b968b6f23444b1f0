"""All that can be asked of the weather: bring a file, ask the services, show what there is, change whom to ask."""

from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from soakbook.quantities import saying
from soakbook.services.stations import bring, read_again
from soakbook.services.weather_report import promises_report, weather_report
from soakbook.services.weather_settings import set_weather

__all__ = ["AskedFor", "ask", "bring", "promises_report", "set_weather", "weather_report"]


class AskedFor(NamedTuple):
    """What came of asking for weather."""

    say: list[str]
    """A sentence or more for each service and each file."""
    nothing_came: bool
    """Whether something was wanted from somebody, and all of it failed."""


def ask(path: Path, *, now: datetime, by: str | None = None, offline: bool = False) -> AskedFor:
    """Ask the garden's service for what is due and read kept files again.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware.
    by : str, optional
        Who asks.
    offline : bool
        Nobody is asked: answers that are kept and files on this machine are read all the same.

    Raises
    ------
    BookError
        The book cannot be opened.
    InputError
        The environment names an address of a service that is to be asked, and it cannot be right.
    """
    from soakbook.services.weather_asking import refresh

    services = refresh(path, now=now, by=by, offline=offline)
    files = read_again(path, now=now, by=by, offline=offline)
    say = [*services.say, *files.say]
    if not_asked := [*services.not_asked, *files.not_asked]:
        say.append(f"Not asked while offline: {saying.names(not_asked)}.")
    failed = bool(services.troubles or files.failed)
    return AskedFor(say, failed and not (services.came or files.came))
