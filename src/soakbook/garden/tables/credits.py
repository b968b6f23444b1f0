"""Lines that weather services ask for wherever their data are shown, by the name under which their weather is kept.

Both ask for a credit with a link and the licence: Open-Meteo's terms and MET Norway's terms of service, read in 2026.
"""

from collections.abc import Iterable, Mapping

CREDITS: Mapping[str, str] = {
    "Open-Meteo": "Weather data by Open-Meteo.com (https://open-meteo.com/), CC BY 4.0.",
    "MET Norway": "Data from MET Norway (https://www.met.no/en), NLOD 2.0 and CC BY 4.0.",
}


def credits_of(sources: Iterable[str]) -> tuple[str, ...]:
    """The lines that are due for weather from these sources."""
    named = set(sources)
    return tuple(line for name, line in CREDITS.items() if name in named)
