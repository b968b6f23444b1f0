"""Judged plantings and calls made by hand, for the rules that read nothing else."""

from datetime import timedelta
from typing import Any

from soakbook.garden.records import Bed, Planting
from soakbook.reckoning.advice.calling import BedCall, Dosed
from soakbook.reckoning.advice.due import Prospect
from soakbook.reckoning.advice.judging import Judged
from soakbook.reckoning.advice.report import Band
from soakbook.reckoning.advice.supply import Supply
from tests.reckoning.gardens import PLANTED, bed, roses

MORNING = PLANTED + timedelta(days=20)


def prospect(**fields: Any) -> Prospect:
    """Due today, borne till tomorrow."""
    given: dict[str, Any] = {
        "share_due": 1.0,
        "wanted_on": MORNING,
        "last_safe": MORNING,
        "can_wait": True,
        "half_passed_in": 2,
        "harm_share": 0.2,
    }
    return Prospect(**given | fields)


def judged(planting: Planting | None = None, **fields: Any) -> Judged:
    """Ten roses, due and to be soaked, on a square metre each."""
    one = planting or roses()
    given: dict[str, Any] = {
        "row": 0,
        "planting": one,
        "bed": bed(one.bed_uid),
        "count": one.count,
        "stage": "knitting",
        "ball": Band(0.3, 0.4, 0.5),
        "soil": Band(0.6, 0.7, 0.8),
        "lead": Band(0.4, 0.5, 0.6),
        "ball_leads": True,
        "ball_state": "wanting",
        "bed_state": "holding",
        "bed_margin": 0.2,
        "sodden_share": 0.0,
        "cell_m2": 1.0,
        "due": True,
        "left": False,
        "filled": False,
        "held": False,
        "verdict": "soak",
        "dose_kind": "soak",
        "prospect": prospect(),
    }
    return Judged(**given | fields)


def dosed(one: Judged, litres_each: float | None = None, **fields: Any) -> Dosed:
    """A litre a plant where it is to be soaked."""
    litres = litres_each if litres_each is not None else float(one.dose_kind is not None)
    given: dict[str, Any] = {
        "needed_l": Band(litres, litres, litres),
        "floor_l": 0.0,
        "usual": False,
        "pours": 1,
        "wait_min": 20.0,
        "aim": "ball",
    }
    return Dosed(judged=one, litres_each=litres, **given | fields)


def hose(**fields: Any) -> Supply:
    """A tap of 12 L a minute, twenty metres off."""
    given: dict[str, Any] = {
        "means": "hose",
        "method": "lance",
        "tap": "A",
        "flow_l_per_min": 12.0,
        "walk_m": 20.0,
        "can_l": 10.0,
        "tank_l": None,
        "barred": None,
    }
    return Supply(**given | fields)


def call(*plantings: Dosed, supply: Supply | None = None, of_bed: Bed | None = None) -> BedCall:
    """The call of the bed in which the plantings stand."""
    return BedCall(of_bed or plantings[0].judged.bed, supply or hose(), False, plantings)
