"""Days and moments as the book writes them: plain ISO text, in UTC where rows are sorted by it."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from soakbook.errors import InputError
from soakbook.garden.entries import When
from soakbook.garden.records import Garden
from soakbook.store.zones import zone_named


def moment_text(field: str, moment: datetime) -> str:
    """A moment as it was said, with its offset from UTC."""
    return _aware(field, moment).isoformat()


def when_text(field: str, when: When) -> str:
    """A moment as it was said, or a bare day."""
    return moment_text(field, when) if isinstance(when, datetime) else when.isoformat()


def utc_text(field: str, moment: datetime) -> str:
    """A moment in UTC: such texts sort in the order of time."""
    return _aware(field, moment).astimezone(UTC).isoformat()


def garden_zone(garden: Garden) -> ZoneInfo:
    """The zone of the garden's clock."""
    return zone_named(garden.timezone)


def read_moment(text: str, zone: ZoneInfo) -> datetime:
    """The moment of a text, on the clock of a zone."""
    return datetime.fromisoformat(text).astimezone(zone)


def read_when(text: str, zone: ZoneInfo) -> When:
    """The moment of a text on the clock of a zone, or the bare day."""
    return read_moment(text, zone) if len(text) > _DAY_LENGTH else date.fromisoformat(text)


_DAY_LENGTH = len("2031-05-15")


def _aware(field: str, moment: datetime) -> datetime:
    if moment.utcoffset() is None:
        raise InputError(field, moment.isoformat(), "a moment with its time zone")
    return moment
