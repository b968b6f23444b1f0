"""The garden's clock."""

from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from soakbook.errors import BookError


def zone_named(name: str) -> ZoneInfo:
    """The time zone of a name, or the error that this computer does not know it."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise BookError(f"the garden's time zone {name!r} is not known to this computer") from error
