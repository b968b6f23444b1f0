"""PDF by typst: tagged for reading aloud (PDF/UA-1), with typst's own fonts, the same bytes from the same data.

A template finds its data in `data.json` beside it, and what else it is given under the names it is given by. Attached
files are read back by pypdf.
"""

import json
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from soakbook.account.documents.missing import of_extra

TEMPLATES = Path(__file__).parent / "templates"
LACKING = "could not be displayed with font"
"""What typst says of a letter that none of its fonts has; the standard forbids such letters."""


def render_pdf(
    template: str, data: Mapping[str, Any], pictures: Mapping[str, bytes] | None = None
) -> bytes:
    """A whole PDF, A4.

    A name may have letters that typst's fonts lack, such as Chinese ones. A box stands for each then; the PDF is tagged
    all the same, but may not call itself PDF/UA.

    Parameters
    ----------
    template : str
        Name of a file in `templates`; it reads `data.json`, and may import the others.
    data : mapping
        Plain values, as JSON knows them.
    pictures : mapping of str to bytes, optional
        File name -> content: pictures the template shows, files it attaches.

    Raises
    ------
    InputError
        typst is not installed.
    """
    with of_extra("reports", "typst, which sets PDFs"):
        import typst
    with TemporaryDirectory(prefix="soakbook-") as folder:
        root = Path(folder)
        for one in TEMPLATES.glob("*.typ"):
            (root / one.name).write_bytes(one.read_bytes())
        (root / "data.json").write_text(json.dumps(data, allow_nan=False), encoding="utf-8")
        for name, content in (pictures or {}).items():
            (root / name).write_bytes(content)
        packages = (
            root / "packages"
        )  # none is used; none can be fetched into a reader's own folders
        compiler = typst.Compiler(
            root / template,
            root=root,
            ignore_system_fonts=True,
            package_path=packages,
            package_cache_path=packages,
        )
        try:
            made = compiler.compile(format="pdf", pdf_standards=["ua-1"])
        except typst.TypstError as error:
            if LACKING not in error.message:
                raise
            made = compiler.compile(format="pdf")
    assert isinstance(made, bytes)
    return made


def attached_to(pdf: bytes, name: str) -> bytes | None:
    """A file that is attached to a PDF; None where there is none of that name, or more than one, or it is no PDF.

    Parameters
    ----------
    pdf : bytes
        From anybody.
    name : str
        Of the attached file.

    Raises
    ------
    InputError
        pypdf is not installed.
    """
    with of_extra("reports", "pypdf, which reads PDFs"):
        from pypdf import PdfReader
    from io import BytesIO

    try:
        found = PdfReader(BytesIO(pdf)).attachments.get(name, [])
    except Exception:  # whatever a damaged or hostile file makes of its reader
        return None
    return found[0] if len(found) == 1 else None
