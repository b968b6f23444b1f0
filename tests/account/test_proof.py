"""The proof of a span: visits, weather, totals that add up and agree with the frames, findings, the digest."""

import json
from datetime import date, timedelta
from typing import Any

import jsonschema
import pandas as pd
import pytest

from soakbook.account.canonical import digest_of
from soakbook.account.proof import proof_of, proof_report
from soakbook.account.visits import visits_frame
from soakbook.cli.options import SCHEMAS
from soakbook.errors import InputError
from soakbook.garden.entries import AnyEntry
from soakbook.garden.records import Restriction
from soakbook.garden.weather import WeatherDay, WeatherKind
from soakbook.interface import open_book
from soakbook.services.books import SPECIMEN
from tests.account.books import garden, on, specimen
from tests.reckoning.gardens import feel, left, rain, soak, weather, wilt

SEASON = (date(2031, 2, 1), date(2031, 10, 31))
FIRST, LAST = date(2031, 6, 2), date(2031, 6, 8)


def kinds(report: dict[str, Any]) -> list[str]:
    return [one["kind"] for one in report["findings"]]


def proof(*entries: AnyEntry, **fields: Any) -> dict[str, Any]:
    return proof_report(garden(entries, **fields), FIRST, LAST)


@pytest.fixture(scope="module")
def season() -> dict[str, Any]:
    return proof_report(specimen(), *SEASON)


def test_it_keeps_to_its_schema(season: dict[str, Any]) -> None:
    schema = json.loads((SCHEMAS / "proof.json").read_text(encoding="utf-8"))
    jsonschema.validate(
        season, schema, format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER
    )


def test_totals_are_those_of_the_frame_of_visits(season: dict[str, Any]) -> None:
    frame, totals = visits_frame(specimen(), *SEASON), season["totals"]
    counts = frame["what"].value_counts()
    assert totals["visits"] == len(frame)
    assert [totals[what] for what in ("watered", "left", "looked")] == [
        counts[what] for what in ("watered", "left", "looked")
    ]
    assert totals["visit_days"] == frame["day"].nunique()
    assert totals["soaks"] == frame["soaks"].sum()
    assert totals["litres"] == pytest.approx(frame["litres"].sum(), abs=1e-3)
    assert totals["minutes"] == pytest.approx(frame["minutes"].sum(), abs=1e-2)
    # Each visit stands in the proof to a hundredth of a minute.
    assert totals["minutes_on_foot"] == pytest.approx(
        frame["minutes_on_foot"].sum(), abs=0.005 * len(frame)
    )
    by_bed = frame.groupby("bed")["litres"].sum()
    assert {one["bed"]: one["litres"] for one in totals["by_bed"]} == by_bed.to_dict()


def test_totals_agree_with_the_season_s_account() -> None:
    """Tolerance of rain and ET0: each day stands in the proof to a hundredth of a millimetre."""
    account = open_book(SPECIMEN).account(2031)
    totals = proof_report(specimen(), *SEASON)["totals"]
    assert account.span.until == SEASON[1]
    months = account.months[account.months["month"] >= pd.Timestamp(SEASON[0])]
    assert totals["litres"] == pytest.approx(account.beds["litres"].sum(), abs=1e-3)
    assert totals["litres"] == pytest.approx(account.sources["litres"].sum(), abs=1e-3)
    assert totals["watered"] == account.sources["visits"].sum()
    assert totals["minutes"] == pytest.approx(account.sources["minutes"].sum(), abs=1e-2)
    days = (SEASON[1] - SEASON[0]).days + 1
    assert totals["rain_mm"] == pytest.approx(months["rain_mm"].sum(), abs=0.005 * days)
    assert totals["et0_mm"] == pytest.approx(months["et0_mm"].sum(), abs=0.005 * days)
    assert totals["rain_days_unknown"] == months["rain_unknown_days"].sum()


def test_a_reader_who_adds_up_comes_to_the_totals(season: dict[str, Any]) -> None:
    totals = season["totals"]
    visits = [visit for day in season["days"] for visit in day["visits"]]
    assert sum(one["litres"] for one in visits) == totals["litres"]
    for part in ("by_bed", "by_person", "by_source"):
        assert sum(one["litres"] for one in totals[part]) == totals["litres"]
    assert sum(one["minutes"] or 0 for one in visits) == totals["minutes"]
    rests = sum(one["days"] for one in season["rests"])
    assert len(season["days"]) + rests == season["span"]["days"] == 273
    fell = [one["weather"]["rain_mm"]["value"] for one in season["days"]]
    fell += [one["rain_mm"] for one in season["rests"]]
    assert sum(fell) == pytest.approx(totals["rain_mm"], abs=0.05)


def test_days_and_rests_are_every_day_of_the_span_once(season: dict[str, Any]) -> None:
    days = [date.fromisoformat(one["day"]) for one in season["days"]]
    for rest in season["rests"]:
        first = date.fromisoformat(rest["first"])
        days += [first + timedelta(days=n) for n in range(rest["days"])]
        assert days[-1] == date.fromisoformat(rest["last"])
    assert sorted(days) == [SEASON[0] + timedelta(days=n) for n in range(273)]


def test_the_digest_is_of_all_of_it_and_the_same_each_time(season: dict[str, Any]) -> None:
    assert season["sha256"] == digest_of(season, "sha256")
    assert proof_report(specimen(), *SEASON) == season
    others = {proof_of(specimen(), SEASON[0], SEASON[1] - timedelta(days=n)).sha256 for n in (1, 2)}
    assert len(others | {season["sha256"]}) == 3


def test_a_visit_says_what_was_given_found_and_written() -> None:
    report = proof(
        feel(on(3, 6), "wall", ball="dry", bed="moist", by="Tom", planting_uid="wall/roses"),
        soak(on(3, 7), 30.5, "wall", by="Tom", note="slowly", kind="rescue"),
        wilt(on(3, 15), "wall", by="Tom", uid="w"),
        left(on(4, 8), "shade", "too wet"),
    )
    watered, left_it = (day["visits"][0] for day in report["days"])
    assert watered == {
        "bed": "wall", "name": "Chapel Wall", "what": "watered", "at": "2031-06-03T07:00:00+01:00", "by": "Tom",
        "plantings": [], "plants": 10, "litres": 30.5, "soaks": 1, "kinds": ["rescue"], "methods": ["lance"],
        "tap": "A", "source": "mains", "source_guessed": True, "minutes": 3.0, "minutes_on_foot": 7.33, "reason": None,
        "felt": [{"planting": "roses", "ball": "dry", "bed": "moist", "unsure": False}], "leaves": "limp",
        "wet_to_cm": None, "note": "slowly", "written_at": "2031-01-01T12:00:00+00:00", "corrected": False,
    }  # fmt: skip
    assert (left_it["what"], left_it["reason"], left_it["litres"]) == ("left", "too wet", 0.0)
    assert left_it["minutes"] is None
    assert [(one["first"], one["days"]) for one in report["rests"]] == [
        ("2031-06-02", 1), ("2031-06-05", 4),
    ]  # fmt: skip


def test_the_gauge_stands_beside_its_day_and_is_the_rain_of_it() -> None:
    """8 mm of a reading from 22:00 to 06:00: two hours of it on the first day, six on the second."""
    dry = weather(date(2031, 5, 1), 60)
    report = proof(rain(on(4, 6), 8.0, on(3, 22), by="Ann"), soak(on(4, 7), 10, "wall"), days=dry)
    (day,) = report["days"]
    assert day["gauge"] == [
        {
            "at": "2031-06-04T06:00:00+01:00",
            "began_at": "2031-06-03T22:00:00+01:00",
            "rain_mm": 8.0,
            "by": "Ann",
        }
    ]
    assert day["weather"]["rain_mm"] == {"value": 6.0, "kind": "gauge", "source": "the book"}
    assert report["totals"]["rain_mm"] == 8.0


def test_a_day_with_the_gauge_alone_is_a_day_of_its_own() -> None:
    report = proof(rain(on(4, 6), 8.0, on(3, 22)))
    assert [(one["day"], one["visits"]) for one in report["days"]] == [("2031-06-04", [])]
    assert report["totals"]["visits"] == report["totals"]["visit_days"] == 0


def of_kind(day: WeatherDay, kind: WeatherKind) -> WeatherDay:
    names = ("rain_mm", "et0_mm", "tmin_c", "tmax_c")
    return day._replace(sources=dict.fromkeys(names, ("Shed", kind, "")))


def test_days_without_weather_and_with_a_forecast_only_are_found() -> None:
    days = weather(FIRST, 3)
    days = (days[0], of_kind(days[1], "forecast"), of_kind(days[2], "filled"))
    report = proof(soak(on(3), 10, "wall", by="Tom"), days=days)
    assert kinds(report)[:3] == ["no_rain_known", "no_et0_known", "not_measured"]
    assert "6 days: 3 June 2031 to 8 June 2031" in report["findings"][0]["say"]
    assert "5 days: 3 June 2031, 5 June 2031 to 8 June 2031" in report["findings"][1]["say"]
    assert "rain filled" in report["findings"][2]["say"]
    assert (report["totals"]["rain_days_unknown"], report["totals"]["rain_mm"]) == (6, 0.0)
    assert report["days"][0]["weather"]["rain_mm"]["kind"] == "forecast"


def test_a_book_without_any_weather_says_so_and_is_no_reason_to_refuse() -> None:
    report = proof(soak(on(3), 10, "wall"), days=weather(date(2030, 1, 1), 1))
    assert report["totals"]["rain_mm"] is None
    assert report["days"][0]["weather"] == dict.fromkeys(("rain_mm", "tmin_c", "tmax_c", "et0_mm"))


def test_what_is_missing_of_a_visit_is_found() -> None:
    report = proof(soak(date(2031, 6, 3), 10, "shade"), soak(on(4), 10, "wall", planting_uid="x"))
    found = set(kinds(report))
    assert {"no_hose_test", "no_name", "no_hour", "source_guessed", "nothing_stood"} <= found


def test_what_was_written_late_or_corrected_is_found() -> None:
    report = proof(
        soak(on(3), 10, "wall", by="Tom", written_at=on(5), uid="a"),
        soak(on(4), 10, "wall", by="Tom", written_at=on(7), uid="b", supersedes="c"),
        left(on(5), "shade"),
    )
    late, corrected = (
        one["say"] for one in report["findings"] if one["kind"] in {"written_late", "corrected"}
    )
    assert "1 visit written more than 2 days after: 4 June 2031." in late
    assert corrected.startswith("1 visit corrected")


def test_rules_of_the_span_stand_as_typed_and_a_hose_in_them_is_found() -> None:
    rule = Restriction("r", date(2031, 6, 5), date(2031, 7, 1), "hose", "mains", "No hosepipes.")
    other = Restriction("o", date(2031, 7, 5), date(2031, 8, 1), "all", "all", "Nothing.")
    by_can = soak(on(6), 10, "wall", uid="c", method="can")
    report = proof(soak(on(5), 10, "wall"), by_can, restrictions=(rule, other))
    assert [one["text"] for one in report["rules"]] == ["No hosepipes."]
    (say,) = (one["say"] for one in report["findings"] if one["kind"] == "hose_barred")
    assert say.startswith("1 watering otherwise than by can")
    assert any("company's text decides" in one for one in report["cautions"])


@pytest.mark.parametrize(
    ("first", "last", "sentence"),
    [
        (LAST, FIRST, r"until: 2031-06-02 cannot be right; not before 2031-06-08"),
        (date(2030, 1, 1), date(2030, 1, 2), "lies between 2031-06-03 and 2031-06-04"),
    ],
)
def test_a_span_that_cannot_be_proved_is_refused(first: date, last: date, sentence: str) -> None:
    book = garden([soak(on(3), 10, "wall"), rain(on(4), 1.0, on(3))])
    with pytest.raises(InputError, match=sentence):
        proof_of(book, first, last)


def test_a_book_without_an_entry_is_refused() -> None:
    with pytest.raises(InputError, match="nothing is entered in this book yet"):
        proof_of(garden([]), FIRST, LAST)


def test_weather_of_a_service_brings_the_line_that_it_asks_for() -> None:
    day = weather(FIRST, 1)[0]
    known = day._replace(sources={"rain_mm": ("Open-Meteo", "measured", "")})
    report = proof(soak(on(2), 10, "wall"), days=(known,))
    assert [line for line in report["credits"] if "Open-Meteo.com" in line]
