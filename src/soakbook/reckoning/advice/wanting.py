"""Days on which plants went short, counted bed by bed and member by member."""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.entries import Loss
from soakbook.garden.pages import Pages
from soakbook.garden.records import Planting, Uid
from soakbook.reckoning.advice.stages import DRYING_MARGIN
from soakbook.reckoning.simulation.ahead import evening_before
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.run import Dawn
from soakbook.reckoning.simulation.watering import living_count, local_day, losses_by_bed

A_DAY = timedelta(days=1)


class WantingDays:
    """A tally that is told every dawn and counts the wanting days of the evenings before them.

    Of a planting a day is wanting when its leading store stands in the evening below that day's threshold and the
    margin by which it would be drying: wanting or parched, as `stages.state_of` has it of a cell that is not sodden.
    Of a bed, when that of any planting is whose plants stood there that morning; none is of a bed at rest.
    """

    def __init__(
        self, pages: Pages, first: date, members: int, since: Mapping[Uid, date] | None = None
    ) -> None:
        """Count from a day on, or bed by bed from the day that `since` has for a bed's uid."""
        zone, losses = ZoneInfo(pages.garden.timezone), losses_by_bed(pages)
        self._gone = {
            one.uid: gone_from(one, losses.get(one.bed_uid, ()), zone) for one in pages.plantings
        }
        self._first, self._since = first, since or {}
        self._of_bed = {bed.uid: np.zeros(members) for bed in pages.beds}

    def told(self, dawn: Dawn) -> None:
        """Count the evening that a dawn comes out of; of a season's first dawn there was none."""
        season, day = dawn.season, dawn.day - A_DAY
        if day < season.first:
            return
        wanting: dict[Uid, NDArray[np.bool_]] = {}
        found = wanting_on(dawn)
        for row, planting in enumerate(season.plantings[: dawn.size]):
            bed = season.bed_of(row)
            if (
                day < self._since.get(bed.uid, self._first)
                or bed.rests_on(day)
                or not season.starts[row] <= day < self._gone[planting.uid]
            ):
                continue
            wanting[bed.uid] = wanting.get(bed.uid, False) | found[row]
        for uid, members in wanting.items():
            self._of_bed[uid] += members

    def of_beds(self, uids: Iterable[Uid]) -> Floats:
        """The wanting days of some beds together in each member, (member,)."""
        return np.asarray(sum(self._of_bed[uid] for uid in uids))


def wanting_on(dawn: Dawn) -> NDArray[np.bool_]:
    """Which members of which plantings wanted water on the evening before a dawn, (planting, member)."""
    wetness = evening_before(dawn).wetness
    return np.asarray(wetness.lead < wetness.lead_limit + DRYING_MARGIN)


def gone_from(planting: Planting, losses: Iterable[Loss], zone: ZoneInfo) -> date:
    """The first morning on which no plant of a planting stands any more; far ahead where some do to the end."""
    own = tuple(one for one in losses if one.planting_uid == planting.uid)
    lost_on = [local_day(one.happened_at, zone) for one in own]
    mornings = sorted({*lost_on, *(day + A_DAY for day in lost_on)})
    after = (day for day in mornings if day >= planting.planted_on)
    return next((day for day in after if not living_count(planting, own, day, zone)), date.max)
