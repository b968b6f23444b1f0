"""Books that are not as one would have them: each account adds up, or is refused with what would be right."""

from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd
import pytest

from soakbook.account.asked import account_asked
from soakbook.account.reviewed import Account, account_of
from soakbook.errors import InputError
from soakbook.services import books, entries, setup
from soakbook.services.weather_files import import_file
from tests.account.adding_up import adds_up
from tests.services.conftest import weather_lines
from tests.services.looking import NOW, at

LAST = date(2031, 5, 14)


def plants_by_day(account: Account) -> pd.Series:
    return account.days.groupby("day")["count"].sum()


def row(account: Account, bed: str) -> dict[str, Any]:
    rows: Any = account.beds[account.beds["bed"] == bed].to_dict("records")
    found: dict[str, Any] = rows[0]
    return found


def given(account: Account, bed: str) -> pd.Series:
    mine = account.days[(account.days["bed"] == bed) & (account.days["given_l"] > 0)]
    return mine.groupby("day")["given_l"].sum()


def brought_in(path: Path, lines: list[str], name: str, now: datetime = NOW) -> None:
    file = path.with_name(f"{name}.csv")
    file.write_text("\n".join(lines), encoding="utf-8")
    import_file(path, file, now=now, columns=["wind=wind2_ms:m/s@2m"], name=name)


def test_a_book_in_mid_season_is_so_far_and_suggests_nothing(garden: Path) -> None:
    account = account_of(garden, 2031)
    report = adds_up(account)
    assert (account.span.until, report.closed, report.until) == (LAST, False, LAST)
    assert report.suggestions == ()
    assert report.first == date(2031, 1, 22)
    assert report.totals.plants == 6 + 5 + 14 + 60 + 120


@pytest.mark.parametrize("year", [2029, 2030, 2032, 2033])
def test_a_year_with_no_data_is_refused_and_told_which_there_are(garden: Path, year: int) -> None:
    with pytest.raises(
        InputError, match="2031: it is the only season of which the book tells"
    ) as no:
        account_of(garden, year)
    assert (no.value.field, no.value.value) == ("year", year)
    if year != 2033:
        with pytest.raises(InputError, match="it is the only season of which the book tells"):
            account_of(garden, year, date(2033, 6, 1))


def test_a_season_that_has_not_begun_says_when_it_does(garden: Path) -> None:
    with pytest.raises(InputError, match="that of 2031 begins on 2031-01-01"):
        account_of(garden, 2031, date(2031, 1, 1))


@pytest.mark.parametrize("typed", ["0", "99999", "-5", "next", "20 31", "٢٠٣١", "9" * 5000, ""])
def test_a_year_that_is_none_is_refused(garden: Path, typed: str) -> None:
    with pytest.raises(InputError, match="2031") as no:
        account_asked(garden, typed, None, now=NOW)
    assert no.value.field == "year"


def test_a_gap_in_the_weather_is_a_finding_and_the_numbers_add_up(tmp_path: Path) -> None:
    """Nothing is known of 20 to 26 April; every day of them is marked, none other is."""
    path = tmp_path / "gap.book"
    small_garden(path)
    gap = [f"2031-04-{day}" for day in range(20, 27)]
    head, *lines = weather_lines()
    brought_in(path, [head, *(line for line in lines if line[:10] < gap[0])], "shed")
    brought_in(path, [head, *(line for line in lines if line[:10] > gap[-1])], "shed of May")
    account = account_of(path, 2031)
    report = adds_up(account)
    guessed = account.days.loc[account.days["guessed"] != "", "day"]
    assert sorted(set(guessed.dt.strftime("%Y-%m-%d"))) == gap
    assert any("7 days between 20 April and 26 April lack" in one for one in report.findings)
    april = account.months.set_index("month").loc["2031-04-01"]
    assert (april["rain_unknown_days"], april["et0_unknown_days"]) == (7, 7)
    assert report.sky.rain_unknown_days == 7


def small_garden(path: Path, latitude_deg: float = 52.3, timezone: str = "Europe/London") -> None:
    """One bed with six clematis of 1 April."""
    books.new(
        path, now=at(5, 1, 9), name="Small", latitude_deg=latitude_deg, longitude_deg=-0.4,
        elevation_m=62.0, timezone=timezone,
    )  # fmt: skip
    setup.bed(path, "wall", now=NOW, area="9m2", soil="loam")
    setup.plant(path, "wall", "clematis", "6", now=NOW, pot="3l", on="1apr")


def test_a_book_without_any_weather_counts_what_was_given(tmp_path: Path) -> None:
    path = tmp_path / "dry.book"
    small_garden(path)
    entries.soak(path, ["wall"], "30l", now=NOW)
    account = account_of(path, 2031)
    report = adds_up(account)
    assert account.course is None
    assert (report.totals.litres, report.totals.plants) == (30.0, 6)
    assert row(account, "wall")["plants"] == 6
    assert np.isnan(row(account, "wall")["dry_days"])
    assert account.way().went["elsewhere_l"] == 30.0
    assert "no weather" in report.findings[0]


def test_nor_does_it_need_a_visit(tmp_path: Path) -> None:
    path = tmp_path / "dry.book"
    small_garden(path)
    report = adds_up(account_of(path, 2031))
    assert (report.totals.plants, report.totals.litres) == (6, 0.0)
    with pytest.raises(InputError, match="2031: it is the only season"):
        account_of(path, 2030)


def test_an_empty_book_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "new.book"
    books.new(
        path, now=NOW, name="New", latitude_deg=52.3, longitude_deg=-0.4, elevation_m=62.0,
        timezone="Europe/London",
    )  # fmt: skip
    with pytest.raises(InputError, match="there is nothing in it yet"):
        account_of(path, 2031)
    brought_in(path, weather_lines(), "shed")
    with pytest.raises(InputError, match="nothing has been yet"):
        account_of(path, 2031)


def test_a_bed_renamed_keeps_its_numbers(garden: Path) -> None:
    entries.soak(garden, ["chapel"], "60l", now=at(5, 10, 9))
    before = account_of(garden, 2031)
    changed = {"new_key": "south", "name": "South Wall"}
    setup.bed(garden, "chapel", now=at(5, 12, 9), **changed)
    entries.soak(garden, ["south"], "40l", now=at(5, 13, 9))
    after = account_of(garden, 2031)
    adds_up(after)
    assert after.beds["bed"].iloc[0] == "south"
    assert row(after, "south")["name"] == "South Wall"
    assert row(after, "south")["litres"] == 100.0
    until = after.days[after.days["day"] < "2031-05-13"]
    then = before.days[before.days["day"] < "2031-05-13"]
    for name in ("drunk_l", "given_l", "closing_l"):
        assert np.array_equal(until[name], then[name])


def test_plants_moved_stand_once_and_are_not_lost(garden: Path) -> None:
    """Soaked on the morning and the evening before the move, and in the new bed after it."""
    for when in (at(5, 11, 20), at(5, 12, 8)):
        entries.soak(garden, ["chapel"], "60l", planting="climbing rose", now=when)
    setup.move(garden, "chapel", "climbing rose", to="school", now=at(5, 12, 10))
    entries.soak(garden, ["school"], "30l", planting="climbing rose", now=at(5, 13, 9))
    account = account_of(garden, 2031)
    report = adds_up(account)
    assert plants_by_day(account)["2031-05-06":].eq(205).all()
    assert (report.totals.plants, report.totals.lost) == (205, 0)
    assert (row(account, "chapel")["plants"], row(account, "school")["plants"]) == (11, 66)
    assert account.beds["lost_to"].eq("").all()
    assert report.totals.litres == 150.0
    way = account.way()
    assert way.went["gone_l"] > 0
    assert way.went["elsewhere_l"] == pytest.approx(120.0)
    assert given(account, "school").to_dict() == {pd.Timestamp("2031-05-13"): pytest.approx(30.0)}


def test_a_part_of_the_plants_moved_leaves_the_others_where_they_were(garden: Path) -> None:
    setup.move(garden, "chapel", "climbing rose", to="school", count="2", now=at(5, 12, 10))
    account = account_of(garden, 2031)
    adds_up(account)
    roses = account.days[account.days["planting"] == "climbing rose"]
    last = roses[roses["day"] == "2031-05-14"].set_index("bed")["count"]
    assert last.loc[["chapel", "school"]].tolist() == [4, 2]


def test_a_bed_parted_adds_up_on_both_sides(garden: Path) -> None:
    """Of the water of the evening before a part is the new bed's; both keep what each had."""
    entries.soak(garden, ["chapel"], "55l", now=at(5, 11, 20))
    nook = {"area": "6m2", "plants": "clematis 2", "name": "Chapel Nook"}
    setup.part(garden, "chapel", "nook", now=at(5, 12, 9), **nook)
    entries.soak(garden, ["nook"], "8l", now=at(5, 13, 9))
    account = account_of(garden, 2031)
    report = adds_up(account)
    assert plants_by_day(account)["2031-05-06":].eq(205).all()
    assert report.totals.plants == 205
    assert (row(account, "nook")["litres"], row(account, "chapel")["litres"]) == (8.0, 55.0)
    assert given(account, "nook").sum() + given(account, "chapel").sum() == pytest.approx(63.0)
    assert account.way().went["elsewhere_l"] == pytest.approx(0.0, abs=1e-9)
    nooks = account.way(row(account, "nook")["bed_uid"])
    assert nooks.came["given_l"] == 8.0


def test_a_bed_laid_to_rest_is_reckoned_still(garden: Path) -> None:
    entries.soak(garden, ["dole"], "100l", now=at(5, 9, 9))
    before = account_of(garden, 2031)
    setup.rest(garden, "dole", "10may", now=at(5, 10, 9))
    after = account_of(garden, 2031)
    adds_up(after)
    assert after.days["drunk_l"].equals(before.days["drunk_l"])
    assert row(after, "dole")["litres"] == 100.0


def test_plants_set_long_before_the_first_weather_are_a_finding(garden: Path) -> None:
    """The yard's roses stood from 1 November; the weather begins on 15 January."""
    setup.plant(garden, "yard", "shrub rose", "3", now=NOW, pot="5l", on="2030-11-01")
    entries.soak(garden, ["yard"], "24l", now=at(5, 12, 9))
    account = account_of(garden, 2031)
    report = adds_up(account)
    assert "yard" not in set(account.days["bed"])
    assert (row(account, "yard")["plants"], row(account, "yard")["litres_per_plant"]) == (3, 8.0)
    assert account.way().went["elsewhere_l"] == pytest.approx(24.0)
    assert any("more than 14 days later" in one for one in report.findings)
    assert report.totals.plants == 208
    with_autumn = adds_up(account_of(garden, 2030, date(2031, 1, 1)))
    assert with_autumn.totals.plants == 3


def test_when_all_have_died_the_days_end_and_the_litres_are_counted(tmp_path: Path) -> None:
    path = tmp_path / "dead.book"
    small_garden(path)
    brought_in(path, weather_lines(), "shed")
    entries.soak(path, ["wall"], "30l", now=at(4, 20, 9))
    entries.loss(path, "wall", "clematis", "6", "drought", now=at(4, 30, 9))
    account = account_of(path, 2031)
    report = adds_up(account)
    assert account.days["day"].max() == pd.Timestamp("2031-04-30")
    assert (report.totals.lost, report.totals.plants) == (6, 6)
    assert account.way().went["held_last_l"] == 0.0
    with pytest.raises(InputError, match="it is the only season"):
        account_of(path, 2032, date(2032, 8, 1))


def test_a_soak_in_the_evening_of_the_last_day_is_not_yet_taken_up(garden: Path) -> None:
    entries.soak(garden, ["chapel"], "44l", now=at(5, 14, 17, 30))
    account = account_of(garden, 2031)
    adds_up(account)
    assert row(account, "chapel")["litres"] == 44.0
    assert account.days["given_l"].sum() == 0.0
    assert account.way().went["elsewhere_l"] == 44.0


def test_a_soak_in_the_evening_of_a_loss_was_shared_with_the_dead(garden: Path) -> None:
    """60 L over six at 18:00; three died that day: 30 L come to the step of the next."""
    entries.loss(garden, "chapel", "climbing rose", "3", "broken", now=at(5, 10, 12))
    entries.soak(garden, ["chapel"], "60l", planting="climbing rose", now=at(5, 10, 18))
    account = account_of(garden, 2031)
    adds_up(account)
    assert given(account, "chapel").to_dict() == {pd.Timestamp("2031-05-11"): pytest.approx(30.0)}
    assert account.way().went["elsewhere_l"] == pytest.approx(30.0)
    assert row(account, "chapel")["lost_to"] == "3 broken"


def test_feels_that_contradict_one_another_add_up(garden: Path) -> None:
    for hour, ball, bed in ((6, "dust", "wet"), (9, "wet", "dust"), (18, "dust", "dust")):
        for day in (5, 6, 7):
            entries.feel(garden, ["chapel"], ball=ball, bed=bed, now=at(5, day, hour))  # type: ignore[arg-type]
    account = account_of(garden, 2031)
    adds_up(account)
    assert len(account.feels) == 18
    assert account.days["squared_l"].abs().max() > 0.1
    assert set(account.feels["came_out"]) >= {"drier", "wetter"}


def test_on_the_day_after_there_is_no_more_of_a_season(garden: Path) -> None:
    """Asked in June of a book whose weather ends on 14 May: the days between are supposed, and it is said."""
    account = account_of(garden, 2031, date(2031, 6, 1))
    report = adds_up(account)
    assert account.span.until == date(2031, 5, 31)
    assert any("17 days between 15 May and 31 May lack" in one for one in report.findings)


def test_however_late_it_is_asked_the_season_is_the_same(garden: Path) -> None:
    late, last = (account_of(garden, 2031, on) for on in (date(2032, 1, 1), date.max))
    adds_up(last)
    assert last.span == late.span
    assert last.days["closing_l"].equals(late.days["closing_l"])


SOUTH = ZoneInfo("Australia/Melbourne")


def test_in_the_south_the_season_runs_over_the_new_year(tmp_path: Path) -> None:
    path = tmp_path / "south.book"
    now = datetime(2032, 3, 2, 7, tzinfo=SOUTH)
    books.new(
        path, now=now, name="South", latitude_deg=-37.8, longitude_deg=145.0, elevation_m=30.0,
        timezone="Australia/Melbourne",
    )  # fmt: skip
    setup.bed(path, "wall", now=now, area="9m2", soil="loam")
    setup.plant(path, "wall", "clematis", "6", now=now, pot="3l", on="2031-12-01")
    lines = weather_lines()[:1]
    for number in range(92):
        day = date(2031, 12, 1) + timedelta(days=number)
        lines.append(f"{day},14,27,{6.0 if number % 8 == 0 else 0.0},8.0,2.0,60")
    brought_in(path, lines, "shed", now)
    for day in (date(2031, 12, 31), date(2032, 1, 1), date(2032, 2, 29)):
        when = datetime(day.year, day.month, day.day, 19, tzinfo=SOUTH)
        entries.soak(path, ["wall"], "12l", now=when)
    account = account_of(path, 2031)
    report = adds_up(account)
    assert (report.season, account.span.until) == ("2031/32", date(2032, 3, 1))
    assert report.totals.litres == 36.0
    assert account.months["month"].dt.strftime("%Y-%m").tolist() == [
        "2031-12", "2032-01", "2032-02", "2032-03",
    ]  # fmt: skip
    assert account.days["day"].nunique() == 92
    assert (report.sky.first, report.sky.last) == (date(2031, 10, 1), date(2032, 3, 1))
    with pytest.raises(InputError, match="2031: it is the only season"):
        account_of(path, 2030)
