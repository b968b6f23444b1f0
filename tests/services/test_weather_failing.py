"""Services of weather that fail: whom else is asked, what stands in, and what the book has afterwards."""

from datetime import date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from soakbook.garden.pages import Pages
from soakbook.reckoning.simulation.knowing import known_now
from soakbook.reckoning.simulation.skies import skies_of
from soakbook.services.mornings import round_report
from soakbook.services.weather_asking import refresh
from soakbook.services.weather_files import import_file
from soakbook.services.weather_settings import set_weather
from soakbook.services.weather_told import Refreshed
from soakbook.store.book import open_book
from soakbook.store.pages import read_pages
from soakbook.store.places import cache_folder
from soakbook.weather.session.kept import FILE_NAME
from tests.services.looking import NOW, at, look_at, pages_of
from tests.services.weather_service import (
    ARCHIVE,
    CONTACT,
    ENSEMBLE,
    FORECAST,
    SECOND,
    SKY,
    TODAY,
    WET,
    Ask,
    WeatherService,
    days,
    planted,
    said_of,
)
from tests.weather.server import Reply, reply_json


def supposed(path: Path, morning: datetime) -> dict[int, tuple[float, int]]:
    """Day of the month -> rain in the middle future, and how many futures there are, of days gone by unmeasured."""
    with open_book(path, read_only=True) as book:
        skies = skies_of(known_now(read_pages(book, known_at=morning), morning), morning.date())
    assert skies is not None
    return {
        step.day.day: (float(np.median(step.future.rain_mm)), len(step.future.rain_mm) - 1)
        for step in skies.steps
        if step.future is not None
    }


def kinds(pages: Pages, variable: str = "et0_mm") -> dict[int, str]:
    """Day of the month -> of what kind that variable of it is."""
    return {
        day.day.day: day.sources[variable][1] for day in pages.weather if variable in day.sources
    }


def test_without_the_ensemble_the_forecast_stands_without_futures(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    service.fail(ENSEMBLE)
    found = ask(contact=CONTACT)
    (forecast,) = pages_of(young_book).forecasts
    assert {day.rain_members_mm for day in forecast.days} == {()}
    assert "futures" not in found.say[0]
    assert found.say[1] == (
        "Open-Meteo, for its futures: has a fault of its own (status 408: made to fail)."
        " The forecast stands without them."
    )
    assert found.came
    assert service.asked(SECOND) == []
    assert (said_of(young_book, "Open-Meteo")["ensemble"].came) == "down"


def test_where_the_first_is_out_the_second_is_asked(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    service.fail(FORECAST)
    found = ask(contact=CONTACT)
    (forecast,) = pages_of(young_book).forecasts
    assert forecast.source == "MET Norway"
    assert forecast.days[0].day == TODAY + timedelta(days=1)  # today has begun without it
    assert len(forecast.days) == 9
    assert pages_of(young_book).weather == ()
    assert found.say[0].startswith("MET Norway: forecast to 24 May.")
    assert found.say[1] == "Open-Meteo: has a fault of its own (status 408: made to fail)."
    assert found.say[2].startswith("MET Norway has no days gone by, and without one nothing is")
    asked = next(one for one in service.seen if one.path == SECOND)
    assert dict(asked.params) == {"lat": "52.30", "lon": "-0.40", "altitude": "62"}
    assert CONTACT in asked.headers["user-agent"]


def test_days_the_second_forecast_are_supposed_as_forecast_until_something_better_comes(
    ask: Ask, young_book: Path, service: WeatherService, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Asked every morning from the 15th to the 19th: it never tells of a day that is over, nor of its own."""
    rain = {date(2031, 5, 17): [(12, 8.0)]}
    monkeypatch.setattr(service, "sky", SKY._replace(rain=rain))
    service.fail(FORECAST)
    for day in range(15, 20):
        ask(at(5, day, 6, 30), contact=CONTACT)
    assert pages_of(young_book).weather == ()
    found = supposed(young_book, at(5, 19, 6, 30))
    assert found == {16: (0.0, 20), 17: (8.0, 20), 18: (0.0, 20)}
    service.mend()
    ask(at(5, 19, 7), contact=CONTACT)
    assert set(kinds(pages_of(young_book)).values()) == {"analysed"}
    assert supposed(young_book, at(5, 19, 7)) == {}


def test_no_day_is_lost_where_the_second_takes_over(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    """The first told of the 15th on that morning, the second on the 16th of the 17th and on."""
    ask()
    service.fail(FORECAST, ENSEMBLE)
    for day in (16, 17, 18):
        ask(at(5, day, 6, 13), contact=CONTACT)
    assert sorted(supposed(young_book, at(5, 18, 6, 13))) == [15, 16, 17]


def test_rain_that_the_second_tells_of_its_own_day_is_to_come(
    ask: Ask, young_book: Path, service: WeatherService, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first had the 15th dry; the second, on that morning, has 12 mm at ten, and none of the night gone by."""
    ask(at(5, 14, 6, 30))
    service.fail(FORECAST)
    monkeypatch.setattr(service, "sky", SKY._replace(rain={TODAY: [(10, 12.0)]}))
    ask(at(5, 15, 6, 30), contact=CONTACT)
    chances = [
        round_report(young_book, now=at(5, 15, hour))["week"]["useful_rain_chance"]
        for hour in (7, 12)
    ]
    assert chances == [0.65, 0.0]  # of a forecast of one future, at most doubtful


def test_that_the_second_has_no_days_gone_by_is_said_until_a_day_of_its_has(
    ask: Ask, service: WeatherService
) -> None:
    service.fail(FORECAST)
    said = [" ".join(ask(at(5, day, 6, 30), contact=CONTACT).say) for day in (15, 16, 17)]
    assert ["nothing is reckoned yet" in one for one in said] == [True, True, False]


def test_the_second_wants_a_contact_and_says_how_to_set_it(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    service.fail(FORECAST)
    before = look_at(young_book)
    found = ask()
    hint = "To know: MET Norway would stand in if SOAKBOOK_CONTACT named an address or a page of yours."
    assert found.say[-1] == hint
    assert (len(found.troubles), found.came) == (1, False)
    assert service.asked(SECOND) == []
    assert look_at(young_book).pages == before.pages
    assert hint not in ask(at(5, 16, 6, 30)).say  # the outage goes on
    service.mend()
    ask(at(5, 17, 6, 30))
    service.fail(FORECAST, ENSEMBLE)
    assert hint in ask(at(5, 19, 6, 30)).say  # another


def test_the_second_asked_alone_says_each_time_that_it_lacks_a_contact(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    set_weather(young_book, now=NOW, ask_whom="second")
    for _ in range(2):
        found = ask()
        assert found.say == (
            "MET Norway: is not asked before SOAKBOOK_CONTACT names an address or a page of yours.",
        )
        assert not found.came
    assert service.seen == []


def test_a_service_that_wants_patience_is_left_alone_until_then(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    """Two hours from half past six."""
    service.script[FORECAST] = reply_json({}, 429, retry_after="7200")
    found = ask()
    assert found.troubles[0].startswith("Open-Meteo: asks us to wait")
    assert said_of(young_book, "Open-Meteo")["forecast"].not_before == at(5, 15, 8, 30)
    service.mend()
    for minute in (31, 59):  # said alike each time: of what was not asked nothing is noted
        again = ask(at(5, 15, 7, minute))
        assert again.troubles[0] == (
            "Open-Meteo: asks us to wait (status 429), asked at 06:30 on 15 May; "
            "not asked again before 08:30 on 15 May."
        )
    assert len(service.asked(FORECAST)) == 1
    assert ask(at(5, 15, 8, 31)).troubles == ()
    assert len(service.asked(FORECAST)) == 2
    assert pages_of(young_book).forecasts


def test_patience_that_the_ensemble_wants_is_kept_too(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    service.script[ENSEMBLE] = reply_json({}, 429, retry_after="7200")
    ask()
    assert said_of(young_book, "Open-Meteo")["ensemble"].not_before == at(5, 15, 8, 30)
    ask(at(5, 15, 7, 31))
    assert len(service.asked(ENSEMBLE)) == 1
    service.mend()
    ask(at(5, 15, 8, 31))
    assert len(service.asked(ENSEMBLE)) == 2
    assert pages_of(young_book).forecasts[0].days[0].rain_members_mm


def test_patience_that_the_archive_wants_is_kept_too(
    new_book: Path, service: WeatherService
) -> None:
    """Two hours from half past six, in which others ask for the rest."""
    first = TODAY - timedelta(days=200)
    planted(new_book, first.isoformat())
    service.script[ARCHIVE] = reply_json({}, 429, retry_after="7200")

    def asked_at(hour: int) -> Refreshed:
        service.now = at(5, 15, hour, 31)
        return refresh(new_book, now=service.now, places=service.places())

    assert asked_at(6).troubles[0].startswith("Open-Meteo, for days long past: asks us to wait")
    service.mend()
    assert asked_at(7).troubles == (
        "Open-Meteo, for days long past: asks us to wait (status 429), asked at 06:31 on 15 May; "
        "not asked again before 08:31 on 15 May.",
    )
    assert len(service.asked(ARCHIVE)) == 1
    assert asked_at(8).troubles == ()
    assert pages_of(new_book).weather[0].day == first


@pytest.mark.parametrize(
    "reply",
    [
        Reply(408),
        Reply(200, b"<html>", "text/html"),
        reply_json({"hourly": {}}),
        reply_json({"error": True, "reason": "no"}, 400),
    ],
    ids=["fault", "page", "no hours", "refused"],
)
def test_where_all_fails_the_book_is_as_it_was(
    reply: Reply, ask: Ask, young_book: Path, service: WeatherService
) -> None:
    service.script |= {FORECAST: reply, SECOND: reply}
    before = look_at(young_book)
    found = ask(contact=CONTACT)
    assert len(found.troubles) == 2
    assert (found.values_added, found.calls_changed) == (0, ())
    after = look_at(young_book)
    assert (after.pages, after.mark) == (before.pages, before.mark)


def test_an_older_answer_that_stands_in_makes_no_day_analysed(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    """Asked on the 15th, and on the 18th in vain: the days between were never more than forecast."""
    ask()
    ask(at(5, 15, 6, 50))  # asks for a week alone, as on the days after
    forecast = pages_of(young_book).forecasts
    service.fail(FORECAST, ENSEMBLE)
    found = ask(at(5, 18, 6, 30))
    fault = "has a fault of its own (status 408: made to fail)."
    first, *failed = found.say[:3]
    assert first.startswith("Open-Meteo, as it said on 15 May at 06:")
    assert failed == [
        f"Open-Meteo, for the forecast: {fault} An older answer stands in.",
        f"Open-Meteo, for its futures: {fault} Older ones stand in.",
    ]
    assert not found.came
    after = pages_of(young_book)
    assert after.forecasts == forecast
    assert max(kinds(after)) == 14
    assert sorted(supposed(young_book, at(5, 18, 6, 30))) == [15, 16, 17]
    service.mend()
    ask(at(5, 18, 12))
    assert kinds(pages_of(young_book))[17] == "analysed"


def test_an_answer_from_the_day_before_yesterday_does_not_keep_the_second_from_being_asked(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    ask(contact=CONTACT)
    ask(at(5, 15, 6, 50), contact=CONTACT)
    service.fail(FORECAST, ENSEMBLE)
    ask(at(5, 15, 12), contact=CONTACT)
    assert service.asked(SECOND) == []
    ask(at(5, 17, 6, 30), contact=CONTACT)
    assert len(service.asked(SECOND)) == 1
    assert pages_of(young_book).forecasts[0].source == "MET Norway"


def test_a_long_outage_is_made_up_for_once_it_is_over(
    ask: Ask, young_book: Path, service: WeatherService
) -> None:
    """Out from the 15th to the 26th, all of it as forecast in between, by each of its five futures."""
    ask()
    service.fail(FORECAST)
    ask(at(5, 26, 6, 30))
    ask(at(5, 26, 12), contact=CONTACT)
    assert max(kinds(pages_of(young_book))) == 14
    found = supposed(young_book, at(5, 26, 12))
    assert {day: many for day, (_, many) in found.items()} == dict.fromkeys(
        range(15, 26), SKY.members
    )
    service.mend()
    ask(at(5, 26, 18))
    pages = pages_of(young_book)
    assert [day.day for day in pages.weather[-11:]] == days(TODAY, 11)
    assert set(kinds(pages).values()) == {"analysed"}


def test_what_a_station_lacks_is_supposed_as_it_was_forecast(
    ask: Ask, young_book: Path, service: WeatherService, tmp_path: Path
) -> None:
    """A gauge's file has the rain of a day of which the second service had told: its evaporation stays told."""
    service.fail(FORECAST)
    ask(contact=CONTACT)
    file = tmp_path / "gauge.csv"
    file.write_text("date,rain_mm\n2031-05-15,0\n2031-05-16,3.5\n", encoding="utf-8")
    import_file(young_book, file, now=at(5, 17, 6), name="gauge")
    ask(at(5, 17, 6, 30), contact=CONTACT)
    day = pages_of(young_book).weather[-1]
    assert (day.day, day.rain_mm, day.et0_mm) == (date(2031, 5, 16), 3.5, None)
    with open_book(young_book, read_only=True) as book:
        skies = skies_of(read_pages(book, known_at=at(5, 17, 6, 30)), date(2031, 5, 17))
    assert skies is not None
    step = skies.steps[-1]
    assert step.rain_mm == 3.5
    assert step.future is not None
    assert step.future.rain_mm.max() == 0.0
    assert step.future.et0_mm.min() > 2.0


def test_an_archive_that_fails_is_named_and_asked_again(
    new_book: Path, service: WeatherService
) -> None:
    planted(new_book, (TODAY - timedelta(days=200)).isoformat())
    service.fail(ARCHIVE)
    found = refresh(new_book, now=NOW, places=service.places())
    assert len(pages_of(new_book).weather) == 92
    (trouble,) = found.troubles
    assert trouble.startswith("Open-Meteo, for days long past: has a fault of its own")
    assert not any("nothing of use" in say or "no whole day" in say for say in found.say)
    service.mend()
    refresh(new_book, now=at(5, 15, 7), places=service.places())
    assert len(pages_of(new_book).weather) == 200


def test_what_was_found_of_an_answer_is_told(
    ask: Ask, service: WeatherService, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An hour's rain of 400 mm, and no rain known for that day then."""
    monkeypatch.setattr(service, "sky", SKY._replace(rain={**SKY.rain, WET: [(5, 400.0)]}))
    found = ask()
    (finding,) = [say for say in found.say if say.startswith("To know of Open-Meteo: values")]
    assert finding.endswith("values that cannot be right were left out: rain 1.")
    assert any("an hour's rain is missing" in say for say in found.say)


def test_a_broken_file_of_answers_is_told(ask: Ask) -> None:
    """Nothing is lost but the answers; the rubbish is kept beside the new file."""
    ask()
    (cache_folder() / FILE_NAME).write_bytes(b"no database" * 1000)
    found = ask(at(5, 15, 12, 30))
    assert any(
        say.startswith("To know: answers of weather services could not") for say in found.say
    )
