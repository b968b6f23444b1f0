"""The weather of a folder into a book: what no arrival in the book has brought yet.

An arrival is known by all that it says of itself; where several say the same, the first of the folder is the first of
the book. Files are read twice: arrivals are written in the order of their numbers, before what they brought.
"""

import json
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, cast, get_args

from soakbook.errors import InputError
from soakbook.garden.weather import WEATHER_KINDS, ForecastDay
from soakbook.quantities.names import QUANTITIES
from soakbook.services.folder import keyless
from soakbook.services.folder.brought import Brought
from soakbook.services.folder.columns import (
    ASKED,
    CAME,
    FORECASTS,
    PROMISES,
    RAIN_HOURS,
    WEATHER,
    Sheet,
)
from soakbook.services.folder.reading import Row, read_rows
from soakbook.store import bringing, whole_tables
from soakbook.store.arrivals import Arrival, arrival
from soakbook.store.book_file import BookFile
from soakbook.store.forecast_rows import said_text
from soakbook.store.rain_hours import HOURS_OF_A_DAY
from soakbook.store.texts import utc_text
from soakbook.store.weather_asked import Came

if TYPE_CHECKING:
    from datetime import datetime

    from soakbook.garden.weather import WeatherKind

LARGEST = 1e9
"""Of any value of weather, as the book has it."""

LARGEST_MM = 1e4

LEAST_ET0_MM = -20.0
"""Of a day: a service's futures may tell of dew at night. common practice, no source."""

SPANS: Mapping[str, tuple[float, float]] = {
    **{name: (QUANTITIES[name].lowest, QUANTITIES[name].highest)
       for name in ("tmin_c", "tmax_c", "tmean_c", "rhmin_percent")},
    **dict.fromkeys(("et0_mm", "et0_members_mm"), (LEAST_ET0_MM, LARGEST_MM)),
    **dict.fromkeys(
        ("rain_mm", "rain_by_hour_mm", "rain_members_mm", "mean_by_hour_mm"), (0.0, LARGEST_MM)
    ),
    "wind_2m_m_per_s": (0.0, LARGEST_MM),
}  # fmt: skip
"""From where to where a number goes that a reckoning reads: beyond, its water would not add up."""

MOST_DAYS = 400
"""Ahead, of any forecast."""

MAY_LACK = {"method", "issued_at", "say", "not_before"} | set(ForecastDay._fields) - {"day"}
"""Columns in which nothing need stand."""


class _Arrived(NamedTuple):
    """An arrival of the folder: its row in the book, and whether the book had it before."""

    id: int
    known: bool


def bring_weather(book: BookFile, folder: Path, brought: Brought) -> None:
    """Every value, issue, promise and hour that the book does not know, inside the caller's transaction.

    Raises
    ------
    InputError
        The first row that cannot be right, with its line.
    """
    arrived = _arrivals(book, folder)
    _check_issues(folder)
    for sheet, table, read in _SHEETS:
        for row in read_rows(folder, sheet):
            values = _values(row, sheet)
            there = arrived.get(cast("int", values["arrival"]))
            if there is None:
                right = "one that was there before: the file was changed while it was read"
                row.refuse("arrival", str(values["arrival"]), right)
            told = read(row, values)
            once = table == "forecast_day"
            if (there.known or once) and bringing.has_told(book, table, there.id, told):
                if not there.known:
                    row.refuse("day", told[0], "each day once in an issue")
                continue
            if table == "promise" and bringing.has_promise(book, str(values["source"]), *told[:2]):
                continue  # by its first word of a day a service is judged
            bringing.put_told(book, table, there.id, told)
            brought.added[sheet.name] += 1


def bring_asked(book: BookFile, folder: Path, brought: Brought) -> None:
    """What came of asking, inside the caller's transaction.

    Raises
    ------
    InputError
        The first row that cannot be right, with its line.
    """
    known = set(map(keyless.asked, whole_tables.asked_texts(book)))
    for row in read_rows(folder, ASKED):
        values = _values(row, ASKED)
        if values["came"] not in get_args(Came):
            row.refuse("came", values["came"], f"one of {', '.join(get_args(Came))}")
        values["say"] = values["say"] or ""
        for field in ("at", "not_before"):
            if values[field] is not None:
                values[field] = utc_text(field, cast("datetime", values[field]))
        if tuple(values[field] for field in whole_tables.ASKED) not in known:
            bringing.put_asked(book, values)
            brought.added["asked"] += 1


def _check_issues(folder: Path) -> None:
    """Refuse an issue that tells of no whole day: nothing could be made of it."""
    whole: dict[int, bool] = {}
    for row in read_rows(folder, FORECASTS):
        values = _values(row, FORECASTS)
        _issue(row, values)
        number = cast("int", values["arrival"])
        whole[number] = whole.get(number, False) or not values["from_hour"]
    for number, tells in whole.items():
        if not tells:
            right = "an issue that tells of a whole day, with from_hour 0 or empty"
            raise InputError("forecasts.csv, arrival", str(number), right)


def _arrivals(book: BookFile, folder: Path) -> dict[int, _Arrived]:
    """Every arrival of the folder by its number, written if the book has none like it."""
    said: dict[int, Arrival] = {}
    for sheet, _, _ in _SHEETS:
        for row in read_rows(folder, sheet):
            number, arrived = _arrival(row, sheet)
            if said.setdefault(number, arrived) != arrived:
                right = "rows of one arrival agree in " + ", ".join(whole_tables.ARRIVED)
                row.refuse("arrival", str(number), right)
    here = {arrived: list(ids) for arrived, ids in bringing.known_arrivals(book).items()}
    found: dict[int, _Arrived] = {}
    for number, arrived in sorted(said.items()):
        ids = here.get(arrived)
        known = bool(ids)
        found[number] = _Arrived(ids.pop(0) if ids else bringing.put_arrival(book, arrived), known)
    return found


def _arrival(row: Row, sheet: Sheet) -> tuple[int, Arrival]:
    values = _values(row, sheet, CAME)
    number = cast("int", values["arrival"])
    if number < 1:
        row.refuse("arrival", str(number), "a whole number from 1 up")
    kind = cast("WeatherKind", values["kind"])
    if kind not in WEATHER_KINDS:
        row.refuse("kind", kind, f"one of {', '.join(WEATHER_KINDS)}")
    if sheet in (FORECASTS, PROMISES) and (kind != "forecast" or values["issued_at"] is None):
        row.refuse("kind", kind, f"forecast, with issued_at, in {sheet.name}.csv")
    issued_at, fetched_at = (
        cast("datetime | None", values[field]) for field in ("issued_at", "fetched_at")
    )
    return number, arrival(
        str(values["source"]),
        kind,
        str(values["method"] or ""),
        issued_at,
        cast("datetime", fetched_at),
    )


def _values(row: Row, sheet: Sheet, until: int | None = None) -> dict[str, Any]:
    values: dict[str, Any] = {}
    for place, column in enumerate(sheet.columns[:until]):
        value = row.read(place, column)
        if value is None and column.name not in MAY_LACK:
            row.refuse(column.name, None, f"{column.says}: {column.cell.right}")
        values[column.name] = value
    return values


def _value(row: Row, values: Mapping[str, Any]) -> Sequence[Any]:
    if not abs(values["value"]) <= LARGEST:
        row.refuse("value", values["value"], "a number of weather")
    if not values["variable"]:
        row.refuse("variable", None, "what the value is of, such as rain_mm")
    _check_span(row, "value", values["variable"], (values["value"],))
    return values["day"].isoformat(), values["variable"], float(values["value"])


def _issue(row: Row, values: Mapping[str, Any]) -> Sequence[Any]:
    told = {
        field: value
        for field, value in values.items()
        if field in ForecastDay._fields and value is not None
    }
    if told.get("from_hour", 0) not in range(24):
        row.refuse("from_hour", told["from_hour"], "a whole number from 0 to 23")
    for field in ("rain_by_hour_mm", "mean_by_hour_mm"):
        if len(told.get(field, ())) not in (0, *HOURS_OF_A_DAY):
            row.refuse(field, f"{len(told[field])} of them", "23 to 25 numbers, or none")
    futures, asked = (len(told.get(f"{of}_members_mm", ())) for of in ("rain", "et0"))
    if asked not in (0, futures):
        right = f"as many as of rain, {futures}, or none"
        row.refuse("et0_members_mm", f"{asked} of them", right)
    for field, value in told.items():
        _check_span(row, field, field, value if isinstance(value, tuple) else (value,))
    try:
        return told["day"].isoformat(), said_text(ForecastDay(**told))
    except InputError as fault:
        row.refuse(fault.field, fault.value, fault.right)


def _check_span(row: Row, field: str, name: str, numbers: Sequence[float]) -> None:
    if name not in SPANS:
        return
    least, largest = SPANS[name]
    for number in numbers:
        if not least <= number <= largest:
            row.refuse(field, number, f"{name} from {least:g} to {largest:g}")


def _promise(row: Row, values: Mapping[str, Any]) -> Sequence[Any]:
    lead, share, middle = values["lead_days"], values["share"], values["middle_mm"]
    if not 0 < lead <= MOST_DAYS:
        row.refuse("lead_days", lead, f"a whole number from 1 to {MOST_DAYS}")
    if not 0 <= share <= 1:
        row.refuse("share", share, "from 0 to 1")
    if not 0 <= middle <= LARGEST_MM:
        row.refuse("middle_mm", middle, f"from 0 to {LARGEST_MM:g} mm")
    return values["issued_on"].isoformat(), lead, float(share), float(middle)


def _hours(row: Row, values: Mapping[str, Any]) -> Sequence[Any]:
    numbers = values["numbers"]
    if len(numbers) not in HOURS_OF_A_DAY or not all(0 <= mm <= LARGEST_MM for mm in numbers):
        row.refuse("numbers", f"{len(numbers)} of them", "23 to 25 numbers from 0 up")
    return values["day"].isoformat(), json.dumps(numbers)


_Read = Callable[[Row, Mapping[str, Any]], Sequence[Any]]

_SHEETS: tuple[tuple[Sheet, str, _Read], ...] = (
    (WEATHER, "weather_value", _value),
    (FORECASTS, "forecast_day", _issue),
    (PROMISES, "promise", _promise),
    (RAIN_HOURS, "rain_hours", _hours),
)
"""Files, the tables that their rows lie in, and what makes a row of the table of one of the file."""
