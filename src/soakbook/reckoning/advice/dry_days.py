"""Days on which beds stood dry, tallied from the dawns of a run member by member, for whole seasons that are compared.

The course of one season that is reviewed counts its own (`course`), by the same words.
"""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.pages import Pages
from soakbook.garden.records import Uid
from soakbook.reckoning.advice.stages import DRYING_MARGIN
from soakbook.reckoning.physics.roots import geometry
from soakbook.reckoning.simulation.ahead import evening_before
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.living import gone_from
from soakbook.reckoning.simulation.run import Dawn
from soakbook.reckoning.simulation.sodden import sodden
from soakbook.reckoning.simulation.watering import losses_by_bed

A_DAY = timedelta(days=1)


class DryDays:
    """A tally that is told every dawn and counts the dry days of the evenings before them.

    Of a planting a day is dry when its leading store is wanting or parched in the evening, as `stages.state_of` has
    it; of a bed when that of any planting is whose plants stood there that morning.
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
        """Count the evening that a dawn comes out of; before a season's first dawn there was none."""
        season, day = dawn.season, dawn.day - A_DAY
        if day < season.first:
            return
        dry_beds: dict[Uid, NDArray[np.bool_]] = {}
        dry = dry_before(dawn)
        for row, planting in enumerate(season.plantings[: dawn.size]):
            uid = planting.bed_uid
            counted = day >= self._since.get(uid, self._first)
            if counted and season.starts[row] <= day < self._gone[planting.uid]:
                dry_beds[uid] = dry_beds.get(uid, False) | dry[row]
        for uid, members in dry_beds.items():
            self._of_bed[uid] += members

    def of_beds(self, uids: Iterable[Uid]) -> Floats:
        """The dry days of some beds added up, in each member, (member,)."""
        return np.asarray(sum(self._of_bed[uid] for uid in uids))


def dry_before(dawn: Dawn) -> NDArray[np.bool_]:
    """Which members of which plantings were wanting or parched on the evening before a dawn, (planting, member)."""
    wetness = evening_before(dawn).wetness
    plot, fixed = dawn.season.parameters(slice(0, dawn.size))
    roots = geometry(plot, fixed, dawn.stores.warm_days)
    short = wetness.lead < wetness.lead_limit + DRYING_MARGIN
    return np.asarray(short & (sodden(dawn.stores, roots) == 0))
