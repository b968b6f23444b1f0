"""What a gauge reading brought to soils and balls: the plain run with it, less the run without."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from soakbook.garden.entries import Loss, Rain
from soakbook.garden.pages import Pages
from soakbook.garden.rainfall import step_day
from soakbook.garden.records import Bed, Uid
from soakbook.reckoning.physics.records import Number
from soakbook.reckoning.simulation.ahead import standing
from soakbook.reckoning.simulation.knowing import known_now, known_on
from soakbook.reckoning.simulation.lanes import plain
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.season import Season, season_of
from soakbook.reckoning.simulation.watering import living_count
from soakbook.services.desk import Desk

PLAIN_RUN = 1
"""An ensemble of its first member alone."""

A_DROP_MM = 1e-9
"""What a reading is cut to for the run without: it leaves the hours in which water can go in."""


@dataclass(slots=True)
class Catch:
    """Millimetres that went into the soil, by bed, and litres that one ball caught, by planting."""

    soil_mm: dict[Uid, float] = field(default_factory=lambda: defaultdict(float))
    ball_l: dict[Uid, float] = field(default_factory=lambda: defaultdict(float))

    def add(self, season: Season, rows: int, soil_mm: Number, ball_l: Number) -> None:
        """Add what one step brought to the first `rows` plantings; a bed's soil counts once."""
        beds: set[Uid] = set()
        for row, planting in enumerate(season.plantings[:rows]):
            self.ball_l[planting.uid] += plain(ball_l, row)
            if planting.bed_uid not in beds:
                self.soil_mm[planting.bed_uid] += plain(soil_mm, row)
                beds.add(planting.bed_uid)


def catch_of(desk: Desk, reading: Rain, morning: date) -> Catch:
    """What a reading brought, up to the step of the morning; nothing where nothing is reckoned."""
    cut = tuple(
        replace(one, rain_mm=min(one.rain_mm, A_DROP_MM))
        if isinstance(one, Rain) and one.uid == reading.uid
        else one
        for one in desk.pages.entries
    )
    first = step_day(reading.began_at, desk.zone)
    with_it = _taken_in(desk, desk.pages, first, morning)
    without = _taken_in(desk, desk.pages._replace(entries=cut), first, morning)
    awake = {bed.uid for bed in desk.pages.beds if not bed.rests_on(morning)}
    return Catch(
        {uid: mm - without.soil_mm[uid] for uid, mm in with_it.soil_mm.items() if uid in awake},
        {uid: litres - without.ball_l[uid] for uid, litres in with_it.ball_l.items()},
    )


def balls_of(desk: Desk, caught: Catch, bed: Bed) -> Mapping[str, float]:
    """Litres that one ball of each living planting caught, by its name; bare roots have none."""
    losses = [one for one in desk.pages.entries if isinstance(one, Loss)]
    return {
        one.name: caught.ball_l[one.uid]
        for one in desk.pages.plantings_of(bed)
        if one.uid in caught.ball_l
        and one.origin != "bare"
        and living_count(one, losses, desk.today, desk.zone)
    }


def _taken_in(desk: Desk, pages: Pages, first: date, morning: date) -> Catch:
    """What soils and balls took in of any rain, over the steps from `first` to the morning's."""
    known = known_now(pages, desk.now) if morning == desk.today else known_on(pages, morning)
    season = season_of(known, morning, PLAIN_RUN)
    caught = Catch()
    if season is None:
        return caught
    season = season._replace(touches={})  # a feel would make up for the rain that is left out

    def watch(dawn: Dawn) -> None:
        """Add the step that ended at this dawn; plantings that start now were not in it."""
        if dawn.flows is not None and dawn.day > first:
            rows = season.active(dawn.day) - sum(start == dawn.day for start in season.starts)
            caught.add(season, rows, dawn.flows.intake_mm, dawn.flows.ball_from_rain_l)

    dawn = run(season, watch=watch)[-1]
    received = standing(dawn).received
    caught.add(season, dawn.size, received.intake_mm, received.ball_from_rain_l)
    return caught
