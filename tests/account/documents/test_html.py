"""HTML: escaped, nothing left undefined, JSON that cannot break out of its element."""

import json
from pathlib import Path

import pytest
from jinja2 import UndefinedError

from soakbook.account.documents import html
from soakbook.account.documents.html import embedded_json, render_html


@pytest.fixture
def templates(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(html, "TEMPLATES", tmp_path)
    html._environment.cache_clear()
    (tmp_path / "a.html").write_text("<p>{{ said }}</p><script>{{ data | embedded }}</script>")
    return tmp_path


@pytest.fixture(autouse=True)
def _as_it_was() -> object:
    yield
    html._environment.cache_clear()


def test_texts_are_escaped_and_data_are_not_changed(templates: Path) -> None:
    hostile = "</script><b>&'\"\u2028"
    page = render_html("a.html", {"said": hostile, "data": [hostile]})
    assert page.startswith("<p>&lt;/script&gt;&lt;b&gt;&amp;&#39;&#34;\u2028</p><script>")
    inside = page.partition("<script>")[2].removesuffix("</script>")
    assert not set("<>&\u2028") & set(inside)
    assert json.loads(inside) == [hostile]


def test_what_is_not_given_is_an_error_and_no_gap(templates: Path) -> None:
    with pytest.raises(UndefinedError):
        render_html("a.html", {"data": "x"})


def test_embedded_json_is_canonical_but_for_its_escapes() -> None:
    assert embedded_json({"b": 1.50, "a": "<"}) == '{"a":"\\u003c","b":1.5}'
