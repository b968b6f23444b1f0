"""Which round an answer is read from, and what it says where there is none."""

import json
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import jsonschema
import pytest

import soakbook.schemas
from soakbook.services import entries, setup
from soakbook.services.mornings import round_report, why_report
from soakbook.services.weather_report import weather_report
from tests.services.looking import NOW, ZONE, at, said

SCHEMAS = Path(soakbook.schemas.__path__[0])

Ask = Callable[[Path], Any]

ASKED: dict[str, list[Ask]] = {
    "round": [lambda path: round_report(path, now=NOW)],
    "why": [lambda path: why_report(path, "chapel", now=NOW)],
    "beds": [setup.beds],
    "weather": [lambda path: weather_report(path, now=NOW)],
    "told": [
        lambda path: entries.soak(path, ["chapel", "dole"], "20l", now=NOW),
        lambda path: entries.rain(path, "5mm", now=NOW),
        lambda path: entries.feel(path, ["dole"], ball="dry", bed="wet", now=NOW),
        lambda path: entries.wilt(path, ["dole"], now=NOW),
        lambda path: entries.left(path, ["dole"], "no time", now=NOW),
        lambda path: entries.loss(path, "dole", "rose", "1", "drowned", now=NOW),
        lambda path: entries.mulch(path, ["dole"], "bark", "5cm", now=NOW),
        lambda path: setup.bed(path, "plot", now=NOW, area="9m2"),
        lambda path: setup.plant(path, "yard", "rose", "2", now=NOW, pot="5l"),
        lambda path: setup.tap(path, "B", now=NOW, flow="11l/min"),
        lambda path: setup.person(path, "Ann", now=NOW, days="mon-sat"),
        lambda path: setup.rate(path, "1apr", "hour", "14", now=NOW),
    ],
}


@pytest.mark.parametrize("name", ASKED)
def test_reports_are_as_their_schemas_say(garden: Path, name: str) -> None:
    schema = json.loads((SCHEMAS / f"{name}.json").read_text(encoding="utf-8"))
    check = jsonschema.Draft202012Validator(schema)
    for ask in ASKED[name]:
        answer = ask(garden)
        for report in answer if isinstance(answer, list) else [answer]:
            plain = json.loads(json.dumps(report, allow_nan=False))
            assert [error.message for error in check.iter_errors(plain)] == []


def test_in_a_book_of_years_ago_an_answer_is_of_its_own_time(garden: Path) -> None:
    """Its weather ends on 14 May 2031: five years later a soak of that day is told of the 15th."""
    now = datetime(2036, 8, 1, 9, tzinfo=ZONE)
    (answer,) = entries.soak(garden, ["chapel"], "60l", at="2031-05-14 08:00", now=now)
    assert answer["changed"]["after"]["wanted_on"].startswith("2031-05")
    (feel,) = entries.feel(garden, ["chapel"], ball="dust", at="2031-05-14 12:00", now=now)
    assert "On Thu 15 May 2031: wanted, " in said(feel)


def test_an_entry_of_a_past_morning_is_answered_by_the_round_of_the_day_after(garden: Path) -> None:
    (answer,) = entries.soak(garden, ["school"], "200l", at="12may 07:30", now=NOW)
    assert "On Tue 13 May: " in said(answer)
    assert "no time for it" not in said(answer)
    (answer,) = entries.soak(garden, ["school"], "200l", at="yesterday 07:30", now=NOW)
    assert "On " not in said(answer).replace("On the", "")


def test_a_bed_whose_weather_came_too_late_says_so(garden: Path) -> None:
    """Planted in December, 40 days before the first weather in the book."""
    setup.plant(garden, "yard", "hawthorn hedge", "9", now=NOW, on="6dec2030")
    (answer,) = entries.soak(garden, ["yard"], "20l", now=at(5, 15, 7))
    assert "not_reckoned" not in said(answer)
    assert "more than 14 days" in said(answer)
    assert answer["changed"]["after"] is None
