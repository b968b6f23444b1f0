"""Whole records through the command's middle: made ones with known answers, awkward ones, bad ones."""

import math
from datetime import date
from pathlib import Path

import pytest

from soakbook.truth.report import RecordReport
from soakbook.truth.runner import records_in, report_on
from tests.truth.made import Row, of_itself, weather, write

YEAR = weather(date(2015, 1, 1), 365)


def rows(days: int = 365, first: date = date(2015, 1, 1), latitude_deg: float = 48.0) -> list[Row]:
    if (days, first, latitude_deg) == (365, date(2015, 1, 1), 48.0):
        return [dict(row) for row in YEAR]
    return weather(first, days, latitude_deg)


def judged(path: Path) -> RecordReport:
    report = report_on([path])
    assert report.refused == ()
    (record,) = report.records
    return record


def said(record: RecordReport, words: str) -> bool:
    return any(words in finding for finding in record.findings)


def test_a_record_that_the_balance_made_scores_nothing(tmp_path: Path) -> None:
    """Soil water, evaporation and percolation are the balance's own: no error at all."""
    record = judged(
        of_itself(tmp_path, [{**row, "et_mm": "0", "percolation_mm": "0"} for row in rows()])
    )
    water, evaporation, percolation = record.soil_water, record.evaporation, record.percolation
    assert water is not None
    assert water.fitted_nothing is not None
    assert water.fitted_nothing.rmse == pytest.approx(0, abs=1e-6)
    assert water.fitted_nothing.r2 == pytest.approx(1)
    assert water.look is not None
    assert water.look.shift == pytest.approx(0, abs=1e-6)
    assert water.look.score is not None
    assert water.look.score.rmse == pytest.approx(0, abs=1e-6)
    assert water.coverage == 1.0
    assert water.other_score is not None
    assert water.other_score.rmse > 0.01
    assert evaporation is not None
    assert evaporation.daily is not None
    assert evaporation.weekly is not None
    assert evaporation.daily.rmse == pytest.approx(0, abs=1e-5)
    assert evaporation.weekly.r2 == pytest.approx(1)
    assert percolation is not None
    assert percolation.ratio == pytest.approx(1, abs=1e-4)
    assert [one.met for one in record.targets[:3]] == [True, True, True]


def test_a_level_that_is_off_is_mended_by_one_look(tmp_path: Path) -> None:
    """Sensors read 0.07 too high: bias -0.07, ub nothing, and after the look nothing is left."""
    record = judged(of_itself(tmp_path, rows(), change=lambda _day, theta: theta + 0.07))
    water = record.soil_water
    assert water is not None
    assert water.fitted_nothing is not None
    assert water.fitted_nothing.bias == pytest.approx(-0.07, abs=1e-6)
    assert water.fitted_nothing.ub == pytest.approx(0, abs=1e-6)
    assert water.look is not None
    assert water.look.shift == pytest.approx(0.07, abs=1e-6)
    assert water.look.score is not None
    assert water.look.score.rmse == pytest.approx(0, abs=1e-6)


def test_feels_bring_a_wrong_reckoning_nearer(tmp_path: Path) -> None:
    """The ground is loamy sand, the record says silt loam: feels help, often more than seldom."""
    path = of_itself(tmp_path, rows(), {"soil": '"loamy sand"'})
    path.write_text(path.read_text().replace("loamy sand", "silt loam"))
    often, seldom = judged(path).felt
    assert (often.every_days, seldom.every_days) == (3, 7)
    assert often.score is not None
    assert often.open_score is not None
    assert seldom.score is not None
    assert often.score.rmse < seldom.score.rmse < often.open_score.rmse
    assert often.feels > 2 * seldom.feels


@pytest.mark.parametrize(
    ("first", "days", "latitude_deg"),
    [(date(2015, 7, 1), 400, -35.0), (date(2015, 6, 10), 500, 48.0), (date(2015, 5, 1), 31, 48.0)],
    ids=["south", "from June", "a month"],
)
def test_records_of_other_lengths_and_places(
    tmp_path: Path, first: date, days: int, latitude_deg: float
) -> None:
    path = of_itself(tmp_path, rows(days, first, latitude_deg), {"latitude_deg": f"{latitude_deg}"})
    record = judged(path)
    assert record.months[0] == (4 if latitude_deg > 0 else 10)
    assert record.soil_water is not None
    assert record.soil_water.fitted_nothing is not None
    assert record.soil_water.fitted_nothing.rmse == pytest.approx(0, abs=1e-6)


def test_a_dry_month_has_no_look_and_says_how_it_began(tmp_path: Path) -> None:
    dry = [{**row, "rain_mm": "0"} for row in rows(31, date(2015, 7, 1))]
    record = judged(of_itself(tmp_path, dry))
    assert record.soil_water is not None
    assert record.soil_water.look is None
    assert record.felt == ()
    assert record.soil_water.days_compared == 31
    assert said(record, "0.85 of what the soil holds")
    assert [one.met for one in record.targets] == [True, None, None, None]
    assert record.judged == 1
    assert record.met is None


def test_one_sensor(tmp_path: Path) -> None:
    alone = [{key: value for key, value in row.items() if key != "vwc_30"} for row in rows()]
    record = judged(of_itself(tmp_path, alone, {"sensor_depths_cm": "[10]"}))
    assert record.sensor_weights == (1.0,)
    assert said(record, "the lowest sensor, at 10 cm, stands for all down to 50 cm")


def test_days_without_rain_are_not_dry_days(tmp_path: Path) -> None:
    """Where June's rain is not known, days are compared again only once the gap is forgotten."""
    path = of_itself(tmp_path, rows())
    text = path.with_suffix(".csv").read_text().splitlines()
    blank = [
        ",".join([cells[0], "", *cells[2:]])
        if cells[0].startswith("2015-06-1")
        else ",".join(cells)
        for cells in (line.split(",") for line in text)
    ]
    path.with_suffix(".csv").write_text("\n".join(blank))
    record = judged(path)
    assert record.soil_water is not None
    assert record.soil_water.days_measured == 214
    assert record.soil_water.days_compared < 204
    assert said(record, "not compared, because rain before them was not known")
    assert said(record, "no rain value, which is not the same as dry: 2015-06-10 to 2015-06-19")
    assert record.soil_water.fitted_nothing is not None
    assert record.soil_water.fitted_nothing.rmse < 0.02


def test_a_long_gap_begins_the_run_anew(tmp_path: Path) -> None:
    whole = rows(730)
    gap = [row for row in whole if not "2015-09-01" <= row["date"] <= "2016-03-01"]
    record = judged(of_itself(tmp_path, gap, change=lambda _day, theta: theta))
    assert said(record, "183 days have no row")


def test_frozen_days_are_not_compared(tmp_path: Path) -> None:
    path = of_itself(
        tmp_path, [{**row, "tsoil_5_c": "0.4" if "04-0" in row["date"] else "9"} for row in rows()]
    )
    record = judged(path)
    assert record.soil_water is not None
    assert record.soil_water.days_compared == 214 - 9


def test_targets_of_the_record_hold_and_are_missed(tmp_path: Path) -> None:
    more = "[targets]\nub = 0.01\nr2 = 0.9\net_rmse_mm = 0.5\npercolation_most = 0.5\n"
    noisy = [{**row, "et_mm": "0", "percolation_mm": "0"} for row in rows()]
    record = judged(
        of_itself(
            tmp_path, noisy, change=lambda day, theta: theta + 0.03 * math.sin(day), more=more
        )
    )
    assert [one.met for one in record.targets] == [False, True, True, False]
    assert record.met is False


def test_what_cannot_be_read_is_named_and_the_rest_is_judged(tmp_path: Path) -> None:
    (tmp_path / "good").mkdir()
    good = of_itself(tmp_path / "good", rows())
    bad = write(tmp_path, rows(), {"latitude_deg": "190"})
    report = report_on([bad, tmp_path / "gone.toml", good])
    assert [one.record for one in report.refused] == ["made.toml", "gone.toml"]
    assert "190" in report.refused[0].why
    assert [one.record for one in report.records] == ["made"]


def test_the_same_record_gives_the_same_report(tmp_path: Path) -> None:
    path = of_itself(tmp_path, rows())
    assert report_on([path]) == report_on([path])


def test_weather_alone_is_no_record(tmp_path: Path) -> None:
    path = write(tmp_path, rows())
    (tmp_path / "sky.csv").write_text("date\n")
    assert records_in(tmp_path) == ([path], ("sky.csv",))


def test_a_look_outside_the_days_compared_is_said(tmp_path: Path) -> None:
    """August of the made weather has no soaking, its spring has."""
    record = judged(of_itself(tmp_path, rows(), {"months": '"August"'}))
    assert record.soil_water is not None
    assert record.soil_water.look is not None
    assert record.soil_water.look.day.month != 8
    assert said(record, "lies outside the days compared")


def test_a_look_at_more_than_the_soil_can_hold_is_said_at_its_target(tmp_path: Path) -> None:
    record = judged(of_itself(tmp_path, rows(), change=lambda _day, theta: theta + 0.25))
    noted = [one.what for one in record.targets if one.note]
    assert noted == ["after one soaked look: RMSE"]
    assert said(record, "the class cannot hold what was read")


def test_a_record_that_was_never_dry_says_where_its_zero_is(tmp_path: Path) -> None:
    """Spring alone: reckoned above a tenth of wetness throughout, and felt on a scale of its own."""
    record = judged(of_itself(tmp_path, rows(), {"months": '"4-5"'}))
    assert said(record, "so zero is put below them")
    assert record.felt[0].score is not None
    assert record.felt[0].score.rmse < 0.1


def test_names_decide_nothing(tmp_path: Path) -> None:
    path = of_itself(tmp_path, rows())
    other = path.rename(path.with_name("other.toml"))
    path.with_suffix(".csv").rename(other.with_suffix(".csv"))
    renamed = judged(other)
    assert judged(of_itself(tmp_path, rows())).felt == renamed.felt
