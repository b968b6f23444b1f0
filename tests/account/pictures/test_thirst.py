"""What the air asked against what came: sums against an independent cumulation, gaps, labels that do not touch."""

from datetime import date

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.account.pictures.thirst import WORDS_PT, endings, gap_strokes, thirst, thirst_table
from soakbook.errors import InputError
from tests.account.pictures.frames import garden, visits, visits_of, weather_of


def test_sums_are_those_of_the_frames() -> None:
    days = garden(date(2031, 7, 1))
    weather, seen = weather_of(days), visits_of(days)
    picture = thirst(weather, seen, 78.0)
    table = picture.table
    for day in (0, 100, 364):
        until = weather["day"].iloc[day]
        row = table.iloc[day]
        assert row["et0_sum_mm"] == pytest.approx(weather["et0_mm"].iloc[: day + 1].sum())
        rain = weather["rain_mm"].iloc[: day + 1].sum()
        litres = seen[(seen["what"] == "watered") & (seen["day"] <= until)]["litres"].sum()
        assert row["rain_sum_mm"] == pytest.approx(rain)
        assert row["rain_and_given_sum_mm"] == pytest.approx(rain + litres / 78.0)
    last = table.iloc[-1]
    assert f"the air asked {last['et0_sum_mm']:.0f} mm" in picture.alt
    gap = last["et0_sum_mm"] - last["rain_and_given_sum_mm"]
    assert picture.alt.endswith(f"{gap:.0f} mm less than the air asked.")
    assert "from 1 July 2031 to 29 June 2032" in picture.alt
    assert picture.svg == thirst(weather, seen, 78.0).svg


def test_days_not_known_add_nothing_and_are_said() -> None:
    weather = pd.DataFrame(
        {
            "day": pd.date_range("2031-05-01", periods=5),
            "et0_mm": [np.nan, 4.0, np.nan, 4.0, np.nan],
            "rain_mm": [np.nan, 1.0, 2.0, np.nan, np.nan],
        }
    )
    picture = thirst(weather, visits([("2031-05-03", "dole", "watered", 40.0)]), 20.0)
    assert picture.table["day"].dt.day.tolist() == [2, 3, 4]
    assert picture.table["et0_sum_mm"].tolist() == [4.0, 4.0, 8.0]
    assert picture.table["rain_and_given_sum_mm"].tolist() == [1.0, 5.0, 5.0]
    assert picture.alt.endswith("On 2 of the days rain or what the air asked is not known.")


def test_one_wet_day() -> None:
    weather = weather_of(garden(days=1))
    picture = thirst(weather, visits([]), 20.0)
    assert len(picture.table) == 1
    assert "more than the air asked" in picture.alt


def test_refusals() -> None:
    weather = weather_of(garden(days=3))
    for area in (0.0, float("nan")):
        with pytest.raises(InputError, match="area_m2"):
            thirst_table(weather, visits([]), area)
    with pytest.raises(InputError, match="a day of which rain or ET0 is known"):
        thirst_table(weather.iloc[:0], visits([]), 20.0)


def test_the_gap_is_hatched_where_less_came_than_was_asked() -> None:
    x = np.linspace(0, 100, 101)
    asked, came = 200 - x, np.full(101, 150.0)
    strokes = gap_strokes(x, asked, came)
    assert all(one[0, 0] > 50 for one in strokes)
    assert len(strokes) == 12
    assert all(one[1, 1] == 150.0 and one[0, 1] == 200 - one[0, 0] for one in strokes)


@given(st.lists(st.floats(40, 270), min_size=3, max_size=3))
def test_labels_do_not_touch_and_keep_the_order_of_their_lines(levels: list[float]) -> None:
    found = endings({f"line {number}": (y, 1.0) for number, y in enumerate(levels)})
    assert [one.line_pt for one in found] == sorted(levels)
    gaps = np.diff([one.words_pt for one in found])
    assert (gaps >= WORDS_PT - 1e-6).all()
    assert found[-1].words_pt + 14 < 300
