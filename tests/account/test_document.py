"""The specimen's account as HTML and PDF: read back by others' programs, both say what the account says."""

import io
from datetime import date
from typing import Any

import numpy as np
import pandas as pd
import pypdf
import pytest

from soakbook.account.document import Document, document_of, html_of, pdf_of
from soakbook.account.reviewed import Account
from soakbook.account.ways import ByRound, Doubt, Given, Way
from tests.account.made_up import small
from tests.account.reading import Read, alternatives, opened, plain, root_of, text_of

GIVEN = Given(32233.0, 418, Doubt(351.0, 273.0, 443.0), Doubt(0.0, 0.0, 0.0))
BY_ROUND = ByRound(
    Doubt(32525.5, 27801.5, 35060.5), Doubt(410.0, 380.0, 501.0), Doubt(340.0, 310.0, 409.0),
    Doubt(0.0, 0.0, 0.0), Doubt(0.0, 0.0, 0.0), Doubt(0.0, 0.0, 0.0),
)  # fmt: skip
WAYS = (
    Way("as_it_was", "as it was", "", GIVEN, BY_ROUND),
    Way(
        "twice_half", "twice as much half as often", "",
        GIVEN._replace(dry_days_change=Doubt(281.6, 237.0, 329.0)), BY_ROUND,
    ),
    Way("no_mulch", "without mulch", "", GIVEN._replace(dry_days_change=Doubt(-3.0, -6.0, 30.0)), BY_ROUND),
    Way("autumn", "planted on 1 October 2030", refused="the book's weather begins later: `soakbook weather` brings it"),
    Way("councils", "councils, weekly", "", GIVEN),
)  # fmt: skip


@pytest.fixture(scope="module")
def document(reviewed_specimen: Account) -> Document:
    return document_of(reviewed_specimen, WAYS)


@pytest.fixture(scope="module")
def page(document: Document) -> bytes:
    return html_of(document)


@pytest.fixture(scope="module")
def html(page: bytes) -> Read:
    return Read(page)


@pytest.fixture(scope="module")
def printed(document: Document) -> bytes:
    return pdf_of(document)


@pytest.fixture(scope="module")
def pdf(printed: bytes) -> pypdf.PdfReader:
    return opened(printed)


@pytest.fixture(scope="module")
def pdf_text(pdf: pypdf.PdfReader) -> str:
    return text_of(pdf)


def test_both_name_the_season_its_days_and_the_garden(html: Read, pdf: pypdf.PdfReader) -> None:
    title = "The season's account 2031: The Corrody, Marl Hatherby"
    assert html.title == title
    assert pdf.metadata is not None
    assert pdf.metadata.title == title
    for text in (html.text, plain(pdf.pages[0].extract_text())):
        assert "The season's account 2031 The Corrody, Marl Hatherby" in text
        assert "2031 to 31 October 2031" in text
        assert ", so far" not in plain(text[:200])


def test_every_bed_stands_on_the_first_page_with_its_figures(
    reviewed_specimen: Account, html: Read, pdf: pypdf.PdfReader
) -> None:
    for text in (html.text, plain(pdf.pages[0].extract_text())):
        for bed in reviewed_specimen.beds.to_dict("records"):
            figures = (
                f"{bed['visits']} {bed['left']} {bed['litres'] / 1000:.2f} {bed['litres_per_m2']:.0f} "
                f"{bed['litres_per_plant']:.0f} {bed['hours']:.0f}"
            )
            assert f"{bed['name']} {figures}" in text
        beds = reviewed_specimen.beds
        total = (
            f"in all {beds['visits'].sum()} {beds['left'].sum()} {beds['litres'].sum() / 1000:.2f}"
        )
        assert total in text
        assert f"{beds['lost'].sum()} of {beds['plants'].sum()}" in text
        assert "14 drought" in text


def test_a_bed_without_a_loss_has_none_and_no_praise(html: Read, pdf_text: str) -> None:
    for text in (html.text, pdf_text):
        assert " none " in text
        assert "saved" not in text.lower()


def test_litres_way_has_the_account_s_litres_and_their_doubt(
    reviewed_specimen: Account, html: Read, pdf: pypdf.PdfReader
) -> None:
    way = reviewed_specimen.way()
    low, high = way.likely["drunk_l"]
    for text in (html.text, plain(pdf.pages[1].extract_text())):
        assert f"rain on the plants' ground {way.came['rain_l']:,.0f}" in text
        assert f"drunk by the plants {way.went['drunk_l']:,.0f}" in text
        assert f"{low:,.0f} to {high:,.0f}" in text
        assert text.count(f"in all {way.total_l:,.0f} 100") == 2


def test_months_and_sources_have_the_account_s_sums(
    reviewed_specimen: Account, html: Read, pdf_text: str
) -> None:
    months, sources = reviewed_specimen.months, reviewed_specimen.sources
    may = months[months["month"] == pd.Timestamp(2031, 5, 1)].iloc[0]
    for text in (html.text, pdf_text):
        assert f"May 2031 {may['rain_mm']:.1f} {may['et0_mm']:.1f}" in text
        assert f"in all {months['rain_mm'].sum():.1f} {months['et0_mm'].sum():.1f}" in text
        assert f"in all {sources['visits'].sum()} {sources['litres'].sum():,.0f}" in text
        assert "an hour of work GBP 14.00" in text


def test_suggestions_lead_to_the_page_that_has_their_numbers(
    html: Read, pdf: pypdf.PdfReader
) -> None:
    signs = html.attributes("section", "id")
    links = [link.removeprefix("#") for link in html.attributes("a", "href")]
    assert set(links) <= set(signs)
    assert {"bed-ride", "bed-dole", "what-if"} <= set(links)
    first = plain(pdf.pages[0].extract_text())
    for said, heading in (
        ("of every 100 litres. See page ", "Orchard Ride hedge"),
        ("such a soak. See page ", "Dole Bed"),
        ("added up over beds. See page ", "What if"),
    ):
        number = int(first.split(said)[1].split(".")[0])
        assert plain(pdf.pages[number - 1].extract_text()).startswith(heading)


def test_what_if_says_ranges_changes_and_refusals(html: Read, pdf_text: str) -> None:
    for text in (html.text, pdf_text):
        assert "351 (273 to 443)" in text
        assert "282 more (237 to 329)" in text
        assert "3 fewer (6 fewer to 30 more)" in text
        assert "32.53 (27.80 to 35.06)" in text
        assert "the book's weather begins later: soakbook weather brings it." in text
        assert "councils' planting conditions 418" in text


def test_a_bed_s_page_has_its_plantings_losses_and_numbers(
    reviewed_specimen: Account, html: Read, pdf_text: str
) -> None:
    beds = reviewed_specimen.beds.set_index("bed")
    for text in (html.text, pdf_text):
        assert (
            "perennials and grasses 6 May 2031 140 131 4 drought on 12 June and 5 drought on 5 July"
            in text
        )
        school = beds.loc["school"]
        assert (
            f"{school['visits']} waterings, {school['litres']:,.0f} L: 259 L a square metre" in text
        )
        assert (
            f"{school['dry_days']:.0f}, in eight of ten sums {school['dry_days_p10']:.0f} to "
            f"{school['dry_days_p90']:.0f}."
        ) in text
        assert "18 mornings too wet for water; 6 waterings all the same" in text


def test_the_page_is_one_file_that_loads_and_runs_nothing(page: bytes, html: Read) -> None:
    tags = {tag for tag, _ in html.tags}
    assert not tags & {"script", "link", "iframe", "object", "embed", "img"}
    for name in ("src", "href", "xlink:href", "srcset", "action"):
        for tag, found in html.tags:
            assert (found.get(name) or "#").startswith("#"), (tag, found)
    assert b"@import" not in page
    assert page.count(b"http") == page.count(b'xmlns="http://www.w3.org/2000/svg"') + page.count(
        b'xmlns:xlink="http://www.w3.org/1999/xlink"'
    ) + page.count(b"http-equiv")
    assert len(page) < 5_000_000


def test_the_page_is_well_formed_with_headings_captions_and_scopes(html: Read) -> None:
    assert html.unclosed == []
    assert html.open == []
    assert html.attributes("html", "lang") == ["en-GB"]
    levels = [int(tag[1]) for tag, _ in html.tags if tag in {"h1", "h2", "h3", "h4"}]
    assert levels[0] == 1
    assert set(levels[1:]) == {2}
    tables = [tag for tag, _ in html.tags if tag == "table"]
    assert len(tables) == [tag for tag, _ in html.tags].count("caption")
    assert all(found.get("scope") in {"col", "row"} for tag, found in html.tags if tag == "th")
    signs = [found["id"] for _, found in html.tags if "id" in found]
    assert len(signs) == len(set(signs))
    named = html.attributes("svg", "aria-labelledby")
    assert len(named) == html.attributes("svg", "role").count("img") > 8
    assert {one for pair in named for one in (pair or "").split()} <= set(signs)


def test_behind_every_picture_lies_its_table(document: Document, html: Read) -> None:
    assert [tag for tag, _ in html.tags].count("details") == len(document.pictures) - 1
    days = document.pictures["thirst"].table
    june = days[days["day"] == pd.Timestamp(2031, 6, 17)].iloc[0]
    assert f"17 June {june['et0_mm']:.1f} 0 {june['given_l']:.0f} " in html.text


def test_the_pdf_is_a4_tagged_in_english_with_an_outline_and_numbers(
    document: Document, pdf: pypdf.PdfReader
) -> None:
    root = root_of(pdf)
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en-GB"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert b"pdfuaid" in root["/Metadata"].get_data()
    count = len(pdf.pages)
    for number, page in enumerate(pdf.pages, 1):
        assert f"page {number} of {count}" in plain(page.extract_text())
        assert [round(float(side) / 72 * 25.4) for side in page.mediabox[2:]] == [210, 297]
    outline: list[Any] = pdf.outline
    titles = [one.title for level in outline if isinstance(level, list) for one in level]
    assert {one.title for one in document.contents.sections} <= set(titles)


def test_the_pdf_s_pictures_have_words_and_their_tables_are_attached(
    document: Document, pdf: pypdf.PdfReader, pdf_text: str
) -> None:
    assert sorted(map(plain, alternatives(pdf))) == sorted(
        plain(one.alt) for one in document.pictures.values()
    )
    assert set(pdf.attachments) == {f"{name}.csv" for name in document.pictures if name != "stream"}
    for name, content in pdf.attachments.items():
        table = document.pictures[name.removesuffix(".csv")].table
        found = pd.read_csv(io.BytesIO(content[0]))
        assert list(found) == list(table)
        numbers = list(table.select_dtypes("number"))
        off = found[numbers].to_numpy(float) - table[numbers].to_numpy(float)
        assert np.nanmax(np.abs(off)) < 1e-3
        assert f"attached to this file: {name}." in pdf_text


def test_the_same_account_gives_the_same_bytes(
    reviewed_specimen: Account, page: bytes, printed: bytes
) -> None:
    again = document_of(reviewed_specimen, WAYS)
    assert html_of(again) == page
    assert pdf_of(again) == printed


def test_a_season_that_is_not_over_suggests_nothing_and_says_so() -> None:
    document = document_of(small(date(2031, 6, 15)))
    for text in (Read(html_of(document)).text, text_of(opened(pdf_of(document)))):
        assert "The season's account 2031, so far" in text
        assert "What the numbers suggest is said when the season is over." in text
        assert "Next year" not in text
        assert "What if" not in text
