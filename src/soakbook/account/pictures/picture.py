"""A picture as a document takes it up: drawing, title, a sentence for who cannot see it, and the table behind it."""

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import pandas as pd


class Picture(NamedTuple):
    """A finished picture. `table` holds the very numbers that were drawn; `alt` says of them what is true."""

    name: str
    title: str
    alt: str
    svg: bytes
    table: "pd.DataFrame"
