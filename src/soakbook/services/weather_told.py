"""What came of asking for weather, in words: what is new, what failed, which calls it changed."""

from collections.abc import Sequence
from datetime import date, datetime
from typing import NamedTuple

from soakbook.errors import WeatherError
from soakbook.garden.pages import Pages
from soakbook.quantities.dates import month_day
from soakbook.quantities.saying import counted, names
from soakbook.services.round_changes import changed_calls, changes_say
from soakbook.store.texts import garden_zone
from soakbook.weather.hearing import Heard

ASKED_FOR = {
    "forecast": "the forecast",
    "ensemble": "its futures",
    "archive": "days long past",
}
"""What a service is asked for -> what a gardener calls it."""


class AllHeard(NamedTuple):
    """What services told, what went wrong, and what was found of the answers that are kept."""

    heard: Sequence[Heard]
    troubles: Sequence[WeatherError]
    findings: Sequence[str]


class Refreshed(NamedTuple):
    """What came of asking."""

    say: tuple[str, ...]
    values_added: int
    calls_changed: tuple[str, ...]
    """Keys of beds."""
    troubles: tuple[str, ...]
    came: bool = False
    """Whether anything came that was no older answer."""
    not_asked: tuple[str, ...] = ()
    """Services of which nothing new could be had while offline."""


class _Failed(NamedTuple):
    """What went wrong, alike for all that was asked for, and what it leaves."""

    trouble: WeatherError
    asked_for: tuple[str, ...]  # empty where the service gave nothing at all
    leaves: str

    @property
    def say(self) -> str:
        """In a sentence: `Open-Meteo, for its futures: no answer within 20 s.` or without what was asked for."""
        what = f", for {names(self.asked_for)}" if self.asked_for else ""
        said = f"{self.trouble.service}{what}: {self.trouble.say}"
        return said if said.endswith((".", "?")) else f"{said}."


def refreshed(before: Pages, after: Pages, came: AllHeard, added: int, now: datetime) -> Refreshed:
    """What came of asking, with the calls of this morning that it changed."""
    local = now.astimezone(garden_zone(after.garden))
    troubles = [
        *(one.trouble for each in came.heard for one in each.questions if one.trouble),
        *came.troubles,
    ]
    offline = tuple(dict.fromkeys(one.service for one in troubles if one.kind == "offline"))
    failed = [one for one in _failed(came, before) if one.trouble.kind != "offline"]
    changed = changed_calls(before, after, local) if added else {}
    # Of an answer that was kept the book has everything: while offline it is told only when that is news.
    told = [one for one in came.heard if one.service not in offline or added]
    say = [
        *filter(None, (_came(one, local) for one in told)),
        *(" ".join(filter(None, (one.say, one.leaves))) for one in failed),
        *(f"To know of {one.service}: {found}." for one in told for found in one.findings),
        *(f"To know: {found}." for found in came.findings),
        *_nothing_behind(after, came.heard, local.date()),
    ]
    if changed:
        say.append(changes_say(changed))
    return Refreshed(
        tuple(say),
        added,
        tuple(changed),
        tuple(one.say for one in failed),
        any(one.trouble is None for each in came.heard for one in each.questions),
        offline,
    )


def _failed(came: AllHeard, before: Pages) -> list[_Failed]:
    """What went wrong; what fails alike for several things is one."""
    stays = "What the book has stays." if before.weather or before.forecasts else ""
    alike: dict[tuple[str, str, str], _Failed] = {}
    for heard in came.heard:
        for question in heard.questions:
            trouble, what = question.trouble, question.what
            if trouble is None:
                continue
            leaves = _stands_in(heard, what) or stays
            key = (trouble.service, trouble.say, leaves)
            so_far = alike[key].asked_for if key in alike else ()
            alike[key] = _Failed(trouble, (*so_far, ASKED_FOR.get(what, what)), leaves)
    return [*alike.values(), *(_Failed(trouble, (), stays) for trouble in came.troubles)]


def _stands_in(heard: Heard, what: str) -> str:
    """What there is in place of an answer that did not come; empty where nothing is."""
    futures = heard.forecast and any(day.rain_members_mm for day in heard.forecast.days)
    if what == "ensemble":
        return "Older ones stand in." if futures else "The forecast stands without them."
    return "An older answer stands in." if heard.values or heard.forecast else ""


def _came(heard: Heard, local: datetime) -> str:
    """`Open-Meteo: 7 days analysed, to 14 May and forecast to 30 May in 51 futures.`; empty where it failed."""
    parts = []
    over = sorted({value.day for value in heard.values})
    if over:
        parts.append(f"{counted(len(over), 'day')} analysed, to {month_day(over[-1])}")
    if heard.forecast:
        futures = max(len(day.rain_members_mm) for day in heard.forecast.days)
        many = f" in {futures} futures" if futures else ""
        parts.append(f"forecast to {month_day(heard.forecast.days[-1].day)}{many}")
    if not parts:
        failed = any(question.trouble for question in heard.questions)
        return "" if failed else f"{heard.service}: its answer has no whole day."
    return f"{heard.service}{_kept(heard, local)}: {names(parts)}."


def _kept(heard: Heard, local: datetime) -> str:
    """That an answer is an older one, and from when."""
    older = any(one.trouble for one in heard.questions if one.what in ("forecast", "archive"))
    if not older:
        return ""
    fetched = heard.forecast.issued_at if heard.forecast else heard.values[0].fetched_at
    at = fetched.astimezone(local.tzinfo)
    return f", as it said on {month_day(at.date())} at {at:%H:%M}"


def _nothing_behind(after: Pages, heard: Sequence[Heard], today: date) -> list[str]:
    """Why a book with a forecast of days to come alone has no round yet."""
    ahead = [one.service for one in heard if one.forecast and not one.values]
    behind = any(day.day < today for one in after.forecasts for day in one.days)
    if after.weather or behind or not ahead:
        return []
    return [
        f"{ahead[-1]} has no days gone by, and without one nothing is reckoned yet: ask again later for those of "
        "another service, or bring in a file, soakbook weather FILE."
    ]
