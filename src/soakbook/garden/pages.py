"""Everything a reckoning may know: the pages of one book, read at one moment."""

from collections.abc import Mapping
from datetime import datetime
from typing import NamedTuple

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
    """The newest issue, the newest that a round of the day before could know, and of older ones the days of which
    neither tells and which nobody has measured; newest first."""
    promises: tuple[Made, ...] = ()
    """What each morning's first forecast promised, oldest first."""
    known_at: datetime | None = None
    """The moment up to which the book was read; None where nobody said."""

    def bed_by_uid(self) -> Mapping[Uid, Bed]:
        """Beds by uid."""
        return {bed.uid: bed for bed in self.beds}

    def plantings_of(self, bed: Bed) -> tuple[Planting, ...]:
        """The plantings of one bed, in the order they were planted and written."""
        return tuple(planting for planting in self.plantings if planting.bed_uid == bed.uid)
