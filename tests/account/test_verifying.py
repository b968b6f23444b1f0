"""Checking a proof: one letter changed anywhere is found, and so is a book that says otherwise."""

import json
import shutil
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from soakbook.account.canonical import digest_of
from soakbook.account.proof import proof_report
from soakbook.account.proof_files import html_of, pdf_of
from soakbook.account.verifying import Verified, differences_between, verify
from soakbook.errors import BookError
from soakbook.garden.pages import Pages
from soakbook.interface import open_book
from soakbook.services import entries
from soakbook.services.books import SPECIMEN
from soakbook.specimen.text import ZONE
from tests.account.books import garden, on, specimen
from tests.reckoning.gardens import soak

WEEK = (date(2031, 5, 10), date(2031, 5, 16))


def of(pages: Pages) -> dict[str, Any]:
    plain: dict[str, Any] = json.loads(json.dumps(proof_report(pages, *WEEK)))
    return plain


@pytest.fixture(scope="module")
def report() -> dict[str, Any]:
    return of(specimen())


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "may"


def checked(
    file: Path, content: bytes, book: Path = SPECIMEN, *, asked_for: bool = True
) -> Verified:
    file.write_bytes(content)
    return verify(file, book, asked_for=asked_for)


def as_text(report: dict[str, Any]) -> bytes:
    return json.dumps(report).encode()


def test_a_proof_as_it_was_made_agrees_with_its_digest_its_page_and_its_book(
    report: dict[str, Any], file: Path
) -> None:
    for kind, content in (
        ("json", as_text(report)), ("html", html_of(report)), ("pdf", pdf_of(report)),
    ):  # fmt: skip
        found = checked(file, content)
        assert (found.kind, found.verified, found.book) == (kind, True, "same")
        assert found.sha256 == found.sha256_of_data == report["sha256"]
        assert found.page_as_data == (None if kind == "json" else True)
        assert "It does not show who made the file" in found.say[-1]


def test_data_that_were_changed_do_not_fit_their_digest(report: dict[str, Any], file: Path) -> None:
    text = as_text(report).replace(b'"litres": 17.0', b'"litres": 71.0', 1)
    found = checked(file, text)
    assert not found.verified
    assert found.sha256_of_data != found.sha256
    assert found.say[0].startswith("CHANGED: the data")
    assert not any("not been changed" in line for line in found.say)


def test_data_with_a_new_digest_of_their_own_do_not_fit_the_book(
    report: dict[str, Any], file: Path
) -> None:
    """What a digest cannot show: the book can."""
    forged = json.loads(as_text(report).replace(b'"litres": 17.0', b'"litres": 71.0', 1))
    forged["sha256"] = digest_of(forged, "sha256")
    for content in (as_text(forged), html_of(forged), pdf_of(forged)):
        found = checked(file, content)
        assert found.sha256 == found.sha256_of_data
        assert (found.verified, found.book) == (False, "different")
        assert len(found.differences) == 1
        assert found.differences[0].endswith("litres: 71 in the file, 17 in the book")
        assert "2031-05-15" in found.differences[0]
        assert "chapel" in found.differences[0]


def test_a_page_that_shows_something_else_than_its_data_is_found(
    report: dict[str, Any], file: Path
) -> None:
    page = html_of(report)
    for changed in (
        page.replace(b">17<", b">71<", 1),
        page.replace(b"\n", b"\r\n"),
        page + b"\n",
        page.replace(b"<h1>The proof</h1>", b"<h1>The proof</h1><script>1</script>"),
    ):
        assert changed != page
        found = checked(file, changed)
        assert (found.page_as_data, found.verified) == (False, False)
        assert "CHANGED: the page is not what is set from the data" in " ".join(found.say)


def test_a_pdf_with_other_pages_around_the_same_data_is_found(
    report: dict[str, Any], file: Path
) -> None:
    from soakbook.account.canonical import canonical_json
    from soakbook.account.documents.pdf import render_pdf
    from soakbook.account.proof_words import proof_words

    words = proof_words(report)
    words["totals"] = ["Given 99,999 L."]
    found = checked(file, render_pdf("proof.typ", words, {"proof.json": canonical_json(report)}))
    assert (found.sha256 == found.sha256_of_data, found.verified) == (True, False)
    assert "CHANGED: the PDF" in found.say[1]


def test_a_page_of_another_soakbook_is_not_called_changed_nor_verified(
    report: dict[str, Any], file: Path
) -> None:
    other = {**report, "made_with": "soakbook 9.9"}
    other["sha256"] = digest_of(other, "sha256")
    assert checked(file, html_of(other)).verified
    found = checked(file, html_of(other).replace(b"<h2>", b"<h2 >"))
    assert not found.verified
    assert found.say[1].startswith("NOT CHECKED: the page says it was made with soakbook 9.9")
    assert found.book == "same"


def test_a_book_in_which_more_was_entered_says_otherwise(
    report: dict[str, Any], file: Path, tmp_path: Path
) -> None:
    book = tmp_path / "corrody.book"
    shutil.copyfile(SPECIMEN, book)
    now = on(1, month=11).astimezone(ZONE)
    entries.soak(book, ["dole"], "40l", now=now, at="2031-05-15 19:30", by="Tom")
    found = checked(file, as_text(report), book)
    assert (found.verified, found.book) == (False, "different")
    assert found.differences[0] == "totals, visits: 31 in the file, 32 in the book"
    assert "places more" in found.differences[-1]
    assert proof_report(open_book(book).pages(), *WEEK)["totals"]["litres"] == 1104


def test_without_a_book_the_file_alone_is_checked(report: dict[str, Any], file: Path) -> None:
    none = file.with_name("none.book")
    found = checked(file, as_text(report), none, asked_for=False)
    assert (found.verified, found.book) == (True, "not_asked")
    with pytest.raises(BookError):
        checked(file, as_text(report), none)


@pytest.mark.parametrize("asked_for", [True, False])
def test_a_book_of_another_garden_cannot_speak_of_it(file: Path, asked_for: bool) -> None:
    other = garden([soak(on(12, month=5), 10, "wall")])
    found = checked(file, as_text(of(other)), asked_for=asked_for)
    assert (found.book, found.verified) == ("another_garden", not asked_for)


def test_a_garden_in_which_nothing_was_entered_then_says_so(file: Path) -> None:
    kept = garden([soak(on(12, month=5), 10, "wall")])
    mine = kept._replace(garden=kept.garden._replace(uid=specimen().garden.uid))
    report = json.loads(json.dumps(proof_report(mine, date(2031, 5, 12), date(2031, 5, 12))))
    report["span"] |= {"first": "2029-05-12", "last": "2029-05-12"}
    report["sha256"] = digest_of(report, "sha256")
    found = checked(file, as_text(report))
    assert found.book == "different"
    assert "days on which somebody was at a bed" in found.differences[0]


def test_the_first_differences_are_named_and_the_rest_counted(report: dict[str, Any]) -> None:
    other = json.loads(json.dumps(report))
    for day in other["days"]:
        for visit in day["visits"]:
            visit["by"] = "Eve"
    other["made_with"], other["sha256"] = "another", "0"
    found = differences_between(report, other)
    assert len(found) == 6
    assert found[-1].startswith("and ")
    assert differences_between(report, {**report, "made_with": "another", "sha256": "0"}) == ()


def lists_in(value: Any) -> list[list[Any]]:
    """Every list of a report, the outer ones first."""
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else []
    mine = [value] if isinstance(value, list) else []
    return mine + [found for one in inner for found in lists_in(one)]


def test_what_stands_twice_in_a_file_or_in_another_order_is_found(report: dict[str, Any]) -> None:
    """No visit of two that are called the same hides behind the other."""
    found = 0
    for number, items in enumerate(lists_in(report)):
        for now in ([*items, *items[:1]], items[::-1]):
            forged = json.loads(json.dumps(report))
            lists_in(forged)[number][:] = now
            assert bool(differences_between(forged, report)) == (now != items)
            found += now != items
    assert found > 50


def test_two_that_are_called_the_same_do_not_hide_behind_each_other(report: dict[str, Any]) -> None:
    visit = report["days"][0]["visits"][0]
    twice = {**report, "days": [{**report["days"][0], "visits": [visit, {**visit, "litres": 1.0}]}]}
    forged = json.loads(json.dumps(twice))
    forged["days"][0]["visits"][0]["litres"] = 9999.0
    assert len(differences_between(forged, twice)) == 1
    forged["days"][0]["visits"][1]["litres"] = 9999.0
    found = differences_between(forged, twice)
    assert len(found) == 2
    assert "again, litres: 9999 in the file, 1 in the book" in found[1]


def test_a_text_in_a_file_cannot_be_taken_for_a_line_of_the_answer(
    report: dict[str, Any], file: Path
) -> None:
    forged = {
        **report,
        "made_with": "x\nVerified",
        "garden": {**report["garden"], "name": "A\nB" + 200 * "c"},
    }
    forged["sha256"] = digest_of(forged, "sha256")
    found = checked(file, html_of(forged) + b"\n")
    assert not any("\n" in line for line in found.say)
    assert "A B" in found.differences[0]
    assert len(found.differences[0]) < 200


def test_a_span_of_ages_is_refused_and_reckoned_no_further(
    report: dict[str, Any], file: Path
) -> None:
    for first, last in (("2031-05-10", "9999-12-31"), ("0001-01-01", "2031-05-16")):
        forged = {**report, "span": {**report["span"], "first": first, "last": last}}
        forged["sha256"] = digest_of(forged, "sha256")
        found = checked(file, as_text(forged))
        assert (found.verified, found.book) == (False, "different")
        assert "days of the years 1900 to 2199" in found.differences[0]
