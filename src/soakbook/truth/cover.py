"""What grows on a record's ground through the year: basal coefficient and ground cover, day by day.

Rows of days with straight lines between them, every year alike or once by full dates.
"""

import itertools
import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any, NamedTuple

import numpy as np

from soakbook.errors import InputError
from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.months import month_of
from soakbook.truth.said import Said, number

GRASS, BARE = "grass", "bare"
KINDS = {
    "grass": GRASS,
    "lawn": GRASS,
    "turf": GRASS,
    "bare": BARE,
    "bare soil": BARE,
    "fallow": BARE,
}
GRASS_ROWS = (("03-14", 0.90, 0.95, 35), ("10-14", 0.30, 0.30, 35))
"""Cool turf, FAO-56 table 17: half-way up on 1 April and half-way down on 31 October, north of the equator."""
MOST_KCB = 1.5
KCB_KEYS = ("kcb", "basal_coefficient")
GROUND_KEYS = (
    "ground_cover",
    "ground_cover_fraction",
    "ground_cover_pct",
    "ground_cover_percent",
    "cover_fraction",
    "fraction_cover",
    "cover",
    "fraction",
    "fc",
)
MID_MONTH_DAY = 15
DAY_KEYS = ("from", "on", "date", "day")
_MONTH_DAY = re.compile(r"(\d{1,2})-(\d{1,2})")
HALF_A_YEAR_DAYS = 182
A_YEAR_DAYS = 365
Point = tuple[float, float, float]
RIGHT = "'grass' or 'bare', kcb and ground_cover, or rows with from, kcb and ground_cover"
IN_PERCENT = "ground cover above 1 is taken as per cent"


class Cover(NamedTuple):
    """Points of the year, or of time: day number, basal coefficient, ground cover."""

    points: tuple[Point, ...]
    yearly: bool

    def on(self, days: Sequence[date]) -> tuple[Floats, Floats]:
        """Basal coefficient and ground cover of each day."""
        numbers, kcb, ground = np.array(self.points).T
        if self.yearly:
            x = np.array([_of_year(day.month, day.day) for day in days], np.float64)
            spread = _round_the_year(numbers)
            return np.interp(x, spread, np.tile(kcb, 3)), np.interp(x, spread, np.tile(ground, 3))
        x = np.array([day.toordinal() for day in days], np.float64)
        return np.interp(x, numbers, kcb), np.interp(x, numbers, ground)


def read_cover(said: Said, southern: bool, findings: list[str]) -> Cover | None:
    """The cover a record names: "grass", "bare", one pair of numbers, or rows through the year; None when none.

    A row holds from its day on. Between two rows the values run in a straight line; a row with
    `ramp_days` leaves those before it as they were until its day, and changes them over so many days.

    Parameters
    ----------
    said : Said
        The record's keys; those of the cover are taken out.
    southern : bool
        South of the equator the named covers shift by half a year.
    findings : list of str
        What was assumed is added.

    Raises
    ------
    InputError
        A cover that is none, or numbers that cannot be.
    """
    value: Any = (said.take("cover", "vegetation") or ("cover", None))[1]
    if value is None:
        constant = _pair(said, None, findings)
        return None if constant is None else Cover(((1.0, *constant),), yearly=True)
    if isinstance(value, str):
        value = {"kind": value}
    if isinstance(value, Mapping):
        return _of_table(Said(value, "cover"), southern, findings)
    if isinstance(value, list) and value and all(isinstance(row, Mapping) for row in value):
        return _of_rows([Said(row, "cover") for row in value], findings)
    raise InputError("cover", value, RIGHT)


def grass(southern: bool) -> Cover:
    """Mown grass that rests in winter."""
    rows = [(_yearly_day("cover", day), kcb, ground, ramp) for day, kcb, ground, ramp in GRASS_ROWS]
    shift = HALF_A_YEAR_DAYS if southern else 0
    return _joined([((day + shift - 1) % A_YEAR_DAYS + 1, *rest) for day, *rest in rows], True)


def _of_table(said: Said, southern: bool, findings: list[str]) -> Cover | None:
    kind = said.text("kind", "name", "is", "type")
    rows = said.take("rows", "points", "stages")
    if kind is not None and kind.casefold() not in KINDS:
        raise InputError("cover", kind, RIGHT)
    if rows is not None:
        return read_cover(Said({"cover": rows[1]}), southern, findings)
    if kind is not None:
        _name_left(said, findings)
        bare = KINDS[kind.casefold()] == BARE
        return Cover(((1.0, 0.0, 0.0),), yearly=True) if bare else grass(southern)
    by_month = _by_month(said, findings)
    constant = None if by_month else _pair(said, None, findings)
    _name_left(said, findings)
    if by_month is not None:
        return by_month
    if constant is None:
        raise InputError("cover", None, RIGHT)
    return Cover(((1.0, *constant),), yearly=True)


def _by_month(said: Said, findings: list[str]) -> Cover | None:
    """Twelve values of each, that stand for the middle of their month; None when not said so."""
    monthly = [said.listed(KCB_KEYS), said.listed(GROUND_KEYS)]
    if monthly == [None, None]:
        return None
    columns = []
    for what, highest, values in zip(
        ("kcb", "ground_cover"), (MOST_KCB, 100.0), monthly, strict=True
    ):
        right = (
            f"twelve numbers from 0 to {highest:g}, January first, or by the names of the months"
        )
        if values is None or len(values) != 12:
            raise InputError(f"cover: {what}", values, right)
        columns.append([number(f"cover: {what}", value, 0.0, highest, right) for value in values])
    kcb, ground = columns
    if max(ground) > 1:
        findings.append(IN_PERCENT)
        ground = [value / 100 for value in ground]
    days = [_of_year(month, MID_MONTH_DAY) for month in range(1, 13)]
    return Cover(tuple(zip(days, kcb, ground, strict=True)), yearly=True)


def _of_rows(rows: Sequence[Said], findings: list[str]) -> Cover:
    found = []
    kinds = set()
    for place, row in enumerate(rows, 1):
        taken = row.take(*DAY_KEYS) or _middle_of_month(row)
        if taken is None:
            raise InputError(f"cover row {place}: from", None, "a day like '04-01' or 2012-04-01")
        day, yearly = _day_number(*taken)
        ramp = row.number(("ramp_days", "over_days"), 0, 200, "days from 0 to 200")
        pair = _pair(row, place, findings)
        if pair is None:
            raise InputError(f"cover row {place}", None, "kcb and ground_cover")
        _name_left(row, findings)
        kinds.add(yearly)
        found.append((day, *pair, ramp))
    if len(kinds) > 1:
        raise InputError("cover", "days with and without a year", "one or the other in every row")
    return _joined(found, kinds == {True})


def _joined(rows: Sequence[tuple[Any, ...]], yearly: bool) -> Cover:
    """Rows in order of days as points between which the values run straight."""
    ordered = sorted(rows, key=lambda row: float(row[0]))
    points: list[Point] = []
    for place, (day, kcb, ground, ramp) in enumerate(ordered):
        if ramp is None:
            points.append((day, kcb, ground))
            continue
        _, kcb_before, ground_before, _ = ordered[place - 1] if yearly or place else ordered[place]
        points.append((day, kcb_before, ground_before))
        points.append((day + max(ramp, 1.0), kcb, ground))
    places = [point[0] for point in points]
    overlap = yearly and len(points) > 1 and places[-1] - A_YEAR_DAYS >= places[0]
    if overlap or any(later <= earlier for earlier, later in itertools.pairwise(places)):
        raise InputError("cover", "two rows at once", "rows further apart than their ramp_days")
    return Cover(tuple(points), yearly)


def _round_the_year(numbers: Floats) -> Floats:
    """The same points in the year before, this year and the next."""
    return np.concatenate([numbers - A_YEAR_DAYS, numbers, numbers + A_YEAR_DAYS])


def _pair(said: Said, place: int | None, findings: list[str]) -> tuple[float, float] | None:
    """Basal coefficient and ground cover of a table; None when neither is said."""
    where = "cover" if place is None else f"cover row {place}"
    kcb = said.number(KCB_KEYS, 0.0, MOST_KCB, f"a basal coefficient from 0 to {MOST_KCB:g}")
    share = said.take(*GROUND_KEYS)
    ground = None
    if share is not None:
        ground = number(*share, 0.0, 100.0, "a fraction from 0 to 1, or per cent up to 100")
        stated = share[0].endswith(("_pct", "_percent"))
        if ground > 1 and not stated:
            findings.append(IN_PERCENT)
        ground = ground / 100 if stated or ground > 1 else ground
    if kcb is None and ground is None:
        return None
    if kcb is None or ground is None:
        missing = "kcb" if kcb is None else "ground_cover"
        raise InputError(f"{where}: {missing}", None, "both kcb and ground_cover")
    return kcb, ground


def _middle_of_month(row: Said) -> tuple[str, str] | None:
    found = row.take("month")
    if found is None:
        return None
    month = month_of(found[1])
    if month is None:
        raise InputError(*found, "a month by its name or its number")
    return found[0], f"{month:02d}-{MID_MONTH_DAY:02d}"


def _day_number(name: str, value: object) -> tuple[float, bool]:
    """A day's number, and whether it comes every year."""
    if isinstance(value, datetime):
        return float(value.date().toordinal()), False
    if isinstance(value, date):
        return float(value.toordinal()), False
    text = str(value).strip()
    if _MONTH_DAY.fullmatch(text):
        return _yearly_day(name, text), True
    try:
        return float(date.fromisoformat(text).toordinal()), False
    except ValueError:
        raise InputError(name, value, "a day like '04-01' for every year, or 2012-04-01") from None


def _yearly_day(name: str, text: str) -> float:
    found = _MONTH_DAY.fullmatch(text)
    assert found is not None
    try:
        return _of_year(int(found[1]), int(found[2]))
    except ValueError:
        raise InputError(name, text, "month and day, like '04-01' for 1 April") from None


def _of_year(month: int, day: int) -> float:
    """Day of a year without a leap day; 29 February is the 28th."""
    leap = (month, day) == (2, 29)
    return float(date(2001, month, 28 if leap else day).timetuple().tm_yday)


def _name_left(said: Said, findings: list[str]) -> None:
    if said.left():
        findings.append(f"not understood, and left out: {', '.join(said.left())}")
