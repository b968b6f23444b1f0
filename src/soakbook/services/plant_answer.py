"""What a planting changed: what it is taken for, what is guessed, what to do on the day."""

from collections.abc import Iterable, Mapping
from datetime import date

from soakbook.garden.records import Bed, Planting
from soakbook.garden.tables.plants import PLANT_CLASSES
from soakbook.quantities import saying
from soakbook.reckoning.advice.dose import rounded_l, water_in_l
from soakbook.reckoning.advice.supply import supply_of, work_of
from soakbook.services import guesses
from soakbook.services.cautions import COMPOST, DUG_BALL
from soakbook.services.desk import Desk
from soakbook.services.field_words import changed, said_back
from soakbook.services.plant_words import ORIGINS
from soakbook.services.room import crowded
from soakbook.services.settings import Changes
from soakbook.services.told import Report, told

# Common practice, no source; how long each lives on its ball, practice's settling and knitting.
RHYTHM = {
    "pot": "Likely on the round daily or every other day for about 3 weeks.",
    "dug": "Likely on the round every few days for about 6 weeks.",
    "bare": "Likely on the round about once a week in a dry spell.",
}
HEFT = "Heft the pots: a light one stands in a bucket until it stops bubbling."
LIGHT = (
    "A light pot is dry through, and a dry ball sheds the water it is given in the ground. Stand each in a "
    "bucket until it stops bubbling, then say so:"
)
CAUTIONED = {"pot": COMPOST, "dug": DUG_BALL}
DRY = ("dust", "dry")
UNSAID = "How it came was not said, so it is taken as usual: --pot 5l, --ball 45cm or --bare."
TOLD = ("name", "origin", "ball_volume_l", "ball_diameter_m")
"""Fields that the first sentence tells."""

SAME = "they stand so in the book already. More of the kind want a --name."
RIGHT = "what was guessed stands as said now."


def answer(
    desk: Desk, bed: Bed, record: Planting, changes: Changes | None, typed: Mapping[str, str]
) -> Report:
    """The answer to a new planting, or to a change of one where `changes` is given; `typed` are its options."""
    found = tuple(guesses.of_planting(bed, record))
    say: tuple[str, ...]
    mind: tuple[str, ...] = ()
    if changes is None:
        unsaid = "" if any(way in typed for way in ORIGINS) else UNSAID
        today, room = on_the_day(desk, bed, record), crowded(desk.pages, bed)
        mind = tuple(filter(None, (unsaid, today, room, caution_of(desk, record))))
        say = (
            f"{bed.name}: {what_of(record, desk.today)}. Reckoned as {PLANT_CLASSES[record.plant_class].name}.",
            unsaid,
            said_back(record, desk.today, TOLD),
            _my_guesses(record, found),
            today,
            _light(bed, record),
            room,
            caution_of(desk, record),
        )
    else:
        light = _light(bed, record) if "ball_felt" in changes else ""
        same = RIGHT if "right" in typed else SAME
        say = (_changed(bed, record, changes, desk.today, same), light, crowded(desk.pages, bed))
    return told("plant", bed.key, say, {"fields": changes or {}, "guesses": found, "mind": mind})


def what_of(record: Planting, today: date) -> str:
    """`6 climbing roses, from 7.5 L pots, planted 20 March`."""
    came = {
        "pot": f"from {record.ball_volume_l:.3g} L pots",
        "dug": f"dug, balls {100 * record.ball_diameter_m:.0f} cm across, {record.ball_volume_l:.0f} L",
        "bare": "bare root",
    }[record.origin]
    so_many = saying.plants_of(record.name, record.count)
    return f"{so_many}, {came}, planted {saying.date_of(record.planted_on, today)}"


def _my_guesses(record: Planting, found: tuple[guesses.Guess, ...]) -> str:
    if not found:
        return ""
    parts = "; ".join(f"{one.what} {one.value}" for one in found)
    own = [one for one in found if one.what == "leaves"] or list(found)
    unsaid = "watered_in" not in record.said and record.ball_felt is None
    taken = record.watered_in and record.origin != "bare" and unsaid
    water = " Taken as watered in." if taken else ""
    return f"My guesses: {parts}.{water} To change one:\n  {own[0].answer}"


def on_the_day(desk: Desk, bed: Bed, record: Planting) -> str:
    """What there is to do on the planting day."""
    if record.planted_on != desk.today:
        return ""
    supply = supply_of(desk.pages, bed, desk.today)
    each = rounded_l(water_in_l(record), supply.means == "cans")
    all_l = each * record.count
    work = work_of(supply, all_l, record.count)
    at = f" at tap {supply.tap}" if supply.means == "hose" else ""
    heft = f"{HEFT} " if record.origin == "pot" and record.ball_felt is None else ""
    return (
        f"{heft}Water in with about {saying.litres(each)} each, slowly: {saying.litres(all_l)}, "
        f"{saying.minutes(work.minutes_on_foot)} in all{at}. Mulch after that, not before. "
        f"{RHYTHM[record.origin]}"
    )


def cautions_of(before: Iterable[Planting], new: Iterable[Planting]) -> tuple[str, ...]:
    """What can hurt, said with the first planting of its origin in a year."""
    met = {(one.origin, one.planted_on.year) for one in before}
    first = {one.origin for one in new if (one.origin, one.planted_on.year) not in met}
    return tuple(text for origin, text in CAUTIONED.items() if origin in first)


def _light(bed: Bed, record: Planting) -> str:
    """What to do with pots that go in dry."""
    if record.origin != "pot" or record.ball_felt not in DRY:
        return ""
    what = f"{saying.quoted(bed.key)} {saying.quoted(record.name)} {record.count}"
    return f"{LIGHT}\n  soakbook plant {what} --heft heavy"


def caution_of(desk: Desk, record: Planting) -> str:
    """What can hurt, where nothing of its origin was planted in its year before."""
    others = [one for one in desk.pages.plantings if one.uid != record.uid]
    return " ".join(cautions_of(others, [record]))


def _changed(bed: Bed, record: Planting, changes: Changes, today: date, same: str) -> str:
    if not changes:
        return f"{bed.name}, {record.name}: {same}"
    return f"{bed.name}, {record.name}. {changed(record, changes, today)}"
