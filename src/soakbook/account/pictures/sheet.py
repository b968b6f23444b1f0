"""A sheet that is drawn on, in points from its upper left corner: the only file that knows matplotlib.

What comes of it is an SVG of outlines alone: no font is needed to show it, nothing is fetched, nothing says when or
where it was made, so the same numbers give the same bytes.
"""

import re
import warnings
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

import numpy as np

from soakbook.account.pictures.ink import INK, LETTERS_PT, PAPER, PEN_PT
from soakbook.errors import InputError

if TYPE_CHECKING:
    from matplotlib.font_manager import FontProperties
    from matplotlib.path import Path as Outline
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

NOT_INSTALLED = (
    "Matplotlib, which draws the pictures, is not installed: pip install 'soakbook[reports]'"
)
FACES = {"upright": "DejaVuSerif.ttf", "slanted": "DejaVuSerif-Italic.ttf", "bold": "DejaVuSerif-Bold.ttf"}  # fmt: skip
"""Letters, from the files that come with matplotlib: those of a system may be of another year."""

_PLACES = re.compile(r"-?\d+\.\d{3,}")
_PATHS = re.compile(r'(?<= d=")[^"]+')
_NOT_OURS = re.compile(r"<!--.*?-->\s*|<style.*?</style>\s*", re.DOTALL)
"""Comments, which repeat the words; a rule about pens that would hold for all of a page, said by `_JOINS` instead."""
_JOINS = "stroke-linejoin:round;stroke-linecap:butt"
_IDS = re.compile(r'((?<=\sid=")|(?<=href="#)|(?<=url\(#))')
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


class Sheet:
    """A white sheet of so many points [pt, above 0]; refuses with `InputError` where matplotlib is missing."""

    def __init__(self, width_pt: float, height_pt: float) -> None:
        try:
            from matplotlib.figure import Figure
        except ImportError:
            raise InputError("pictures", "none", NOT_INSTALLED) from None
        with _own_look():
            self._figure = Figure(figsize=(width_pt / 72, height_pt / 72), facecolor=PAPER)
            self._axes = self._figure.add_axes((0, 0, 1, 1), frame_on=False)
            self._axes.set(xlim=(0, width_pt), ylim=(height_pt, 0), xticks=[], yticks=[])
        self._level = 0

    def fill(self, outlines: "Sequence[Points]", ink: str) -> None:
        """Fill outlines, arrays of (point, 2), with an ink; all of them are one shape in the file."""
        self._add(outlines, closed=True, facecolor=ink, edgecolor="none")

    def stroke(
        self, lines: "Sequence[Points]", ink: str = INK, pen_pt: float = PEN_PT, *, round_ends: bool = True
    ) -> None:  # fmt: skip
        """Draw lines, arrays of (point, 2), with a pen so many points broad."""
        self._add(
            lines,
            closed=False,
            facecolor="none",
            edgecolor=ink,
            linewidth=pen_pt,
            capstyle="round" if round_ends else "butt",
            joinstyle="round",
        )

    def words(
        self, at: tuple[float, float], words: str, size_pt: float = LETTERS_PT, *, align: str = "left", face: str = "upright"
    ) -> None:  # fmt: skip
        """Write words on a base line: `at` is its left end, middle or right end, as `align` says."""
        with _own_look():
            self._axes.text(
                *at,
                words,
                fontproperties=_face(face),
                fontsize=size_pt,
                color=INK,
                ha={"left": "left", "middle": "center", "right": "right"}[align],  # type: ignore[arg-type]
                va="baseline",
                parse_math=False,
                zorder=self._next(),
            )

    def svg(self, name: str, title: str, alt: str) -> bytes:
        """The sheet as SVG, with title and description; `name` leads every identifier in it, for pages with several."""
        out = BytesIO()
        with _own_look(name):
            self._figure.savefig(
                out, format="svg", metadata=dict.fromkeys(("Creator", "Date", "Format", "Type"))
            )
        text = out.getvalue().decode("utf-8")
        text = _PATHS.sub(lambda path: _compact(path[0]), _NOT_OURS.sub("", text))
        text = _IDS.sub(f"{name}-", text[text.index("<svg ") :])
        head, _, rest = text.partition(">")
        labels = f'style="{_JOINS}" role="img" aria-labelledby="{name}-title {name}-desc"'
        return (
            f'<?xml version="1.0" encoding="utf-8"?>\n{head} {labels}>\n'
            f' <title id="{name}-title">{_in_xml(title)}</title>\n'
            f' <desc id="{name}-desc">{_in_xml(alt)}</desc>{rest}'
        ).encode()

    def _add(self, lines: "Sequence[Points]", *, closed: bool, **pens: object) -> None:
        drawn = [line for line in lines if len(line) > 1]
        if not drawn:
            return
        with _own_look():
            from matplotlib.patches import PathPatch

            self._axes.add_patch(
                PathPatch(_joined(drawn, closed=closed), zorder=self._next(), **pens)  # type: ignore[arg-type]
            )

    def _next(self) -> int:
        """A level above all that is drawn: what is drawn later lies on top, words too."""
        self._level += 1
        return self._level


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
def _own_look(salt: str = "soakbook") -> Iterator[None]:
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


def box(left: float, top: float, right: float, bottom: float) -> "Points":
    """A rectangle's four corners. [pt]"""
    return np.array([(left, top), (right, top), (right, bottom), (left, bottom)], float)


def line(*points: tuple[float, float]) -> "Points":
    """A line through points. [pt]"""
    return np.array(points, float)


def ring(middle: tuple[float, float], radius_pt: float) -> "Points":
    """A circle of 24 corners. [pt]"""
    turn = np.linspace(0, 2 * np.pi, 25)
    return np.column_stack(
        [middle[0] + radius_pt * np.cos(turn), middle[1] + radius_pt * np.sin(turn)]
    )


def runs(marked: "NDArray[np.bool_]") -> list[tuple[int, int]]:
    """Where something holds without a break: first place, and the one after the last."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], marked, [False]]).astype(int)))
    return [(int(begin), int(end)) for begin, end in pairwise(edges)][::2]
