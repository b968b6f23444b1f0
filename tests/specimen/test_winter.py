"""The specimen's winter: invented days before the record, the same on every machine."""

from collections import defaultdict
from datetime import date, timedelta

import pytest

from soakbook.specimen import text
from soakbook.specimen.climate import RECORD_BEGINS
from soakbook.specimen.winter import FIRST, MONTHS, rows

SHIPPED = [line for line in text.rows("weather") if line["date"] < RECORD_BEGINS.isoformat()]


def test_the_days_that_ship_are_those_that_are_drawn() -> None:
    """Reference ET to a hundredth: pyet may round elsewhere."""
    drawn = rows()
    assert len(drawn) == len(SHIPPED) == 123
    for line, shipped in zip(drawn, SHIPPED, strict=True):
        told = {name: value for name, value in shipped.items() if value and name != "eto_mm"}
        assert {name: value for name, value in line.items() if name != "eto_mm"} == told
        assert float(line["eto_mm"]) == pytest.approx(float(shipped["eto_mm"]), abs=0.011)


def test_every_day_from_october_to_the_record_once() -> None:
    days = [date.fromisoformat(line["date"]) for line in SHIPPED]
    assert days == [FIRST + timedelta(days=number) for number in range(123)]
    assert days[-1] + timedelta(days=1) == RECORD_BEGINS


def test_a_mild_wet_autumn_and_winter() -> None:
    """Rain of each month by its normal, on 12 to 18 days; ET0 about 1.0 mm a day in October, 0.3 in December."""
    rain, et0 = defaultdict(list), defaultdict(list)
    for line in SHIPPED:
        month = int(line["date"][5:7])
        rain[month].append(float(line["rain_mm"]))
        et0[month].append(float(line["eto_mm"]))
    for month, like in MONTHS.items():
        assert sum(rain[month]) == pytest.approx(like.rain_mm, abs=1.0)
        assert 12 <= sum(one > 0 for one in rain[month]) <= 18
    means = {month: sum(mm) / len(mm) for month, mm in et0.items()}
    assert means[10] == pytest.approx(1.0, abs=0.1)
    assert means[12] == pytest.approx(0.3, abs=0.1)
    assert all(float(line["tmax_c"]) > float(line["tmin_c"]) for line in SHIPPED)
