"""Everything a reckoning may know: the pages of one book, read at one moment."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import AnyEntry
from soakbook.garden.promises import Made
from soakbook.garden.records import Bed, Garden, Person, Planting, Rate, Restriction, Tap, Uid
from soakbook.garden.weather import Forecast, WeatherDay


class Pages(NamedTuple):
    """The book as it stands: entries in force only, in the order they happened; weather by day, oldest first."""

    garden: Garden
    beds: tuple[Bed, ...] = ()
    plantings: tuple[Planting, ...] = ()
    taps: tuple[Tap, ...] = ()
    people: tuple[Person, ...] = ()
    restrictions: tuple[Restriction, ...] = ()
    rates: tuple[Rate, ...] = ()
    entries: tuple[AnyEntry, ...] = ()
    weather: tuple[WeatherDay, ...] = ()
    forecasts: tuple[Forecast, ...] = ()
    """The newest issue; those that earlier rounds could know: the day before's, and of the days before that where one
    had useful rain in it; of others the days that nobody has measured and no newer one tells of. Newest first."""
    promises: tuple[Made, ...] = ()
    """What each morning's first forecast promised, oldest first."""
    known_at: datetime | None = None
    """The moment up to which the book was read; None where nobody said."""
    heard_since: datetime | None = None
    """When the first weather came: before it nobody could be given a round. None where that is of no account, as in
    a round of an earlier day, which asks when things happened and not when they were written."""

    def bed_by_uid(self) -> Mapping[Uid, Bed]:
        """Beds by uid."""
        return {bed.uid: bed for bed in self.beds}

    def plantings_of(self, bed: Bed) -> tuple[Planting, ...]:
        """The plantings of one bed, in the order they were planted and written."""
        return tuple(planting for planting in self.plantings if planting.bed_uid == bed.uid)


def asked_at(pages: Pages, morning: date) -> datetime:
    """The moment a morning is asked about: up to which the book was read on that day, else the morning's round hour."""
    zone = ZoneInfo(pages.garden.timezone)
    if pages.known_at is not None and pages.known_at.astimezone(zone).date() == morning:
        return pages.known_at
    return datetime.combine(morning, pages.garden.round_hour, zone)
