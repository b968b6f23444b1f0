"""Plants lost: never more than stand."""

from pathlib import Path

import pytest

from soakbook.garden.entries import Loss
from soakbook.services.entries import feel, loss, soak
from soakbook.services.mornings import round_report
from tests.services.looking import NOW, Refused, at, entries_of, said


def test_a_loss_says_how_many_stand(garden: Path) -> None:
    answer = loss(garden, "dole", "shrub rose", "2", "too wet", by="Ann", now=NOW)
    (entry,) = entries_of(garden, Loss)
    assert (entry.count, entry.cause, entry.by) == (2, "drowned", "Ann")
    assert answer["changed"] == {
        "entries": [entry.uid],
        "planting": "shrub rose",
        "lost": 2,
        "standing": 12,
    }
    assert "12 stand, and from tomorrow the round counts these" in said(answer)
    assert "Feel ball and bed of the others" in said(answer)


def test_from_tomorrow_the_round_counts_the_living(garden: Path) -> None:
    loss(garden, "dole", "rose", "2", "drowned", now=NOW)
    calls = round_report(garden, now=at(5, 16, 6))["calls"]
    dole = next(call for call in calls if call["bed"] == "dole")
    assert dole["plantings"][0]["count"] == 12


def test_more_lost_than_stand_is_refused(garden: Path) -> None:
    loss(garden, "chapel", "clematis", "3", "drought", now=NOW)
    with Refused(garden, "count", "3", "at most 2", "clematis of Chapel Wall"):
        loss(garden, "chapel", "clematis", "3", "drought", now=NOW)
    with Refused(garden, "count", "3", "at most 2"):
        loss(garden, "chapel", "clematis", "3", "drought", at="1may", now=NOW)


def test_the_last_of_a_planting_may_be_lost(garden: Path) -> None:
    answer = loss(garden, "dole", "rose", "14", "drowned", now=NOW)
    assert "None stand" in said(answer)
    tomorrow = at(5, 16, 7)
    with Refused(garden, "bed", "dole", "living plants"):
        feel(garden, ["dole"], bed="wet", now=tomorrow)
    with Refused(garden, "bed", "dole", "nothing stands in Dole Bed"):
        soak(garden, ["dole"], "10l", now=tomorrow)


def test_a_leafless_shrub_may_still_live(garden: Path) -> None:
    answer = loss(garden, "chapel", "rose", "1", "drought", now=NOW)
    assert "scratch the bark" in said(answer)
    assert "Put a finger in the balls of the others" in said(answer)


@pytest.mark.parametrize("count", ["0", "two", "-1", "1.5", ""])
def test_a_count_is_a_whole_number(garden: Path, count: str) -> None:
    with Refused(garden, "count", count, "a whole number of plants lost"):
        loss(garden, "chapel", "rose", count, "drought", now=NOW)


def test_an_unknown_cause_or_planting_is_refused(garden: Path) -> None:
    with Refused(garden, "cause", "drowsed", "did you mean drowned"):
        loss(garden, "chapel", "rose", "1", "drowsed", now=NOW)
    with Refused(garden, "planting of Chapel Wall", "tulip", "climbing rose, clematis"):
        loss(garden, "chapel", "tulip", "1", "drought", now=NOW)
