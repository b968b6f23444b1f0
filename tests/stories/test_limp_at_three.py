"""Story 7 through the book: limp at three, limp at dawn, a dry ball in a wet bed, each told as it is seen."""

import re
import shutil
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from soakbook.reckoning.advice.rounds import morning_now
from soakbook.services.books import where
from soakbook.services.entries import feel, soak, wilt
from soakbook.services.mornings import round_report
from tests.services.looking import pages_of

LIFTED = date(2031, 4, 3)
SEEN = LIFTED + timedelta(days=9)


def at(day: date, hour: int, minute: int = 0) -> datetime:
    return datetime.combine(day, time(hour, minute), ZoneInfo("Europe/London"))


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The specimen's book, where the Dole Bed was given far too much the evening before."""
    path = tmp_path / "corrody.book"
    shutil.copyfile(where(None, specimen=True), path)
    soak(path, ["dole"], "400l", now=at(SEEN - timedelta(days=1), 14))
    return path


def triage(told: dict[str, Any]) -> tuple[str, str | None]:
    return told["changed"]["triage"]["step"], told["changed"]["triage"]["action"]


def test_story_7_asked_after_to_the_end(book: Path) -> None:
    """3-5 pours of 1.5-2.5 L, 20-30 min apart, 6-9 L in all on a 30 L ball, the bed none; shade, look at dusk: common
    practice, no source; small and often, RHS at second hand; Nelms & Spomer 1983 for the ball's loss.
    """
    (told,) = wilt(book, ["dole"], now=at(SEEN - timedelta(days=1), 15))
    assert triage(told) == ("dusk", "shade")
    assert "  soakbook soak" not in "\n".join(told["say"])
    (told,) = wilt(book, ["dole"], now=at(SEEN, 5, 30))
    assert triage(told) == ("ball", None)
    assert "before anything is given" in told["say"][0]
    (told,) = feel(book, ["dole"], ball="dry", bed="wet", now=at(SEEN, 5, 40))
    assert triage(told) == ("done", "re_wet")
    say = " ".join(told["say"])
    for words in ("Dry ball in a wet bed", "20 to 30 min apart", "no water on the bed", "Shade"):
        assert words in say
    pours, each_l, whole_l, plants = numbers(say)
    assert 3 <= pours <= 5
    assert 1.5 <= each_l <= 2.5
    assert 6 <= pours * each_l <= 9
    assert whole_l == pours * each_l * plants
    (entry,) = [line for line in told["say"][1].splitlines() if line.startswith("  soakbook soak")]
    assert entry.split()[2:4] == ["dole", f"{whole_l:g}l"]
    assert entry.split()[4:] == ["--kind", "re-wet"]


def numbers(say: str) -> tuple[int, float, float, int]:
    """`4 pours of 1½ L a plant, 84 L for all 14 shrub roses` in numbers."""
    found = re.search(r"(\d+) pours of (\d)(½?) L a plant, (\d+) L for all (\d+) ", say)
    assert found
    pours, whole, half, litres, plants = found.groups()
    return int(pours), int(whole) + 0.5 * bool(half), float(litres), int(plants)


def test_story_7_the_pours_are_the_rounds_own(book: Path) -> None:
    now = at(SEEN, 5, 40)
    wilt(book, ["dole"], ball="dry", bed="wet", now=now)
    call = next(one for one in round_report(book, now=now)["calls"] if one["bed"] == "dole")
    (told,) = wilt(book, ["dole"], ball="dry", bed="wet", now=at(SEEN, 5, 50))
    assert call["dose_kind"] == "re_wet"
    assert f"soak dole {call['litres']:g}l --kind re-wet" in told["say"][0]


@pytest.mark.parametrize(
    ("ball", "bed", "action"),
    [("wet", "sour", "hold"), ("moist", "moist", "cut_back"), ("moist", "wet", "hold")],
)
def test_story_7_otherwise_felt_nothing_is_poured(
    book: Path, ball: Any, bed: Any, action: str
) -> None:
    """Wet: hold. Moist, and nine days after lifting: shade and cut back. Common practice, no source."""
    (told,) = wilt(book, ["dole"], ball=ball, bed=bed, now=at(SEEN, 5, 30))
    assert triage(told) == ("done", action)
    assert "  soakbook soak" not in told["say"][0]


def test_upright_at_dawn_the_wilt_changes_nothing(book: Path) -> None:
    """No water for the wilt's sake: common practice, no source."""
    dawn = at(SEEN, 5, 30)
    calm = morning_now(pages_of(book), dawn)
    wilt(book, ["dole"], at=f"{SEEN - timedelta(days=1)} 15:00", now=dawn)
    (told,) = wilt(book, ["dole"], upright=True, now=dawn)
    assert triage(told) == ("done", "wait")
    looked = morning_now(pages_of(book), dawn)
    assert [one.litres for one in looked.calls] == [one.litres for one in calm.calls]
