"""Accounts that are not as one would have them: nothing to tell, odd names, many beds; none stops a document."""

from datetime import date

import pytest

from soakbook.account.contents.blocks import Table
from soakbook.account.document import Document, document_of, html_of, pdf_of
from soakbook.account.what_if import Size, what_if
from soakbook.garden.pages import Pages
from tests.account.made_up import account_from, entries, small, small_book
from tests.account.reading import Read, opened, root_of, text_of
from tests.reckoning.gardens import bed, garden, roses

HOSTILE = "</section><script>run()</script>&amp;\"'{{x}} #[typst] $a$ `b` \\ @x *b*"


def both(document: Document) -> tuple[Read, str]:
    """The page, and the text of the PDF."""
    return Read(html_of(document)), text_of(opened(pdf_of(document)))


def test_names_with_marks_of_html_and_typst_stand_as_they_are() -> None:
    told = small_book(
        name=HOSTILE, garden=garden(name=HOSTILE), plantings=[roses("wall", name=HOSTILE, uid="wall/roses")]
    )  # fmt: skip
    html, pdf = both(document_of(account_from(told)))
    for text in (html.text, pdf):
        assert HOSTILE in text
    assert html.unclosed == []
    assert "script" not in {tag for tag, _ in html.tags}


def test_letters_that_no_font_has_are_boxes_and_the_pdf_stays_tagged() -> None:
    document = document_of(small(name="薔薇園", garden=garden(name="薔薇の庭")))
    assert "薔薇園" in Read(html_of(document)).text
    pdf = opened(pdf_of(document))
    assert root_of(pdf)["/MarkInfo"]["/Marked"]
    assert b"pdfuaid" not in root_of(pdf)["/Metadata"].get_data()
    assert "薔薇の庭" in str(pdf.metadata and pdf.metadata.title)


def test_a_name_longer_than_a_line_stays_on_the_paper() -> None:
    document = document_of(small(name="A" * 300, garden=garden(name="Long " * 60)))
    lines = [
        line for page in opened(pdf_of(document)).pages for line in page.extract_text().splitlines()
    ]
    assert sum(line.count("A") for line in lines) > 4 * 300
    assert max(line.count("A") for line in lines) < 100


def test_many_beds_have_a_page_each_and_weeks_in_parts() -> None:
    count = 30
    told = small_book(
        beds=[bed(f"b{n}", name=f"Bed number {n}", tap="A") for n in range(count)],
        plantings=[roses(f"b{n}") for n in range(count)],
        said=[one for n in range(count) for one in entries(f"b{n}")],
    )
    document = document_of(account_from(told, members=4))
    signs = [one.sign for one in document.contents.sections]
    assert [f"bed-b{n}" for n in range(count)] == [one for one in signs if one.startswith("bed-")]
    assert [one for one in document.pictures if one.startswith("tallies")] == [
        "tallies",
        "tallies-2",
    ]
    weeks = [document.pictures[name].table for name in ("tallies", "tallies-2")]
    assert sum(len(one) for one in weeks) == count * weeks[0]["week"].nunique()
    assert set(weeks[0]["week"]) == set(weeks[1]["week"])


@pytest.mark.parametrize(
    ("told", "says"),
    [
        (small_book(rates=()), "No price of water or work is in the book"),
        (small_book(said=[]), "0 waterings, 0 L."),
        (small_book()._replace(weather=()), "Nothing was reckoned in this bed"),
        (small_book(said=[], plantings=[], beds=[]), "the book has no bed with plants in it"),
    ],
    ids=["no rates", "no visits", "no weather", "nothing"],
)
def test_what_is_not_there_is_said_or_left_out(told: Pages, says: str) -> None:
    html, pdf = both(document_of(account_from(told)))
    for text in (html.text, pdf):
        assert says in text
        assert "nan" not in text.lower().split()
        assert "None" not in text
    assert html.unclosed == []


def test_ways_of_a_book_without_weather_are_refused_in_words() -> None:
    account = account_from(small_book()._replace(weather=()))
    ways = what_if(account.pages, account.span, size=Size(4, 4, 1))
    html, pdf = both(document_of(account, ways))
    for text in (html.text, pdf):
        assert text.count("Not reckoned: nothing stood in the beds, or the book has no weather") > 5


def test_ways_of_a_bed_stand_on_its_page_and_are_those_that_were_reckoned() -> None:
    account = small(date(2031, 7, 1))
    ways = what_if(account.pages, account.span, size=Size(4, 4, 1))
    bare = next(one for one in ways if one.key == "no_mulch" and one.bed == "wall")
    assert bare.by_round is not None
    document = document_of(account, ways)
    section = next(one for one in document.contents.sections if one.sign == "bed-wall")
    tables = [one for one in section.blocks if isinstance(one, Table)]
    table = next(one for one in tables if "What if" in one.caption)
    row = next(row for row in table.rows if row.cells[0] == "without mulch")
    assert f"{bare.by_round.visits.middle:.0f} (" in row.cells[3]
    assert any(one.sign == "what-if" for one in document.contents.sections)
