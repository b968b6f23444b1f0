"""The table behind a picture: in words and rounded for reading; as CSV in full."""

import numpy as np
import pandas as pd

from soakbook.account.contents.behind import csv_of, shown
from soakbook.account.pictures.picture import Picture

FRAME = pd.DataFrame(
    {
        "day": pd.to_datetime(["2031-06-17", "2031-06-18"]),
        "bed": ["wall", "wall"],
        "rain_mm": [1234.56, 0.0],
        "ball_p50": [0.316, np.nan],
        "gone": [0, 2],
        "unheard_of": [1.0, 2.0],
    }
)
PICTURE = Picture("one", "One", "A picture.", b"<svg/>", FRAME)


def test_it_has_words_and_names_and_nothing_for_what_is_not_known() -> None:
    table = shown(PICTURE, {"wall": "Chapel Wall"}).behind
    assert table is not None
    assert [one.head for one in table.columns] == [
        "day", "bed", "rain, mm", "water in the ball, of 1", "plants gone", "unheard_of",
    ]  # fmt: skip
    assert [one.cells for one in table.rows] == [
        ("17 June", "Chapel Wall", "1,234.6", "0.32", "0", "1"),
        ("18 June", "Chapel Wall", "0", "", "2", "2"),
    ]
    assert shown(PICTURE, printed=True).behind is None


def test_as_csv_it_keeps_four_figures_and_its_own_names() -> None:
    lines = csv_of(FRAME.assign(rain_mm=[0.123456, 2.0])).decode().split("\r\n")
    assert lines[0] == "day,bed,rain_mm,ball_p50,gone,unheard_of"
    assert lines[1].startswith("2031-06-17,wall,0.1235,0.316,0,")
