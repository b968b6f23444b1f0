"""PDF: what is given stands beside the template, attachments come out again, anything else gives nothing."""

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader, PdfWriter

from soakbook.account.documents import pdf
from soakbook.account.documents.pdf import attached_to, render_pdf

PICTURE = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M0 0h9v9z"/></svg>'
)
TEMPLATE = """#import "paper.typ": paper
#let data = json("data.json")
#show: paper.with(title: data.title, foot: "foot")
#image("strip.svg", alt: "a strip")
#data.title
#pdf.attach("kept.txt", description: "x")
"""


@pytest.fixture
def templates(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "paper.typ").write_bytes((pdf.TEMPLATES / "paper.typ").read_bytes())
    (tmp_path / "a.typ").write_text(TEMPLATE)
    monkeypatch.setattr(pdf, "TEMPLATES", tmp_path)
    return tmp_path


def test_a_template_has_its_data_and_its_files(templates: Path) -> None:
    made = render_pdf("a.typ", {"title": "Chapel 'Wall'"}, {"strip.svg": PICTURE, "kept.txt": b"k"})
    read = PdfReader(BytesIO(made))
    text = read.pages[0].extract_text()
    assert "Chapel 'Wall'" in text.replace("\N{RIGHT SINGLE QUOTATION MARK}", "'")
    assert "page 1 of 1" in text
    assert attached_to(made, "kept.txt") == b"k"
    assert attached_to(made, "other.txt") is None


def test_a_picture_without_words_is_refused_by_the_standard(templates: Path) -> None:
    (templates / "a.typ").write_text(TEMPLATE.replace(', alt: "a strip"', ""))
    with pytest.raises(RuntimeError, match="alt text"):
        render_pdf("a.typ", {"title": "x"}, {"strip.svg": PICTURE, "kept.txt": b"k"})


def test_two_attachments_of_one_name_are_none() -> None:
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    writer.add_attachment("proof.json", b"one")
    writer.add_attachment("proof.json", b"two")
    out = BytesIO()
    writer.write(out)
    assert attached_to(out.getvalue(), "proof.json") is None


@pytest.mark.parametrize("junk", [b"", b"%PDF-1.7", b"%PDF-1.7\n" + bytes(range(256)) * 40])
def test_what_is_no_pdf_has_no_attachment(junk: bytes) -> None:
    assert attached_to(junk, "proof.json") is None
