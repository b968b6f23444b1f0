"""Which measured years are watered through."""

from pathlib import Path

import pytest

from soakbook.errors import InputError
from soakbook.truth.watering.years import LeftOut, seasons
from tests.truth.water_trials import DATA, dry_summer


def test_every_whole_season_is_kept_and_the_others_say_why() -> None:
    """Bedford and Manhattan end on 4 October 2017, eleven days early; each lacks one more day."""
    kept, left_out = seasons(DATA)
    assert [one.key for one in kept] == [
        *(f"debilt-{year}" for year in range(2014, 2020)),
        *(f"bedford-{year}" for year in range(2010, 2017)),
        *(f"manhattan-{year}" for year in range(2010, 2017)),
        *(f"woodward-{year}" for year in range(2010, 2013)),
    ]
    assert left_out[0] == LeftOut("bedford-2017", "no rain on 12 of 210 days")
    assert [one.key for one in left_out] == ["bedford-2017", "manhattan-2017", "woodward-2009"]


def test_a_season_is_its_record() -> None:
    """De Bilt 2018, 1 April to 15 October: the columns' own sums, 252.3 mm of rain and 661 mm of ET0."""
    season = dry_summer()
    assert season.total("rain_mm") == pytest.approx(252.3, abs=0.05)
    assert season.total("et0_mm") == pytest.approx(661, abs=0.5)
    assert season.weather[0].day.isoformat() == "2018-01-01"
    assert season.weather[-1].day == season.last


def test_a_tower_has_its_et0_by_the_dryness_of_the_air() -> None:
    """Woodward 2011 was an extreme drought: more ET0 than the years beside it, and a fifth of it in rain."""
    by_key = {one.key: one for one in seasons(DATA)[0]}
    sums = {year: by_key[f"woodward-{year}"].total("et0_mm") for year in (2010, 2011, 2012)}
    assert max(sums, key=lambda year: sums[year]) == 2011
    assert by_key["woodward-2011"].total("rain_mm") < 0.2 * sums[2011]


def test_seasons_come_in_the_order_they_were_asked_for() -> None:
    kept, left_out = seasons(DATA, ("woodward-2010", "debilt-2016"))
    assert [one.key for one in kept] == ["woodward-2010", "debilt-2016"]
    assert left_out == []


@pytest.mark.parametrize(
    ("key", "said"), [("debilt-2031", "debilt-2031"), ("bedford-2017", "no rain on 12 of 210 days")]
)
def test_a_season_there_is_not_is_refused(key: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        seasons(DATA, (key,))


def test_a_folder_without_records_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="debilt_nl_daily"):
        seasons(tmp_path)
