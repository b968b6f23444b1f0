"""The day of a planting put right, and refused where the book would contradict it."""

from pathlib import Path

from soakbook.garden.records import Planting
from soakbook.services.entries import feel, loss
from soakbook.services.mornings import round_report
from soakbook.services.setup import move, plant
from tests.services.looking import NOW, Refused, pages_of, said

WAS = "22mar"


def clematis(path: Path) -> Planting:
    """The one of the chapel wall."""
    return next(one for one in pages_of(path).plantings if one.name == "clematis")


def test_the_day_is_put_right_and_the_reckoning_begins_there(garden: Path) -> None:
    old = clematis(garden)
    answer = plant(garden, "chapel", "clematis", "5", on="2apr", instead_of=WAS, now=NOW)
    assert said(answer).startswith(
        "Chapel Wall, clematis. Planted 2 April; it said planted 22 March."
    )
    assert clematis(garden) == old._replace(planted_on=clematis(garden).planted_on)
    assert clematis(garden).planted_on.isoformat() == "2031-04-02"
    for day, there in (("1apr", False), ("2apr", True)):
        calls = round_report(garden, now=NOW, on=day)["calls"]
        chapel = next(one for one in calls if one["bed"] == "chapel")
        assert ("clematis" in {one["planting"] for one in chapel["plantings"]}) == there


def test_the_day_alone_is_refused_with_the_way_to_put_it_right(garden: Path) -> None:
    with Refused(garden, "on", "2apr", "was that day wrong, --instead-of 2031-03-22"):
        plant(garden, "chapel", "clematis", "5", on="2apr", now=NOW)
    with Refused(garden, "instead of", "21mar", "2031-03-22, the day that the clematis have"):
        plant(garden, "chapel", "clematis", "5", on="2apr", instead_of="21mar", now=NOW)
    with Refused(garden, "instead of", WAS, "with --on, the right day"):
        plant(garden, "chapel", "clematis", "5", instead_of=WAS, now=NOW)
    with Refused(garden, "on", "20may2031", "a day that has come"):
        plant(garden, "chapel", "clematis", "5", on="20may2031", instead_of=WAS, now=NOW)
    with Refused(garden, "planting of Chapel Wall", "zorble", "known: climbing rose, clematis"):
        plant(garden, "chapel", "zorble", "5", on="2apr", instead_of=WAS, now=NOW)


def test_what_the_book_knows_of_them_was_not_before_it(garden: Path) -> None:
    feel(garden, ["chapel"], ball="dry", planting="clematis", at="1apr 07:00", now=NOW)
    with Refused(garden, "on", "2apr", "not after 1 April, of which the book knows something"):
        plant(garden, "chapel", "clematis", "5", on="2apr", instead_of=WAS, now=NOW)
    plant(garden, "chapel", "clematis", "5", on="1apr", instead_of=WAS, now=NOW)


def test_successors_and_those_they_stand_in_for_keep_their_order(garden: Path) -> None:
    loss(garden, "chapel", "clematis", "2", "frost", at="10apr", now=NOW)
    new = {"pot": "3l", "name": "new clematis", "replaces": "clematis"}
    plant(garden, "chapel", "clematis", "2", on="12apr", **new, now=NOW)
    with Refused(garden, "on", "11apr", "not after 10 April"):
        plant(garden, "chapel", "clematis", "5", on="11apr", instead_of=WAS, now=NOW)
    with Refused(garden, "on", "1mar", "not before 22 March, when those came"):
        plant(garden, "chapel", "new clematis", "2", on="1mar", instead_of="12apr", now=NOW)


def test_the_day_of_moved_plants_stands(garden: Path) -> None:
    move(garden, "chapel", "clematis", to="dole", count="1", now=NOW)
    for bed, count, day in (("chapel", "5", WAS), ("dole", "1", "15may")):
        with Refused(garden, "on", "2apr", "moved or parted, and their day stands"):
            plant(garden, bed, "clematis", count, on="2apr", instead_of=day, now=NOW)
