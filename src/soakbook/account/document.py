"""The account as a document: its contents put together once, then set as one page of HTML or as a PDF."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from soakbook.account.contents.bed_pages import bed_pages
from soakbook.account.contents.behind import csv_of
from soakbook.account.contents.blocks import Contents, Shown
from soakbook.account.contents.first_page import first_page
from soakbook.account.contents.last_page import last_page
from soakbook.account.contents.season_pages import season_pages
from soakbook.account.contents.what_if_page import what_if_page
from soakbook.account.documents.html import render_html
from soakbook.account.documents.pdf import render_pdf
from soakbook.account.in_sum import said_day
from soakbook.account.pictures.drawn import bed_pictures, garden_pictures
from soakbook.account.pictures.picture import Picture
from soakbook.account.report import json_of, report_of
from soakbook.account.reviewed import Account
from soakbook.account.ways import Way
from soakbook.reckoning.advice.report import as_json

FOOT_LETTERS = 60
UNITS = re.compile(r"(?<=[0-9½]) (?=(?:mm|cm|m²|m³|L|h|min)\b)")


@dataclass(frozen=True, slots=True)
class Document:
    """An account ready to be set.

    Attributes
    ----------
    contents : Contents
    pictures : mapping of str to Picture
        By their names.
    """

    contents: Contents
    pictures: Mapping[str, Picture]


def document_of(account: Account, ways: tuple[Way, ...] | None = None) -> Document:
    """Draw an account's pictures and put all of it into words.

    Parameters
    ----------
    account : Account
    ways : tuple of Way, optional
        The season as it might have been, as `what_if` gives it; without it that page is left out.

    Raises
    ------
    InputError
        Matplotlib is not installed.
    """
    report = json_of(report_of(account, ways))
    garden = {one.name: one for one in garden_pictures(account)}
    strips = bed_pictures(account)
    sections = (
        *first_page(report),
        *season_pages(account, report, garden),
        *bed_pages(account, report, strips),
        *([what_if_page(report["what_if"])] if report["what_if"] else []),
        *last_page(report),
    )
    so_far = "" if report["closed"] else ", so far"
    days = f"{_with_year(report['first'])} to {_with_year(report['until'])}"
    heading = f"The season's account {report['season']}{so_far}"
    foot = f"{_shortened(report['garden'])}, the season's account {report['season']}{so_far}"
    title = f"{heading}: {report['garden']}"
    pictures = garden | {one.name: one for every in strips.values() for one in every}
    return Document(Contents(title, heading, report["garden"], days, foot, sections), pictures)


def html_of(document: Document) -> bytes:
    """The document as one page of HTML, everything in it.

    Parameters
    ----------
    document : Document

    Raises
    ------
    InputError
        Jinja2 is not installed.
    """
    drawings = {name: one.svg.decode("utf-8") for name, one in document.pictures.items()}
    titles = {one.sign: one.title for one in document.contents.sections}
    data = {**_plain(document), "drawings": drawings, "titles": titles}
    return render_html("account.html", data).encode("utf-8")


def pdf_of(document: Document) -> bytes:
    """The document as a PDF, A4, long tables behind its pictures attached as CSV.

    Parameters
    ----------
    document : Document

    Raises
    ------
    InputError
        typst is not installed.
    """
    files = {}
    for section in document.contents.sections:
        for one in section.blocks:
            if isinstance(one, Shown):
                picture = document.pictures[one.name]
                files[one.svg_file] = picture.svg
                if one.behind is not None:
                    files[one.csv_file] = csv_of(picture.table)
    return render_pdf("account.typ", _plain(document), files)


def _plain(document: Document) -> dict[str, Any]:
    plain: dict[str, Any] = _unbroken(as_json(document.contents))
    return plain


def _unbroken(plain: Any) -> Any:
    """A figure and its unit stay on one line."""
    if isinstance(plain, str):
        return UNITS.sub("\N{NO-BREAK SPACE}", plain)
    if isinstance(plain, dict):
        return {name: _unbroken(value) for name, value in plain.items()}
    return [_unbroken(one) for one in plain] if isinstance(plain, list) else plain


def _shortened(name: str) -> str:
    """A name that leaves room at the foot of a page."""
    return name if len(name) <= FOOT_LETTERS else f"{name[: FOOT_LETTERS - 1].rstrip()}…"


def _with_year(day: str) -> str:
    return f"{said_day(day)} {day[:4]}"
