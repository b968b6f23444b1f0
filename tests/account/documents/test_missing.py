"""A missing extra is one line that says how to have it."""

import sys
from typing import Any

import pytest

from soakbook.account.documents import html
from soakbook.account.documents.html import render_html
from soakbook.account.documents.missing import of_extra
from soakbook.account.documents.pdf import attached_to, render_pdf
from soakbook.errors import InputError


def test_the_line_names_the_library_its_use_and_the_extra() -> None:
    with pytest.raises(InputError) as caught, of_extra("reports", "typst, which sets PDFs"):
        raise ImportError
    assert str(caught.value) == (
        "typst, which sets PDFs, is not installed: pip install 'soakbook[reports]'"
    )


@pytest.mark.parametrize(
    ("module", "sentence"),
    [("jinja2", "Jinja2, which sets pages"), ("typst", "typst, which"), ("pypdf", "pypdf, which")],
)
def test_each_document_says_what_it_lacks(
    module: str, sentence: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    html._environment.cache_clear()
    monkeypatch.setitem(sys.modules, module, None)
    uses: dict[str, Any] = {
        "jinja2": lambda: render_html("proof.html", {}),
        "typst": lambda: render_pdf("proof.typ", {}),
        "pypdf": lambda: attached_to(b"", "x"),
    }
    with pytest.raises(InputError, match=sentence):
        uses[module]()
    html._environment.cache_clear()
