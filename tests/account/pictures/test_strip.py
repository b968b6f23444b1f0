"""A bed's strip: the table is the frames' numbers, the sentence is true of them, every kind of bed is drawn."""

import xml.etree.ElementTree as ET
from datetime import date

import numpy as np
import pandas as pd
import pytest

from soakbook.account.pictures.strip import drop, lanes_for, strip
from soakbook.account.pictures.strip_days import BedShown, Frames, driest, strip_days
from soakbook.errors import InputError
from tests.account.pictures.frames import feels, feels_of, garden, visits, visits_of

CHAPEL = BedShown("chapel", "Chapel Wall", 18.0)
RIDE = BedShown("ride", "Orchard Ride hedge", 60.0)
SCHOOL = BedShown("school", "Schoolroom", 34.0)


def frames_of(days: pd.DataFrame) -> Frames:
    return Frames(days, visits_of(days), feels_of(days))


def test_the_table_is_the_days_of_the_driest_planting() -> None:
    frames = frames_of(garden())
    days = frames.days
    table = strip(frames, CHAPEL).table
    here = days[days["bed"] == "chapel"]
    dry = {
        uid: int(here[here["planting_uid"] == uid]["state"].isin(["wanting", "parched"]).sum())
        for uid in ("roses", "clematis")
    }
    uid = max(dry, key=lambda one: dry[one])
    assert driest(days, CHAPEL) == uid
    shown = here[here["planting_uid"] == uid]
    for column in ("ball_p50", "bed_p50", "rain_gauge_mm", "into_soil_mm"):
        assert np.array_equal(table[column], shown[column])
    for column in ("ball_state", "bed_state"):
        assert table[column].tolist() == shown[column].tolist()
    litres = frames.visits[frames.visits["bed"] == "chapel"]["litres"].sum()
    assert table["soak_l"].sum() == litres
    assert table["soak_l_per_m2"].sum() == pytest.approx(litres / 18.0)


def test_what_is_pinned_on_was_felt_in_the_planting_shown() -> None:
    frames = frames_of(garden())
    roses, clematis = (strip(frames, CHAPEL, uid) for uid in ("roses", "clematis"))
    felt = frames.feels[
        (frames.feels["planting_uid"] == "roses") & (frames.feels["store"] == "ball")
    ]
    pinned = roses.table[roses.table["ball_felt"] != ""]
    assert list(zip(pinned["day"], pinned["ball_felt"], strict=True)) == list(
        zip(felt["day"], felt["felt"], strict=True)
    )
    assert (clematis.table["ball_felt"] == "").all()
    assert "felt on no days" in clematis.alt
    assert roses.name == "strip-chapel-roses"
    assert roses.title == "The soil of Chapel Wall in section: 6 of roses"


def test_two_feels_of_a_day_stand_together() -> None:
    days = garden(days=3)
    rows = [("2031-01-02", "chapel", "roses", "ball", felt) for felt in ("dry", "moist", "dry")]
    table = strip(Frames(days, visits([]), feels(rows)), CHAPEL, "roses").table
    assert table["ball_felt"].tolist() == ["", "dry, moist", ""]


def test_the_sentence_is_true_of_the_table() -> None:
    picture = strip(frames_of(garden()), SCHOOL)
    table = picture.table
    dry = ["wanting", "parched"]
    assert f"the ball on {table['ball_state'].isin(dry).sum()} evenings" in picture.alt
    assert f"the bed on {table['bed_state'].isin(dry).sum()} evenings" in picture.alt
    assert f"rain in the gauge {table['rain_gauge_mm'].sum():.1f} mm" in picture.alt
    assert f"soaks on {(table['soak_l'] > 0).sum()} days" in picture.alt
    assert picture.alt.endswith("9 plants gone.")
    assert ET.fromstring(picture.svg).findtext("{http://www.w3.org/2000/svg}desc") == picture.alt


def test_plants_are_gone_on_the_first_day_without_them_also_when_all_are() -> None:
    days = garden(days=30)
    rose = (days["planting_uid"] == "roses") & (days["day"] > pd.Timestamp("2031-01-20"))
    days = days[~rose].reset_index(drop=True)
    days.loc[(days["planting_uid"] == "clematis") & (days["day"].dt.day >= 25), "count"] = 8
    table = strip_days(frames_of(days), CHAPEL).table
    gone = table[table["gone"] > 0]
    assert list(zip(gone["day"].dt.day, gone["gone"], strict=True)) == [(21, 6), (25, 2)]


def test_bare_roots_have_no_ball() -> None:
    with_ball, without = (
        lanes_for(has_ball=has, ball_felt=False, bed_felt=False) for has in (True, False)
    )
    assert with_ball.ball is not None
    assert without.ball is None
    assert without.height < with_ball.height
    assert "the ball" not in strip(frames_of(garden(days=60)), RIDE).alt


@pytest.mark.parametrize("days", [1, 2, 366, 1096])
@pytest.mark.parametrize("bed", [CHAPEL, RIDE, SCHOOL], ids=lambda bed: bed.key)
def test_any_span_is_drawn_the_same_twice(days: int, bed: BedShown) -> None:
    frames = frames_of(garden(date(2031, 7, 1), days))
    picture = strip(frames, bed)
    assert len(picture.table) == days
    ET.fromstring(picture.svg)
    if days < 3:
        assert picture.svg == strip(frames, bed).svg


def test_without_soaks_feels_or_a_short_name() -> None:
    long = BedShown("chapel", "The very long border below the other house, by the pump " * 5, 18.0)
    picture = strip(Frames(garden(days=90), visits([]), feels([])), long)
    assert "soaks on no days, 0.0 L/m2 in all; felt on no days" in picture.alt
    ET.fromstring(picture.svg)


def test_a_drop_is_as_long_as_said() -> None:
    shape = drop((100.0, 50.0), 20.0, broadest=1.5)
    assert shape[0].tolist() == [100.0, 50.0]
    assert shape[:, 1].max() == pytest.approx(70.0, abs=0.05)
    assert np.ptp(shape[:, 0]) == pytest.approx(3.0, abs=0.05)


def test_refusals() -> None:
    frames = frames_of(garden(days=5))
    with pytest.raises(InputError, match="bed: 'moat' cannot be right; a bed with reckoned days"):
        strip(frames, BedShown("moat", "Moat", 5.0))
    with pytest.raises(InputError, match="area_m2: 0 cannot be right; above 0 m2"):
        strip(frames, CHAPEL._replace(area_m2=0.0))
    with pytest.raises(InputError, match="planting_uid: 'whips' cannot be right; a planting of chapel"):  # fmt: skip
        strip(frames, CHAPEL, "whips")
