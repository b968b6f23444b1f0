"""A planting entered, or what is found out about one: so many like plants in one bed."""

import math
from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.garden import nearest
from soakbook.garden.records import Bed, Origin, Planting
from soakbook.garden.tables.canopies import Canopy
from soakbook.garden.tables.kinds import classify, leaf_of
from soakbook.quantities import saying
from soakbook.quantities.dates import month_day
from soakbook.quantities.saying import plural
from soakbook.reckoning.advice.dose import BOWL_MADE_DEPTH_M
from soakbook.reckoning.simulation.plots import BARE_ROOT_BOWL_M2, BOWL_IN_BALLS
from soakbook.services.counts import whole_number
from soakbook.services.desk import Desk, key_of, writing
from soakbook.services.guesses import PLANTING_RIGHT, across_cm, is_known, usual_canopy
from soakbook.services.pen import Pen
from soakbook.services.plant_words import (
    Context,
    Fields,
    origin_fields,
    plant_fields,
    usual_origin,
)
from soakbook.services.planted_day import of_wrong_day, planted_on
from soakbook.services.room import check_room
from soakbook.services.settings import put
from soakbook.services.subjects import check_open, free_places, planting_of, standing
from soakbook.services.told import Report

READ_HERE = (
    "pot", "ball", "bare", "deep", "on", "instead_of", "plant_class", "bowl", "replaces", "right",
)  # fmt: skip
"""Options that depend on each other or on the book."""

USUAL_BALLS = 10
"""A usual dose is at most so many times the ball's volume. common practice, no source."""


class Said(NamedTuple):
    """What was said of a planting: kind and count, and the options as typed."""

    kind: str
    plants: int
    typed: Mapping[str, str]

    def others(self) -> Mapping[str, str]:
        """The options that stand each by itself."""
        return {name: text for name, text in self.typed.items() if name not in READ_HERE}


def plant(
    path: Path,
    bed: str,
    kind: str,
    count: str,
    *,
    now: datetime,
    by: str | None = None,
    **typed: str,
) -> Report:
    """Enter a planting, or change what is known of one that stands in the bed by that name.

    Parameters
    ----------
    path : Path
        The book.
    bed, kind, count : str
        As typed.
    now : datetime
        Zone-aware.
    by : str, optional
        Who says so.
    **typed
        Options as typed: pot, ball, bare, deep; on, plant_class, bowl, replaces; instead_of, the wrong day that `on`
        puts right; right, that what is guessed of ball and leaves is right; and those of `plant_words.READERS`.

    Raises
    ------
    InputError
        Anything that cannot be right; then the book is as it was.
    """
    from soakbook.services.plant_answer import answer

    said = said_of(kind, count, typed)
    with writing(Pen(path, now, by)) as desk:
        place = desk.bed(bed)
        old = _meant(desk, place, said)
        fields = new_fields(desk, place, said) if old is None else _changed(desk, place, old, said)
        if old is not None:
            _check_leaves(fields, old, typed)
        record, changes = put(desk, Planting, old, fields)
        after = desk.reread()
        check_room(after.pages, place, "count", count)
        check_usual(record, typed)
    return answer(after, place, record, None if old is None else changes, typed)


def _meant(desk: Desk, bed: Bed, said: Said) -> Planting | None:
    """The planting to be changed: the one of that name; None for a new one."""
    if "instead_of" in said.typed:
        word = said.typed.get("name") or said.kind
        return of_wrong_day(desk, bed, word, said.typed)
    name = one_of(said.typed.get("name") or said.kind)
    old = next((one for one in desk.pages.plantings_of(bed) if one_of(one.name) == name), None)
    if old is None or "replaces" in said.typed:
        return None
    on = said.typed.get("on")
    since = f"{month_day(old.planted_on)} {old.planted_on.year}"
    if on is not None and planted_on(desk, said.typed.get("on")) != old.planted_on:
        right = (
            f"that of the {plural(old.name)} there since {since}; others of the kind want a --name; "
            f"was that day wrong, --instead-of {old.planted_on}"
        )
        raise InputError("on", on, right)
    if on is None and said.plants != old.count:
        right = (
            f"{old.count}, the {plural(old.name)} there since {since}: with --on {old.planted_on} to correct "
            "their count, with --name for others of the kind"
        )
        raise InputError("count", said.plants, right)
    return old


def one_of(name: str) -> str:
    """A name by which climbing roses and climbing rose are the same."""
    return " ".join(word.removesuffix("s") for word in nearest.plain(name).split())


def said_of(kind: str, count: str, typed: Mapping[str, str]) -> Said:
    """What was said of a planting, as typed.

    Raises
    ------
    InputError
        Nothing for what was planted, or no count.
    """
    if not kind.strip():
        raise InputError("kind", kind, 'what was planted: rose, or "climbing rose"')
    return Said(kind.strip(), whole_number(count, "count", "plants"), typed)


def new_fields(desk: Desk, bed: Bed, said: Said) -> Fields:
    """The fields of a new planting: as said, else as the tables of the trade have it.

    Raises
    ------
    InputError
        Anything said that cannot be right.
    """
    context = Context(desk.garden, desk.today)
    words = said.typed.get("plant_class") or said.kind
    own = plant_fields(said.others(), context)
    came = origin_fields(said.typed, context) or usual_origin(words)
    plant = classify(words, came["origin"])
    _check_ball(came["origin"], said.typed)
    usual = usual_canopy(words, came["origin"], came["ball_volume_l"], bed.area_m2 / said.plants)
    bowl = _bowl(said.typed, came)
    fields: Fields = {
        "bed_uid": bed.uid,
        "name": said.kind,
        "plant_class": plant.key,
        "count": said.plants,
        "planted_on": planted_on(desk, said.typed.get("on")),
        "leaf": leaf_of(words, plant),
        "weeks_to_full": usual.weeks_to_full,
        **came,
        **_canopy(usual, own),
        **own,
        **bowl,
    }
    sure = PLANTING_RIGHT if "right" in said.typed else ()
    fields["said"] = frozenset((*own, *origin_fields(said.typed, context), *bowl, *sure))
    check_open(desk, bed, fields["planted_on"], "on")
    _check_leaves(fields, None, said.typed)
    return fields | _replaced(desk, bed, said, fields["planted_on"])


def _changed(desk: Desk, bed: Bed, old: Planting, said: Said) -> Fields:
    context = Context(desk.garden, desk.today)
    came = origin_fields(said.typed, context)
    origin: Origin = came.get("origin", old.origin)
    lost = old.count - standing(desk.pages, old)
    if said.plants < max(lost, 1):
        right = (
            f"at least {lost}: so many of the {plural(old.name)} of {bed.name} are entered as lost"
        )
        raise InputError("count", said.plants, right)
    _check_ball(origin, said.typed)
    words = said.typed.get("plant_class")
    if words is None and origin != old.origin:
        words = old.name if is_known(old.name) else old.plant_class
    own = plant_fields(said.others(), context)
    sure = PLANTING_RIGHT if "right" in said.typed else ()
    fields = {"count": said.plants, **came, **own, "said": frozenset((*came, *own, *sure))}
    if "instead_of" in said.typed:
        fields["planted_on"] = planted_on(desk, said.typed.get("on"))
    if words is not None:
        fields["plant_class"] = classify(words, origin).key
    ball = came or {"origin": old.origin, "ball_diameter_m": old.ball_diameter_m}
    return fields | _bowl(said.typed, ball)


def _check_ball(origin: Origin, typed: Mapping[str, str]) -> None:
    """Refuse a mix or a heft without a pot, and a soil without a dug ball."""
    if "mix" in typed and origin != "pot":
        raise InputError("mix", typed["mix"], "with --pot: a mix is what is in a pot")
    if "heft" in typed and origin != "pot":
        raise InputError("heft", typed["heft"], "with --pot: pots are hefted, other balls are felt")
    if "heft" in typed and "ball_felt" in typed:
        right = "the ball said once: --heft or --ball-felt"
        raise InputError("ball felt", typed["ball_felt"], right)
    if "dug_from" in typed and origin != "dug":
        raise InputError("dug from", typed["dug_from"], "with --ball: the soil of a dug ball")


def check_usual(record: Planting, typed: Mapping[str, str]) -> None:
    """Refuse a usual dose that no ball of that size is ever given."""
    most_l = USUAL_BALLS * record.ball_volume_l
    if "usual" in typed and most_l and (record.usual_dose_l or 0.0) > most_l:
        right = (
            f"at most {saying.litres(most_l)} for one plant: {USUAL_BALLS} times the ball's "
            f"{saying.litres(record.ball_volume_l)}"
        )
        raise InputError("usual", typed["usual"], right)


def _check_leaves(fields: Fields, old: Planting | None, typed: Mapping[str, str]) -> None:
    """Refuse leaves that are to be less when grown than when planted."""
    start_m2, full_m2 = (
        fields[name] if name in fields else getattr(old, name)
        for name in ("canopy_start_m2", "canopy_full_m2")
    )
    if full_m2 < start_m2:
        option = "leaves_full" if "leaves_full" in typed else "leaves"
        now, grown = across_cm(start_m2), across_cm(full_m2)
        right = f"no less when grown than when planted: {now} cm across now, {grown} cm when grown"
        raise InputError(option.replace("_", " "), typed.get(option), right)


def _canopy(usual: Canopy, own: Fields) -> Fields:
    """Leaves now and grown: as said, else as usual, and never smaller grown than now."""
    start = own.get("canopy_start_m2")
    full = own.get("canopy_full_m2")
    if start is None:
        start = usual.start_m2 if full is None else min(usual.start_m2, full)
    return {
        "canopy_start_m2": start,
        "canopy_full_m2": max(usual.full_m2, start) if full is None else full,
    }


def _bowl(typed: Mapping[str, str], came: Fields) -> Fields:
    if "bowl" not in typed:
        return {}
    word = typed["bowl"].strip().casefold()
    if word == "none":
        return {"bowl_m2": None, "bowl_depth_m": None}
    if word != "made":
        raise InputError("bowl", typed["bowl"], "made, or none")
    ball_m2 = math.pi * (came["ball_diameter_m"] / 2) ** 2
    bowl_m2 = BARE_ROOT_BOWL_M2 if came["origin"] == "bare" else BOWL_IN_BALLS * ball_m2
    return {"bowl_m2": bowl_m2, "bowl_depth_m": BOWL_MADE_DEPTH_M}


def _replaced(desk: Desk, bed: Bed, said: Said, on: date) -> Fields:
    """Whose dead these stand in for: no more than were lost and are not replaced yet."""
    word = said.typed.get("replaces")
    if word is None:
        return {}
    dead = planting_of(desk, bed, word)
    free = free_places(desk.pages, dead)
    if said.plants > free:
        right = f"at most {free}: so many of the {plural(dead.name)} are lost and not replaced"
        raise InputError("count", said.plants, right)
    if on < dead.here_from:
        came = saying.date_of(dead.here_from, desk.today)
        right = f"not before {came}, when those came"
        raise InputError("on", said.typed.get("on", on.isoformat()), right)
    taken = [one.name for one in desk.pages.plantings_of(bed)]
    name = said.typed.get("name") or said.kind
    if "name" not in said.typed and key_of(name, taken):
        name = f"{said.kind} of {saying.date_of(on, desk.today)}"
    if key_of(name, taken):
        raise InputError("name", name, f"a name that no other planting of {bed.name} has")
    return {"name": name, "replaces": dead.uid}
