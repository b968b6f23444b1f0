"""Three years in one book: the account of one year opens with what the year before left."""

from datetime import date, datetime, timedelta
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from soakbook.account.reviewed import Account, account_of
from soakbook.errors import InputError
from soakbook.services import books, entries, setup
from soakbook.services.weather_files import import_file
from tests.account.adding_up import adds_up
from tests.services.looking import ZONE

NOW = datetime(2034, 1, 1, 7, tzinfo=ZONE)
FIRST, LAST = date(2031, 4, 1), date(2033, 12, 31)


def on(year: int, month: int, day: int, hour: int) -> datetime:
    return datetime(year, month, day, hour, tzinfo=ZONE)


def weather() -> str:
    """Warm in summer, rain every fifth day but in July and August."""
    lines = ["date,tmin_c,tmax_c,rain_mm,sun_h,wind2_ms,rh_mean_pct"]
    for number in range((LAST - FIRST).days + 1):
        day = FIRST + timedelta(days=number)
        warm = 10 - 8 * np.cos(2 * np.pi * (day.timetuple().tm_yday - 20) / 365)
        wet = number % 5 == 0 and day.month not in (7, 8)
        lines.append(f"{day},{warm - 4:.1f},{warm + 5:.1f},{7.0 if wet else 0.0},4.0,2.0,75")
    return "\n".join(lines)


@pytest.fixture(scope="module")
def three_years(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Six roses of 1 April 2031, three whips of autumn 2032; soaked, one lost, felt, on New Year's Eve too."""
    path = tmp_path_factory.mktemp("years") / "years.book"
    books.new(
        path, now=on(2031, 4, 1, 9), name="Years", latitude_deg=52.3, longitude_deg=-0.4,
        elevation_m=62.0, timezone="Europe/London",
    )  # fmt: skip
    setup.bed(path, "wall", now=NOW, area="9m2", soil="loam")
    setup.bed(path, "ride", now=NOW, area="9m2", soil="clay")
    setup.plant(path, "wall", "shrub rose", "6", now=NOW, pot="5l", on="2031-04-01")
    setup.plant(path, "ride", "hornbeam whip", "3", now=NOW, bare="yes", on="2032-11-01")
    file = path.with_name("shed.csv")
    file.write_text(weather(), encoding="utf-8")
    import_file(path, file, now=NOW, columns=["wind=wind2_ms:m/s@2m"], name="the shed")
    for year in (2031, 2032, 2033):
        for day in (5, 15, 25):
            entries.soak(path, ["wall"], "30l", now=on(year, 7, day, 8))
        entries.feel(path, ["wall"], ball="dry", bed="dry", now=on(year, 8, 2, 7))
    entries.loss(path, "wall", "shrub rose", "1", "frost", now=on(2032, 3, 3, 9))
    entries.soak(path, ["wall"], "20l", now=on(2031, 12, 31, 18))
    entries.feel(path, ["wall"], bed="wet", now=on(2032, 12, 31, 18))
    return path


@pytest.fixture(scope="module")
def accounts(three_years: Path) -> dict[int, Account]:
    return {year: account_of(three_years, year) for year in (2031, 2032, 2033)}


def edge(account: Account, day: date, column: str) -> list[float]:
    """A column of one day, by planting."""
    days = account.days[account.days["day"] == pd.Timestamp(day)]
    values: list[float] = days.sort_values("planting_uid")[column].tolist()
    return values


def test_each_year_adds_up(accounts: dict[int, Account]) -> None:
    for year, account in accounts.items():
        report = adds_up(account)
        assert (report.year, report.closed, account.span.days) == (
            year,
            True,
            366 if year == 2032 else 365,
        )
        assert account.days["day"].dt.year.eq(year).all()
        assert len(account.feels) == (3 if year == 2032 else 2)


def test_a_year_opens_with_what_the_year_before_left(accounts: dict[int, Account]) -> None:
    """To the last bit: the whole book is run for each."""
    for year in (2031, 2032):
        left = edge(accounts[year], date(year, 12, 31), "closing_l")
        assert edge(accounts[year + 1], date(year + 1, 1, 1), "opening_l") == left
        assert len(left) == year - 2030


def test_water_of_new_years_eve_belongs_to_the_evening_and_to_the_step(
    accounts: dict[int, Account],
) -> None:
    """Entered at 18:00 in 2031, taken up on 1 January 2032: given in the one, held at the start of the other."""
    old, new = accounts[2031].way(), accounts[2032].way()
    assert [old.came["given_l"], new.came["given_l"]] == [110.0, 90.0]
    elsewhere = [old.went["elsewhere_l"], new.went["elsewhere_l"]]
    assert elsewhere == pytest.approx([20.0, 0.0], abs=1e-9)
    opening = sum(edge(accounts[2032], date(2032, 1, 1), "opening_l"))
    whips = accounts[2032].days.query("bed == 'ride'")["opening_l"].iloc[0]
    assert new.came["held_first_l"] == pytest.approx(opening + whips + 20.0)
    assert edge(accounts[2032], date(2032, 1, 1), "given_l") == [pytest.approx(20.0)]


def test_what_was_lost_in_one_year_is_not_in_another(accounts: dict[int, Account]) -> None:
    lost = {year: int(account.beds["lost"].sum()) for year, account in accounts.items()}
    assert lost == {2031: 0, 2032: 1, 2033: 0}
    most = {year: account.beds["plants"].tolist() for year, account in accounts.items()}
    assert most == {2031: [6], 2032: [6, 3], 2033: [5, 3]}


def test_other_years_are_refused_with_these(three_years: Path) -> None:
    for year in (2030, 2034):
        with pytest.raises(InputError, match="a year from 2031 to 2033: those are the seasons"):
            account_of(three_years, year)
