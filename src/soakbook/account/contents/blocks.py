"""The blocks that a document is made of. All texts are finished; nothing is reckoned or rounded after this."""

from typing import Literal, NamedTuple

Sort = Literal["name", "words", "short", "n"]
"""Of a column: the name of a row; words that may run on; a short word; figures, set at the right."""


class Column(NamedTuple):
    """One column of a table."""

    head: str
    sort: Sort = "n"


class Row(NamedTuple):
    """One row: a cell for each column, or fewer, when the last runs over the rest; and where its name leads."""

    cells: tuple[str, ...]
    to: str = ""
    """Sign of a section; empty: nowhere."""


class Table(NamedTuple):
    """A table under its caption; `in_all` is its last row, empty where there is none."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    in_all: tuple[str, ...] = ()
    kind: str = "table"


class Text(NamedTuple):
    """A paragraph; a small one is a note to what stands above it."""

    say: str
    small: bool = False
    kind: str = "text"


class Pairs(NamedTuple):
    """Words with a name before them."""

    rows: tuple[tuple[str, str], ...]
    kind: str = "pairs"


class Line(NamedTuple):
    """A line of a list, and the section that has its numbers."""

    say: str
    to: str = ""


class Lines(NamedTuple):
    """A list."""

    lines: tuple[Line, ...]
    kind: str = "lines"


class Shown(NamedTuple):
    """A picture and the table behind it; None where that is printed with it.

    `of_hundred` is its width on paper, in hundredths of a line's.
    """

    name: str
    title: str
    alt: str
    behind: Table | None = None
    of_hundred: int = 100
    kind: str = "picture"

    @property
    def svg_file(self) -> str:
        """What the picture is called beside a template."""
        return f"{self.name}.svg"

    @property
    def csv_file(self) -> str:
        """What its table is called where it is attached."""
        return f"{self.name}.csv"


Block = Table | Text | Pairs | Lines | Shown


class Section(NamedTuple):
    """Blocks under a heading; `sign` is what links lead to."""

    sign: str
    title: str
    blocks: tuple[Block, ...]
    new_page: bool = False


class Contents(NamedTuple):
    """A whole document."""

    title: str
    heading: str
    garden: str
    days: str
    foot: str
    sections: tuple[Section, ...]
