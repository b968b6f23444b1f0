"""What weather services may say wrongly or strangely, as one list of cases, each played the whole way (`reading`).

A new case is one line in `READING_CASES`: for an answer of the first service with something changed,
`Case("its answer: what is wrong", first(change), "rubbish", "words said of it")`; of an answer that is taken the words
are those of `reading.words_of`, and the older answer is kept no longer.
"""

from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from time import monotonic
from zoneinfo import ZoneInfo

from soakbook.weather.hearing import Heard, Spot
from soakbook.weather.keeping import CHECK_RATIO
from soakbook.weather.session import Outside
from tests.weather.faults import AGENT, NOW, Came, Case
from tests.weather.made_answers import ensemble, forecast, locationforecast
from tests.weather.reading import (
    PATIENCE_S,
    aged,
    first_service,
    played,
    played_once,
    second_service,
)
from tests.weather.server import Reply, Server, reply_json
from tests.weather.spoiled import (
    ET0,
    RAIN,
    Change,
    backwards,
    changed,
    column,
    damper_than_air_can_be,
    details,
    drowned_members,
    empty,
    hour,
    local_time,
    members_below,
    met_unit,
    nulls_at_the_end,
    one_detail,
    rows,
    short,
    thirstless,
    unit,
    without,
    without_temperature,
)

FIVE = "Thu, 15 May 2031 05:00:00 GMT"


def first(change: Change) -> Callable[[Path], Came]:
    """The first service's forecast with something changed; its futures are good."""
    return played(first_service(), {"/forecast": changed(forecast(NOW), change)})


def futures(change: Change) -> Callable[[Path], Came]:
    """The first service's futures with something changed; its forecast is good."""
    return played(first_service(), {"/ensemble": changed(ensemble(NOW), change)})


def second(change: Change) -> Callable[[Path], Came]:
    """The second service's forecast with something changed."""
    return played(second_service(), {"/complete": changed(locationforecast(NOW), change)})


def first_gives(
    reply: Reply, what: str = "/forecast", *, stands_in: bool = True
) -> Callable[[Path], Came]:
    """The first service answers otherwise than with a changed body."""
    return played(first_service(), {what: reply}, stands_in=stands_in)


def second_gives(reply: Reply, *, stands_in: bool = True) -> Callable[[Path], Came]:
    """The same of the second service."""
    return played(second_service(), {"/complete": reply}, stands_in=stands_in, last_modified=FIVE)


def two_days_later(folder: Path) -> Came:
    """The answer of two days ago stands in: of the days since then it knew no more than any forecast."""
    service = first_service()
    with Server() as server:
        for what, reply in service.good.items():
            server.script[what] = [aged(reply), Reply(503)]
        with Outside(folder, AGENT, patience_s=PATIENCE_S) as outside:
            older = service.read(outside, server.url(""), NOW)
            started = monotonic()
            heard = service.read(outside, server.url(""), NOW + timedelta(days=2))
            seconds = monotonic() - started
    trouble = heard.questions[0].trouble
    assert trouble is not None
    wrong = () if heard.values == older.values else ("days are over that were forecast",)
    return Came(trouble.kind, trouble.say, heard.forecast is not None, seconds, wrong)


def elsewhere(
    at: datetime, spot: Spot, wrong_with: Callable[[Heard], Iterator[str]] | None = None
) -> Callable[[Path], Came]:
    """A good morning of the first service at another place and time."""
    return played_once(first_service(spot, at), at, wrong_with or by_the_hour(at, spot))


def by_the_hour(at: datetime, spot: Spot) -> Callable[[Heard], Iterator[str]]:
    """Our evaporation is near FAO-56's by the hour: what came belongs to this place and season.

    Within `CHECK_RATIO`, as measured hours are in bright months.
    """
    column = forecast(at, spot)["hourly"][ET0]
    theirs = 24 * sum(column) / len(column)

    def wrong_with(heard: Heard) -> Iterator[str]:
        values = [one.value for one in heard.values if one.variable == "et0_mm"]
        ours = sum(values) / len(values)
        low, high = CHECK_RATIO
        if not low * ours <= theirs <= high * ours:
            yield f"ET0 {ours:.2f} mm a day, by the hour {theirs:.2f}"

    return wrong_with


def without_sun(heard: Heard) -> Iterator[str]:
    """A night of whole days: nothing is missed in it, and the air asks for little."""
    for one in heard.values:
        if one.variable == "radiation_mj_m2_day" and one.value != 0:
            yield f"{one.value} MJ on {one.day}"
        if one.variable == "et0_mm" and not 0 <= one.value < 1.5:
            yield f"ET0 {one.value} mm on {one.day}"


def hours_of(day: date, hours: int) -> Callable[[Heard], Iterator[str]]:
    """A day to come has so many hours, a tenth of a millimetre each, and as many in every future."""

    def wrong_with(heard: Heard) -> Iterator[str]:
        days = heard.forecast.days if heard.forecast else ()
        for one in days:
            expected = hours if one.day == day else 24
            if one.rain_by_hour_mm != (0.1,) * expected:
                yield f"{one.day} with hours of rain {one.rain_by_hour_mm}"
            if round(one.rain_members_mm[10], 6) != expected:  # member 10 has a millimetre an hour
                yield f"{one.day} with {one.rain_members_mm[10]} mm in a future"
        if day not in {one.day for one in days}:
            yield f"{day} is not there"

    return wrong_with


LONDON = Spot(51.5, -0.12, 20.0, ZoneInfo("Europe/London"))
MUMBAI = Spot(19.07, 72.88, 14.0, ZoneInfo("Asia/Kolkata"))
TAVEUNI = Spot(-16.83, 180.0, 30.0, ZoneInfo("Pacific/Fiji"))
FINNMARK = Spot(70.0, 25.0, 60.0, ZoneInfo("Europe/Oslo"))
HOBART = Spot(-42.88, 147.33, 50.0, ZoneInfo("Australia/Hobart"))
MARCH, JUNE = datetime(2031, 3, 29, 6, 7, tzinfo=UTC), datetime(2031, 6, 15, 6, 7, tzinfo=UTC)
OCTOBER, DECEMBER = JUNE.replace(month=10, day=25), JUNE.replace(month=12)

ALL_DAYS = "^2 days over, 4 to come, 51 futures on 4 days"
GOOD = ALL_DAYS + r", rain 2\.40 mm, ET0 3\.\d to 3\.\d mm"
NO_FUTURES = r"^2 days over, 4 to come, no futures, rain 2\.40 mm.*ensemble: "
SECOND_GOOD = r"^0 days over, 4 to come, no futures, rain 2\.40 mm, ET0 3\.\d to 3\.\d mm"
PAGE = Reply(400, b"<html><body>Bad coordinates</body></html>", "text/html")
WRONGLY_ASKED = reply_json({"error": True, "reason": "Invalid timezone"}, 400)


def case(
    fault: str, play: Callable[[Path], Came], kind: str, says: str, old_kept: bool | None = True
) -> Case:
    """One in which how long it takes is not asked: that is a matter of the line."""
    return Case(fault, play, kind, says, old_kept, most_s=20.0)


FIRST_CASES = [
    case("first: nothing wrong", first(lambda _: None), "", GOOD),
    case("first: nulls in the last day", first(nulls_at_the_end), "", "^2 days over, 3 to come", False),
    case("first: no column of wind", first(without("wind_speed_10m")), "rubbish", "no column wind"),
    case("first: rain says nothing", first(unit(RAIN, "undefined", None)), "rubbish", "says nothing"),
    case("first: cloud says nothing", first(unit("cloud_cover", "undefined", None)), "", GOOD),
    case("first: undefined, and numbers", first(unit("cloud_cover", "undefined")), "rubbish",
         "cloud_cover is in undefined, not in %"),
    case("first: a day missing", first(rows(range(96), range(120, 168))), "",
         "^2 days over, 2 to come.*left out, .*2031-05-16 to 2031-05-17", False),
    case("first: an hour twice", first(rows(range(100), range(99, 168))), "",
         GOOD + ".*1 hour came twice: the first of each counts"),
    case("first: a day twice", first(rows(range(120), range(96, 168))), "",
         GOOD + ".*24 hours came twice: .*; the hours came out of order"),
    case("first: km/h", first(unit("wind_speed_10m", "km/h")), "rubbish", "in km/h, not in m/s"),
    case("first: °F", first(unit("temperature_2m", "°F")), "rubbish", "in °F, not in °C"),
    case("first: inch", first(unit(RAIN, "inch")), "rubbish", "in inch, not in mm"),
    case("first: hours not in UTC", first(local_time), "rubbish", "times 3600 s off UTC"),
    case("first: a column too short", first(short(RAIN)), "rubbish", "163 values for 168 times"),
    case("first: 999 °C in an hour", first(hour("temperature_2m", 999)), "",
         r"4 to come.*left out: temperature 1;.*between its neighbours, on 2031-05-16", False),
    case("first: 999 °C in all hours", first(column("temperature_2m", 999)), "rubbish",
         "168 of 168 values of temperature cannot be right"),
    case("first: rain of -3 mm in an hour", first(hour(RAIN, -3.0)), "",
         "3 to come.*left out, 2031-05-16: an hour's rain is missing", False),
    case("first: rain of -3 mm in all", first(column(RAIN, -3.0)), "rubbish", "of rain cannot be right"),
    case("first: 400 mm in an hour", first(hour(RAIN, 400.0)), "",
         "3 to come.*left out: rain 1;.*left out, 2031-05-16: an hour's rain", False),
    case("first: a number that is text", first(hour(RAIN, "0.2")), "rubbish", "value that is no number"),
    case("first: 200, an error object", first(lambda _: {"error": True, "reason": "No data"}),
         "rubbish", "cannot be right: No data"),
    case("first: 200, error, no reason", first(lambda _: {"error": True}), "rubbish",
         "an error without a reason"),
    case("first: several places", first(lambda body: [body, body | {"location_id": 1}]), "rubbish",
         "not the answer for one place"),
    case("first: 400", first_gives(WRONGLY_ASKED, stands_in=False), "refused", "400: Invalid timezone"),
    case("first: down, futures good", first_gives(Reply(503)), "down", "status 503"),
    case("first: down for two days", two_days_later, "down", "status 503"),
]  # fmt: skip

FUTURES_CASES = [
    case("futures: down", first_gives(Reply(503), "/ensemble"), "", NO_FUTURES + "down, .*503"),
    case("futures: busy", first_gives(reply_json({}, 429), "/ensemble"), "", NO_FUTURES + "busy, "),
    case("futures: of unequal length", futures(short(f"{RAIN}_member07")), "",
         NO_FUTURES + "rubbish, .*member07 has 115 values for 120 times"),
    case("futures: the control alone", futures(members_below(1)), "", NO_FUTURES + "rubbish, .*fewer than two"),
    case("futures: none at all", futures(members_below(0)), "", NO_FUTURES + "rubbish, .*in 0 futures"),
    case("futures: twelve", futures(members_below(12)), "", "4 to come, 12 futures on 4 days", False),
    case("futures: evaporation says nothing", futures(thirstless), "", "51 futures on 4 days", False),
    case("futures: rain of 999 mm in all", futures(drowned_members), "",
         NO_FUTURES + "rubbish, .*6120 values of precipitation in its futures cannot be right"),
    case("futures: one in inch", futures(unit(f"{RAIN}_member03", "inch")), "", NO_FUTURES + "rubbish, .*in inch"),
    case("futures: hours not in UTC", futures(local_time), "", NO_FUTURES + "rubbish, .*3600 s off UTC"),
    case("futures: 200, an error object", futures(lambda _: {"error": True, "reason": "No data"}),
         "", NO_FUTURES + "rubbish, .*No data"),
    case("futures: a null in one", futures(hour(f"{RAIN}_member01", None, 60)), "",
         "4 to come, 51 futures on 3 days", False),
]  # fmt: skip

PLACE_CASES = [
    case("23 hours in London", elsewhere(MARCH, LONDON, hours_of(date(2031, 3, 30), 23)), "",
         r"3 days over, 4 to come, 51 futures on 4 days, rain 2\.30 to 2\.40 mm", None),
    case("25 hours in London", elsewhere(OCTOBER, LONDON, hours_of(date(2031, 10, 26), 25)), "",
         r"2 days over, 3 to come, 51 futures on 3 days, rain 2\.40 to 2\.50 mm", None),
    case("a zone of half hours", elsewhere(NOW, MUMBAI, hours_of(date(2031, 5, 15), 24)), "",
         ALL_DAYS + r", rain 2\.40 mm", None),
    case("180 degrees east", elsewhere(NOW, TAVEUNI), "", ALL_DAYS, None),
    case("180 degrees west", elsewhere(NOW, TAVEUNI._replace(longitude_deg=-180.0)), "",
         ALL_DAYS, None),
    case("70 N in June", elsewhere(JUNE, FINNMARK), "", ALL_DAYS, None),
    case("70 N in December", elsewhere(DECEMBER, FINNMARK, without_sun), "", ALL_DAYS, None),
    case("south of the equator", elsewhere(DECEMBER, HOBART), "", ALL_DAYS, None),
]  # fmt: skip

SECOND_CASES = [
    case("second: nothing wrong", second(lambda _: None), "", SECOND_GOOD),
    case("second: 400 as a page", second_gives(PAGE, stands_in=False), "refused", r"asked \(status 400\)$"),
    case("second: 403", second_gives(Reply(403)), "refused", r"will not answer us \(status 403\)"),
    case("second: 404", second_gives(Reply(404), stands_in=False), "refused", "has nothing there"),
    case("second: 503", second_gives(Reply(503)), "down", "status 503"),
    case("second: 203", second_gives(reply_json(locationforecast(NOW), 203)), "", SECOND_GOOD),
    case("second: 304", second_gives(Reply(304)), "", SECOND_GOOD),
    case("second: steps out of order", second(backwards), "rubbish", "out of order: 2031-05-15T09:00Z follows"),
    case("second: details of two hours", second(without_temperature(20, 21)), "",
         "4 to come.*between its neighbours, on 2031-05-16", False),
    case("second: details of five hours", second(without_temperature(*range(20, 25))), "",
         "3 to come.*more than 3 hours of temperature, dew point or wind", False),
    case("second: fahrenheit", second(met_unit("air_temperature", "fahrenheit")), "rubbish", "'fahrenheit', not"),
    case("second: km/h", second(met_unit("wind_speed", "km/h")), "rubbish", "'km/h', not 'm/s'"),
    case("second: no steps", second(empty), "rubbish", "no forecast"),
    case("second: 999 °C in an hour", second(one_detail("air_temperature", 999)), "",
         "left out: temperature 1", False),
    case("second: a number that is text", second(one_detail("wind_speed", "3")), "rubbish", "wind_speed at"),
    case("second: damper than air can be", second(details(damper_than_air_can_be)), "rubbish",
         "65 of 65 values of dew point cannot be right"),
    case("second: 200, an error object", second(lambda _: {"error": True}), "rubbish", "no forecast"),
]  # fmt: skip

READING_CASES: dict[str, list[Case]] = {
    "what the first service says": FIRST_CASES,
    "what it says of its futures": FUTURES_CASES,
    "where and when it is asked": PLACE_CASES,
    "what the second service says": SECOND_CASES,
}
"""Under the heading that they have in the table."""
