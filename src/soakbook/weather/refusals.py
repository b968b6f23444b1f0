"""What a service means by a status other than good: which kind of trouble, and how long to wait.

Nothing here asks; time is passed in.
"""

import json
import re
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime

from soakbook.errors import WeatherError

LONGEST_WAIT = timedelta(days=1)
"""Beyond that a service has mistaken itself: it is asked again."""

UNSAID_WAIT = timedelta(hours=1)
"""Where a service asks for patience and does not say how long. common practice, no source"""

AFTER_MIDNIGHT = timedelta(minutes=5)
"""Daily counts begin anew at midnight UTC, and nobody is to ask on the hour. common practice, no source"""

_ASKED_WRONGLY = {400, 404, 405, 410, 414, 422}
_LATER = {408, 425, 499}  # of the four hundreds, those of a service in trouble
_LONGEST_REASON = 200


class QuestionError(WeatherError):
    """The question itself was refused: an older answer to it is none either."""


def trouble_of_status(
    service: str, status: int, headers: Mapping[str, str], content: bytes, now: datetime
) -> WeatherError:
    """What a status that is not good comes to, in words.

    Parameters
    ----------
    service : str
        Its name for the gardener.
    status : int
        Of the answer: not 200, not 203.
    headers : Mapping of str to str
        Of the answer; names in any case if the mapping does not mind.
    content : bytes
        The body; only the `reason` of one in JSON is looked at.
    now : datetime
        Zone-aware.
    """
    reason = _reason(headers, content)
    said = f"status {status}: {reason}" if reason else f"status {status}"
    if status in _ASKED_WRONGLY:
        if status in (404, 410):
            return QuestionError(service, "refused", f"has nothing there ({said})")
        return QuestionError(service, "refused", f"refuses what it was asked ({said})")
    if status == 429:
        retry_after = headers.get("Retry-After")
        asks = "asks for patience" if _stated_wait(retry_after, now) is None else "asks us to wait"
        until = wait_until(retry_after, reason, now)
        return WeatherError(service, "busy", f"{asks} ({said})", until)
    if status >= 500 or status in _LATER:
        until_said = _stated_wait(headers.get("Retry-After"), now)
        return WeatherError(service, "down", f"has a fault of its own ({said})", until_said)
    if status >= 400:
        # One that has shut its door is not to be asked again that day (MET Norway's terms).
        return WeatherError(service, "refused", f"will not answer us ({said})", now + LONGEST_WAIT)
    return WeatherError(service, "rubbish", f"sent no weather ({said})")


def wait_until(retry_after: str | None, reason: str, now: datetime) -> datetime:
    """When a service that asked for patience may be asked again, UTC; at most a day from now.

    Parameters
    ----------
    retry_after : str, optional
        The header of that name: seconds or a date (RFC 9110, section 10.2.3). One that cannot be read is passed over.
    reason : str
        The service's own words, in which it may say minute, hour or tomorrow.
    now : datetime
        Zone-aware.
    """
    stated = _stated_wait(retry_after, now)
    if stated is not None:
        return stated
    words = reason.lower()
    if "tomorrow" in words:
        today = now.astimezone(UTC).replace(hour=0, minute=0, second=0, microsecond=0)
        return today + timedelta(days=1) + AFTER_MIDNIGHT
    if "hour" not in words and "minute" in words:
        return now.astimezone(UTC) + timedelta(minutes=1)
    return now.astimezone(UTC) + UNSAID_WAIT


def _stated_wait(retry_after: str | None, now: datetime) -> datetime | None:
    text = (retry_after or "").strip()
    if re.fullmatch(r"[0-9]{1,9}", text):
        until = now + timedelta(seconds=int(text))
    else:
        try:
            until = parsedate_to_datetime(text)
        except (ValueError, TypeError, IndexError, OverflowError):
            return None
        if until.tzinfo is None:  # "-0000": the date of a machine that does not know its zone
            until = until.replace(tzinfo=UTC)
    return min(max(until, now), now + LONGEST_WAIT).astimezone(UTC)


def _reason(headers: Mapping[str, str], content: bytes) -> str:
    """The service's own word for it, on one line and not too long; never out of a web page."""
    if "json" not in headers.get("Content-Type", "").lower():
        return ""
    try:
        said = json.loads(content)
    except (ValueError, RecursionError):
        return ""
    reason = said.get("reason") if isinstance(said, dict) else None
    if not isinstance(reason, str):
        return ""
    plain = " ".join("".join(mark if mark.isprintable() else " " for mark in reason).split())
    return plain if len(plain) <= _LONGEST_REASON else plain[: _LONGEST_REASON - 1] + "…"
