"""The round and why: from the cache where it can be, reckoned where it must."""

import json
import subprocess
import sys
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from soakbook.errors import BookError, InputError
from soakbook.reckoning.advice import rounds
from soakbook.reckoning.advice.report import Round
from soakbook.services.books import where
from soakbook.services.entries import feel, left, soak
from soakbook.services.mornings import round_report, why_report
from soakbook.services.setup import person
from soakbook.store.rounds import RoundCache
from tests.services.looking import NOW, Refused, at

SPECIMEN = where(None, specimen=True)


@pytest.fixture
def reckoned(monkeypatch: pytest.MonkeyPatch) -> list[date]:
    """The days of the rounds that were reckoned, not found."""
    days: list[date] = []
    whole = rounds.round_of

    def watched(morning: rounds.Morning) -> Round:
        days.append(morning.day)
        return whole(morning)

    monkeypatch.setattr(rounds, "round_of", watched)
    return days


def test_the_second_time_it_is_found(garden: Path, reckoned: list[date]) -> None:
    first = round_report(garden, now=NOW)
    assert round_report(garden, now=at(5, 15, 11)) == first
    assert round_report(garden, now=NOW.astimezone(UTC)) == first
    assert reckoned == [date(2031, 5, 15)]
    assert first["schema"] == "soakbook.round/1"
    assert first["morning"] == "2031-05-15"


def test_anything_written_makes_it_anew(garden: Path, reckoned: list[date]) -> None:
    round_report(garden, now=NOW)
    person(garden, "Ann", now=NOW)
    assert round_report(garden, now=NOW)["people"] == ["Ann"]
    assert len(reckoned) == 2


def test_another_day_and_another_way_of_asking_are_other_rounds(
    garden: Path, reckoned: list[date]
) -> None:
    round_report(garden, now=NOW)
    round_report(garden, now=NOW, on="15may2031")
    round_report(garden, now=at(5, 16, 6))
    assert reckoned == [date(2031, 5, 15), date(2031, 5, 15), date(2031, 5, 16)]


def test_by_date_todays_soak_does_not_count_and_now_it_does(garden: Path) -> None:
    soak(garden, ["chapel"], "advised", now=NOW)
    now, on = (
        next(one for one in report["calls"] if one["bed"] == "chapel")
        for report in (
            round_report(garden, now=at(5, 15, 8)),
            round_report(garden, now=at(5, 15, 8), on="today"),
        )
    )
    assert now["given_today_l"] > 0
    assert on["given_today_l"] == 0
    assert on["litres"] > 0 == now["litres"]


def test_a_round_that_waits_for_an_entry_ahead_is_not_kept(
    garden: Path, reckoned: list[date]
) -> None:
    """An entry written by a clock that was fast: it lies ahead of now, and counts once it has come."""
    feel(garden, ["chapel"], ball="dust", now=at(5, 15, 9))
    early = round_report(garden, now=at(5, 15, 8))
    reckoned.clear()
    late = round_report(garden, now=at(5, 15, 10))
    assert reckoned == [date(2031, 5, 15)]
    felt = [
        next(one["felt"] for one in report["calls"] if one["bed"] == "chapel")
        for report in (early, late)
    ]
    assert felt[0] is None
    assert felt[1]["ball"] == "dust"


def test_the_day_is_the_gardens_own(garden: Path) -> None:
    """23:30 in UTC on the 14th is half past midnight of the 15th in a British summer."""
    report = round_report(garden, now=datetime(2031, 5, 14, 23, 30, tzinfo=UTC))
    assert report["morning"] == "2031-05-15"


def test_a_day_far_ahead_is_refused(garden: Path) -> None:
    with Refused(garden, "on", "2031-05-26", "a day up to 2031-05-25"):
        round_report(garden, now=NOW, on="2031-05-26")
    assert round_report(garden, now=NOW, on="2031-05-25")["morning"] == "2031-05-25"


def test_past_the_last_weather_a_round_may_lie_in_a_books_own_time(garden: Path) -> None:
    """A book of 2031 opened in 2026: its weather says how far ahead can be asked."""
    earlier = NOW - timedelta(days=5 * 365)
    assert round_report(garden, now=earlier, on="2031-05-15")["morning"] == "2031-05-15"


def test_a_day_that_cannot_be_read_is_refused(garden: Path) -> None:
    with pytest.raises(InputError, match="on: '1/4'"):
        round_report(garden, now=NOW, on="1/4")


def test_the_specimen_opens_on_its_own_morning() -> None:
    long_before = datetime(2026, 1, 10, 9, tzinfo=UTC)
    report = round_report(SPECIMEN, now=long_before, specimen=True)
    assert report["morning"] == "2031-05-15"
    assert report["calls"]
    for typed, day in (
        ("1sep", "2031-09-01"),
        ("20mar", "2031-03-20"),
        ("yesterday", "2031-05-14"),
    ):
        report = round_report(SPECIMEN, now=long_before, on=typed, specimen=True)
        assert report["morning"] == day


def test_a_lost_cache_changes_nothing(garden: Path, reckoned: list[date]) -> None:
    first = round_report(garden, now=NOW)
    folder = RoundCache().folder
    (kept,) = folder.glob("*.json")
    kept.write_text("{ torn", encoding="utf-8")
    assert round_report(garden, now=NOW) == first
    assert len(reckoned) == 2


def test_the_cached_round_imports_neither_numpy_nor_pydantic(garden: Path) -> None:
    """In a process of its own, whose second call finds what the first one kept."""
    program = (
        "import sys, json\n"
        "from datetime import datetime\n"
        "from pathlib import Path\n"
        "from soakbook.services.mornings import round_report\n"
        f"now = datetime.fromisoformat({NOW.isoformat()!r})\n"
        f"report = round_report(Path({str(garden)!r}), now=now)\n"
        "print(json.dumps([report['morning'], sorted(sys.modules)]))\n"
    )
    for _ in range(2):
        done = subprocess.run(
            [sys.executable, "-c", program], capture_output=True, text=True, check=True
        )
    morning, modules = json.loads(done.stdout)
    assert morning == "2031-05-15"
    heavy = {"numpy", "pydantic", "pandas", "difflib", "soakbook.reckoning"}
    assert heavy & set(modules) == set()


def test_why_gives_the_sums_of_a_bed_by_any_of_its_names(garden: Path) -> None:
    report = why_report(garden, "chapel wall", now=NOW)
    assert report["schema"] == "soakbook.why/1"
    assert (report["bed"], report["name"]) == ("chapel", "Chapel Wall")
    call = next(one for one in round_report(garden, now=NOW)["calls"] if one["bed"] == "chapel")
    assert (report["verdict"], report["litres"]) == (call["verdict"], call["litres"])
    assert json.loads(json.dumps(report, allow_nan=False)) == report


def test_why_of_a_bed_that_is_none_or_stands_empty_is_refused(garden: Path) -> None:
    with Refused(garden, "bed", "chapl", "did you mean chapel"):
        why_report(garden, "chapl", now=NOW)
    with Refused(garden, "bed", "yard", "Yard: no living plants stand there on 15 May"):
        why_report(garden, "yard", now=NOW)


def test_a_book_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="no book"):
        round_report(tmp_path / "none.book", now=NOW)


def test_a_book_that_is_no_book_is_said_and_left(tmp_path: Path) -> None:
    path = tmp_path / "letter.book"
    path.write_text("Dear Tom, the beds are dry." * 40, encoding="utf-8")
    before = path.read_bytes()
    with pytest.raises(BookError, match="not a book"):
        round_report(path, now=NOW)
    with pytest.raises(BookError, match="not a book"):
        soak(path, ["chapel"], "17l", now=NOW)
    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path]


def test_a_garden_with_nothing_in_it_has_a_round(new_book: Path) -> None:
    report = round_report(new_book, now=NOW)
    assert report["calls"] == []


def test_as_known_leaves_out_what_was_written_later(garden: Path, reckoned: list[date]) -> None:
    """A soak of the 15th typed on the 16th: on the 15th nobody had written it."""
    soak(garden, ["chapel"], "60l", at="15may 07:30", now=at(5, 16, 8))
    rounds = {
        known: round_report(garden, now=at(5, 16, 9), on="16may", as_known=known)
        for known in ("15may", "16may", None)
    }
    calls = {
        known: next(one for one in report["calls"] if one["bed"] == "chapel")
        for known, report in rounds.items()
    }
    assert calls["15may"]["verdict"] == "soak"
    assert calls["16may"] == calls[None] != calls["15may"]
    assert len(reckoned) == 3
    again = round_report(garden, now=at(5, 16, 9), on="16may", as_known="15may")
    assert (again, len(reckoned)) == (rounds["15may"], 3)


def test_as_known_alone_is_the_round_of_that_day_and_today_is_as_it_stands(garden: Path) -> None:
    """The weather of the shed came on the 15th, so on the 14th nothing could be reckoned."""
    then = round_report(garden, now=at(5, 16, 9), as_known="yesterday")
    assert (then["morning"], bool(then["calls"])) == ("2031-05-15", True)
    early = round_report(garden, now=at(5, 16, 9), as_known="14may")
    assert (early["morning"], early["calls"]) == ("2031-05-14", [])
    assert "no_weather" in {one["kind"] for one in early["findings"]}
    soak(garden, ["chapel"], "20l", now=at(5, 16, 7))
    now = round_report(garden, now=at(5, 16, 9), as_known="today")
    assert now == round_report(garden, now=at(5, 16, 9))


def test_what_is_not_written_yet_cannot_be_known(garden: Path) -> None:
    with Refused(garden, "as-known", "2031-05-16", "a day that has come"):
        round_report(garden, now=NOW, as_known="2031-05-16")
    with pytest.raises(InputError, match="the weather of the specimen's came all at once"):
        round_report(SPECIMEN, now=NOW, as_known="12may2031", specimen=True)


def test_why_goes_by_what_was_known_too(garden: Path) -> None:
    soak(garden, ["chapel"], "60l", at="15may 07:30", now=at(5, 16, 8))
    whys = [
        why_report(garden, "chapel", now=at(5, 16, 9), on="16may", as_known=known)
        for known in ("15may", "16may", None)
    ]
    assert whys[1] == whys[2] != whys[0]


def test_a_bed_nobody_could_get_to_is_not_said_to_have_been_looked_at(garden: Path) -> None:
    left(garden, ["dole"], "could not", now=NOW)
    (dole,) = (call for call in round_report(garden, now=NOW)["calls"] if call["bed"] == "dole")
    assert dole["reason"] == "Left today: could not."
