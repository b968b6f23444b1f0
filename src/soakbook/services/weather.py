"""All that can be asked of the weather: bring a file, ask the services, show what there is, change whom to ask."""

from datetime import datetime
from pathlib import Path

from soakbook.services.stations import bring, read_again
from soakbook.services.weather_report import promises_report, weather_report
from soakbook.services.weather_settings import set_weather

__all__ = ["ask", "bring", "promises_report", "set_weather", "weather_report"]


def ask(path: Path, *, now: datetime, by: str | None = None) -> list[str]:
    """Ask the garden's service for what is due and read kept files again; what came of it, a sentence each.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware.
    by : str, optional
        Who asks.

    Raises
    ------
    BookError
        The book cannot be opened.
    """
    from soakbook.services.weather_asking import refresh

    return [*refresh(path, now=now, by=by).say, *read_again(path, now=now, by=by)]
