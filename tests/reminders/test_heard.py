"""What was heard of a bed on a day: an answer ends its reminders, who could not passes it on."""

from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from soakbook.garden.entries import Feel, Left, Look, Rain, Soak, Wilt
from soakbook.garden.pages import Pages
from soakbook.reminders.heard import Heard, heard_on
from tests.reminders.sights_made import GARDEN

DAY = date(2031, 5, 15)
ZONE = ZoneInfo(GARDEN.timezone)
NINE = datetime(2031, 5, 15, 9, tzinfo=ZONE)
NONE = Heard(frozenset(), {})


def heard(*entries: Any, day: date = DAY) -> Heard:
    """What the entries say of a day."""
    return heard_on(Pages(GARDEN, entries=entries), day)


def about(kind: type[Any], **fields: Any) -> Any:
    """An entry about the wall at nine."""
    usual = {"uid": "e", "happened_at": NINE, "written_at": NINE, "bed_uid": "wall", "by": "Tom"}
    return kind(**usual | fields)


SOAK = about(Soak, litres=17.0, typed="17l")


@pytest.mark.parametrize(
    "entry",
    [
        SOAK,
        about(Left, reason="looked at, needs none"),
        about(Left, reason="moist to the knuckle"),
        about(Feel, ball="dry"),
        about(Wilt),
        about(Look, wet_to_cm=10.0, typed="10cm"),
    ],
)
def test_an_answer_ends_it(entry: Any) -> None:
    assert heard(entry) == Heard(frozenset({"wall"}), {})


@pytest.mark.parametrize("reason", ["could not", "no time", " Could Not "])
def test_who_could_not_passes_it_on(reason: str) -> None:
    assert heard(about(Left, reason=reason)) == Heard(frozenset(), {"wall": ("Tom",)})
    nobody = about(Left, reason=reason, by=None)
    assert heard(nobody).could_not == {"wall": ("somebody",)}


def test_two_who_could_not_are_both_known_and_a_soak_settles_it() -> None:
    ann = about(Left, uid="f", reason="no time", by="Ann")
    found = heard(about(Left, reason="could not"), ann, SOAK)
    assert found == Heard(frozenset({"wall"}), {"wall": ("Tom", "Ann")})


def test_it_is_heard_of_the_gardens_day() -> None:
    late = datetime(2031, 5, 14, 23, 30, tzinfo=ZoneInfo("UTC"))  # half past midnight there
    assert heard(about(Soak, litres=1.0, typed="1l", happened_at=late)).answered == {"wall"}
    assert heard(about(Soak, litres=1.0, typed="1l", happened_at=DAY)).answered == {"wall"}
    assert heard(SOAK, day=date(2031, 5, 16)) == NONE


def test_rain_answers_for_no_bed() -> None:
    rain = Rain(uid="r", happened_at=NINE, written_at=NINE, rain_mm=9.0, typed="9mm", began_at=NINE)
    assert heard(rain) == NONE
