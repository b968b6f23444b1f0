"""Promises: forecast rain not yet fallen, and how well a service keeps them.

A promise is read off one issue of a forecast for a span of local calendar days, of its own day from the hour of issue
on: what has fallen is no promise. Later it is judged by what is known to have fallen in the same time (`fallen_days`).
What a promise may put off is the reckoning's; where forecasts and rain are kept is the store's; how all of it is said
stands in `promise_words`. What rain is useful and how sure a promise must be, all take from here.
"""

import math
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime, timedelta, tzinfo
from typing import Literal, NamedTuple

from soakbook.garden.told_days import still_to_come
from soakbook.garden.weather import Forecast, ForecastDay

USEFUL_RAIN_MM = 5.0
"""Rain that is worth waiting for; on a bed without mulch, whose own take comes on top. Common practice, no source."""

GOOD_SHARE = 0.70
"""Of the futures that bring it, for a promise by a service that is believed. Common practice, no source."""

DOUBTFUL_SHARE = 0.30
"""Below it there is no promise. Ours, no source."""

HIGHEST_BAR = 0.95
"""However often a service was wrong, what it is as sure of as this is believed. Ours, no source."""

LEADS_DAYS = (1, 2, 3)
"""Windows that are judged: from the morning of issue to so many days later."""

PLAIN_FUTURES = ((0.0, 0.35), (1.0, 0.50), (1.5, 0.15))
"""(times the rain said, weight): the futures of a forecast without members. Ours, no source."""

PRIOR_MADE, PRIOR_KEPT = 10, 8
"""What a service is credited with before it is known. Common practice, no source."""

NOTHING_GONE: Mapping[datetime, float] = {}
RECORD_DAYS = 365
ROUNDED_TO = 6
"""Decimals of a sum of rain: tenths that come to 5 mm are not to miss it by a binary digit."""

Outcome = Literal["kept", "broken", "not yet known"]


class Promise(NamedTuple):
    """Useful rain on the days from `first` to `last`, as one issue of a forecast has it."""

    first: date
    last: date
    share: float  # of the futures, 0-1
    middle_mm: float  # half of the futures bring more
    good: bool  # else doubtful


class Made(NamedTuple):
    """What one issue said of useful rain up to so many days after its own, be it much or little."""

    source: str
    issued_on: date
    lead_days: int
    share: float
    middle_mm: float
    issued_at: datetime | None = None
    """The moment from which on it counts; None: from the midnight before."""


class JudgedPromise(NamedTuple):
    """A promise and what came of it."""

    source: str
    issued_on: date
    lead_days: int
    promise: Promise
    fell_mm: float | None  # since the issue, before today; None where nothing is known
    outcome: Outcome


class Reliability(NamedTuple):
    """Good promises of one service, for so many days ahead or for all, of which is known what came of them."""

    source: str
    lead_days: int | None
    made: int
    kept: int
    mornings: int
    """Issues, with a promise in them or not, of which is known whether useful rain came."""

    @property
    def broken(self) -> int:
        """Those after which too little fell."""
        return self.made - self.kept


class PromiseRecord(NamedTuple):
    """All promises by service, issue and lead, and the services' reliability over the last 365 days."""

    promises: tuple[JudgedPromise, ...]
    reliabilities: tuple[Reliability, ...]


def promise_of(
    forecast: Forecast, first: date, last: date, bar: float = GOOD_SHARE
) -> Promise | None:
    """The promise of useful rain from `first` to `last`, both included; None where there is none.

    A day of which the forecast says nothing brings nothing. Without members there are three futures: dry, as said and
    half as much again; of these at most 0.65 bring rain, so that such a forecast makes doubtful promises only.

    Parameters
    ----------
    forecast : Forecast
        One issue.
    first, last : date
        Local days.
    bar : float
        Share of futures from which it is good, as `bar_of` gives it for the service [0-1].
    """
    futures = _futures([day for day in forecast.days if first <= day.day <= last])
    share = _share(futures)
    if share < DOUBTFUL_SHARE:
        return None
    return Promise(first, last, share, _middle(futures), share >= bar)


def chance_of(forecast: Forecast, first: date, last: date) -> float:
    """Share of the futures that bring useful rain from `first` to `last`, both included [0-1]."""
    return _share(_futures([day for day in forecast.days if first <= day.day <= last]))


def made_by(forecasts: Iterable[Forecast], zone: tzinfo) -> tuple[Made, ...]:
    """What forecasts said of useful rain one, two and three days ahead; of several of a service on a day the latest.

    Of the day of issue only what was still to come counts. `zone` is the garden's, in which an issue has its day.
    """
    issues: dict[tuple[str, date], Forecast] = {}
    for forecast in sorted(forecasts, key=lambda one: one.issued_at):
        issues[forecast.source, forecast.issued_at.astimezone(zone).date()] = forecast
    found = []
    for (source, issued_on), forecast in sorted(issues.items()):
        ahead = still_to_come(forecast, forecast.issued_at, zone).days
        for lead in LEADS_DAYS:
            last = issued_on + timedelta(days=lead)
            futures = _futures([day for day in ahead if day.day <= last])
            middle_mm = _middle(futures) if futures else 0.0
            share, issued_at = _share(futures), forecast.issued_at
            found.append(Made(source, issued_on, lead, share, middle_mm, issued_at))
    return tuple(found)


def judge_promises(
    made: Iterable[Made],
    rain_by_day: Mapping[date, float | None],
    today: date,
    gone_before_mm: Mapping[datetime, float] = NOTHING_GONE,
) -> PromiseRecord:
    """Every promise one, two and three days ahead, and what came of it.

    Each rain is promised on several days: each issue day and lead counts by itself. Good is here what was given at
    70 % or more, whatever the bar stood at, so that a service's record does not get better by our doubting it.

    Parameters
    ----------
    made : iterable of Made
        One issue a day of each service. Those issued after `today` do not count.
    rain_by_day : mapping
        What fell on each local calendar day [mm], None or absent where it is not known. Only days before `today` are
        read.
    today : date
        The garden's day.
    gone_before_mm : mapping
        Moment of issue -> what of its day's rain had fallen before it [mm]; none where it is absent.
    """
    promises: list[JudgedPromise] = []
    mornings: dict[tuple[str, int], int] = {}
    for source, issued_on, lead, share, middle_mm, issued_at in sorted(
        made, key=lambda one: one[:3]
    ):
        if issued_on > today:
            continue
        last = issued_on + timedelta(days=lead)
        before_mm = gone_before_mm.get(issued_at, 0.0) if issued_at else 0.0
        fell_mm, outcome = _came(issued_on, last, rain_by_day, today, before_mm)
        if today - issued_on <= timedelta(days=RECORD_DAYS):
            known = outcome != "not yet known"
            mornings[source, lead] = mornings.get((source, lead), 0) + known
        if share >= DOUBTFUL_SHARE:
            promise = Promise(issued_on, last, share, middle_mm, share >= GOOD_SHARE)
            promises.append(JudgedPromise(source, issued_on, lead, promise, fell_mm, outcome))
    counted = [
        one
        for one in promises
        if one.promise.good and today - one.issued_on <= timedelta(days=RECORD_DAYS)
    ]
    return PromiseRecord(tuple(promises), tuple(_reliabilities(counted, mornings)))


def of_service(reliabilities: Iterable[Reliability], source: str) -> Reliability:
    """A service's good promises of all leads together: what its bar is made from."""
    ours = [one for one in reliabilities if one.source == source]
    return Reliability(
        source,
        None,
        sum(one.made for one in ours),
        sum(one.kept for one in ours),
        max((one.mornings for one in ours), default=0),
    )


def trust_of(reliability: Reliability) -> float:
    """How far a service is taken at its word [0-1]: 1 while it keeps four good promises of five.

    trust = min(1, (8 + kept / 3) / (10 + made / 3) / 0.8). One rain is promised one, two and three days ahead, so three
    promises count as one; and to what it made, ten are added of which eight were kept, so that the first rain that
    does not come decides nothing. Common practice, no source.
    """
    kept, made = (count / len(LEADS_DAYS) for count in (reliability.kept, reliability.made))
    share = (PRIOR_KEPT + kept) / (PRIOR_MADE + made)
    return min(1.0, share / (PRIOR_KEPT / PRIOR_MADE))


def bar_of(reliability: Reliability) -> float:
    """Share of futures from which the service's next promise is good [0-1].

    0.70 / trust, at most 0.95: a service that breaks its promises must promise more surely to be believed.
    """
    return min(HIGHEST_BAR, GOOD_SHARE / trust_of(reliability))


Futures = list[tuple[float, float]]
"""(rain in the window in mm, weight), the weights together 1; empty where nothing is said."""


def _futures(days: list[ForecastDay]) -> Futures:
    """The window's rain in each future: members where every day has as many, else made from the plain values."""
    said = [day for day in days if day.rain_members_mm or day.rain_mm is not None]
    if not said:
        return []
    count = len(said[0].rain_members_mm)
    if count and all(len(day.rain_members_mm) == count for day in said):
        by_member = zip(*(day.rain_members_mm for day in said), strict=True)
        return sorted((round(sum(rain), ROUNDED_TO), 1 / count) for rain in by_member)
    plain = sum(_plain(day) for day in said)
    return [(round(times * plain, ROUNDED_TO), weight) for times, weight in PLAIN_FUTURES]


def _plain(day: ForecastDay) -> float:
    if day.rain_mm is not None:
        return day.rain_mm
    return sum(day.rain_members_mm) / len(day.rain_members_mm)


def _share(futures: Futures) -> float:
    """Weight of the futures with useful rain: a quotient of counts where there are members, so that 7 of 10 is 0.7."""
    useful = [weight for rain_mm, weight in futures if rain_mm >= USEFUL_RAIN_MM]
    if len({weight for _, weight in futures}) == 1:
        return len(useful) / len(futures)
    return math.fsum(useful)


def _middle(futures: Futures) -> float:
    """The weighted median; between two where half lies on either side of a gap."""
    below = 0.0
    for place, (rain_mm, weight) in enumerate(futures):
        below += weight
        if abs(below - 0.5) < 1e-9:
            return (rain_mm + futures[place + 1][0]) / 2
        if below > 0.5:
            return rain_mm
    return futures[-1][0]


def _came(
    first: date, last: date, rain_by_day: Mapping[date, float | None], today: date, before_mm: float
) -> tuple[float | None, Outcome]:
    """What is known to have fallen since the issue and before today, and whether that settles it."""
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    fell = [rain_by_day.get(day) if day < today else None for day in days]
    if fell[0] is not None:
        fell[0] = max(0.0, fell[0] - before_mm)
    known = [rain_mm for rain_mm in fell if rain_mm is not None]
    total = round(sum(known), ROUNDED_TO) if known else None
    if total is not None and total >= USEFUL_RAIN_MM:
        return total, "kept"
    return total, "broken" if len(known) == len(days) else "not yet known"


def _reliabilities(
    good: list[JudgedPromise], mornings: Mapping[tuple[str, int], int]
) -> Iterator[Reliability]:
    """By service and lead, of all that have a morning in the record."""
    for (source, lead), count in mornings.items():
        outcomes = [one.outcome for one in good if (one.source, one.lead_days) == (source, lead)]
        kept = outcomes.count("kept")
        yield Reliability(source, lead, kept + outcomes.count("broken"), kept, count)
