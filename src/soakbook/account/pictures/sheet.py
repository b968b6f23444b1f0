"""A sheet that is drawn on, in points from its upper left corner: the only file that knows matplotlib.

What comes of it is an SVG of outlines alone: no font is needed to show it, nothing is fetched, nothing says when or
where it was made, so the same numbers give the same bytes.
"""

import logging
import re
import warnings
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple
from xml.sax.saxutils import escape

import numpy as np

from soakbook.account.documents.missing import of_extra
from soakbook.account.pictures.ink import INK, LETTERS_PT, PAPER, PEN_PT

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.font_manager import FontProperties
    from matplotlib.path import Path as Outline
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

FACES = {"upright": "DejaVuSerif.ttf", "slanted": "DejaVuSerif-Italic.ttf", "bold": "DejaVuSerif-Bold.ttf"}  # fmt: skip
"""Letters, from the files that come with matplotlib: those of a system may be of another year."""

_PLACES = re.compile(r"-?\d+\.\d{3,}")
_PATHS = re.compile(r'(?<= d=")[^"]+')
_NOT_OURS = re.compile(r"<!--.*?-->\s*|<style.*?</style>\s*", re.DOTALL)
"""Comments, which repeat the words; a rule about pens that would hold for all of a page, said by `_JOINS` instead."""
_JOINS = "stroke-linejoin:round;stroke-linecap:butt"
_IDS = re.compile(r'((?<=\sid=")|(?<=href="#)|(?<=url\(#))')
_NOT_A_NAME = re.compile(r"[^A-Za-z0-9-]")
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def plain_name(words: str) -> str:
    """Words as an identifier and the name of a file: plain letters and figures stay, others become their number."""
    return _NOT_A_NAME.sub(lambda letter: f"_{ord(letter[0]):x}_", words)


class _Shape(NamedTuple):
    """Lines of one pen, or outlines of one fill."""

    lines: "Sequence[Points]"
    closed: bool
    pens: dict[str, object]


class _Words(NamedTuple):
    """Words on their base line."""

    at: tuple[float, float]
    words: str
    size_pt: float
    align: str
    face: str


class Sheet:
    """A white sheet of so many points [pt, above 0]; what is drawn later lies on top."""

    def __init__(self, width_pt: float, height_pt: float) -> None:
        self._size_pt = (width_pt, height_pt)
        self._marks: list[_Shape | _Words] = []

    def fill(self, outlines: "Sequence[Points]", ink: str) -> None:
        """Fill outlines, arrays of (point, 2), with an ink; all of them are one shape in the file."""
        self._marks.append(_Shape(outlines, True, {"facecolor": ink, "edgecolor": "none"}))

    def stroke(
        self, lines: "Sequence[Points]", ink: str = INK, pen_pt: float = PEN_PT, *, round_ends: bool = True
    ) -> None:  # fmt: skip
        """Draw lines, arrays of (point, 2), with a pen so many points broad."""
        pens = {
            "facecolor": "none",
            "edgecolor": ink,
            "linewidth": pen_pt,
            "capstyle": "round" if round_ends else "butt",
            "joinstyle": "round",
        }
        self._marks.append(_Shape(lines, False, pens))

    def words(
        self,
        at: tuple[float, float],
        words: str,
        size_pt: float = LETTERS_PT,
        *,
        align: str = "left",
        face: str = "upright",
    ) -> None:
        """Write words on a base line: `at` is its left end, middle or right end, as `align` says."""
        self._marks.append(_Words(at, words, size_pt, align, face))

    def svg(self, name: str, title: str, alt: str) -> bytes:
        """The sheet as SVG with title and description.

        Parameters
        ----------
        name : str
            As `plain_name` gives it; leads every identifier in it, so that a page may hold several.
        title, alt : str
            What it is called, and what it shows.

        Raises
        ------
        InputError
            No matplotlib.
        """
        text = self._drawn(name)
        text = _PATHS.sub(lambda path: _compact(path[0]), _NOT_OURS.sub("", text))
        text = _IDS.sub(f"{name}-", text[text.index("<svg ") :])
        head, _, rest = text.partition(">")
        labels = f'style="{_JOINS}" role="img" aria-labelledby="{name}-title {name}-desc"'
        return (
            f'<?xml version="1.0" encoding="utf-8"?>\n{head} {labels}>\n'
            f' <title id="{name}-title">{_in_xml(title)}</title>\n'
            f' <desc id="{name}-desc">{_in_xml(alt)}</desc>{rest}'
        ).encode()

    def _drawn(self, salt: str) -> str:
        """What matplotlib makes of the sheet."""
        with _hushed(), of_extra("reports", "Matplotlib, which draws the pictures"):
            from matplotlib.figure import Figure
        out = BytesIO()
        width, height = self._size_pt
        with _own_look(salt):
            figure = Figure(figsize=(width / 72, height / 72), facecolor=PAPER)
            axes = figure.add_axes((0, 0, 1, 1), frame_on=False)
            axes.set(xlim=(0, width), ylim=(height, 0), xticks=[], yticks=[])
            for level, mark in enumerate(self._marks):
                _put(axes, mark, level)
            nameless = dict.fromkeys(("Creator", "Date", "Format", "Type"))
            figure.savefig(out, format="svg", metadata=nameless)
        return out.getvalue().decode("utf-8")


@contextmanager
def _hushed() -> Iterator[None]:
    """Matplotlib not heard about its own folder and list of fonts, of which we need neither."""
    log = logging.getLogger("matplotlib")
    before = log.level
    log.setLevel(logging.ERROR)
    try:
        yield
    finally:
        log.setLevel(before)


def _put(axes: "Axes", mark: _Shape | _Words, level: int) -> None:
    """Draw one mark above all that was drawn before it."""
    from matplotlib.patches import PathPatch

    if isinstance(mark, _Words):
        axes.text(
            *mark.at,
            _NOT_XML.sub("", mark.words),
            fontproperties=_face(mark.face),
            fontsize=mark.size_pt,
            color=INK,
            ha={"left": "left", "middle": "center", "right": "right"}[mark.align],
            va="baseline",
            parse_math=False,
            zorder=level,
        )
        return
    drawn = [line for line in mark.lines if len(line) > 1]
    if drawn:
        path = _joined(drawn, closed=mark.closed)
        axes.add_patch(PathPatch(path, zorder=level, clip_on=False, **mark.pens))


def _joined(lines: "Sequence[Points]", *, closed: bool) -> "Outline":
    from matplotlib.path import Path as Outline

    points, codes = [], []
    for line in lines:
        points.append(np.concatenate([line, line[:1]]) if closed else np.asarray(line))
        middle = [Outline.LINETO] * (len(line) - 1)
        codes += [Outline.MOVETO, *middle, *([Outline.CLOSEPOLY] if closed else [])]
    return Outline(np.concatenate(points), codes)


def _face(face: str) -> "FontProperties":
    import matplotlib as mpl
    from matplotlib.font_manager import FontProperties

    return FontProperties(fname=Path(mpl.get_data_path()) / "fonts" / "ttf" / FACES[face])


@contextmanager
def _own_look(salt: str) -> Iterator[None]:
    """Matplotlib as it was made, whatever somebody has set in their own session; silent about letters it lacks."""
    import matplotlib as mpl

    with mpl.rc_context(), warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph .* missing from font")
        mpl.rcdefaults()
        mpl.rcParams.update({"svg.hashsalt": salt, "svg.fonttype": "path", "path.simplify": False})
        yield


def _compact(path: str) -> str:
    """A path by hundredths of a point; where it has no curve, points follow each other without a letter."""
    short = _PLACES.sub(_shorter, path)
    return short if "Q" in short or "C" in short else re.sub(r"\s+L ", " ", short)


def _shorter(number: re.Match[str]) -> str:
    return f"{float(number[0]):.2f}".rstrip("0").rstrip(".")


def _in_xml(words: str) -> str:
    return escape(_NOT_XML.sub("", words))
