"""What was written last taken back, all of one sitting; undone again it is brought back; nothing is lost."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from soakbook.garden.entries import Catch, Loss, MulchLaid, Rain, Soak, Void
from soakbook.services.amending import amend
from soakbook.services.entries import feel, loss, mulch, rain, soak, wilt
from soakbook.services.mornings import round_report
from soakbook.services.setup import bed, jam_jar, ruler
from soakbook.services.undoing import undo
from soakbook.store.book import open_book
from soakbook.store.entry_rows import entries_written
from soakbook.store.garden_rows import update_record
from tests.services.looking import NOW, Refused, at, entries_of, pages_of, said

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import datetime

LATER = at(5, 15, 9)


def litres(book: Path) -> list[float]:
    return sorted(one.litres for one in entries_of(book, Soak))


def written(book: Path) -> int:
    with open_book(book, read_only=True) as opened:
        return len(entries_written(opened, pages_of(book).garden))


def test_a_soak_is_taken_back_and_its_round_is_as_before(garden: Path) -> None:
    before = round_report(garden, now=LATER)
    soak(garden, ["chapel"], "200l", by="Tom", now=NOW)
    answer = undo(garden, by="Tom", now=LATER)
    assert litres(garden) == []
    text = said(answer)
    assert "Chapel Wall: soaked with 200 L by lance, Thu 15 May 2031 06:30, by Tom." in text
    assert "climbing rose 25 L each" in text
    assert "14 min of tap A" in text
    assert "Chapel Wall without it: Still wanted today" in text
    assert "This changes 1 call of this morning's round: Chapel Wall now wanted" in text
    assert (answer["what"], answer["bed"]) == ("undo", "chapel")
    assert answer["changed"]["calls_changed"] == ["chapel"]
    assert round_report(garden, now=LATER) == before
    with open_book(garden, read_only=True) as opened:
        last = entries_written(opened, pages_of(garden).garden)[-1]
    assert isinstance(last, Void)
    assert (last.by, last.written_at, last.happened_at) == ("Tom", LATER, LATER)


def test_a_sitting_is_taken_back_whole_and_said_to_be(garden: Path) -> None:
    soak(garden, ["school"], "70l", now=at(5, 15, 6))
    soak(garden, ["chapel", "dole"], "20l", now=NOW)
    answer = undo(garden, now=LATER)
    assert litres(garden) == [70]
    assert said(answer).startswith("2 entries were written together.\n")
    assert len(answer["changed"]["taken_back"]) == 2
    assert answer["bed"] is None


def test_undone_once_more_it_stands_again_and_so_on(garden: Path) -> None:
    soak(garden, ["chapel", "dole"], "20l", by="Tom", now=NOW)
    answers = [undo(garden, now=at(5, 15, hour)) for hour in range(7, 11)]
    assert litres(garden) == [20, 20]
    assert "Brought back" in said(answers[1])
    assert "Taken back" in said(answers[2])
    assert {one.by for one in entries_of(garden, Soak)} == {"Tom"}
    assert {one.happened_at for one in entries_of(garden, Soak)} == {NOW}
    assert len(answers[3]["changed"]["stand_again"]) == 2
    undo(garden, now=at(5, 15, 11))
    assert litres(garden) == []


def test_a_correction_is_undone_to_what_it_was(garden: Path) -> None:
    soak(garden, ["chapel"], "200l", now=NOW)
    amend(garden, "last", {"amount": "20l"}, now=at(5, 15, 7))
    answer = undo(garden, now=at(5, 15, 8))
    assert litres(garden) == [200]
    assert "As before the correction" in said(answer)
    assert "climbing rose 25 L each" in said(answer)
    undo(garden, now=LATER)
    assert litres(garden) == [20]


def test_named_by_its_handle_an_entry_goes_though_it_was_corrected(garden: Path) -> None:
    soak(garden, ["chapel", "dole"], "200l", now=NOW)
    chapel, _ = entries_of(garden, Soak)
    amend(garden, chapel.uid, {"amount": "20l"}, now=at(5, 15, 7))
    with Refused(garden, "handle", chapel.uid, "was corrected by that"):
        undo(garden, chapel.uid, now=at(5, 15, 8))
    corrected = next(one.uid for one in entries_of(garden, Soak) if one.litres == 20)
    answer = undo(garden, corrected, now=at(5, 15, 8))
    assert litres(garden) == [200]
    undo(garden, answer["changed"]["handles"][0], now=LATER)
    assert litres(garden) == [20, 200]


def test_by_whom_chooses_whose_last(garden: Path) -> None:
    soak(garden, ["chapel"], "20l", by="Ann", now=NOW)
    soak(garden, ["dole"], "30l", by="Tom", now=at(5, 15, 7))
    undo(garden, by="Ann", now=LATER)
    assert litres(garden) == [30]


def test_losses_are_not_brought_back_beyond_what_stands(garden: Path) -> None:
    """Two of six roses lost, taken back, then six lost: the two cannot be lost once more."""
    loss(garden, "chapel", "rose", "2", "drowned", now=NOW)
    taken = undo(garden, now=at(5, 15, 7))
    loss(garden, "chapel", "rose", "6", "drowned", now=at(5, 15, 8))
    with Refused(garden, "undo", "2", "at most 0 climbing roses lost"):
        undo(garden, taken["changed"]["handles"][0], now=LATER)
    assert [one.count for one in entries_of(garden, Loss)] == [6]


def test_every_kind_can_be_taken_back_and_brought_back(garden: Path) -> None:
    """All on one book, one after the other; the round is reckoned after each."""
    bed(garden, "chapel", now=NOW, rain_share="40%")
    doings: tuple[Callable[[datetime], object], ...] = (
        lambda now: rain(garden, "12mm", from_="yesterday 18:00", to="06:00", now=now),
        lambda now: feel(garden, ["chapel"], ball="dry", now=now),
        lambda now: wilt(garden, ["chapel"], ball="dry", at="06:10", now=now),
        lambda now: mulch(garden, ["school"], "bark", "5cm", on="14may", now=now),
        lambda now: ruler(garden, "school", "4cm", now=now),
        lambda now: jam_jar(garden, "chapel", "5mm", gauge="14mm", now=now),
    )
    for number, do in enumerate(doings):
        before = pages_of(garden).entries
        do(at(5, 15, 7, 5 * number))
        assert pages_of(garden).entries != before
        answer = undo(garden, now=at(5, 15, 7, 5 * number + 1))
        assert pages_of(garden).entries == before
        assert ("share of the rain was typed as 0.4" in said(answer)) == (number == 5)
        undo(garden, now=at(5, 15, 7, 5 * number + 2))
        assert len(pages_of(garden).entries) > len(before)
        assert round_report(garden, now=LATER)["calls"]
    (dressing,) = [one for one in entries_of(garden, MulchLaid) if one.written_at > NOW]
    undo(garden, dressing.uid, now=LATER)  # the ruler stays without it
    assert round_report(garden, now=LATER)["calls"]
    assert len(entries_of(garden, Rain)) == len(entries_of(garden, Catch)) == 1
    assert written(garden) == 1 + 3 * (len(doings) + 1) + 1


def test_there_is_nothing_to_undo(new_book: Path) -> None:
    with Refused(new_book, "handle", "last", "there is none yet"):
        undo(new_book, now=NOW)


def test_a_soak_of_plants_that_are_said_to_have_come_later_is_undone_all_the_same(
    garden: Path,
) -> None:
    soak(garden, ["dole"], "20l", at="14may", now=NOW)
    with open_book(garden) as book:
        (roses,) = (one for one in pages_of(garden).plantings if one.name == "shrub rose")
        update_record(book, roses._replace(planted_on=date(2031, 5, 15)), at=NOW)
    for hour, words in ((8, "Taken back"), (9, "Brought back")):
        answer = said(undo(garden, now=at(5, 15, hour)))
        assert words in answer
        assert "By the plantings as they are said now nothing stood there then." in answer
    assert litres(garden) == [20]
