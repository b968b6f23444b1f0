"""A proof as HTML and PDF: read back by others' programs it says what the data say; and its data come out again."""

import io
import json
import subprocess
import sys
from datetime import date
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pypdf
import pytest

from soakbook.account.documents.placing import check_place, write_file
from soakbook.account.proof import proof_report
from soakbook.account.proof_files import (
    carried_by,
    html_of,
    made_anew,
    pdf_of,
)
from soakbook.errors import BookError, InputError
from tests.account.books import garden, on, specimen
from tests.reckoning.gardens import left, soak

MAY = (date(2031, 5, 1), date(2031, 5, 31))
HOSTILE = "</script><b>&\u2028'\"{{x}}"


@pytest.fixture(scope="module")
def report() -> dict[str, Any]:
    return json.loads(json.dumps(proof_report(specimen(), *MAY)))  # type: ignore[no-any-return]


@pytest.fixture(scope="module")
def read_back(report: dict[str, Any]) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf_of(report)))


def root_of(pdf: pypdf.PdfReader) -> dict[str, Any]:
    """A PDF's catalogue, what it refers to looked up."""
    catalogue: Any = pdf.trailer["/Root"]
    return {name: one.get_object() for name, one in catalogue.items()}


class Page(HTMLParser):
    """What of a page is seen, and what it would load or run."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.seen: list[str] = []
        self.inside: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.data = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag in {"script", "style", "title"}:
            self.inside.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if self.inside and self.inside[-1] == tag:
            self.inside.pop()

    def handle_data(self, data: str) -> None:
        if self.inside == ["script"]:
            self.data += data
        elif not self.inside:
            self.seen.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.seen).split())


def test_the_pdf_has_its_dates_litres_people_and_digest(
    report: dict[str, Any], read_back: pypdf.PdfReader
) -> None:
    text = " ".join(" ".join(page.extract_text() for page in read_back.pages).split())
    assert "Thu 1 May 2031 to Sat 31 May 2031" in text
    for number in range(1, 32):
        assert f"{number} May 2031" in text
    assert f"{report['totals']['litres']:,g} L".replace("6174.5", "6,174.5") in text
    assert report["sha256"] in text.replace(" ", "")
    for name in (
        "Chapel Wall",
        "Ann",
        "Tom",
        "15.6 mm by the gauge",
        "looked at and left: rain in the air",
    ):
        assert name in text


def test_every_page_of_the_pdf_is_numbered_and_bears_the_digest(
    report: dict[str, Any], read_back: pypdf.PdfReader
) -> None:
    count = len(read_back.pages)
    assert count > 2
    for number, page in enumerate(read_back.pages, 1):
        assert f"page {number} of {count}" in page.extract_text()
        assert report["sha256"][:12] in page.extract_text()
        assert [round(float(side) / 72 * 25.4) for side in page.mediabox[2:]] == [210, 297]


def test_the_pdf_is_tagged_titled_in_english_and_carries_its_data(
    report: dict[str, Any], read_back: pypdf.PdfReader
) -> None:
    root = root_of(read_back)
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    assert root["/Lang"] == "en-GB"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert read_back.metadata is not None
    assert read_back.metadata.title == (
        "The proof: The Corrody, Marl Hatherby, Thu 1 May 2031 to Sat 31 May 2031"
    )
    assert b"pdfuaid" in root["/Metadata"].get_data()
    (attached,) = read_back.attachments["proof.json"]
    assert json.loads(attached) == report


def test_the_page_says_what_the_data_say_and_needs_nothing_else(report: dict[str, Any]) -> None:
    page = Page(html_of(report).decode())
    assert "Thu 1 May 2031 to Sat 31 May 2031" in page.text
    assert "Given 6,174.5 L in 189 waterings" in page.text
    assert report["sha256"] in page.text
    assert json.loads(page.data) == report
    scripts = [attributes for tag, attributes in page.tags if tag == "script"]
    assert scripts == [{"type": "application/json", "id": "proof"}]
    assert not {"img", "link", "iframe", "object", "form", "a"} & {tag for tag, _ in page.tags}
    assert not [at for _, at in page.tags if {"src", "href", "onclick", "style"} & set(at)]
    assert [at["lang"] for tag, at in page.tags if tag == "html"] == ["en"]
    assert "http" not in html_of({**report, "credits": []}).decode().replace("http-equiv", "")


def test_what_people_type_stays_text_in_page_and_pdf() -> None:
    book = garden(
        [soak(on(3), 10, "wall", by=HOSTILE), left(on(4), "wall", f"#panic() $x$ {HOSTILE}")]
    )
    report = proof_report(book, date(2031, 6, 1), date(2031, 6, 5))
    page = Page(html_of(report).decode())
    assert json.loads(page.data)["days"][0]["visits"][0]["by"] == HOSTILE
    assert " ".join(HOSTILE.split()) in page.text
    assert "b" not in {tag for tag, _ in page.tags}
    pdf = pypdf.PdfReader(io.BytesIO(pdf_of(report)))
    assert "#panic() $x$" in " ".join(one.extract_text() for one in pdf.pages)


@pytest.mark.parametrize("name", ["北京 🌱", "Żółć Сад"])
def test_a_garden_of_any_letters_has_its_pdf(name: str) -> None:
    book = garden([soak(on(3), 10, "wall")])
    book = book._replace(garden=book.garden._replace(name=name))
    pdf = pypdf.PdfReader(
        io.BytesIO(pdf_of(proof_report(book, date(2031, 6, 3), date(2031, 6, 3))))
    )
    assert pdf.metadata is not None
    assert name in str(pdf.metadata.title)
    assert "/StructTreeRoot" in root_of(pdf)


def test_page_and_pdf_are_the_same_bytes_in_another_process() -> None:
    code = (
        "import sys; from hashlib import sha256; from datetime import date;"
        "from soakbook.account.proof import proof_report;"
        "from soakbook.account.proof_files import html_of, pdf_of;"
        "from soakbook.interface import open_book; from soakbook.services.books import SPECIMEN;"
        "r = proof_report(open_book(SPECIMEN).pages(), date(2031, 5, 1), date(2031, 5, 4));"
        "print(*[sha256(of(r)).hexdigest() for of in (html_of, pdf_of)])"
    )
    runs = {
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True
        ).stdout
        for _ in range(2)
    }
    assert len(runs) == 1


@pytest.mark.parametrize("kind", ["json", "html", "pdf"])
def test_a_file_carries_its_data_and_is_made_anew_from_them(
    kind: str, report: dict[str, Any], tmp_path: Path
) -> None:
    content = {
        "json": lambda: json.dumps(report, indent=2).encode(),
        "html": lambda: html_of(report),
        "pdf": lambda: pdf_of(report),
    }[kind]()
    path = tmp_path / "file"
    path.write_bytes(content)
    carried = carried_by(path)
    assert (carried.kind, carried.report) == (kind, report)
    assert made_anew(carried) == (None if kind == "json" else content)


def spoiled(report: dict[str, Any]) -> list[tuple[str, bytes]]:
    text = json.dumps(report)
    page = html_of(report)
    return [
        ("nothing", b""),
        ("not JSON", b"{"),
        ("another report", json.dumps({"schema": "soakbook.round/1"}).encode()),
        ("a key missing", json.dumps({k: v for k, v in report.items() if k != "totals"}).encode()),
        ("a key too many", json.dumps(report | {"more": 1}).encode()),
        ("a key twice", text.replace('"schema"', '"sha256": "0", "schema"', 1).encode()),
        ("no number", text.replace('"litres": 6174.5', '"litres": NaN', 1).encode()),
        ("too large", text.replace('"litres": 6174.5', '"litres": 1e999', 1).encode()),
        ("a word for a number", text.replace('"litres": 6174.5', '"litres": "6174.5"', 1).encode()),
        ("no day", text.replace('"first": "2031-05-01"', '"first": "May"', 1).encode()),
        (
            "no moment",
            text.replace('"written_at": "2031-05-01T06:30:00', '"written_at": "zz', 1).encode(),
        ),
        ("deep", b'{"a":' * 100_000),
        ("a page without data", page.replace(b'id="proof"', b'id="else"')),
        ("a page with data twice", page + page),
        ("half a PDF", pdf_of(report)[:9000]),
        ("a PDF by name", b"%PDF-1.7 and nothing else"),
        ("a picture", bytes(range(256))),
    ]


def test_what_is_no_proof_is_refused_in_one_sentence(
    report: dict[str, Any], tmp_path: Path
) -> None:
    for name, content in spoiled(report):
        path = tmp_path / f"{name}.html"
        path.write_bytes(content)
        with pytest.raises(InputError, match="a proof that soakbook made, as JSON, HTML or PDF"):
            carried_by(path)


def test_a_file_that_cannot_be_read_says_why(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="nothing cannot be read: No such file"):
        carried_by(tmp_path / "nothing")
    with pytest.raises(BookError, match="cannot be read"):
        carried_by(tmp_path)
    with pytest.raises(BookError, match="no file can be called so"):
        carried_by(tmp_path / "a\0b")


def test_a_document_is_written_whole_and_over_nothing_unless_forced(tmp_path: Path) -> None:
    book, path = tmp_path / "garden.book", tmp_path / "may.pdf"
    book.write_text("the book")
    check_place("pdf", path, book, force=False)
    write_file(path, b"one", force=False)
    with pytest.raises(InputError, match="a new file, or --force to write over what is there"):
        check_place("pdf", path, book, force=False)
    with pytest.raises(BookError, match="something at"):
        write_file(path, b"two", force=False)
    assert path.read_bytes() == b"one"
    check_place("pdf", path, book, force=True)
    write_file(path, b"two", force=True)
    assert path.read_bytes() == b"two"
    assert sorted(one.name for one in tmp_path.iterdir()) == ["garden.book", "may.pdf"]


@pytest.mark.parametrize("force", [True, False])
def test_the_book_is_never_written_over_nor_a_folder(tmp_path: Path, force: bool) -> None:
    book = tmp_path / "garden.book"
    book.write_text("the book")
    (tmp_path / "link.pdf").symlink_to(book)
    for name in ("garden.book", "link.pdf"):
        with pytest.raises(InputError, match="another file than the book"):
            check_place("pdf", tmp_path / name, book, force=force)
    for place in (tmp_path, tmp_path / "no folder" / "may.pdf", tmp_path / "a\0b"):
        with pytest.raises(InputError, match=r"pdf: .* cannot be right; a file"):
            check_place("pdf", place, book, force=force)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_json_is_read_as_any_shell_writes_it(
    report: dict[str, Any], tmp_path: Path, encoding: str
) -> None:
    path = tmp_path / "may.json"
    path.write_text(json.dumps(report), encoding=encoding)
    found = carried_by(path)
    assert (found.kind, found.report) == ("json", report)
