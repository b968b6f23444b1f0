"""What is remembered of a service or a station that gave nothing: what came, and how long it wants to be left alone."""

from datetime import datetime, tzinfo

from soakbook.errors import WeatherError
from soakbook.store.weather_asked import Asked, Came

NOT_ASKED = ("offline", "waiting")
"""Kinds of trouble that no asking came to: nothing is noted of them."""

_CAME: dict[str, Came] = {"refused": "refused", "busy": "busy", "rubbish": "rubbish"}


def asked_of(trouble: WeatherError, what: str, now: datetime) -> Asked:
    """An asking that came to nothing, for the book."""
    came = _CAME.get(trouble.kind, "down")
    return Asked(trouble.service, what, now, came, trouble.say, trouble.not_before)


def waits(last: Asked | None, now: datetime, zone: tzinfo) -> WeatherError | None:
    """What to say of one that wanted patience when it was last asked, and wants it still."""
    if last is None or last.not_before is None or last.not_before <= now:
        return None
    at, until = (
        f"{moment.astimezone(zone):%H:%M on %d %B}" for moment in (last.at, last.not_before)
    )
    say = f"{last.say}, asked at {at}; not asked again before {until}"
    return WeatherError(last.service, "waiting", say, last.not_before)
