"""Which plantings fit into the hours there are, and in what order the beds are walked."""

from collections.abc import Mapping, Sequence

from soakbook.garden.tables.plants import PLANT_CLASSES
from soakbook.reckoning.advice.calling import BedCall, Dosed
from soakbook.reckoning.advice.supply import work_of

SECOND_POUR = 2


def fitted(calls: Sequence[BedCall], hours: float) -> tuple[BedCall, ...]:
    """The calls with plantings dropped, least harm per minute first, until the round fits the hours.

    Whole doses to fewer, never half doses to all. The order of dropping does not depend on the hours, so more
    hours never drop a planting that was in. A bed is not gone to for what is only taken along.
    """
    kept = list(calls)
    for index, one in dropping_order(calls):
        if sum(call.work.minutes_on_foot for call in kept) <= hours * 60:
            break
        kept[index] = kept[index].without(one.judged.planting.uid)
        if all(other.judged.while_there for other in kept[index].going):
            for other in kept[index].going:
                kept[index] = kept[index].without(other.judged.planting.uid)
    return tuple(kept)


def dropping_order(calls: Sequence[BedCall]) -> list[tuple[int, Dosed]]:
    """What is given up first when time is short, with the place of its call.

    Least harm per minute; of equals what is only taken along, then what lasts longest and is least surely due.
    """

    def place(given_up: tuple[int, Dosed]) -> tuple[float, bool, int, float, str]:
        index, one = given_up
        judged = one.judged
        return (
            harm_per_minute(calls[index], one),
            not judged.while_there,
            -judged.prospect.half_passed_in,
            judged.prospect.share_due,
            judged.planting.uid,
        )

    wanted = [
        (index, one) for index, call in enumerate(calls) for one in call.dosed if one.litres > 0
    ]
    return sorted(wanted, key=place)


def harm_per_minute(call: BedCall, one: Dosed) -> float:
    """Harm of leaving a planting until the next visit, for each minute it takes.

    Notes
    -----
    count x class weight x share of members below half the threshold by the next visit; weights common practice,
    no source. A planting that has not been watered in counts in full: its ball is dry soon, and its soil is loose.
    """
    weight = PLANT_CLASSES[one.judged.planting.plant_class].harm_weight
    share = 1.0 if one.judged.dose_kind == "water_in" else one.judged.prospect.harm_share
    harm = one.judged.count * weight * share
    return harm / work_of(call.supply, one.litres, one.judged.count).minutes_on_foot


def walk(calls: Sequence[BedCall]) -> tuple[BedCall, ...]:
    """The beds to go to, in order: by day of passing half the threshold, then tap, then distance."""
    return tuple(sorted((call for call in calls if call.going), key=_place_in_walk))


def second_slots(walked: Sequence[BedCall]) -> Mapping[str, str | None]:
    """For each bed watered in two pours or more, the bed after which its next pour fits; None: wait beside it."""
    slots: dict[str, str | None] = {}
    for place, call in enumerate(walked):
        wait = max((one.wait_min for one in call.going if one.pours >= SECOND_POUR), default=0.0)
        if wait == 0.0:
            continue
        slots[call.bed.uid] = None
        passed = 0.0
        for later in walked[place + 1 :]:
            passed += later.work.minutes_on_foot
            if passed >= wait:
                slots[call.bed.uid] = later.bed.uid
                break
    return slots


def _place_in_walk(call: BedCall) -> tuple[int, str, float, str]:
    soonest = min(one.judged.prospect.half_passed_in for one in call.going)
    return soonest, call.supply.tap or "~", call.supply.walk_m, call.bed.key
