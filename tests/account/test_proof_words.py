"""The proof in words: what stands on a page for each kind of visit, day and gap."""

from datetime import date
from typing import Any

import pytest

from soakbook.account.proof import proof_report
from soakbook.account.proof_words import number, proof_words
from soakbook.garden.entries import AnyEntry, Look
from tests.account.books import garden, on
from tests.cli.words import FORBIDDEN
from tests.reckoning.gardens import feel, left, rain, soak, weather, wilt


def words(*entries: AnyEntry, last: date = date(2031, 6, 8), **fields: Any) -> dict[str, Any]:
    return proof_words(proof_report(garden(entries, **fields), date(2031, 6, 2), last))


def visit(*entries: AnyEntry, **fields: Any) -> dict[str, Any]:
    (found,) = (
        one
        for block in words(*entries, **fields)["blocks"]
        if not block["rest"]
        for one in block["visits"]
    )
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0.0, "0"),
        (17.0, "17"),
        (6174.5, "6,174.5"),
        (22.73, "22.73"),
        (0.125, "0.125"),
        (100.0, "100"),
    ],
)
def test_numbers_keep_their_digits(value: float, said: str) -> None:
    assert number(value) == said


@pytest.mark.parametrize(
    ("entry", "how"),
    [
        (soak(on(3), 10, "wall"), "watered with the lance, tap A"),
        (soak(on(3), 10, "wall", method="can", kind="re_wet"), "re-wetted by can, tap A"),
        (soak(on(3), 10, "shade", method="can"), "watered by can, from the butts"),
        (
            soak(on(3), 10, "wall", planting_uid="wall/roses"),
            "watered with the lance, tap A: roses",
        ),
        (left(on(3), "wall", "too wet"), "looked at and left: too wet"),
        (feel(on(3), "wall", ball="dry", planting_uid="wall/roses"), "looked at: roses"),
        (wilt(on(3), "wall"), "looked at"),
    ],
)
def test_what_was_done(entry: AnyEntry, how: str) -> None:
    assert visit(entry)["how"] == how


def test_what_was_found_and_when_it_was_written() -> None:
    hole = Look(
        uid="hole",
        happened_at=on(3, 8),
        written_at=on(5, 19),
        bed_uid="wall",
        wet_to_cm=22.0,
        typed="22cm",
    )
    found = visit(
        soak(on(3, 7), 10, "wall", note="slowly", uid="a"),
        soak(on(3, 9), 10, "wall", uid="b"),
        feel(on(3, 7), "wall", bed="wet", unsure=True),
        wilt(on(3, 15), "wall", upright=True),
        hole,
    )
    assert found["how"] == "watered with the lance, tap A, 2 times"
    assert found["more"] == (
        "Felt bed wet, unsure. Leaves upright. A hole was wet to 22 cm. Note: slowly. Written Thu 5 June 19:00."
    )
    assert (found["at"], found["litres"], found["minutes"], found["by"]) == (
        "07:00", "20", "2", "nobody named",
    )  # fmt: skip


def test_minutes_that_are_not_known_are_not_nothing() -> None:
    assert visit(soak(on(3), 10, "shade"))["minutes"] == "not known"


def test_days_have_their_weather_and_rests_are_summed_up() -> None:
    days = weather(date(2031, 6, 2), 4)
    found = words(rain(on(4, 6), 8.0, on(3, 22)), soak(on(4), 10, "wall"), days=days)
    before, day, after = found["blocks"]
    assert before["rest"] == (
        "Mon 2 June to Tue 3 June 2031, 2 days: nothing entered; rain 2 mm, the air asked for 8 mm"
    )
    assert (day["day"], day["weather"]) == (
        "Wed 4 June 2031", "rain 6 mm by the gauge; 11 to 21 °C; the air asked for 4 mm",
    )  # fmt: skip
    assert day["gauge"] == ["gauge read 06:00: 8 mm since Tue 3 June 22:00"]
    assert after["rest"].startswith(
        "Thu 5 June to Sun 8 June 2031, 4 days: nothing entered; rain 0 mm"
    )


def test_a_southern_garden_stands_where_it_stands_over_the_new_year() -> None:
    book = garden(
        [soak(date(2031, 12, 31), 10, "wall", uid="a"), soak(date(2032, 1, 1), 5, "wall", uid="b")]
    )
    book = book._replace(
        garden=book.garden._replace(
            latitude_deg=-42.9, longitude_deg=147.3, timezone="Australia/Hobart"
        )
    )
    found = proof_words(proof_report(book, date(2031, 12, 31), date(2032, 1, 1)))
    assert found["place"] == "42.9° S, 147.3° E; days and hours of Australia/Hobart"
    assert [block["day"] for block in found["blocks"]] == [
        "Wed 31 December 2031",
        "Thu 1 January 2032",
    ]
    assert found["title"].endswith("Wed 31 December 2031 to Thu 1 January 2032")


def test_no_word_that_may_not_stand_on_a_page() -> None:
    found = words(soak(on(3), 10, "wall"), left(on(4), "shade"), feel(on(5), "wall", ball="wet"))
    assert not FORBIDDEN.search(str(found))


@pytest.mark.parametrize("when", [on(3), date(2031, 6, 3)], ids=["with an hour", "a day alone"])
def test_what_was_written_on_a_later_day_says_so(when: Any) -> None:
    assert visit(soak(when, 10, "wall", written_at=on(3, 22)))["more"] == ""
    assert visit(soak(when, 10, "wall", written_at=on(4, 8)))["more"] == "Written Wed 4 June 08:00."
