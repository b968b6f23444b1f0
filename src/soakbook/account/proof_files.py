"""A proof as a file: JSON, a page of HTML or a PDF, each with the data in it; and the data read out of one again."""

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Literal, NamedTuple

from soakbook.account.canonical import canonical_json
from soakbook.account.documents.html import render_html
from soakbook.account.documents.pdf import attached_to, render_pdf
from soakbook.account.proof_record import PROOF_SCHEMA, Proof
from soakbook.account.proof_words import proof_words
from soakbook.errors import BookError, InputError
from soakbook.garden.door import admit
from soakbook.reckoning.advice.report import as_json

Report = Mapping[str, Any]
Kind = Literal["json", "html", "pdf"]

ATTACHED = "proof.json"
NO_PROOF = "a proof that soakbook made, as JSON, HTML or PDF"
MOST_BYTES = 100_000_000
"""A proof of ten years has a tenth of that."""

_EMBEDDED = re.compile(rb'<script type="application/json" id="proof">(.*?)</script>', re.DOTALL)


class Carried(NamedTuple):
    """What a file carries."""

    kind: Kind
    content: bytes
    report: Report


def html_of(report: Report) -> bytes:
    """The page of a proof.

    Parameters
    ----------
    report : mapping
        As `--json` gives it.

    Raises
    ------
    InputError
        Jinja2 is not installed.
    """
    return render_html("proof.html", {**proof_words(report), "report": report}).encode("utf-8")


def pdf_of(report: Report) -> bytes:
    """The PDF of a proof, its data attached; parameters as in `html_of`.

    Raises
    ------
    InputError
        typst is not installed.
    """
    return render_pdf("proof.typ", proof_words(report), {ATTACHED: canonical_json(report)})


def carried_by(path: Path) -> Carried:
    """The data of a proof that a file is or carries.

    Parameters
    ----------
    path : Path
        JSON, HTML or PDF, from anybody.

    Raises
    ------
    BookError
        The file cannot be read.
    InputError
        It is no proof, or pypdf is wanted and not installed.
    """
    content = _read(path)
    if content.startswith(b"%PDF-"):
        kind: Kind = "pdf"
        data = attached_to(content, ATTACHED)
    elif content.lstrip()[:1] == b"<":
        kind = "html"
        embedded = _EMBEDDED.findall(content)
        data = embedded[0] if len(embedded) == 1 else None
    else:  # some shells write what is printed with a mark before it, or in UTF-16
        kind, data = "json", content
    report = None if data is None else _report(data)
    if report is None:
        raise InputError("file", str(path), NO_PROOF)
    return Carried(kind, content, report)


def made_anew(carried: Carried) -> bytes | None:
    """The page or PDF that this soakbook makes of the data in one; None of JSON, which is nothing but data.

    Parameters
    ----------
    carried : Carried
        A file and its data.

    Raises
    ------
    InputError
        What sets it is not installed.
    """
    if carried.kind == "json":
        return None
    return html_of(carried.report) if carried.kind == "html" else pdf_of(carried.report)


def _read(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else "no file can be called so"
        raise BookError(f"{path} cannot be read: {why}") from error
    if len(content) > MOST_BYTES:
        raise InputError("file", str(path), f"{NO_PROOF}; it is too large for one")
    return content


def _report(data: bytes) -> Report | None:
    """A proof's data, when they are of its shape to the last key; None where they are not."""
    try:
        report = json.loads(data, object_pairs_hook=_once)
        if not isinstance(report, dict) or report.get("schema") != PROOF_SCHEMA:
            return None
        plain: dict[str, Any] = json.loads(json.dumps(as_json(admit(Proof, **report))))
        proof_words(report)  # moments are texts, and might be any
        return report if canonical_json(plain) == canonical_json(report) else None
    except (ValueError, TypeError, LookupError, RecursionError, InputError):
        return None


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object none of whose keys comes twice: which of the two counts, readers of JSON do not agree."""
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a key comes twice")
    return found
