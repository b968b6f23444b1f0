"""A morning's question to a service, played the whole way: real server, transport, parser, what comes of it in words.

The faults themselves are listed in `reading_faults.py`.
"""

from collections.abc import Callable, Iterator, Mapping
from datetime import UTC, date, datetime, timedelta
from email.utils import format_datetime
from pathlib import Path
from time import monotonic
from typing import NamedTuple

from soakbook.errors import WeatherError
from soakbook.garden.weather import ForecastDay
from soakbook.weather.hearing import Heard, Spot
from soakbook.weather.met_norway import read_met_norway
from soakbook.weather.open_meteo.reading import USUAL, read_open_meteo
from soakbook.weather.session import Outside
from tests.weather.faults import AGENT, LATER, NOW, Came
from tests.weather.made_answers import GLOUCESTER, ensemble, forecast, locationforecast
from tests.weather.server import Reply, Server, reply_json

PATIENCE_S = 2.0

Read = Callable[[Outside, str, datetime], Heard]
"""Way out, where the service is, and now -> what was heard."""

Replies = Mapping[str, Reply]
"""What is asked for -> what is answered."""


class Service(NamedTuple):
    """A weather service: how it is asked, and what it answers on a good morning."""

    read: Read
    good: Replies
    place: tuple[str, str]
    """Latitude and longitude, as they are to be sent."""


def first_service(spot: Spot = GLOUCESTER, now: datetime = NOW) -> Service:
    """Open-Meteo, asked for a place."""

    def read(outside: Outside, base_url: str, at: datetime) -> Heard:
        urls = {what: f"{base_url}/{what}" for what in USUAL}
        return read_open_meteo(outside, spot, at, urls=urls)

    replies = {
        "/forecast": reply_json(forecast(now, spot)),
        "/ensemble": reply_json(ensemble(now)),
    }
    return Service(read, replies, _sent(spot))


def second_service(spot: Spot = GLOUCESTER, now: datetime = NOW) -> Service:
    """MET Norway, asked for a place."""

    def read(outside: Outside, base_url: str, at: datetime) -> Heard:
        return read_met_norway(outside, spot, at, base_url=base_url)

    good = {"/complete": reply_json(locationforecast(now, spot))}
    return Service(read, good, _sent(spot))


def _sent(spot: Spot) -> tuple[str, str]:
    return f"{spot.latitude_deg:.2f}", f"{spot.longitude_deg:.2f}"


def aged(reply: Reply, **more: str) -> Reply:
    """The same, past its lifetime as soon as it has come; `last_modified` stands for Last-Modified."""
    expires = format_datetime(datetime.now(UTC) - timedelta(hours=1), usegmt=True)
    headers = {name.replace("_", "-").title(): value for name, value in more.items()}
    return reply._replace(headers={"Expires": expires, **headers})


def played(
    service: Service, bad: Replies, *, stands_in: bool = True, last_modified: str = ""
) -> Callable[[Path], Came]:
    """Play a morning that something is wrong with twice: with no older answer, and with a good one of before.

    What came, or was said, is told of the first; beside an older answer the same is to be said, and the days of the
    older one are to stand in where nothing came, if they may.
    """

    def play(folder: Path) -> Came:
        more = {"last_modified": last_modified} if last_modified else {}
        with Server() as server:
            for what, reply in service.good.items():
                now = bad.get(what, reply)
                server.script[f"/held{what}"] = [aged(reply, **more), now]
                server.script[f"/bare{what}"] = reply if now.status == 304 else now
            started = monotonic()
            bare = _alone(folder / "none", service, server.url("/bare"))
            seconds = monotonic() - started
            with Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
                older = service.read(outside, server.url("/held"), NOW)
            second = _alone(folder, service, server.url("/held"))
            wrong = tuple(_wrong(bare, older, second, stands_in=stands_in))
            held = _at_home(folder, service, server.url("/held"))
        kept = held is not None and _weather(held) == _weather(older)
        if isinstance(bare, WeatherError):
            return Came(bare.kind, bare.say, kept, seconds, wrong)
        return Came("", words_of(bare), kept, seconds, wrong)

    return play


def played_once(
    service: Service,
    now: datetime,
    wrong_with: Callable[[Heard], Iterator[str]] = lambda _: iter(()),
) -> Callable[[Path], Came]:
    """Play a good morning of an unusual place or day."""

    def play(folder: Path) -> Came:
        with Server() as server:
            server.script |= service.good
            started = monotonic()
            with Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
                heard = service.read(outside, server.url(""), now)
            seconds = monotonic() - started
            asked = {tuple(value for _, value in seen.params[:2]) for seen in server.seen}
        wrong = (*wrong_with(heard), *(f"asked for {one}" for one in asked - {service.place}))
        return Came("", words_of(heard), None, seconds, wrong)

    return play


def words_of(heard: Heard) -> str:
    """`2 days over, 4 to come, 51 futures on 4 days, rain 2.4 mm, ET0 1.9 to 2.0 mm`; then what was found wrong."""
    days = heard.forecast.days if heard.forecast else ()
    over = {value.day for value in heard.values}
    told = [f"{len(over)} days over, {len(days)} to come", _futures_words(days)]
    for variable, word, digits in (("rain_mm", "rain", 2), ("et0_mm", "ET0", 1)):
        values = [value.value for value in heard.values if value.variable == variable]
        values += [mm for day in days if (mm := getattr(day, variable)) is not None]
        told.append(f"{word} {_span(values, digits)} mm")
    troubles = [
        f"{one.what}: {one.trouble.kind}, {one.trouble.say}"
        for one in heard.questions
        if one.trouble
    ]
    return "; ".join([", ".join(told), *troubles, *heard.findings])


def _futures_words(days: tuple[ForecastDay, ...]) -> str:
    counts = [len(day.rain_members_mm) for day in days if day.rain_members_mm]
    both = all(len(day.rain_members_mm) == len(day.et0_members_mm) for day in days)
    if not counts:
        return "no futures"
    return f"{_span(counts, 0)} futures on {len(counts)} days{'' if both else ', by halves'}"


def _span(values: list[float] | list[int], digits: int) -> str:
    ends = (
        dict.fromkeys(f"{value:.{digits}f}" for value in (min(values), max(values)))
        if values
        else {"no": None}
    )
    return " to ".join(ends)


def _alone(folder: Path, service: Service, url: str) -> Heard | WeatherError:
    try:
        with Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
            return service.read(outside, url, LATER)
    except WeatherError as error:
        return error


def _at_home(folder: Path, service: Service, url: str) -> Heard | None:
    """What one who stays at home hears."""
    try:
        with Outside(folder, AGENT, offline=True) as outside:
            return service.read(outside, url, LATER)
    except WeatherError:
        return None


def _wrong(
    bare: Heard | WeatherError, older: Heard, second: Heard | WeatherError, *, stands_in: bool
) -> Iterator[str]:
    """In what the morning with an older answer is not as it should be."""
    if isinstance(second, WeatherError):
        if stands_in or not isinstance(bare, WeatherError):
            yield f"no older answer stood in: {second}"
        elif str(second) != str(bare):
            yield f"said otherwise beside an older answer: {second}"
        return
    if not isinstance(bare, WeatherError):
        failed = any(one.trouble for one in bare.questions)
        expected = (_days(bare), _futures(older if failed else bare))
        troubles = [str(one.trouble) for one in bare.questions]
    else:
        expected = _weather(older)
        troubles = [str(bare), *("None" for _ in second.questions[1:])]
        if not stands_in:
            yield "the older answer stood in"
    if _weather(second) != expected:
        yield "other weather beside an older answer"
    if [str(one.trouble) for one in second.questions] != troubles:
        yield f"said otherwise beside an older answer: {second.questions}"


def _weather(heard: Heard) -> tuple[tuple[object, ...], dict[date, tuple[float, ...]]]:
    return _days(heard), _futures(heard)


def _days(heard: Heard) -> tuple[object, ...]:
    """The days' own numbers, whenever they came, without futures."""
    days = heard.forecast.days if heard.forecast else ()
    plain = [
        day._replace(rain_members_mm=(), et0_members_mm=(), mean_by_hour_mm=()) for day in days
    ]
    return (*((one.day, one.variable, one.value) for one in heard.values), *plain)


def _futures(heard: Heard) -> dict[date, tuple[float, ...]]:
    days = heard.forecast.days if heard.forecast else ()
    return {day.day: day.rain_members_mm + day.et0_members_mm for day in days}
