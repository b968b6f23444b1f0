"""Documents read back: what of a page is seen, what it would load, whether its tags close; the text of a PDF."""

import io
import re
from html.parser import HTMLParser
from typing import Any

import pypdf

VOID = frozenset(["meta", "br", "link", "img", "hr", "input"])


class Read(HTMLParser):
    """A page as somebody's browser has it."""

    def __init__(self, page: bytes) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.unclosed: list[str] = []
        self.seen: list[str] = []
        self.title = ""
        self.feed(page.decode("utf-8"))
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.unclosed.append(tag)

    def handle_data(self, data: str) -> None:
        if self.open[-1:] == ["title"] and "svg" not in self.open:
            self.title += data
        elif not {"style", "svg"} & set(self.open):
            self.seen.append(data)

    @property
    def text(self) -> str:
        """All that is seen, on one line."""
        return plain(" ".join(self.seen))

    def attributes(self, tag: str, name: str) -> list[str]:
        """An attribute of every tag that has it."""
        return [found[name] or "" for one, found in self.tags if one == tag and name in found]


def plain(text: str) -> str:
    """Text on one line with plain blanks, no blank before a full stop."""
    return re.sub(r" (?=[.,])", "", " ".join(text.replace("\u200b", "").split()))


def opened(pdf: bytes) -> pypdf.PdfReader:
    """A PDF."""
    return pypdf.PdfReader(io.BytesIO(pdf))


def text_of(pdf: pypdf.PdfReader) -> str:
    """All of its text on one line."""
    return plain(" ".join(page.extract_text() for page in pdf.pages))


def root_of(pdf: pypdf.PdfReader) -> dict[str, Any]:
    """Its catalogue, what that refers to looked up."""
    catalogue: Any = pdf.trailer["/Root"]
    return {name: one.get_object() for name, one in catalogue.items()}


def alternatives(pdf: pypdf.PdfReader) -> list[str]:
    """The alternative texts of its figures."""
    found: list[str] = []

    def look(element: Any) -> None:
        element = element.get_object()
        if isinstance(element, list):
            for one in element:
                look(one)
        elif isinstance(element, dict):
            if element.get("/S") == "/Figure" and "/Alt" in element:
                found.append(str(element["/Alt"]))
            if "/K" in element:
                look(element["/K"])

    look(root_of(pdf)["/StructTreeRoot"])
    return found
