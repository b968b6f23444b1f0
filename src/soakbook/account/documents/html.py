"""HTML by Jinja2: one file without script or outside address, every text escaped, nothing left undefined."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from soakbook.account.canonical import canonical_json
from soakbook.account.documents.missing import of_extra

if TYPE_CHECKING:
    from jinja2 import Environment

TEMPLATES = Path(__file__).parent / "templates"

ESCAPES = {"<": "\\u003c", ">": "\\u003e", "&": "\\u0026", "\u2028": "\\u2028", "\u2029": "\\u2029"}
"""What could end a script element, or a line in it; inside JSON's texts, where alone they stand, they mean the same."""


def render_html(template: str, data: Mapping[str, Any]) -> str:
    """A whole page.

    Parameters
    ----------
    template : str
        Name of a file in `templates`.
    data : mapping
        What the template names. Its filter `embedded` writes a value as JSON for a script element, its filter
        `inlined` sets an SVG of ours, a whole file, in the page.

    Raises
    ------
    InputError
        Jinja2 is not installed.
    """
    return _environment().get_template(template).render(data)


def embedded_json(value: Any) -> str:
    """A value as canonical JSON that can stand in a script element; read as JSON it is the same.

    Parameters
    ----------
    value : Any
        As for `canonical_json`.
    """
    text = canonical_json(value).decode("utf-8")
    return "".join(ESCAPES.get(letter, letter) for letter in text)


@cache
def _environment() -> "Environment":
    with of_extra("reports", "Jinja2, which sets pages"):
        from jinja2 import Environment, FileSystemLoader, StrictUndefined
        from markupsafe import Markup
    environment = Environment(
        loader=FileSystemLoader(TEMPLATES, encoding="utf-8"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["embedded"] = lambda value: Markup(embedded_json(value))
    environment.filters["inlined"] = lambda svg: Markup(svg[svg.index("<svg") :].rstrip())
    return environment
